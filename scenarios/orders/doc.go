// Package orders reads a list of orders as a planner has it: a table with a row
// for each order.
//
//  1. cells.Read or sheets.Read has read the table; package written reads what
//     stands in a cell.
//  2. The head is found and what each column is: as Options say, else by the
//     words of the heads (heads.go, columns.go).
//  3. What can be read in two ways is decided by the data, or it is an error that
//     says how to decide it: the order of day and month, the decimal mark
//     (decide.go).
//  4. Each row becomes a Row, in SI (read.go, cell.go). All that is wrong is one
//     error; nothing is left out without a word.
//  5. Told are sentences of how the list was read, for a person to check (told.go).
//
// Near finds the product of a scenario that a list means (near.go).
package orders
