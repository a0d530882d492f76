package records

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const four = "start,end,cause,note\n"

// What is found of a log, by row, and which rows are stops all the same.
func TestWhatIsFound(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []Finding
		stops      []int // rows
	}{
		{"double", four + "2026-03-01 10:00,2026-03-01 10:05,a,\n2026-03-01 10:00,2026-03-01 10:05,A,\n2026-03-01 10:00,2026-03-01 10:05,a,x\n",
			[]Finding{{Kind: Double, Row: 3, Other: 2}, {Kind: Nested, Row: 4, Other: 2, Seconds: 300}}, []int{2, 4}},
		{"overlapping", four + "2026-03-01 10:00,2026-03-01 10:30,a,\n2026-03-01 10:20,2026-03-01 10:45,b,\n", []Finding{{Kind: Overlapping, Row: 3, Other: 2, Seconds: 600}}, []int{2, 3}},
		{"nested", four + "2026-03-01 10:00,2026-03-01 10:30,a,\n2026-03-01 10:05,2026-03-01 10:10,b,\n", []Finding{{Kind: Nested, Row: 3, Other: 2, Seconds: 300}}, []int{2, 3}},
		{"touching", four + "2026-03-01 10:00,2026-03-01 10:30,a,\n2026-03-01 10:30,2026-03-01 10:40,b,\n", nil, []int{2, 3}},
		{"open", four + "2026-03-01 10:00,,a,\n2026-03-01 11:00,2026-03-01 11:10,b,\n2026-03-01 12:00,,b,\n",
			[]Finding{{Kind: OpenBetween, Row: 2, Other: 3}, {Kind: Open, Row: 4}}, []int{2, 3, 4}},
		{"out of order", four + "2026-03-01 10:00,2026-03-01 10:30,a,\n2026-03-03 10:00,2026-03-03 10:10,b,\n2026-03-02 10:00,2026-03-02 10:10,b,\n2026-03-04 10:00,2026-03-04 10:10,b,\n",
			[]Finding{{Kind: OutOfOrder, Row: 4, Other: 3, Seconds: 86400}}, []int{2, 4, 3, 5}},
		{"zero and negative", four + "2026-03-01 10:00,2026-03-01 10:00,a,\n2026-03-02 10:00,2026-03-02 08:10,b,\n2026-03-03 10:00,2026-03-03 10:10,b,\n",
			[]Finding{{Kind: Zero, Row: 2}, {Kind: Negative, Row: 3, Column: 2, Text: "2026-03-02 08:10", Seconds: -6600}}, []int{2, 4}},
		{"negative minutes", "start,minutes,cause\n2026-03-01 10:00,-5,a\n2026-03-01 11:00,5,a\n2026-03-01 12:00,5,a\n", []Finding{{Kind: Negative, Row: 2, Column: 2, Text: "-5", Seconds: -300}}, []int{3, 4}},
		{"wrong", four + "x,2026-03-01 10:00,a,\n,2026-03-02 08:10,b,\n2026-02-30 10:00,2026-03-03 10:10,b,\n2026-03-03,2026-03-03 10:10,b,\n2026-03-04 10:00,2026-03-04 10:10,,\n" + strings.Repeat("2026-03-05 10:00,2026-03-05 10:10,b,\n", 1) + "2026-03-06 10:00,2026-03-06 10:10,b,\n2026-03-07 10:00,2026-03-07 10:10,b,\n2026-03-08 10:00,2026-03-08 10:10,b,\n",
			[]Finding{{Kind: BadTime, Row: 2, Column: 1, Text: "x"}, {Kind: NoStart, Row: 3, Column: 1}, {Kind: NoSuchDay, Row: 4, Column: 1, Text: "2026-02-30 10:00"}, {Kind: NoClock, Row: 5, Column: 1, Text: "2026-03-03"},
				{Kind: NoCause, Row: 6, Column: 3}}, []int{6, 7, 8, 9, 10}},
		{"two that disagree", "start,end,minutes,cause\n2026-03-01 10:00,2026-03-01 10:10,10,a\n2026-03-02 10:00,2026-03-02 10:10,25,a\n2026-03-03 10:00,2026-03-03 11:10,10,a\n",
			[]Finding{{Kind: Disagree, Row: 3, Column: 3, Text: "25", Seconds: -900}, {Kind: ClockChange, Row: 4, Column: 3, Text: "10", Seconds: 3600}}, []int{2}},
		{"decimal comma without quotes", "start,minutes,cause\n2026-03-01 10:00,12,a\n2026-03-02 10:00,12,5,a\n2026-03-03 10:00,11,a\n", []Finding{{Kind: TooWide, Row: 3, Column: 4, Text: "a"}}, []int{2, 4}},
		{"two lines", "start,minutes,cause,line\n2026-03-01 10:00,30,a,L1\n2026-03-01 10:10,30,a,L2\n2026-03-01 12:00,30,a,l1\n", []Finding{{Kind: AnotherLine, Row: 3, Column: 4, Text: "L2"}}, []int{2, 4, 3}},
		{"the day of the row above", "date,start,minutes,cause\n2026-03-01,10:00,30,a\n,23:10,30,a\n,0:30,30,a\n2026-03-02,9:00,5,a\n", []Finding{{Kind: CarriedDay, Row: 3, Column: 1}, {Kind: CarriedDay, Row: 4, Column: 1}}, []int{2, 3, 4, 5}},
		{"long", four + "2026-03-01 10:00,2026-03-11 10:00,a,\n", []Finding{{Kind: Long, Row: 2, Seconds: 864000}}, []int{2}},
		{"some with an offset", four + "2026-03-01T10:00+01:00,2026-03-01T10:10+01:00,a,\n2026-03-01T11:00,2026-03-01T11:10,a,\n2026-03-01T12:00+01:00,2026-03-01T12:10+01:00,a,\n", []Finding{{Kind: NoOffset, Row: 3, Column: 1, Text: "2026-03-01T11:00"}}, []int{2, 4}},
		{"rounding is no overlap", "start,minutes,cause\n2026-03-01 10:00,3,a\n2026-03-01 10:02,4,a\n2026-03-01 12:00,1,b\n", nil, []int{2, 3, 4}},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := read(t, c.text, Options{})
			assert.Equal(t, c.want, l.Findings)
			var rows []int
			for _, s := range l.Stops {
				rows = append(rows, s.Row)
			}
			assert.Equal(t, c.stops, rows)
			_, err := tryRead(c.text, Options{Strict: true})
			if len(c.want) == 0 {
				assert.NoError(t, err)
				return
			}
			for _, f := range c.want {
				assert.ErrorContains(t, err, fmt.Sprintf("log.csv:%d: ", f.Row))
			}
		})
	}
}

