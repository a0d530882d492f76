// Package workbook writes a savings case as a spreadsheet that calculates, and the plan
// of a list of orders. It alone knows the library for writing workbooks.
//
//  1. A Book comes in: a savings case with the results behind it.
//  2. answer.go lays out the first sheet, what it comes to and the inputs, results.go what
//     was simulated, years.go what differs by year; money.go the savings and flow.go the
//     cash flow as formulas, with what ledger.go reckons in their cells, rates.go whether a
//     rate of return is the only one; notes.go what is uncertain and what to know. units.go
//     turns units, run.go marks what is of the run and lays out the page.
//     Or a PlanBook: plan.go lays out when the orders of a list are made, as values.
//  3. An XLSX goes to an io.Writer, the same bytes each time.
package workbook
