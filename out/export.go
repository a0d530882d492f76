package out

import (
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/sim"
	"rollchange/sim/savings"
	"rollchange/sim/whatif"
)

// What package report shows is rounded here, by the functions of the tables, so
// that a figure looks the same wherever it stands.

// Figure is an estimate with its half width in a unit: "412.3 ± 1.8".
func Figure(e sim.Estimate, u model.Unit) string { return figure(e, u) }

// Difference is a paired difference that is shown, with its sign.
func Difference(d sim.Estimate, u model.Unit) string { return difference(d, u) }

// Reach is how far an estimate may be off, the longer way; NaN: not known.
func Reach(e sim.Estimate) float64 { return reach(e) }

// ShownUnit is the unit in which people read figures of an SI unit, of which
// largest is the largest.
func ShownUnit(unit string, largest float64, sys model.System) model.Unit {
	return shown(unit, largest, sys)
}

// Chance writes a share: in percent, or as a power of ten when it is small.
func Chance(share float64) string { return shareText(share) }

// Line makes text that a person typed fit for one line of a width, in columns.
func Line(s string, width int) string { return shorten(safe(s), width) }

// Head says how results were made.
func Head(r sim.RunInfo) string { return head(r) }

// MetricLabel is how a metric is called for people.
func MetricLabel(metric string) string { return strings.TrimSpace(labelOf(metric).text) }

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

// Comparison is the rows of a comparison, as CompareTable shows them.
func Comparison(rs *sim.Results, sys model.System) []Compared {
	var rows []Compared
	for _, name := range comparedNames(rs) {
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
		l := labelOf(name)
		row := Compared{Group: groupHeads[l.group], Metric: name, Label: strings.TrimSpace(l.text), Unit: shown(unit, largest, sys)}
		for i := range rs.Alternatives {
			var c ComparedCell
			if e, ok := rs.Alternatives[i].Metrics[name]; ok {
				c.Text = figure(e, row.Unit)
			}
			if d, ok := differenceOf(rs, i, name); ok && i > 0 {
				if c.Difference = "~"; d.Shown() {
					c.Difference = difference(d, row.Unit)
				}
			}
			row.Cells = append(row.Cells, c)
		}
		rows = append(rows, row)
	}
	return rows
}

// Money is an amount with as many digits as its half width deserves.
func Money(x, half float64) string { return money(x, half) }

// MoneySpan is the two ends of an interval of amounts.
func MoneySpan(s savings.Spread) string { return span(s) }

// Quarter of the width of an interval says how many digits its middle deserves.
func Quarter(s savings.Spread) float64 { return quarter(s) }

// Payback is a time to pay back, in years: "3.41", "never".
func Payback(years float64) string { return yearsText(years) }

// PaybackSpan is an interval of that.
func PaybackSpan(s savings.Spread) string { return yearsSpan(s) }

// Percent is a share in per cent, without the sign.
func Percent(share float64) string { return points(share) }

// PercentSpan is an interval of that.
func PercentSpan(s savings.Spread) string { return pointsSpan(s) }

// ChanceOfDraws is a share of the draws of what is not certain.
func ChanceOfDraws(x float64, draws int) string { return chanceText(x, draws) }

// Between is a range of an input in its unit; lengths of a year in the long unit.
func Between(low, high float64, unit string, sys model.System) string {
	return between(low, high, unit, sys)
}

// YearLength is a length of web of a year, with its unit.
func YearLength(metres float64, sys model.System) string {
	u := long(sys)
	return whole(u.From(metres)) + " " + u.Name
}

// Whole is a figure of four digits at least, without an exponent.
func Whole(x float64) string { return whole(x) }

// MoneyNote is what goes with every cash flow.
func MoneyNote(c *savings.Case) string { return moneyNote(c) }

// MeanFlows are the flows of a savings case in the mean over the draws, of the
// years that enough of them live to see.
func MeanFlows(c *savings.Case) []finance.Year { return flowsOf(c) }

// MeanOf is the mean of a figure that every draw has, else NaN.
func MeanOf(s savings.Spread) float64 { return meanOf(s) }

// Idle says whether a cause saves and costs nothing in any draw.
func Idle(s savings.Saving, r savings.Spread) bool { return idle(s, r) }

// LifeAndRate says over how long and at which rate flows are valued.
func LifeAndRate(c *savings.Case) string { return lifeAndRate(c) }

// LimitedBy says in a few words what limits what is sold.
func LimitedBy(c *savings.Case) string { return limitedBy(c) }

// PointText is where a point of a sweep over one key is, in the units of people.
func PointText(s *whatif.Sweep, k int, sys model.System) string {
	a := s.Axes[0]
	return axisValue(a.Values[s.Points[k].At[0]], axisUnit(a, sys))
}

// StakeText is a metric of a sensitivity with a half width, in the units of people.
func StakeText(s *whatif.Sensitivities, metric string, value, half float64, sys model.System) string {
	if math.IsNaN(value) {
		return "–"
	}
	return stakeReading(s, metric, value, sys).level(value, half)
}

// StakeSpread is a standard deviation of a metric of a sensitivity.
func StakeSpread(s *whatif.Sensitivities, metric string, sd float64, sys model.System) string {
	return stakeReading(s, metric, sd, sys).spread(sd)
}

// StakeLabel is how a metric of a sensitivity is called.
func StakeLabel(s *whatif.Sensitivities, metric string) string {
	return stakeReading(s, metric, 0, model.Metric).label
}

// Parts are the metrics that HoursPlot (hours) or WastePlot draws, of all
// alternatives, in order.
func Parts(rs *sim.Results, ofHours bool) []string {
	var names []string
	for _, r := range rs.Alternatives {
		for _, name := range r.Names {
			l, e := labelOf(name), r.Metrics[name]
			is := l.group == hours && e.Unit == "1" && name != "time.stopped"
			if !ofHours {
				is = l.group == webGoes && name != "waste.total"
			}
			if is && e.Mean > 0 && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// Clock is a time as a log shows it.
func Clock(seconds float64) string { return clock(seconds) }

// FactText is the value of a fact with its unit.
func FactText(f model.Fact, sys model.System) string { return factValue(f, sys) }

// Duration is a time for people: "30 d".
func Duration(seconds float64) string { return duration(seconds) }
