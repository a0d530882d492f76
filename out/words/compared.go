package words

import (
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim"
)

// compared are the metrics of a comparison, in order; holds are put after
// time.stopped.
var compared = []string{"good_rate", "good_area_rate", "good_mass_rate", "finished_roll_rate", "oee", "availability", "performance", "quality",
	"time.running", "time.slowed", "time.ramping", "time.stopped", "stop_rate",
	"waste.total", "waste.residual", "waste.splice", "waste.restart", "waste.web_break", "waste.stop", "waste.transfer", "waste.changeover", "waste.rejected",
	"splice_rate", "splice.not_ready", "splice.failed", "splice.run_out", "splice.not_refilled", "unwind_storage.lowest",
	"transfer_rate", "transfer.not_ready", "transfer.failed", "transfer.not_refilled", "rewind_storage.highest",
	"splice.depletion", "transfer.overfill",
	"crew.utilisation", "time.waiting_for_operator"}

// ComparedNames puts the stopped time by hold, that some alternative has, after time.stopped.
func ComparedNames(rs *sim.Results) []string {
	var names []string
	for _, n := range compared {
		names = append(names, n)
		if n != "time.stopped" {
			continue
		}
		seen := map[string]bool{}
		for _, r := range rs.Alternatives {
			for _, x := range r.Names {
				if strings.HasPrefix(x, "time.stopped.") && !seen[x] {
					seen[x] = true
					names = append(names, x)
				}
			}
		}
	}
	return names
}

// DifferenceOf is the paired difference of an alternative from the first. Time
// stopped for a hold that one of the two cannot have is zero there, so that the
// figure of the other is the difference.
func DifferenceOf(rs *sim.Results, i int, name string) (sim.Estimate, bool) {
	if d, ok := rs.Differences[i][name]; ok {
		return d, true
	}
	if i == 0 || !strings.HasPrefix(name, "time.stopped.") {
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
		l := LabelOf(name)
		row := Compared{Group: GroupHeads[l.Group], Metric: name, Label: strings.TrimSpace(l.Text), Unit: ShownUnit(unit, largest, sys)}
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
