package sheets

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"rollchange/scenarios/orders"
)

// A list of orders in a workbook, as a planner has it: dates as days and as
// times in either system, hours from the begin, lengths with their unit in their
// format, a formula with its value.
func TestAListOfOrdersIsReadBack(t *testing.T) {
	due := time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC)
	for _, from1904 := range []bool{false, true} {
		f := excelize.NewFile()
		epoch := 25569.0
		if from1904 {
			require.NoError(t, f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &from1904}))
			epoch = 24107
		}
		serial := func(at time.Time) float64 { return float64(at.Unix())/86400 + epoch }
		row := func(cell string, values ...any) { require.NoError(t, f.SetSheetRow("Sheet1", cell, &values)) }
		look := func(cell, format string) {
			n, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
			require.NoError(t, err)
			require.NoError(t, f.SetCellStyle("Sheet1", cell, cell, n))
		}
		row("A1", "Plan of the week")
		row("A3", "Auftrag", "Artikel", "Menge [m]", "Liefertermin", "Frühester Start", "Linie")
		row("A4", 4711, "Etikett A", 12000, serial(due), serial(due.Add(-30*time.Hour)), 1)
		row("A5", "4712", "Etikett B", 1.5, 2.1875, nil, 2)
		row("A7", 4713.0, "Etikett A", nil, serial(due), 46000)
		look("C4", "#,##0")
		look("D4", "dd.mm.yyyy")
		look("E4", "dd.mm.yyyy hh:mm")
		look("C5", `0.0" km"`)
		look("D5", "[h]:mm")
		look("D7", "yyyy-mm-dd")
		require.NoError(t, f.SetCellFormula("Sheet1", "C7", "C4/10"))
		require.NoError(t, f.UpdateLinkedValue())
		var b bytes.Buffer
		require.NoError(t, f.Write(&b))

		table, err := Read("orders.xlsx", b.Bytes(), "")
		require.NoError(t, err)
		_, _, err = orders.Read(table, orders.Options{})
		assert.EqualError(t, err, "orders.xlsx:7: Menge [m]: nothing says how much is ordered\n  7 | 4713 | Etikett A |  | "+table.Rows[4].Cells[3].Text+" | 46000\n  write: 1234.5 m", "a formula without its value")
		require.NoError(t, f.SetCellValue("Sheet1", "C7", 1200))
		b.Reset()
		require.NoError(t, f.Write(&b))
		table, err = Read("orders.xlsx", b.Bytes(), "")
		require.NoError(t, err)
		rows, told, err := orders.Read(table, orders.Options{})
		require.NoError(t, err)
		require.Len(t, rows, 3)
		at := func(x time.Time) orders.Moment { return orders.Moment{Given: true, Dated: true, Date: x} }
		assert.Equal(t, []float64{12000, 1500, 1200}, []float64{rows[0].Length, rows[1].Length, rows[2].Length})
		assert.Equal(t, []orders.Moment{at(due.AddDate(0, 0, 1)), {Given: true, After: 52.5 * 3600}, at(due.AddDate(0, 0, 1))}, []orders.Moment{rows[0].Due, rows[1].Due, rows[2].Due})
		assert.Equal(t, []orders.Moment{at(due.Add(-30 * time.Hour)), {}, at(time.Unix(int64(46000-epoch)*86400, 0).UTC())}, []orders.Moment{rows[0].Earliest, rows[1].Earliest, rows[2].Earliest})
		assert.Equal(t, []string{"4711", "4712", "4713"}, []string{rows[0].Order, rows[1].Order, rows[2].Order})
		assert.Equal(t, []int{1, 2, 0, 4, 5, 7}, []int{rows[0].OnLine, rows[1].OnLine, rows[2].OnLine, rows[0].Line, rows[1].Line, rows[2].Line})
		assert.Contains(t, told, "A due date without a time of day means the end of that day.")
		_, err = ReadAtMost("orders.xlsx", b.Bytes(), "", 4)
		assert.EqualError(t, err, "has more than 4 rows")
	}
}
