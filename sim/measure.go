package sim

import (
	"math"
	"slices"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
)

// figure is a metric as one replication has it.
type figure = estimate.Figure

// Gauge is how a metric of a line is measured; its unit and kind stand in package
// metric.
type Gauge struct {
	Name   string
	Unseen float64 // of a share: the largest that it can be where only counting can tell; 1: nothing is known
	of     func(m *measured) figure
	row    int // in the table of metrics
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
	groups []presence
	supply []float64

	products [][]produced // by line and product; nil without orders
}

// measure reads a run at its horizon.
func (s *run) measure() *measured {
	m := &measured{span: s.horizon - s.warmUp, spec: s.spec, busy: s.crew.busyTime - s.crew.warmBusy, groups: s.crew.groups.measure(s.horizon, s.warmUp)}
	for i := range s.lines {
		l := &s.lines[i]
		l.side[0].creditAll()
		l.side[1].creditAll()
		l.tally.processed = l.P
		t := l.tally.since(&l.warm)
		m.lines = append(m.lines, t)
		scrap, good := l.scrap.until(l.P)
		m.scrap, m.good = append(m.scrap, scrap), append(m.good, good)
		if l.order.on {
			m.products = append(m.products, l.order.produced(l))
		}
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

// planned is the time in which the line should run, s: the span less calendar
// stops, crew breaks and time without an order (ISO 22400-2 planned busy time). It
// is added up, not taken off the span, so that it is never less than the time that
// the web moves.
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

// GaugesOf lists how the metrics that apply to a line are measured, in the order of
// their table.
func GaugesOf(l *model.Line) []Gauge {
	var list []Gauge
	add := func(name string, of func(m *measured) figure) {
		list = append(list, Gauge{Name: name, of: of})
	}
	rate := func(name string, part func(m *measured, t *tally, i int) float64) {
		add(name, func(m *measured) figure {
			return m.rate(func(t *tally, i int) float64 { return part(m, t, i) })
		})
	}
	average := func(name string, part func(m *measured, t *tally, i int) float64) {
		add(name, func(m *measured) figure {
			return m.mean(func(t *tally, i int) float64 { return part(m, t, i) })
		})
	}
	good := func(m *measured, _ *tally, i int) float64 { return m.good[i] }

	rate(metric.GoodRate, good)
	rate(metric.ProcessedRate, func(_ *measured, t *tally, _ int) float64 { return t.processed })
	if widths := valuesOf(l, func(p *model.Line) float64 { return p.GoodWidth() }); widths != nil {
		rate(metric.GoodAreaRate, func(m *measured, _ *tally, i int) float64 { return m.goodTimes(widths, i) })
		if masses := valuesOf(l, func(p *model.Line) float64 { return p.GoodWidth() * p.Web.Grammage }); masses != nil {
			rate(metric.GoodMassRate, func(m *measured, _ *tally, i int) float64 { return m.goodTimes(masses, i) })
		}
	}
	if l.Rewind.Change != model.None {
		lanes := valuesOf(l, func(p *model.Line) float64 { return float64(p.Rewind.LaneCount()) })
		rate(metric.FinishedRollRate, func(m *measured, t *tally, i int) float64 { return m.rolls(lanes, t, i) })
		if l.Rewind.SpliceAt != "" {
			list = append(list, withoutSplice())
		}
	}
	times := valuesOf(l, func(p *model.Line) float64 { return 1 / p.Process.RatedSpeed })
	oee := func(name string, of func(model.Effectiveness) float64) {
		average(name, func(m *measured, t *tally, i int) float64 {
			x := of(model.Effectiveness{Busy: m.planned(t), Production: t.moving(), ItemTime: m.itemTime(times, i), Made: t.processed, Good: m.good[i]})
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return 0 // nothing planned, or nothing made
			}
			return x
		})
	}
	oee(metric.Availability, model.Effectiveness.Availability)
	oee(metric.Performance, model.Effectiveness.Performance)
	oee(metric.Quality, model.Effectiveness.Quality)
	oee(metric.OEE, model.Effectiveness.OEE)

	average(metric.Running, func(m *measured, t *tally, _ int) float64 { return t.running / m.span })
	average(metric.Ramping, func(m *measured, t *tally, _ int) float64 { return t.ramping / m.span })
	average(metric.Slowed, func(m *measured, t *tally, _ int) float64 { return t.slowed / m.span })
	average(metric.Stopped, func(m *measured, t *tally, _ int) float64 { return t.stopped / m.span })
	names := holdNames(l)
	applies := holdsOf(l)
	for h, name := range names {
		if applies[h] {
			average(metric.StoppedBy+name, func(m *measured, t *tally, _ int) float64 { return t.stoppedBy[h] / m.span })
		}
	}
	average(metric.Waiting, func(m *measured, t *tally, _ int) float64 { return t.waiting / m.span })
	events := func(name string, part func(t *tally) float64) {
		add(name, func(m *measured) figure {
			return figure{Num: m.sum(func(t *tally, _ int) float64 { return part(t) }), Den: m.span}
		})
	}
	events(metric.StopRate, func(t *tally) float64 { return t.rests })
	for h, name := range names {
		if applies[h] {
			events(metric.BeginsBy+name, func(t *tally) float64 { return t.onsets[h] })
		}
	}

	// Lengths are of the web as it runs, so trim is waste of the width of good web.
	trims, trimmed := trimsOf(l)
	trim := func(m *measured, i int) float64 { return m.goodTimes(trims, i) }
	waste := func(name string, lost func(m *measured, t *tally, i int) float64) {
		add(name, func(m *measured) figure {
			f := m.ofSupply(func(t *tally, i int) float64 { return lost(m, t, i) })
			if math.Abs(f.Num) < leastWaste*f.Den {
				f.Num = 0
			}
			return f
		})
	}
	waste(metric.Waste, func(m *measured, t *tally, i int) float64 {
		lost := t.residual.value + trim(m, i)
		for _, x := range m.scrap[i] {
			lost += x
		}
		return lost
	})
	waste(metric.WasteResidual, func(m *measured, t *tally, i int) float64 { return t.residual.value })
	for c, name := range wasteNames {
		if (wasteClass(c) == wTransfer || wasteClass(c) == wRejected) && l.Rewind.Change == model.None {
			continue
		}
		waste(name, func(m *measured, _ *tally, i int) float64 { return m.scrap[i][c] })
	}
	if trimmed {
		waste(metric.WasteTrim, func(m *measured, _ *tally, i int) float64 { return trim(m, i) })
	}
	list = append(list, changeGauges(l)...)
	list = append(list, crewGauges(l)...)
	list = append(list, productGauges(l)...)
	for i := range list {
		list[i].row = metric.Rank(list[i].Name)
	}
	slices.SortStableFunc(list, func(a, b Gauge) int { return a.row - b.row })
	return list
}

// leastWaste is a share of the web below which waste is what rounding leaves of none.
const leastWaste = 1e-12

// holdsOf says which holds can go on at all for a line.
func holdsOf(l *model.Line) []bool {
	stops := len(l.Stops)
	on := make([]bool, hNoOrder(stops)+1)
	on[hUnwindChange], on[hUnwindDepleted] = l.Unwind.Change.Stops(), l.Unwind.Change.Stores()
	on[hRewindChange], on[hRewindFull] = l.Rewind.Change.Stops(), l.Rewind.Change.Stores()
	on[hWebBreak] = true
	for i := range l.Stops {
		on[hFirstStop+hold(i)] = true
	}
	on[hChangeover(stops)] = l.Jobs != nil || l.Orders != nil
	on[hNoOrder(stops)] = l.Orders != nil && len(l.Orders.List) > 0
	for _, b := range l.Crew.Breaks {
		on[hCrewBreak(stops)] = on[hCrewBreak(stops)] || !b.Cover
	}
	return on
}
