package sim

import (
	"math"

	"rollchange/model"
	"rollchange/sim/estimate"
)

// figure is a metric as one replication has it.
type figure = estimate.Figure

// kind is how the figures of the replications make an estimate.
type kind string

const (
	asMean     kind = ""         // their mean; Den is 1
	asRatio    kind = "ratio"    // of the totals over all replications
	asShare    kind = "share"    // of trials that came true, of all: a ratio in 0 to 1
	asCount    kind = "count"    // events by time: Num of them in Den seconds, the same for all replications
	asInterval kind = "interval" // Num seconds for Den trials: the mean time between trials that come true, of the share before it
)

// metric is one metric of a line: how it is called and measured.
type metric struct {
	name, unit string
	kind       kind
	unseen     float64 // of a share: the largest that it can be where only counting can tell; 1: nothing is known
	of         func(m *measured) figure
}

// measured is what one replication came to after the warm-up, ready to be read
// by the metrics.
type measured struct {
	span   float64 // s
	spec   *model.Line
	lines  []tally
	scrap  [][wasteClasses]float64
	good   []float64 // m
	busy   float64   // operator seconds
	supply []float64
}

// measure reads a run at its horizon.
func (s *run) measure() *measured {
	m := &measured{span: s.horizon - s.warmUp, spec: s.spec, busy: s.crew.busyTime - s.crew.warmBusy}
	for i := range s.lines {
		l := &s.lines[i]
		l.side[0].creditAll()
		l.side[1].creditAll()
		l.tally.processed = l.P
		t := l.tally.since(&l.warm)
		m.lines = append(m.lines, t)
		scrap, good := l.scrap.until(l.P)
		m.scrap, m.good = append(m.scrap, scrap), append(m.good, good)
		m.supply = append(m.supply, t.processed+t.residual.value)
	}
	return m
}

// sum adds a part of every line; mean takes its mean.
func (m *measured) sum(part func(t *tally, i int) float64) float64 {
	total := 0.0
	for i := range m.lines {
		total += part(&m.lines[i], i)
	}
	return total
}

func (m *measured) mean(part func(t *tally, i int) float64) figure {
	return figure{Num: m.sum(part) / float64(len(m.lines)), Den: 1}
}

func (m *measured) rate(part func(t *tally, i int) float64) figure {
	return figure{Num: m.sum(part) / m.span, Den: 1}
}

// planned is the time in which the line should run: the span less calendar
// stops and crew breaks (ISO 22400-2 planned busy time). It is added up, not
// taken off the span, so that it is never less than the time that the web moves.
func (m *measured) planned(t *tally) float64 {
	p := t.moving()
	for h, stopped := range t.stoppedBy[:hCrewBreak(len(m.spec.Stops))] {
		if i := h - int(hFirstStop); i < 0 || i >= len(m.spec.Stops) || !m.spec.Stops[i].Calendar {
			p += stopped
		}
	}
	return p
}

