package words

import (
	"math"
	"slices"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/metric"
)

// ComparedNames are the metrics of a comparison, in order; those for a hold that only
// one alternative can have too.
func ComparedNames(rs *sim.Results) []string {
	var names []string
	seen := map[string]bool{}
	for _, r := range rs.Alternatives {
		for _, name := range r.Names {
			if m, _ := metric.Of(name); m.Compared != metric.Not && !seen[name] {
				seen[name] = true
				names = append(names, name)
			}
		}
	}
	slices.SortStableFunc(names, metric.ByComparison)
	return names
}

// DifferenceOf is the paired difference of an alternative from the first. Time
// stopped for a hold that one of the two cannot have is zero there, so that the
// figure of the other is the difference.
func DifferenceOf(rs *sim.Results, i int, name string) (sim.Estimate, bool) {
	if d, ok := rs.Differences[i][name]; ok {
		return d, true
	}
	if i == 0 || !metric.IsStoppedBy(name) {
		return sim.Estimate{}, false
	}
	if e, ok := rs.Alternatives[i].Metrics[name]; ok {
		return e, true
	}
	e, ok := rs.Alternatives[0].Metrics[name]
	return turned(e), ok
}

// Compared is one row of a comparison.
type Compared struct {
	Group  string // under which it stands
	Metric string
	Label  string
	Unit   model.Unit
	Cells  []ComparedCell // one for each alternative
}

// ComparedCell is a figure of an alternative and what separates it from the first.
type ComparedCell struct {
	Text       string // empty: it does not apply
	Difference string // "~": none is shown; empty: none is known
}

// Comparison is the rows of a comparison, as Compare shows them.
func Comparison(rs *sim.Results, sys model.System) []Compared {
	var rows []Compared
	for _, name := range ComparedNames(rs) {
		largest, used, unit := 0.0, false, ""
		for i := range rs.Alternatives {
			if e, ok := rs.Alternatives[i].Metrics[name]; ok {
				largest, unit = max(largest, math.Abs(e.Mean)), e.Unit
				used = used || e.Mean != 0
			}
		}
		if !used {
			continue
		}
		m, _ := metric.Of(name)
		row := Compared{Group: GroupHeads[m.Group], Metric: name, Label: MetricLabel(name), Unit: ShownUnit(unit, largest, sys)}
		for i := range rs.Alternatives {
			var c ComparedCell
			if e, ok := rs.Alternatives[i].Metrics[name]; ok {
				c.Text = Figure(e, row.Unit)
			}
			if d, ok := DifferenceOf(rs, i, name); ok && i > 0 {
				if c.Difference = "~"; d.Shown() {
					c.Difference = Difference(d, row.Unit)
				}
			}
			row.Cells = append(row.Cells, c)
		}
		rows = append(rows, row)
	}
	return rows
}
