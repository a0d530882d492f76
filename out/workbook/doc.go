// Package workbook writes a savings case as a spreadsheet that calculates, and the plan
// of a list of orders. It alone knows the library for writing workbooks.
//
//  1. A Book comes in: a savings case with the results behind it.
//  2. inputs.go lays out the inputs and the results as they were simulated, money.go
//     the savings and the cash flow as formulas, notes.go what is uncertain and what
//     to know. A formula cell holds the figure of the case, too.
//     Or a PlanBook: plan.go lays out when the orders of a list are made, as values.
//  3. An XLSX goes to an io.Writer, the same bytes each time.
package workbook