func per(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

// metricsOf lists the metrics that apply to a line, in the order for people.
func metricsOf(l *model.Line) []metric {
	var list []metric
	add := func(name, unit string, of func(m *measured) figure) {
		list = append(list, metric{name: name, unit: unit, of: of})
	}
	rate := func(name, unit string, part func(m *measured, t *tally, i int) float64) {
		add(name, unit, func(m *measured) figure {
			return m.rate(func(t *tally, i int) float64 { return part(m, t, i) })
		})
	}
	average := func(name string, part func(m *measured, t *tally, i int) float64) {
		add(name, "1", func(m *measured) figure {
			return m.mean(func(t *tally, i int) float64 { return part(m, t, i) })
		})
	}
	good := func(m *measured, _ *tally, i int) float64 { return m.good[i] }

	rate("good_rate", "m/s", good)
	rate("processed_rate", "m/s", func(_ *measured, t *tally, _ int) float64 { return t.processed })
	if w := l.Web.Width; w > 0 {
		rate("good_area_rate", "m2/s", func(m *measured, _ *tally, i int) float64 { return w * m.good[i] })
		if g := l.Web.Grammage; g > 0 {
			rate("good_mass_rate", "kg/s", func(m *measured, _ *tally, i int) float64 { return g * w * m.good[i] })
		}
	}
	if l.Rewind.Change != model.None {
		rate("finished_roll_rate", "1/s", func(_ *measured, t *tally, _ int) float64 { return t.finished })
	}
	oee := func(name string, of func(model.Effectiveness) float64) {
		average(name, func(m *measured, t *tally, i int) float64 {
			x := of(model.Effectiveness{Busy: m.planned(t), Production: t.moving(), ItemTime: 1 / l.Process.RatedSpeed, Made: t.processed, Good: m.good[i]})
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return 0 // nothing planned, or nothing made
			}
			return x
		})
	}
	oee("availability", model.Effectiveness.Availability)
	oee("performance", model.Effectiveness.Performance)
	oee("quality", model.Effectiveness.Quality)
	oee("oee", model.Effectiveness.OEE)

	average("time.running", func(m *measured, t *tally, _ int) float64 { return t.running / m.span })
	average("time.ramping", func(m *measured, t *tally, _ int) float64 { return t.ramping / m.span })
	average("time.slowed", func(m *measured, t *tally, _ int) float64 { return t.slowed / m.span })
	average("time.stopped", func(m *measured, t *tally, _ int) float64 { return t.stopped / m.span })
	names := holdNames(l)
	applies := holdsOf(l)
	for h, name := range names {
		if applies[h] {
			average("time.stopped."+name, func(m *measured, t *tally, _ int) float64 { return t.stoppedBy[h] / m.span })
		}
	}
	average("time.waiting_for_operator", func(m *measured, t *tally, _ int) float64 { return t.waiting / m.span })
	events := func(name string, part func(t *tally) float64) {
		list = append(list, metric{name: name, unit: "1/s", kind: asCount, of: func(m *measured) figure {
			return figure{Num: m.sum(func(t *tally, _ int) float64 { return part(t) }), Den: m.span}
		}})
	}
	events("stop_rate", func(t *tally) float64 { return t.rests })
	for h, name := range names {
		if applies[h] {
			events("stop_rate."+name, func(t *tally) float64 { return t.onsets[h] })
		}
	}

	average("waste.total", func(m *measured, t *tally, i int) float64 {
		lost := t.residual.value
		for _, x := range m.scrap[i] {
			lost += x
		}
		return per(lost, m.supply[i])
	})
	average("waste.residual", func(m *measured, t *tally, i int) float64 { return per(t.residual.value, m.supply[i]) })
	for c, name := range wasteNames {
		if (wasteClass(c) == wTransfer || wasteClass(c) == wRejected) && l.Rewind.Change == model.None {
			continue
		}
		average(name, func(m *measured, _ *tally, i int) float64 { return per(m.scrap[i][c], m.supply[i]) })
	}
	list = append(list, changeMetrics(l)...)
	if n := l.Crew.Operators; n > 0 {
		add("crew.utilisation", "1", func(m *measured) figure { return figure{Num: m.busy / (float64(n) * m.span), Den: 1} })
	}
	return list
}

// holdsOf says which holds can go on at all for a line.
func holdsOf(l *model.Line) []bool {
	stops := len(l.Stops)
	on := make([]bool, hCrewBreak(stops)+1)
	on[hUnwindChange], on[hUnwindDepleted] = l.Unwind.Change.Stops(), l.Unwind.Change.Stores()
	on[hRewindChange], on[hRewindFull] = l.Rewind.Change.Stops(), l.Rewind.Change.Stores()
	on[hWebBreak] = true
	for i := range l.Stops {
		on[hFirstStop+hold(i)] = true
	}
	on[hChangeover(stops)] = l.Jobs != nil
	for _, b := range l.Crew.Breaks {
		on[hCrewBreak(stops)] = on[hCrewBreak(stops)] || !b.Cover
	}
	return on
}
