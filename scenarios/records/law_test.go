package records

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// jumble is a log in which stops overlap, lie in each other, are there twice,
// have no end, on lines of which each has its own; in minutes of one week.
func jumble(r *rand.Rand) string {
	var b strings.Builder
	b.WriteString("line;start;end;cause\n")
	from := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	for range 2 + r.IntN(40) {
		start := from.Add(time.Duration(r.IntN(7*24*60)) * time.Minute)
		end := start.Add(time.Duration(r.IntN(90)) * time.Minute).Format("2006-01-02 15:04")
		if r.IntN(12) == 0 {
			end = ""
		}
		row := fmt.Sprintf("%d;%s;%s;%c\n", 1+r.IntN(2), start.Format("2006-01-02 15:04"), end, 'a'+rune(r.IntN(3)))
		b.WriteString(row)
		if r.IntN(15) == 0 {
			b.WriteString(row)
		}
	}
	return b.String()
}

// Hours and gaps agree with counting minute by minute: each planned minute at
// which a line stands belongs to the stop that began first, so causes add up to
// lines and lines to the minutes; a gap is the planned minutes without a stop.
func TestHoursAndGapsAgreeWithCounting(t *testing.T) {
	week := []Window{{Day: time.Monday, From: 6 * time.Hour, To: 22 * time.Hour}, {Day: time.Monday, From: 20 * time.Hour, To: 4 * time.Hour}, {Day: time.Wednesday, From: 0, To: 24 * time.Hour}, {Day: time.Saturday, From: 7 * time.Hour, To: 12 * time.Hour}}
	for seed := range uint64(effort.Of(20, 60, 2000)) {
		r := rand.New(rand.NewPCG(seed, 1))
		opt := Options{}
		if seed%2 == 1 {
			opt.Week = week
		}
		text := jumble(r)
		l := read(t, text, opt)
		counted(t, l, opt.Week)
		if t.Failed() {
			t.Fatalf("seed %d\n%s", seed, text)
		}
		assertEveryRowOnce(t, l, opt)
	}
}

func counted(t *testing.T, l *Log, week []Window) {
	from, to := l.From.Unix()/60, l.To.Unix()/60
	n := to - from
	planned := make([]bool, n)
	for m := range planned {
		at := time.Unix((from+int64(m))*60, 0).UTC()
		planned[m] = len(week) == 0
		for _, w := range week {
			for back := range 2 {
				midnight := at.Truncate(24*time.Hour).AddDate(0, 0, -back)
				if midnight.Weekday() != w.Day {
					continue
				}
				end := w.To
				if end <= w.From {
					end += 24 * time.Hour
				}
				if d := at.Sub(midnight); d >= w.From && d < end {
					planned[m] = true
				}
			}
		}
	}
	all := 0.0
	charged := map[string]float64{}
	for k, line := range l.Lines {
		holder := make([]int, n) // stop that holds each minute, from 1
		for i := range l.Stops {
			s := &l.Stops[i]
			if s.line != k {
				continue
			}
			end := s.end
			for m := s.start/60000 - from; m < end/60000-from; m++ {
				if holder[m] == 0 {
					holder[m] = i + 1
				}
			}
		}
		stopped, plan := 0.0, 0.0
		own := make([]float64, len(l.Stops))
		for m, h := range holder {
			if planned[m] {
				plan += 60
				if h > 0 {
					stopped += 60
					own[h-1] += 60
				}
			}
		}
		assert.Equal(t, plan, line.Planned)
		assert.Equal(t, stopped, line.Stopped)
		for i, x := range own {
			if l.Stops[i].line == k {
				assert.Equal(t, x, l.Stops[i].Charged, i)
			}
			charged[l.Stops[i].Cause] += x
		}
		all += stopped
		for _, c := range l.Causes {
			got := map[int]float64{}
			last := -1.0
			for _, g := range l.Gaps(c.Text) {
				if g.Line == line.Name && g.Censored {
					last = g.Seconds
				} else if g.Line == line.Name {
					got[g.Row] = g.Seconds
				}
			}
			at, first := from, true
			run := func(a, b int64) (x float64) {
				for m := a; m < b; m++ {
					if planned[m-from] && holder[m-from] == 0 {
						x += 60
					}
				}
				return x
			}
			for i := range l.Stops {
				s := &l.Stops[i]
				if s.line != k || s.Cause != c.Text {
					continue
				}
				want := run(at, s.start/60000)
				if x, ok := got[s.Row]; ok || want > 0 || !first {
					assert.Equal(t, want, x, "cause %s row %d", c.Text, s.Row)
				}
				at, first = max(at, s.end/60000), false
			}
			if want := run(at, to); !first && (want > 0 || last > 0) {
				assert.Equal(t, want, last, "the last of %s", c.Text)
			}
		}
	}
	sum := 0.0
	for _, c := range l.Causes {
		assert.Equal(t, charged[c.Text], c.Charged)
		assert.GreaterOrEqual(t, c.Recorded+1e-9+1e9*float64(c.Open), c.Charged)
		sum += c.Charged
	}
	assert.Equal(t, all, sum)
}

