package savings

import (
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Warning is something that makes the answer look better, or surer, than it is.
type Warning struct {
	Name  string // "no_other_stops"
	Text  string
	Share float64 // of the draws in which it holds; NaN where it does not hang on them
}

// warnings are what the reader should know, in order.
type warnings struct {
	list  []Warning
	draws int
}

// add names something that does not hang on the draws.
func (w *warnings) add(name, format string, a ...any) {
	w.list = append(w.list, Warning{name, fmt.Sprintf(format, a...), math.NaN()})
}

// draw names something that holds in a share of the draws, and in which.
func (w *warnings) draw(share float64, name, format string, a ...any) {
	if share == 0 {
		return
	}
	text := fmt.Sprintf(format, a...)
	if share < 1 {
		text = InDraws(share, w.draws) + " " + text
	}
	w.list = append(w.list, Warning{name, text, share})
}

// warn names what the reader should know.
func (c *Case) warn(study *model.Study, rs *replicate.Results, i int) {
	w, r := &warnings{draws: c.Random.Draws}, c.Random
	c.warnStops(w, &study.Alternatives[0].Line, &study.Alternatives[i].Line)
	if !c.in[demand].Given {
		w.draw(r.More, "demand_missing", "every extra metre of good web counts as sold, because no demand is given: this is the most it can be worth")
		w.draw(r.Less, "demand_missing", "every metre less of good web counts as lost, because no demand is given: this is the most it can cost")
	}
	if !c.in[price].Given {
		w.draw(r.More, "price_missing", "more good web is sold than with the first alternative, but it counts as worth nothing, because no price is given")
		w.draw(r.Less, "price_missing", "less good web is sold than with the first alternative, but it counts as no loss, because no price is given")
	}
	if !c.in[investment1].Given {
		w.add("investment_missing", "no investment is given: it counts as 0")
	}
	c.warnHours(w)
	if !c.in[material].Given && r.Year[0].Waste+r.Year[1].Waste > 0 {
		w.add("material_cost_missing", "no cost of web is given: waste counts as costing no web")
	}
	if c.Few {
		enough := ""
		if c.Needed > 0 {
			enough = fmt.Sprintf("; %d replications would do", c.Needed)
		}
		w.add("few_events", "too few events separate the two for an interval from %d replications, so the range of what is saved is too narrow%s", rs.Run.Replications, enough)
	}
	if d := rs.Differences[i][metric.GoodRate]; rs.Run.Replications > 1 && !d.Shown() {
		w.add("output_not_shown", "the two do not differ significantly in good web")
	}
	if rs.Run.Replications < 2 {
		w.add("one_replication", "one replication gives no limits for the simulated figures: no range covers their noise")
	}
	if c.in[depreciation].Given && !c.in[tax].Given {
		w.add("tax_missing", "years of depreciation are given but no tax rate, so all figures are before tax")
	}
	if n := c.mean[life]; n != math.Round(n) && c.in[life].Dist.IsConst() {
		w.add("life_rounded", "the life of %.4g years counts as %d: cash flows are at the ends of whole years", n, wholeYears(n))
	}
	w.draw(r.ManyRates, "rates_not_unique", "the cash flow has more than one internal rate of return: decide by the net present value")
	c.Warnings = w.list
}

// stopsForMore says whether a line stops for anything but roll changes.
func stopsForMore(l *model.Line) bool { return l.WebBreaks != nil || len(l.Stops) > 0 || l.Jobs != nil }

// warnStops names what a study without other stops does to a saving. What they
// cost in hours by the metre is the same with every way to change rolls, so
// the hours that are not needed for a demand are as they would be; what more
// is made in the same hours is not.
func (c *Case) warnStops(w *warnings, a, b *model.Line) {
	switch first, other := stopsForMore(a), stopsForMore(b); {
	case first && !other:
		w.add("stops_differ", "%q has web breaks, stops or jobs and %q has none: what they take counts as saved", c.Against, c.Alternative)
	case !first && other:
		w.add("stops_differ", "%q has web breaks, stops or jobs and %q has none: what they take counts as lost", c.Alternative, c.Against)
	case first:
	case c.Random.Kinds[DemandLimited] < 1:
		w.draw(1-c.Random.Kinds[DemandLimited], "no_other_stops", "sales are limited by what the lines can make, and the study has no web breaks, stops or jobs: real lines stop for more than roll changes, so both make less and their difference in good web is overstated")
	default:
		w.add("no_other_stops", "the study has no web breaks, stops or jobs: real lines stop for more than roll changes, so both can make less in their hours than shown here")
	}
}

// warnHours names what is doubtful about hours.
func (c *Case) warnHours(w *warnings) {
	r := c.Random
	for k, name := range []string{c.Against, c.Alternative} {
		if k == 1 && !c.HoursDiffer && r.AboveYear[0] > 0 {
			break // said already
		}
		w.draw(r.AboveYear[k], "hours_above_a_year", "the planned hours a year of %q (%s on average) exceed the 8784 h of a leap year", name, hoursText(c.Hours[k]))
	}
	if c.HoursDiffer {
		w.add("hours_differ", "%q has %s planned hours a year and %q %s: part of the difference comes from the hours, not from roll changes", c.Against, hoursText(c.Hours[0]), c.Alternative, hoursText(c.Hours[1]))
	}
	if f := r.FreedCrew; f.Share > 0 {
		what := "fewer hours"
		switch fewer := r.Year[1].Hours < r.Year[0].Hours; {
		case c.side[1].Operators < c.side[0].Operators && fewer:
			what = "fewer operators and fewer hours"
		case c.side[1].Operators < c.side[0].Operators:
			what = "fewer operators"
		}
		w.draw(f.Share, "freed_operators", "%s of crew time a year count as saved because of %s: that is money only if the people can leave or do other paid work in that time", hoursText(f.Mean), what)
	}
	if f := r.FreedLine; f.Share > 0 {
		w.draw(f.Share, "freed_line_hours", "%s of line time a year count as saved: the cost of a line hour should hold only what is not spent while the line stands", hoursText(f.Mean))
	}
	if !c.in[crew].Given && !c.in[line].Given {
		w.draw(r.FewerHours, "hours_without_cost", "fewer hours are needed, but they count as worth nothing, because no cost of a crew or line hour is given")
	}
}

func hoursText(seconds float64) string { return fmt.Sprintf("%.4g h", seconds/hour) }
