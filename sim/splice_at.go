package sim

import (
	"rollchange/model"
	"rollchange/sim/metric"
)

// closeRoll ends the finished roll at a place on the web and says how many splices it
// holds. One within a millimetre of its end is on its outside; or inside the next roll,
// where splices that end a roll are to be there.
func (l *line) closeRoll(to float64) (splices int) {
	r := &l.spec.Rewind
	before, behind := to-model.LeastLength, to+model.LeastLength
	if r.SpliceAt != model.SpliceInside || r.Trigger == model.ByLength {
		before = behind
	}
	l.wind(before)
	splices, l.rollSplices = l.rollSplices, 0
	l.wind(behind)
	return splices
}

// withoutSplice measures the share of finished rolls that hold no splice. The rolls of
// a set hold the same ones, so a set is one trial.
func withoutSplice() Gauge {
	return Gauge{Name: metric.WithoutSplice, Unseen: 1, of: func(m *measured) figure {
		n := m.sum(func(t *tally, _ int) float64 { return t.unspliced })
		return figure{Num: n, Den: m.sum(func(t *tally, _ int) float64 { return t.finished }), Counted: n, Exposed: n}
	}}
}
