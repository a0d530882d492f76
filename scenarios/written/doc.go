// Package written reads what people write into the cells of a table, whatever the
// table is of.
//
//  1. Fold and Same write words alike that people write in many ways: heads,
//     names of months, units (fold.go).
//  2. A cell becomes a date and a time of day (stamp.go, cell.go), a duration
//     (span.go), a number (number.go) or a length of web (length.go).
//  3. What one cell leaves open, the order of day and month and the decimal mark,
//     is for the package to decide that knows the column; Marks, the form of a
//     Stamp and TwoNumbers say what cells tell of it (dates.go).
//  4. A person names columns by their heads or numbers (columns.go).
//  5. Problems lists all that is wrong with a table, by row (problems.go).
//
// Times are milliseconds on the clock on the wall.
package written
