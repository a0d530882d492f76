// Package lzma packs the engine of the live page, a fifth smaller than gzip does, so that
// a page can be mailed. The page unpacks it by script.
//
//  1. finder.go finds earlier places with the same bytes.
//  2. encoder.go chooses literals, matches and repeated matches.
//  3. coder.go writes the choices by a range coder with adaptive chances.
//
// The format is that of .lzma files (I. Pavlov, LZMA specification, 2015, public domain;
// from memory, checked against xz where it is there): 13 bytes of properties and size, then
// the range coder's. Lengths are 2 to 273, distances up to the whole of the data.
package lzma
