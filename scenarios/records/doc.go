// Package records reads a stop log as people have it: a table with a row for
// each stop.
//
//  1. cells.Read or sheets.Read has read the table; package written reads what
//     stands in a cell.
//  2. The head is found and what each column is: as Options say, else by the
//     words of the heads, else by what stands in them (columns.go, heads.go).
//  3. What may be read in two ways is decided by the data, or it is an error
//     that says how to decide it: the order of day and month, the decimal mark,
//     the unit of the durations (understand.go).
//  4. Each row becomes a Stop, or a Finding says why not (rows.go, zone.go).
//  5. Stops of a line are put in order; doubles, overlaps and stops within
//     others are found (stops.go). An hour in which a line stood still counts
//     once, for the stop that began first, as in the engine.
//  6. Out comes a Log: stops with their durations as intervals, causes with
//     their hours, gaps in running time, and all that was understood and found,
//     as facts without words. Nothing is left out without a Finding, but what
//     Options leave out by name.
//
// Times inside are milliseconds, of the clock on the wall or, with a zone, since
// 1970; results are in seconds. The next package fits laws to them.
package records