// assertEveryRowOnce holds that each row is a stop, or a finding says why not, or
// an option leaves it out.
func assertEveryRowOnce(t *testing.T, l *Log, opt Options) {
	t.Helper()
	rows := map[int]int{}
	for _, s := range l.Stops {
		rows[s.Row]++
	}
	for _, f := range l.Findings {
		if f.Kind.LeftOut() {
			rows[f.Row]++
		} else {
			require.Equal(t, 1, rows[f.Row], "%+v is about a row that is no stop", f)
		}
	}
	for row, n := range rows {
		if n != 1 { // of each of a hundred thousand rows
			require.Equal(t, 1, n, row)
		}
	}
	require.Equal(t, l.Rows, len(rows)+l.Ignored+l.OtherLines)
}

// A line, causes and a period that options name leave rows out, counted.
func TestOptionsLeaveOut(t *testing.T) {
	const text = "line;start;minutes;cause\nA;2026-03-02 10:00;10;x\nB;2026-03-02 11:00;10;x\nA;2026-03-02 12:00;10;meal\nA;2026-03-02 13:00;10;y\nA;2026-03-04 13:00;10;y\nA;2026-03-02 23:55;10;y\n"
	opt := Options{Line: "a", Ignore: []string{"MEAL"}, From: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), To: time.Date(2026, 3, 3, 0, 0, 0, 0, time.UTC)}
	l := read(t, text, opt)
	assert.Equal(t, []int{1, 1}, []int{l.Ignored, l.OtherLines})
	assertEveryRowOnce(t, l, opt)
	assert.Equal(t, []Finding{{Kind: Outside, Row: 6}, {Kind: OutOfOrder, Row: 7, Other: 6, Seconds: 133500}, {Kind: Cut, Row: 7, Seconds: 300}}, l.Findings)
	assert.Equal(t, []float64{86400, 1500}, []float64{l.Lines[0].Planned, l.Lines[0].Stopped})
	assert.Equal(t, "y", l.Causes[0].Text)
	assert.Equal(t, []float64{900, 1200}, []float64{l.Causes[0].Charged, l.Causes[0].Recorded})
}

// Planned hours as a sum are shared out over the gaps: running time adds up to
// them less the stops.
func TestPlannedHoursAsASum(t *testing.T) {
	const text = "start;minutes;cause\n2026-03-02 10:00;60;x\n2026-03-03 10:00;60;x\n"
	opt := Options{From: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), To: time.Date(2026, 3, 4, 0, 0, 0, 0, time.UTC), Planned: 16 * 3600}
	l := read(t, text, opt)
	sum := 0.0
	gaps := l.Gaps("X")
	for _, g := range gaps {
		sum += g.Seconds
	}
	assert.InDelta(t, 14*3600, sum, 1e-6)
	require.Len(t, gaps, 3)
	assert.True(t, gaps[0].First)
	assert.True(t, gaps[2].Censored && math.IsInf(gaps[2].High, 1))
	assert.Equal(t, []int{2, 0, 3, 2, 0, 3}, []int{gaps[0].Row, gaps[0].After, gaps[1].Row, gaps[1].After, gaps[2].Row, gaps[2].After})
	opt.Planned = 3600
	_, err := tryRead(text, opt)
	assert.ErrorContains(t, err, `planned hours of 1 h are less than the 2 h of stops of line "" in a period of 48 h`)
}

// Half a step about a duration, a step about end less start.
func TestIntervalsOfRounding(t *testing.T) {
	l := read(t, "start;minutes;cause\n2026-03-02 10:00;12;x\n2026-03-03 10:07;13;x\n2026-03-03 11:07;0;x\n", Options{})
	assert.Equal(t, []float64{720, 690, 750}, []float64{l.Stops[0].Seconds, l.Stops[0].Low, l.Stops[0].High})
	assert.Equal(t, []float64{0, 0, 30}, []float64{l.Stops[2].Seconds, l.Stops[2].Low, l.Stops[2].High})
	assert.Equal(t, 1, l.Stops[0].Readings)
	l = read(t, "start;end;cause\n2026-03-02 10:00;2026-03-02 10:12;x\n2026-03-03 10:07;2026-03-03 10:08;x\n", Options{})
	assert.Equal(t, []float64{720, 660, 780}, []float64{l.Stops[0].Seconds, l.Stops[0].Low, l.Stops[0].High})
	assert.Equal(t, 2, l.Stops[0].Readings)
	// Read off by themselves, the duration and the times narrow each other.
	l = read(t, "start;end;seconds;cause\n2026-03-02 10:00;2026-03-02 10:12;677;x\n2026-03-03 10:07;2026-03-03 10:08;91;x\n", Options{})
	assert.Equal(t, []float64{677, 676.5, 677.5}, []float64{l.Stops[0].Seconds, l.Stops[0].Low, l.Stops[0].High})
	// Twelve durations on whole fives are rounded to five minutes.
	text := "start;minutes;cause\n"
	for i := range 12 {
		text += fmt.Sprintf("2026-03-02 %02d:%02d;%d;x\n", i+1, 7*i%60, 5+5*(i%3))
	}
	l = read(t, text, Options{})
	assert.Equal(t, Step{300, 1}, l.Understood.Length)
	assert.Equal(t, []float64{300, 150, 450}, []float64{l.Stops[0].Seconds, l.Stops[0].Low, l.Stops[0].High})
}