// A stop whose day stands only once is on the day after when midnight has passed.
func TestCarriedDayPassesMidnight(t *testing.T) {
	l := read(t, "date,start,minutes,cause\n2026-03-01,10:00,30,a\n,23:10,30,a\n,0:30,30,a\n,1:30,30,a\n", Options{})
	assert.Equal(t, "2026-03-02 00:30", l.Stops[2].Start.Format("2006-01-02 15:04"))
	assert.Equal(t, "2026-03-02 01:30", l.Stops[3].Start.Format("2006-01-02 15:04"))
}

// An open stop at the end of its line lasts to the end of the period at least;
// one before lasted to the next at most.
func TestOpenStops(t *testing.T) {
	l := read(t, four+"2026-03-01 10:00,,a,\n2026-03-01 11:00,2026-03-01 11:10,b,\n2026-03-01 12:00,,c,\n", Options{To: time.Date(2026, 3, 1, 14, 0, 0, 0, time.UTC)})
	a, c := l.Stops[0], l.Stops[2]
	assert.Equal(t, []float64{0, 0, 3660}, []float64{a.Seconds, a.Low, a.High})
	assert.Zero(t, a.Charged)
	assert.InDelta(t, 7200, c.Low, 30)
	assert.True(t, math.IsInf(c.High, 1))
	assert.False(t, c.Finite())
	assert.Equal(t, 7200.0, c.Charged)
	assert.True(t, c.End.IsZero())
}

