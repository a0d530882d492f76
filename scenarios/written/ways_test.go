package written

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios/cells"
)

// Each way of writing a date and a time.
func TestStamps(t *testing.T) {
	const want = "2026-03-14 14:05:00.000"
	for _, text := range []string{
		"2026-03-14 14:05", "2026-03-14T14:05", "2026-03-14T14:05:00", "2026/03/14 14:05", "2026.03.14 14:05", "20260314 14:05", "20260314T1405", "20260314T140500",
		"14.03.2026 14:05", "14.3.26 14:05", "14.03.2026, 14:05 Uhr", "14/03/2026 14:05", "14-03-2026 14:05", "14/03/26 2:05 PM", "14/03/2026 02:05:00 p.m.", "14.03.2026 14h05", "14.03.2026 14.05",
		"14 Mar 2026 14:05", "14-Mar-26 14:05", "Mar 14, 2026 2:05pm", "March 14th, 2026 at 14:05", "14. März 2026 14:05", "14 mars 2026 à 14:05", "14 de marzo de 2026 14:05", "14 mrt 2026 14:05",
		"Sat 14 Mar 2026 14:05", "Sa, 14.03.2026 14:05", "Samstag, 14. März 2026, 14:05", "14:05 14.03.2026", "14.03.2026  14:05:00,000", "2026-03-14 14:05:00.000",
	} {
		s, ok := ParseStamp(text)
		require.True(t, ok, text)
		d, ok := s.Days(DayFirst)
		require.True(t, ok, text)
		assert.Equal(t, want, time.UnixMilli(d*day+s.Clock).UTC().Format("2006-01-02 15:04:05.000"), text)
	}
	s, _ := ParseStamp("3/14/2026")
	d, ok := s.Days(MonthFirst)
	assert.True(t, ok)
	assert.Equal(t, "2026-03-14", time.UnixMilli(d*day).UTC().Format("2006-01-02"))
	for text, clock := range map[string]int64{"12:00 am": 0, "12:05 PM": 12*hour + 5*minute, "0:00": 0, "24:00": day, "11:59:59 pm": day - second, "1:02:03.456": hour + 2*minute + 3456, "2 pm": 14 * hour} {
		s, ok := ParseStamp(text)
		require.True(t, ok, text)
		assert.Equal(t, clock, s.Clock, text)
	}
	for text, offset := range map[string]int64{"2026-03-14T14:05:00Z": 0, "2026-03-14T14:05+01:00": hour, "2026-03-14 14:05:00 -0530": -(5*hour + 30*minute), "2026-03-14T14:05:00+02": 2 * hour} {
		s, ok := ParseStamp(text)
		require.True(t, ok, text)
		assert.True(t, s.Zoned)
		assert.Equal(t, offset, s.Offset, text)
	}
	for _, text := range []string{"", "x", "14.03.", "03/14", "25:00", "12:60", "13:00 pm", "0:30 am", "2026-03-14-15", "14.03.2026.1", "1:2", "Web break", "12", "12.5", "Mar", "99/99", "a 14:05", "2026-03-14 14:05 x", "1/2/3/4", "14:05:61"} {
		s, ok := ParseStamp(text)
		assert.False(t, ok, "%q %+v", text, s)
	}
}

// The days of the calendar agree with the library's, from 1900 to 2199.
func TestDaysOfTheCalendar(t *testing.T) {
	for x := time.Date(1900, 1, 1, 0, 0, 0, 0, time.UTC); x.Year() < 2200; x = x.AddDate(0, 0, 1) {
		s := Stamp{Date: OfYear, Year: x.Year(), A: int(x.Month()), B: x.Day()}
		d, ok := s.Days(Undecided)
		if !ok || d*86400 != x.Unix() {
			t.Fatal(x, d, ok)
		}
	}
	for _, s := range []string{"30.02.2026", "29.02.2025", "29.02.2100", "31.04.2026", "00.01.2026", "2026-13-01", "2026-00-01", "1899-12-31"} {
		x, ok := ParseStamp(s)
		require.True(t, ok, s)
		_, ok = x.Days(DayFirst)
		assert.False(t, ok, s)
	}
}

