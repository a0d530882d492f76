package records

import (
	"math"

	"rollchange/scenarios/written"
)

// Gap is the time for which a line ran between two stops of one cause: planned
// time less all stops in it.
type Gap struct {
	Line     string
	Row      int     // of the stop that ends it; 0: the period does
	After    int     // row of the stop before it; 0: the period begins with it
	Seconds  float64 // of running time
	Low      float64 // what it may have been, s, as times are rounded
	High     float64 // s; +Inf: it was not over when the period ended
	Censored bool    // it was not over then
	First    bool    // it had begun before the period, nobody knows when
}

// Gaps are the gaps of a cause, by line and time: one before each of its stops
// and, for each line that has it, the last, which the end of the period cuts
// off. Where planned hours are given as a sum, every gap has its share of them.
//
// A period that begins with a stop has no first gap of that cause, and one that
// ends with it no last: nothing ran there.
func (l *Log) Gaps(cause string) []Gap {
	stops := l.StopsOf(cause)
	var out []Gap
	for i := 0; i < len(stops); {
		j := i
		for j < len(stops) && stops[j].line == stops[i].line {
			j++
		}
		out = append(out, l.gapsOf(stops[i:j])...)
		i = j
	}
	return out
}

// StopsOf are the stops of a cause, by line and time.
func (l *Log) StopsOf(cause string) []*Stop { return l.by[written.Same(cause)] }

// gapsOf are the gaps of one line.
func (l *Log) gapsOf(stops []*Stop) []Gap {
	h := &l.held[stops[0].line]
	line := &l.Lines[stops[0].line]
	run := func(t int64) int64 { return l.plan.until(t) - h.until(t, l.plan) }
	scale := 1.0
	calendar := seconds(l.plan.until(l.to))
	if rest := calendar - line.Stopped; rest > 0 {
		scale = (line.Planned - line.Stopped) / rest
	}
	var out []Gap
	at, row, first := l.from, 0, true
	rounded := 0.0
	for _, s := range stops {
		ran := max(0, run(s.start)-run(at))
		if !first || ran > 0 {
			g := Gap{Line: s.Line, Row: s.Row, After: row, First: first, Seconds: scale * seconds(ran)}
			wide := rounded + l.Understood.Start.Seconds/2
			g.Low, g.High = max(0, g.Seconds-wide), g.Seconds+wide
			out = append(out, g)
		}
		if !first && s.end < at {
			continue // within the one before
		}
		at, row, first = max(at, s.end), s.Row, false
		rounded = l.Understood.Start.Seconds/2 + (s.High - s.Seconds)
		switch {
		case s.open && !s.Finite():
			rounded = 0
		case s.open:
			rounded = s.High
		case s.Readings == 2:
			rounded = l.Understood.End.Seconds / 2
		}
	}
	if ran := run(l.to) - run(at); ran > 0 {
		x := scale * seconds(ran)
		out = append(out, Gap{Line: stops[0].Line, After: row, Seconds: x, Low: max(0, x-rounded), High: math.Inf(1), Censored: true})
	}
	return out
}