// A day above 12 decides, else what makes the rows rise; else a person must.
func TestOrderOfDayAndMonth(t *testing.T) {
	log := func(days ...string) string {
		text := "start,minutes,cause\n"
		for _, d := range days {
			text += d + " 10:00,5,a\n"
		}
		return text
	}
	for _, c := range []struct {
		days  []string
		order DateOrder
		why   Why
		row   int
	}{
		{[]string{"01/02/2026", "13/02/2026"}, DayFirst, ByDay, 3},
		{[]string{"01/02/2026", "02/13/2026"}, MonthFirst, ByDay, 3},
		{[]string{"30/01/26", "31/01/26"}, DayFirst, ByDay, 2},
		{[]string{"01/02/2026", "02/02/2026", "03/02/2026", "01/03/2026"}, DayFirst, ByRise, 0},
		{[]string{"02/01/2026", "02/03/2026", "02/04/2026", "03/01/2026"}, MonthFirst, ByRise, 0},
		{[]string{"01/03/2026", "03/02/2026", "02/02/2026", "01/02/2026"}, DayFirst, ByRise, 0}, // the newest first
		{[]string{"01.02.2026", "01.02.2026"}, DayFirst, ByDots, 0},
		{[]string{"03/03/2026", "03/03/2026"}, DayFirst, NoMatter, 0},
		{[]string{"2026-03-01"}, Undecided, ByYear, 0},
	} {
		l := read(t, log(c.days...), Options{})
		assert.Equal(t, []any{c.order, c.why, c.row}, []any{l.Understood.Dates, l.Understood.DatesWhy, l.Understood.DatesRow}, c.days)
	}
	_, err := tryRead(log("01/02/2026", "01/02/2026"), Options{})
	assert.ErrorContains(t, err, "log.csv:2: start: day and month can be read both ways, and no row of the log decides\n  2 | 01/02/2026 10:00 | 5 | a\n  write: --dates day-first or --dates month-first")
	for order, month := range map[DateOrder]time.Month{DayFirst: 2, MonthFirst: 1} {
		l := read(t, log("01/02/2026"), Options{Dates: order})
		assert.Equal(t, month, l.Stops[0].Start.Month())
		assert.Equal(t, Given, l.Understood.DatesWhy)
	}
	_, err = tryRead(log("13/02/2026", "02/13/2026"), Options{})
	assert.ErrorContains(t, err, "the dates begin with the day in row 2 and with the month in row 3")
}

// What a heading calls a stop may be the end of a run or the end of a stop: what
// stands there tells.
func TestStartAndStopOfARun(t *testing.T) {
	text := "Start,Stop,Cause\n"
	for d := 1; d <= 6; d++ { // the line stopped at 10:00 and started again at 10:07
		text += fmt.Sprintf("2026-03-%02d 10:07,2026-03-%02d 10:00,a\n", d, d)
	}
	l := read(t, text, Options{})
	assert.True(t, l.Understood.Swapped)
	assert.Equal(t, 420.0, l.Stops[0].Seconds)
	assert.Equal(t, 0, l.Stops[0].Start.Minute())
	l = read(t, strings.ReplaceAll(text, "10:00", "10:20"), Options{})
	assert.False(t, l.Understood.Swapped)
	assert.Equal(t, 780.0, l.Stops[0].Seconds)
	text = "Date,Start,Stop,Cause\n"
	for d := 1; d <= 6; d++ {
		text += fmt.Sprintf("2026-03-%02d,10:07,10:00,a\n", d)
	}
	l = read(t, text, Options{})
	assert.True(t, l.Understood.Swapped)
	assert.Equal(t, 420.0, l.Stops[5].Seconds)
	assert.Equal(t, 6, l.Stops[5].Start.Day())
}

// An end that stands just before its start is on the next day, and that is a doubt; one
// in the small hours after a start in the evening is none, nor one with its duration.
func TestEndJustBeforeItsStart(t *testing.T) {
	found := func(row string) []Kind {
		l, err := tryRead("date,start,end,minutes,cause\n2026-01-02,05:00,05:20,20,jam\n"+row+"2026-01-09,08:10,08:15,5,jam\n2026-01-09,09:10,09:14,4,jam\n", Options{})
		require.NoError(t, err)
		var kinds []Kind
		for _, f := range l.Findings {
			kinds = append(kinds, f.Kind)
			if f.Kind == NextDay {
				assert.InDelta(t, 300, f.Seconds, 1e-9)
			}
		}
		return kinds
	}
	assert.Equal(t, []Kind{NextDay}, found("2026-01-03,06:10,06:05,,jam\n"))
	assert.Empty(t, found("2026-01-03,23:50,00:10,,jam\n"))
	assert.Empty(t, found("2026-01-03,06:10,06:05,1435,jam\n"))
}
