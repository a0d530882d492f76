// Package live makes the live page: one HTML file with the engine of the tool inside,
// which answers in front of the customer, offline and from a mail.
//
//  1. cmd/browser is the engine; make (go generate) compiles it to WebAssembly, packs it
//     and notes of which sources, so that a test says when it is out of date.
//  2. A Page is a scenario and what can be moved in it; without one the page is a tool of
//     its own.
//  3. Write puts both, the script and the style into one file, whose policy allows
//     nothing else.
package live
