package sim

import (
	"math"

	"rollchange/model"
	"rollchange/sim/metric"
)

// output measures what a line makes.
func (g *gauges) output(l *model.Line) {
	g.rate(metric.GoodRate, func(m *measured, _ *tally, i int) float64 { return m.good[i] })
	g.rate(metric.ProcessedRate, func(_ *measured, t *tally, _ int) float64 { return t.processed })
	if widths := valuesOf(l, func(p *model.Line) float64 { return p.GoodWidth() }); widths != nil {
		g.rate(metric.GoodAreaRate, func(m *measured, _ *tally, i int) float64 { return m.goodTimes(widths, i) })
		if masses := valuesOf(l, func(p *model.Line) float64 { return p.GoodWidth() * p.Web.Grammage }); masses != nil {
			g.rate(metric.GoodMassRate, func(m *measured, _ *tally, i int) float64 { return m.goodTimes(masses, i) })
		}
	}
	if l.Rewind.Change != model.None {
		lanes := valuesOf(l, func(p *model.Line) float64 { return float64(p.Rewind.LaneCount()) })
		g.rate(metric.FinishedRollRate, func(m *measured, t *tally, i int) float64 { return m.rolls(lanes, t, i) })
		if l.Rewind.SpliceAt != "" {
			*g = append(*g, withoutSplice())
		}
	}
}

// effectiveness measures the OEE and its factors.
func (g *gauges) effectiveness(l *model.Line) {
	times := valuesOf(l, func(p *model.Line) float64 { return 1 / p.Process.RatedSpeed })
	add := func(name string, of func(model.Effectiveness) float64) {
		g.average(name, func(m *measured, t *tally, i int) float64 {
			x := of(model.Effectiveness{Busy: t.planned(), Production: t.moving(), ItemTime: m.itemTime(times, i), Made: t.processed, Good: m.good[i]})
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return 0 // nothing planned, or nothing made
			}
			return x
		})
	}
	add(metric.Availability, model.Effectiveness.Availability)
	add(metric.Performance, model.Effectiveness.Performance)
	add(metric.Quality, model.Effectiveness.Quality)
	add(metric.OEE, model.Effectiveness.OEE)
}

// times measures what the time of a line goes into, and how often it stops.
func (g *gauges) times(l *model.Line) {
	share := func(name string, of func(t *tally) float64) {
		g.average(name, func(m *measured, t *tally, _ int) float64 { return of(t) / m.span })
	}
	events := func(name string, of func(t *tally) float64) {
		g.add(name, func(m *measured) figure {
			return figure{Num: m.sum(func(t *tally, _ int) float64 { return of(t) }), Den: m.span}
		})
	}
	share(metric.Running, func(t *tally) float64 { return t.running })
	share(metric.Ramping, func(t *tally) float64 { return t.ramping })
	share(metric.Slowed, func(t *tally) float64 { return t.slowed })
	share(metric.Stopped, func(t *tally) float64 { return t.stopped })
	share(metric.Waiting, func(t *tally) float64 { return t.waiting })
	events(metric.StopRate, func(t *tally) float64 { return t.rests })
	applies := holdsOf(l)
	for h, name := range holdNames(l) {
		if applies[h] {
			share(metric.StoppedBy+name, func(t *tally) float64 { return t.stoppedBy[h] })
			events(metric.BeginsBy+name, func(t *tally) float64 { return t.onsets[h] })
		}
	}
}

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
