// Package words says results: every label, unit, figure and sentence that a
// person reads, so that a figure looks the same wherever it stands.
//
//  1. A replicate.Results, a savings.Case or what sim/whatif found comes in; nothing
//     here simulates or calculates.
//  2. label.go says how each metric is called and what it tells of; figure.go in
//     which unit and with how many digits an estimate is shown, money.go an
//     amount, risk.go a chance, time.go a time, fact.go what is known beforehand.
//  3. reading.go, axis.go and stake.go say how a metric is read on a scale, or as
//     one that inputs move.
//  4. event.go puts words on the events of a log.
//  5. compared.go holds the rows of a comparison, sentences.go what separates the
//     alternatives, case.go, course.go, cause.go, doubt.go, rank.go, steps.go, shares.go, counted.go
//     and solve.go what a savings case comes to.
//  6. size.go, with a file for each question, says what an answer to a sizing question
//     found: its target, what binds, its notes and closed form; setting.go what inputs
//     are moved to.
//  7. heads.go, titles.go and sheets.go hold what stands over columns, beside axes
//     and in the sheets of the workbook.
//  8. Strings go out: to table, machine, picture, workbook and report, which lay
//     them out. Table, picture and workbook hold no words themselves.
//
// It imports neither a plot, nor a workbook, nor the network, so that a small
// program can say what it found.
package words
