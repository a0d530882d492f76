package sim

import (
	"rollchange/model"
	"rollchange/sim/metric"
)

// presence is what the operators of a group came to after the warm-up, operator
// seconds: at work; on, or at work beyond their shift.
type presence struct{ busy, there float64 }

// measure reads the groups at the horizon, s; nil where there are none.
func (g *groups) measure(horizon, warmUp float64) []presence {
	if g == nil {
		return nil
	}
	list := make([]presence, len(g.list))
	for i := range g.list {
		x := &g.list[i]
		x.sync(horizon)
		list[i] = presence{busy: x.busyTime - x.warmBusy, there: x.thereTime - x.warmThere}
		if x.week == nil { // always: as it is without groups, to the last bit
			list[i].there = float64(x.last-x.first) * (horizon - warmUp)
		}
	}
	return list
}

// crewGauges are how busy the crew is while it is there, and each of its groups.
func crewGauges(l *model.Line) []Gauge {
	n := l.Crew.Operators
	if n == 0 {
		return nil
	}
	all := func(m *measured) float64 { return float64(n) * m.span }
	for i := range l.Crew.Groups {
		if !l.Crew.Groups[i].Always() {
			all = func(m *measured) float64 {
				sum := 0.0
				for _, p := range m.groups {
					sum += p.there
				}
				return sum
			}
		}
	}
	list := []Gauge{{Name: metric.CrewBusy, of: func(m *measured) figure { return figure{Num: per(m.busy, all(m)), Den: 1} }}}
	for i := range l.Crew.Groups {
		list = append(list, Gauge{Name: metric.CrewBusyBy + l.Crew.Groups[i].Name,
			of: func(m *measured) figure { return figure{Num: per(m.groups[i].busy, m.groups[i].there), Den: 1} }})
	}
	return list
}
