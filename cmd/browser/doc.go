// Browser is the engine of the live page: compiled to WebAssembly it answers the page's
// requests, elsewhere those on standard input, one a line. A request and its reply are
// JSON objects; every reply may hold an "error" in place of an answer.
//
//  1. ask.go takes a request apart and finds who answers it.
//  2. open.go reads a scenario: what is wrong with it, or its alternatives and movers.
//  3. check.go reads a field; begin.go lays what was moved over the scenario.
//  4. step simulates one replication of every alternative (sim/replicate, Steps).
//  5. answer.go says what the replications so far come to: sentences, figures;
//     money.go, parts.go (hours and web by cause), storage.go, orders.go.
//  6. save.go and keys.go (keys, shipped scenarios) are for a page that is a tool of its own.
//
// json.go reads and writes; words come from out/words. The page is package out/live.
package main
