package sim

import (
	"math"

	"rollchange/model"
)

// A figure of one replication is num/den. For most metrics den is 1 and the
// estimate is the mean over replications; for what counts per splice, per
// transfer or per cycle it is the ratio of the totals over all replications.
type figure struct{ num, den float64 }

// metric is one metric of a line: how it is called and measured.
type metric struct {
	name, unit string
	ratio      bool
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
		l.side[0].settleAll()
		l.side[1].settleAll()
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
	return figure{m.sum(part) / float64(len(m.lines)), 1}
}

func (m *measured) rate(part func(t *tally, i int) float64) figure {
	return figure{m.sum(part) / m.span, 1}
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
	mean := func(name string, part func(m *measured, t *tally, i int) float64) {
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
		mean(name, func(m *measured, t *tally, i int) float64 {
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

	mean("time.running", func(m *measured, t *tally, _ int) float64 { return t.running / m.span })
	mean("time.ramping", func(m *measured, t *tally, _ int) float64 { return t.ramping / m.span })
	mean("time.slowed", func(m *measured, t *tally, _ int) float64 { return t.slowed / m.span })
	mean("time.stopped", func(m *measured, t *tally, _ int) float64 { return t.stopped / m.span })
	names := holdNames(l)
	applies := holdsOf(l)
	for h, name := range names {
		if applies[h] {
			mean("time.stopped."+name, func(m *measured, t *tally, _ int) float64 { return t.stoppedBy[h] / m.span })
		}
	}
	mean("time.waiting_for_operator", func(m *measured, t *tally, _ int) float64 { return t.waiting / m.span })
	rate("stop_rate", "1/s", func(_ *measured, t *tally, _ int) float64 { return t.rests })
	for h, name := range names {
		if applies[h] {
			rate("stop_rate."+name, "1/s", func(_ *measured, t *tally, _ int) float64 { return t.onsets[h] })
		}
	}

	mean("waste.total", func(m *measured, t *tally, i int) float64 {
		lost := t.residual.value
		for _, x := range m.scrap[i] {
			lost += x
		}
		return per(lost, m.supply[i])
	})
	mean("waste.residual", func(m *measured, t *tally, i int) float64 { return per(t.residual.value, m.supply[i]) })
	for c, name := range wasteNames {
		if (wasteClass(c) == wTransfer || wasteClass(c) == wRejected) && l.Rewind.Change == model.None {
			continue
		}
		mean(name, func(m *measured, _ *tally, i int) float64 { return per(m.scrap[i][c], m.supply[i]) })
	}
	list = append(list, changeMetrics(l)...)
	if n := l.Crew.Operators; n > 0 {
		add("crew.utilisation", "1", func(m *measured) figure { return figure{m.busy / (float64(n) * m.span), 1} })
	}
	return list
}

// holdsOf says which holds can go on at all for a line.
func holdsOf(l *model.Line) []bool {
	stops := len(l.Stops)
	on := make([]bool, hCrewBreak(stops)+1)
	on[hUnwindChange] = l.Unwind.Change != model.ZeroSpeed
	on[hUnwindDepleted] = l.Unwind.Change == model.ZeroSpeed
	on[hRewindChange] = l.Rewind.Change == model.Manual || l.Rewind.Change == model.Flying
	on[hRewindFull] = l.Rewind.Change == model.ZeroSpeed
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

// changeMetrics is what the roll changes came to.
func changeMetrics(l *model.Line) []metric {
	var list []metric
	for which, kind := range [2]model.ChangeKind{l.Unwind.Change, l.Rewind.Change} {
		if kind == model.None {
			continue
		}
		name := [2]string{"splice", "transfer"}[which]
		list = append(list, metric{name: name + "_rate", unit: "1/s", of: func(m *measured) figure {
			return m.rate(func(t *tally, _ int) float64 { return t.side[which].made })
		}})
		each := func(suffix string, part func(c *changes) float64) {
			list = append(list, metric{name: name + suffix, unit: "1", ratio: true, of: func(m *measured) figure {
				return figure{m.sum(func(t *tally, _ int) float64 { return part(&t.side[which]) }),
					m.sum(func(t *tally, _ int) float64 { return t.side[which].made })}
			}})
		}
		if kind != model.Manual {
			each(".not_ready", func(c *changes) float64 { return c.notReady })
			each(".failed", func(c *changes) float64 { return c.failed })
		}
		if which == 0 {
			each(".run_out", func(c *changes) float64 { return c.runOut })
		}
		if kind != model.ZeroSpeed {
			continue
		}
		each(".not_refilled", func(c *changes) float64 { return c.notRefilled })
		rare := [2]string{".depletion", ".overfill"}[which]
		each(rare, func(c *changes) float64 { return c.chance.all() })
		each(rare+"_counted", func(c *changes) float64 { return c.starved })
		list = append(list, metric{name: name + rare + "_interval", unit: "s", ratio: true, of: func(m *measured) figure {
			return figure{m.span * float64(len(m.lines)), m.sum(func(t *tally, _ int) float64 { return t.side[which].chance.all() })}
		}})
		for k, cause := range causeNames {
			each(rare+"."+cause, func(c *changes) float64 { return c.chance.cause[k] })
		}
		if dwell := [2]model.Dist{l.Unwind.Dwell, l.Rewind.Dwell}[which]; dwell.SD() > 0 {
			for k, law := range model.TailLaws {
				each(rare+".if_"+string(law), func(c *changes) float64 { return c.chance.tail[k] })
			}
		}
		list = append(list, metric{name: [2]string{"unwind_storage.empty", "rewind_storage.full"}[which], unit: "1/s", of: func(m *measured) figure {
			return m.rate(func(t *tally, _ int) float64 { return t.side[which].emptied })
		}})
		capacity := l.Rewind.Storage.Capacity
		list = append(list, metric{name: [2]string{"unwind_storage.lowest", "rewind_storage.highest"}[which], unit: "m", ratio: true,
			of: func(m *measured) figure {
				f := figure{m.sum(func(t *tally, _ int) float64 { return t.side[which].extremeSum }),
					m.sum(func(t *tally, _ int) float64 { return t.side[which].cycles })}
				if which == 1 {
					f.num = capacity*f.den - f.num
				}
				return f
			}})
	}
	return list
}
