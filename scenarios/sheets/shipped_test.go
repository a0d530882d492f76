package sheets

import (
	"bytes"
	"flag"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"rollchange/scenarios/cells"
	"rollchange/scenarios/records"
)

var update = flag.Bool("update", false, "write the shipped workbook anew")

const shippedLog = "../label_press_stops"

// asBook is a table of text as a workbook, with real dates and times.
func asBook(t *testing.T, table *cells.Table) []byte {
	f := excelize.NewFile()
	defer f.Close()
	style := func(format string) int {
		n, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
		require.NoError(t, err)
		return n
	}
	day, clock := style("dd/mm/yyyy"), style("hh:mm")
	for _, row := range table.Rows {
		for i, v := range row.Cells {
			at, err := excelize.CoordinatesToCellName(i+1, row.Line)
			require.NoError(t, err)
			value, look := any(v.Text), 0
			if x, err := time.Parse("02.01.2006", v.Text); err == nil {
				value, look = float64(x.Unix()/86400+25569), day
			} else if x, err := time.Parse("15:04", v.Text); err == nil {
				value, look = float64(x.Hour()*60+x.Minute())/1440, clock
			} else if v.Text == "" {
				continue
			}
			require.NoError(t, f.SetCellValue("Sheet1", at, value))
			if look > 0 {
				require.NoError(t, f.SetCellStyle("Sheet1", at, at, look))
			}
		}
	}
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

// The shipped stop log says the same as a workbook and as text.
func TestShippedLogAsAWorkbook(t *testing.T) {
	text, err := os.ReadFile(shippedLog + ".csv")
	require.NoError(t, err)
	table, err := cells.Read("label_press_stops.csv", text)
	require.NoError(t, err)
	if *update {
		require.NoError(t, os.WriteFile(shippedLog+".xlsx", asBook(t, table), 0o644))
	}
	data, err := os.ReadFile(shippedLog + ".xlsx")
	require.NoError(t, err)
	book, err := Read("label_press_stops.xlsx", data, "")
	require.NoError(t, err)
	a, err := records.Read(table, records.Options{})
	require.NoError(t, err)
	b, err := records.Read(book, records.Options{})
	require.NoError(t, err)
	require.Len(t, b.Stops, len(a.Stops))
	for i := range a.Stops {
		x, y := a.Stops[i], b.Stops[i]
		assert.Equal(t, []any{x.Row, x.Cause, x.Note, x.Start, x.End, x.Charged}, []any{y.Row, y.Cause, y.Note, y.Start, y.End, y.Charged})
	}
	assert.Equal(t, a.Causes, b.Causes)
	assert.Equal(t, len(a.Findings), len(b.Findings))
	kinds := map[records.Kind]bool{}
	for _, f := range a.Findings {
		kinds[f.Kind] = true
	}
	assert.True(t, kinds[records.Overlapping] && kinds[records.Double] && kinds[records.Zero] && kinds[records.OpenBetween], "the log shows what is found in logs")
}
