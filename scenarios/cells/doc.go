// Package cells reads tables as other programs write them.
//
//  1. Text reads one as text, row by row: CSV in its usual forms.
//  2. Table is one that was read whole, from text (Read) or from a workbook
//     (package sheets), so that what comes next need not know which it was.
package cells
