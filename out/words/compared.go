package words

import (
	"math"
	"slices"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Comparison is what was measured of the alternatives side by side, a row for each
// metric in the order of their table. The text table, the page, the workbook, JSON and
// CSV all write these rows.
type Comparison []Compared

// Compared is one row of a comparison: one metric, in one unit.
type Compared struct {
	metric.Metric
	Name  string         // of the metric; Metric.Name is that of its family
	Shown model.Unit     // in which people read the row
	Cells []ComparedCell // one for each alternative
}

// ComparedCell is the figure of an alternative, and its difference from that of the
// first; nil where the metric does not apply, or no difference is known.
type ComparedCell struct {
	Figure, Difference *estimate.Estimate
	Alone              bool // only one of the two can have it: the difference is all of it
}

// Compare sets alternatives side by side. The unit of a row is that of its largest
// figure among all of them.
func Compare(rs *replicate.Results, sys model.System) Comparison {
	var names []string
	at := map[string]bool{}
	for _, r := range rs.Alternatives {
		for _, name := range r.Names {
			if !at[name] {
				at[name] = true
				names = append(names, name)
			}
		}
	}
	slices.SortStableFunc(names, metric.ByTable)
	c := make(Comparison, len(names))
	for i, name := range names {
		c[i] = compared(rs, name, sys)
	}
	return c
}

func compared(rs *replicate.Results, name string, sys model.System) Compared {
	row := Compared{Name: name}
	row.Metric, _ = metric.Of(name)
	largest, unit := 0.0, ""
	for i, r := range rs.Alternatives {
		var x ComparedCell
		if e, ok := r.Metrics[name]; ok {
			x.Figure = &e
			largest, unit = max(largest, math.Abs(e.Mean)), e.Unit
		}
		x.Difference, x.Alone = difference(rs, i, name)
		row.Cells = append(row.Cells, x)
	}
	row.Shown = ShownUnit(unit, largest, sys)
	return row
}

// difference is the paired difference of an alternative from the first. Time
// stopped for a hold that one of the two cannot have is zero there, so that the
// figure of the other, alone, is the difference.
func difference(rs *replicate.Results, i int, name string) (d *estimate.Estimate, alone bool) {
	if i == 0 {
		return nil, false
	}
	if e, ok := rs.Differences[i][name]; ok {
		return &e, false
	}
	if !metric.IsStoppedBy(name) {
		return nil, false
	}
	if e, ok := rs.Alternatives[i].Metrics[name]; ok {
		return &e, true
	}
	if e, ok := rs.Alternatives[0].Metrics[name]; ok {
		e = e.Opposite()
		return &e, true
	}
	return nil, false
}

// ForPeople are the rows that people compare, in their order: those with a place in a
// comparison that are not 0 in every one of some alternatives, of all when none is named.
func (c Comparison) ForPeople(among ...int) Comparison {
	var names []string
	for _, r := range c {
		used := false
		for i, x := range r.Cells {
			used = used || x.Figure != nil && x.Figure.Mean != 0 && (len(among) == 0 || slices.Contains(among, i))
		}
		if used && r.Compared != metric.Not {
			names = append(names, r.Name)
		}
	}
	slices.SortStableFunc(names, metric.ByComparison)
	by, rows := c.ByName(), make(Comparison, len(names))
	for i, name := range names {
		rows[i] = by[name]
	}
	return rows
}

// ByName are the rows by the name of their metric.
func (c Comparison) ByName() map[string]Compared {
	rows := make(map[string]Compared, len(c))
	for _, r := range c {
		rows[r.Name] = r
	}
	return rows
}

// Head is the head of the group in which a row stands.
func (r Compared) Head() string { return GroupHeads[r.Group] }

// Text is the figure of an alternative, "–" where the metric does not apply.
func (r Compared) Text(alternative int) string {
	if e := r.Cells[alternative].Figure; e != nil {
		return Figure(*e, r.Shown)
	}
	return "–"
}

// Difference is what separates an alternative from the first: "~" where nothing is
// shown to, "" where no difference is known; one that too few events carry for limits is
// not called none.
func (r Compared) Difference(alternative int) string {
	d := r.Cells[alternative].Difference
	switch {
	case d == nil:
		return ""
	case d.Why == estimate.TooFew && d.Mean != 0: // "± ?"
	case !d.Shown():
		return NotShown
	}
	return Difference(*d, r.Shown)
}
