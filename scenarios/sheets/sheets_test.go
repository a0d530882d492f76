package sheets

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"rollchange/scenarios/cells"
	"rollchange/scenarios/records"
	"rollchange/scenarios/records/invented"
)

var begun = time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC)

// book is a workbook with a log as people have it: times as dates, durations as
// minutes or as times.
func book(t testing.TB, stops []invented.Stop, asTime, from1904 bool) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	epoch := 25569.0
	if from1904 {
		require.NoError(t, f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &from1904}))
		epoch = 24107
	}
	w, err := f.NewStreamWriter("Sheet1")
	require.NoError(t, err)
	style := func(format string) int {
		n, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
		require.NoError(t, err)
		return n
	}
	both, clock, units := style("dd/mm/yyyy hh:mm"), style("[h]:mm:ss"), style(`0" min"`)
	require.NoError(t, w.SetRow("A1", []any{"Stop log of an invented line"}))
	require.NoError(t, w.SetRow("A3", []any{"Start", "Duration", "Cause", "Comment"}))
	for i, s := range stops {
		at, _ := excelize.CoordinatesToCellName(1, i+4)
		length := excelize.Cell{Value: s.End.Sub(s.Start).Minutes(), StyleID: units}
		if asTime {
			length = excelize.Cell{Value: s.End.Sub(s.Start).Hours() / 24, StyleID: clock}
		}
		require.NoError(t, w.SetRow(at, []any{excelize.Cell{Value: float64(s.Start.Unix())/86400 + epoch, StyleID: both}, length, s.Cause, s.Note}))
	}
	require.NoError(t, w.Flush())
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

// A log in a workbook is read back, with times as either system counts them and
// durations as numbers or as times.
func TestALogIsReadBack(t *testing.T) {
	stops := invented.Of(1, 60, begun, "")
	for i := range stops { // to the minute
		d := invented.Dialects()[2]
		stops[i] = d.Rounded(stops[i])
	}
	for _, asTime := range []bool{false, true} {
		for _, from1904 := range []bool{false, true} {
			data := book(t, stops, asTime, from1904)
			require.True(t, Is(data))
			table, err := Read("log.xlsx", data, "")
			require.NoError(t, err)
			l, err := records.Read(table, records.Options{})
			require.NoError(t, err)
			require.Len(t, l.Stops, len(stops), "%+v", l.Findings)
			for i, s := range l.Stops {
				require.Equal(t, stops[i].Start, s.Start, i)
				require.Equal(t, stops[i].End.Sub(stops[i].Start).Seconds(), s.Seconds, i)
				require.Equal(t, stops[i].Cause, s.Cause)
				require.Equal(t, stops[i].Note, s.Note)
				require.Equal(t, i+4, s.Row)
			}
			assert.Equal(t, 3, l.Understood.HeadRow)
			assert.Equal(t, from1904, l.Understood.Date1904)
			assert.Equal(t, "Sheet1", l.Understood.Sheet)
		}
	}
}

// What is held as a number and shown as a date or a time is a moment.
func TestKindsOfCells(t *testing.T) {
	f := excelize.NewFile()
	var want []cells.Value
	set := func(cell string, v any, format string) {
		require.NoError(t, f.SetCellValue("Sheet1", cell, v))
		if format != "" {
			n, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
			require.NoError(t, err)
			require.NoError(t, f.SetCellStyle("Sheet1", cell, cell, n))
		}
	}
	for i, c := range []struct {
		v      any
		format string
		want   cells.Value
	}{
		{46083.5, "yyyy-mm-dd hh:mm", cells.Value{Text: "2026-03-02 12:00", Number: 46083.5, Is: cells.Moment}},
		{46083, "dd.mm.yyyy", cells.Value{Text: "02.03.2026", Number: 46083, Is: cells.Moment}},
		{46083, "d mmm yyyy", cells.Value{Text: "2 Mar 2026", Number: 46083, Is: cells.Moment}},
		{0.5, "hh:mm", cells.Value{Text: "12:00", Number: 0.5, Is: cells.Moment}},
		{1.5, "[h]:mm", cells.Value{Text: "36:00", Number: 1.5, Is: cells.Moment}},
		{12, "", cells.Value{Text: "12", Number: 12, Is: cells.Number}},
		{12.5, `0.0" min"`, cells.Value{Text: "12.5 min", Number: 12.5, Is: cells.Number}},
		{1234567, "#,##0", cells.Value{Text: "1,234,567", Number: 1234567, Is: cells.Number}},
		{"12 min", "", cells.Value{Text: "12 min"}},
		{"2026-03-02 12:00", "", cells.Value{Text: "2026-03-02 12:00"}},
	} {
		cell, _ := excelize.CoordinatesToCellName(1, i+1)
		set(cell, c.v, c.format)
		want = append(want, c.want)
	}
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	table, err := Read("x.xlsx", b.Bytes(), "")
	require.NoError(t, err)
	require.Len(t, table.Rows, len(want))
	for i := range want {
		assert.Equal(t, want[i], table.Rows[i].Cells[0])
	}
	_, err = Read("x.xlsx", b.Bytes(), "Log")
	assert.EqualError(t, err, `has no sheet "Log"; it has ["Sheet1"]`)
}

// What is no workbook, or a part of one, is an error.
func TestWhatIsNoWorkbook(t *testing.T) {
	data := book(t, invented.Of(1, 5, begun, ""), false, false)
	for _, n := range []int{0, 4, 100, len(data) / 2, len(data) - 1} {
		_, err := Read("x.xlsx", data[:n], "")
		assert.Error(t, err, n)
	}
	assert.False(t, Is([]byte("start,end\n")))
}

// 100,000 rows of a workbook.
func BenchmarkRead(b *testing.B) {
	data := book(b, invented.Of(5, 100_000, begun, ""), false, false)
	b.ReportAllocs()
	for range b.N {
		table, err := Read("log.xlsx", data, "")
		require.NoError(b, err)
		l, err := records.Read(table, records.Options{})
		require.NoError(b, err)
		require.Len(b, l.Stops, 100_000)
	}
}