// Each way of writing a duration.
func TestSpans(t *testing.T) {
	for text, want := range map[string]float64{
		"12 min": 720, "12min": 720, "12'": 720, "0:12:30": 750, "1:02:03": 3723, "45 s": 45, "45 sec": 45, "1 h 5 min": 3900, "1h05": 3900, "1h": 3600, "1,5 h": 5400, "0,2 Std": 720,
		"2 Stunden": 7200, "PT1H5M": 3900, "12:30 min": 750, "1:30 h": 5400, "1 d 2 h": 93600, "1 234 s": 1234, "1.234 s": 1234, "-5 min": -300, "5 minutes 30 seconds": 330, "0:0:7,5": 7.5,
	} {
		ms, ok := ParseSpan(text, ',').Ms(minute, hour)
		require.True(t, ok, text)
		assert.Equal(t, int64(want*1000), ms, text)
	}
	for text, want := range map[string]float64{"12": 720, "12.5": 750, "0:12": 720, "1:30": 5400, "-3": -180, "1,234.5": 74070} {
		ms, ok := ParseSpan(text, '.').Ms(minute, hour)
		require.True(t, ok, text)
		assert.Equal(t, int64(want*1000), ms, text)
	}
	for _, text := range []string{"", "x", "12 kg", "1:2:3:4", "1:60", ":5", "5:", "12 min x", "1,2345,6", "12 min 5", "1e3", "NaN", "Inf", "--5", "1.5:30", "1:s", "1:", "1:2:s"} {
		_, ok := ParseSpan(text, '.').Ms(minute, hour)
		assert.False(t, ok, text)
	}
}

// The example of the paper that Levenshtein's distance is known by (from memory).
func TestDistance(t *testing.T) {
	assert.Equal(t, 3, Distance([]rune("kitten"), []rune("sitting")))
	assert.Equal(t, 1, Distance([]rune("ab"), []rune("ba")))
	assert.Equal(t, 2, Distance(nil, []rune("ab")))
}

// Thousands are parted in threes and before the decimals, or it is no number.
func TestNumbers(t *testing.T) {
	for text, want := range map[string]float64{"1.234,5": 1234.5, "1.234.567": 1234567, "1 234,5": 1234.5, "1'234": 1234, "-3,5": -3.5, "−3": -3, "12345": 12345, ",5": 0.5} {
		x, rest, ok := Number(text+" km", ',')
		assert.True(t, ok && rest == "km", text)
		assert.Equal(t, want, x, text)
	}
	for _, text := range []string{"", "x", "12345.678", "1,5.000", "1.23", "1.2345", ",5,5", "1.2.3", ".500", "-", "1234 567"} {
		_, _, ok := Number(text, ',')
		assert.False(t, ok, text)
	}
}

func TestLengthUnits(t *testing.T) {
	for word, want := range map[string]float64{"m": 1, "Mètres": 1, "lfm": 1, "KM": 1000, "ft": 0.3048, "yards": 3 * 0.3048, "m²": 0, "m³": 0, "m/min": 0, "mm": 0, "min": 0, "": 0} {
		assert.Equal(t, want, LengthUnit(Fold(word)), word)
	}
}

// All that is wrong is said by row, with the row, and no more than is read.
// A column is named by its head, however that is written; by its number where no head
// is so.
func TestNamedColumns(t *testing.T) {
	heads := []string{"Début", "", "2", "Length (m)"}
	for name, want := range map[string]int{"DÉBUT ": 0, "LENGTH (M)": 3, "2": 2, "4": 3, "1": 0, "0": -1, "5": -1, "-1": -1, "Ende": -1, "": -1} {
		at := NamedColumn(heads, name, func(string, int) { assert.Fail(t, "two columns", name) })
		assert.Equal(t, want, at, name)
	}
	var said []string
	at := NamedColumn([]string{"a", "b", "A", "a"}, "a", func(says string, first int) { said = append(said, fmt.Sprint(first, ": ", says)) })
	assert.Equal(t, 3, at)
	assert.Equal(t, []string{`1: two columns are called "a", column 1 and column 3`, `3: two columns are called "a", column 3 and column 4`}, said)
}

// Of dates in two numbers each tells which is the day by a number above 12, or nothing.
func TestTwoNumbers(t *testing.T) {
	var n TwoNumbers
	for i, text := range []string{"2026-03-14", "14 Mar 2026", "14:05", "03/04/2026", "03.14.2026", "14.03.2026", "15/03/2026", "03/15/2026"} {
		s, ok := ParseStamp(text)
		assert.True(t, ok, text)
		assert.Equal(t, i > 2, n.Add(&s, i+1), text)
		if i == 3 {
			assert.Equal(t, TwoNumbers{Others: true}, n, "both ways")
		}
	}
	assert.Equal(t, TwoNumbers{Dots: true, Others: true, First: 6, Second: 5}, n)
}

func TestProblems(t *testing.T) {
	p := Problems{Table: &cells.Table{Name: "a.csv", Rows: []cells.Row{{Line: 2, Cells: []cells.Value{{Text: "x"}, {Text: "\x1b"}}}}}, Most: 2}
	assert.NoError(t, p.AsError())
	p.Add(2, "Head", "is wrong", "right")
	p.Add(0, "", "is odd", "")
	p.Add(3, "", "is more", "")
	assert.True(t, p.Any())
	assert.EqualError(t, p.AsError(), "a.csv: is odd\na.csv:2: Head: is wrong\n  2 | x | \\u001b\n  write: right\na.csv: and 1 more")
}
