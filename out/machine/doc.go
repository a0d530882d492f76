// Package machine writes for programs: JSON and CSV, SI units, full precision.
//
//  1. Results come in as the simulation gives them.
//  2. json.go and csv.go write runs and comparisons, the other files one question
//     each. What is not known is null or an empty cell, never 0.
//  3. The same result gives the same bytes. The names of metrics are those of the
//     simulation; the few sentences are those of package words.
package machine
