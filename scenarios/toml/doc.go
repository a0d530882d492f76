// Package toml reads a text in TOML 1.1, and says where each key stands.
//
//  1. The text comes in as a whole, in UTF-8. How deep it nests is the caller's to limit.
//  2. read.go goes through its lines: heads of tables and keys; value.go, number.go and
//     text.go read what a key is given.
//  3. Tables go out as maps, with text, whole numbers (int64), numbers (float64), true or
//     false, lists and Moments in them; and the line of every table and key.
//
// A library would read into any type of Go; what it takes for that, and dates with
// their zones, is half a megabyte of the program for a browser. Its own tests of the
// language are tried on this package.
package toml
