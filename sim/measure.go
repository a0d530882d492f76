package sim

import (
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

// planned is the time in which the line is meant to run, s: the span less calendar
// stops, crew breaks and time without an order (ISO 22400-2 planned busy time),
// whatever else the line stands for in them. It is added up, not taken off the span, so
// that it is never less than the time that the web moves.
func (t *tally) planned() float64 { return t.moving() + t.down }

func per(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

// gauges gathers the gauges of a line. Its methods are called from many places: inlined
// there, they make the program for a browser larger.
type gauges []Gauge

//go:noinline
func (g *gauges) add(name string, of func(m *measured) figure) {
	*g = append(*g, Gauge{Name: name, of: of})
}

// ofLine is what one line of a run came to.
type ofLine func(m *measured, t *tally, i int) float64

// rate measures a part of all lines, in time.
//
//go:noinline
func (g *gauges) rate(name string, of ofLine) {
	g.add(name, func(m *measured) figure {
		return m.rate(func(t *tally, i int) float64 { return of(m, t, i) })
	})
}

// average measures a part in the mean of the lines.
//
//go:noinline
func (g *gauges) average(name string, of ofLine) {
	g.add(name, func(m *measured) figure {
		return m.mean(func(t *tally, i int) float64 { return of(m, t, i) })
	})
}

// GaugesOf lists how the metrics that apply to a line are measured, in the order of
// their table.
func GaugesOf(l *model.Line) []Gauge {
	var g gauges
	g.output(l)
	g.effectiveness(l)
	g.times(l)
	g.waste(l)
	list := append(g, changeGauges(l)...)
	list = append(list, crewGauges(l)...)
	list = append(list, productGauges(l)...)
	for i := range list {
		list[i].row = metric.Rank(list[i].Name)
	}
	slices.SortStableFunc(list, func(a, b Gauge) int { return a.row - b.row })
	return list
}
