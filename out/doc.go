// Package out turns results into what people and programs read.
//
//  1. A sim.Results comes in; nothing here simulates.
//  2. label.go says how each metric is called, format.go in which unit and
//     with how many digits a figure is shown.
//  3. run.go and compare.go write tables, sentences.go plain words, trace.go the
//     log of a replication.
//  4. json.go and csv.go write for programs: SI units, full precision.
//  5. theme.go and the plot files draw; file.go writes files whole or not at all.
package out
