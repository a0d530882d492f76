// Package table writes what people read as text: tables of at most 100 columns.
//
//  1. Results and an About come in, with the system of units that people read.
//  2. run.go and compare.go, sweep.go, size.go, sensitivity.go, payback.go,
//     savings.go, trace.go, facts.go: one table each. layout.go pads and wraps.
//  3. Text goes to an io.Writer, whole, with one error for it; the words are those
//     of package words.
package table
