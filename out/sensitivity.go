package out

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/whatif"
)

// mostSwings is how many inputs a table of a sensitivity shows for each metric.
const mostSwings = 12

// SensitivityTable writes, for each metric, the inputs that move it most.
func SensitivityTable(w io.Writer, about About, s *whatif.Sensitivities, run sim.RunInfo, sys model.System, color bool) error {
	var b strings.Builder
	title := about.titleOf(s.Alternative, false)
	fmt.Fprintf(&b, "%s\n%s\n", bold(shorten(title, 100), color), wrap(head(run), 100))
	for _, metric := range s.Metrics {
		swingTable(&b, s, metric, sys, color)
	}
	fmt.Fprintf(&b, "\n%s\n", wrap("("+howMoved(s, run)+")", 98))
	for _, x := range []struct {
		what string
		list []string
	}{{"Not moved", s.Skipped}, {"Not known", s.Lacking}} {
		if len(x.list) > 0 {
			fmt.Fprintln(&b, wrap(fmt.Sprintf("%s: %s.", x.what, strings.Join(x.list, "; ")), 98))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// swingTable writes the inputs that move one metric.
func swingTable(b *strings.Builder, s *whatif.Sensitivities, metric string, sys model.System, color bool) {
	list := s.Swings[metric]
	r := stakeReading(s, metric, list[0].Base, sys)
	fmt.Fprintf(b, "\n%s\n", bold(fmt.Sprintf("%s, now %s", r.label, r.level(list[0].Base, list[0].BaseHalf)), color))
	fmt.Fprintf(b, "  %s%s%s%s", pad("input", 30), padLeft("low end", 17), padLeft("high end", 17), padLeft("moved to", 27))
	if !math.IsNaN(list[0].Total) {
		fmt.Fprint(b, padLeft("total", 7))
	}
	fmt.Fprintln(b)
	shown := 0
	for _, x := range list {
		if shown == mostSwings || x.Size() == 0 {
			break
		}
		shown++
		fmt.Fprintf(b, "  %s%s%s%s", pad(shorten(x.Key, 29), 30), padLeft(r.moves(x, 0), 17), padLeft(r.moves(x, 1), 17), padLeft(shorten(fromTo(x.LowText, x.High), 26), 27))
		if !math.IsNaN(x.Total) {
			fmt.Fprint(b, padLeft(strconv.FormatFloat(x.Total, 'f', 2, 64), 7))
		}
		fmt.Fprintln(b)
	}
	switch n := len(list) - shown; {
	case shown == 0:
		fmt.Fprintln(b, "  no input is shown to move it")
	case n == 1:
		fmt.Fprintln(b, "  and 1 input that moves it less, or is not shown to move it")
	case n > 1:
		fmt.Fprintf(b, "  and %d inputs that move it less, or are not shown to move it\n", n)
	}
	sourcesTable(b, s, metric, r)
}

// mostSources is how many sources of chance a table shows for each metric, and
// leastShare of the variance one has that is told of.
const (
	mostSources = 6
	leastShare  = 0.01
)

// sourcesTable writes what each source of chance adds to the spread of a metric
// from period to period.
func sourcesTable(b *strings.Builder, s *whatif.Sensitivities, metric string, r stakeReader) {
	v, ok := s.Varies[metric]
	if !ok {
		return
	}
	if v.SD == 0 {
		fmt.Fprintf(b, "  it does not vary from one %s to the next\n", duration(s.Period))
		return
	}
	fmt.Fprintf(b, "  %s%s\n", pad(fmt.Sprintf("by chance, from one %s to the next (sd %s in %d of them)", duration(s.Period), r.spread(v.SD), v.Periods), 66), padLeft("of the variance", 18))
	n := 0
	for _, x := range v.Sources {
		if n == mostSources || x.Share < leastShare {
			break
		}
		if !x.Shown() {
			continue
		}
		n++
		fmt.Fprintf(b, "  %s%s\n", pad("  "+shorten(safe(x.Key), 60), 66), padLeft(ofVariance(x), 18))
	}
	switch left := len(v.Sources) - n; {
	case n == 0:
		fmt.Fprintln(b, "    no source is shown to add to it")
	case left == 1:
		fmt.Fprintln(b, "    and 1 source that adds less, or is not shown to add anything")
	case left > 1:
		fmt.Fprintf(b, "    and %d sources that add less, or are not shown to add anything\n", left)
	}
}

// ofVariance is the share of a source of chance with its half width, in per cent.
func ofVariance(x whatif.Source) string {
	return figure(sim.Estimate{Mean: x.Share, HalfWidth: x.Half}, model.Unit{SI: 0.01}) + " %"
}

// spread is a standard deviation of the metric.
func (r stakeReader) spread(sd float64) string {
	if r.money {
		return money(sd, sd/10) + " " + r.apart
	}
	return strings.TrimSpace(strconv.FormatFloat(r.unit.From(sd), 'g', 3, 64) + " " + r.apart)
}

// fromTo is the range of an input, what both ends have in common said once:
// "mean 3.6 … 4.4 min".
func fromTo(low, high string) string {
	low, high = safe(low), safe(high)
	for _, what := range []string{"mean ", "sd "} {
		a, isA := strings.CutPrefix(low, what)
		b, isB := strings.CutPrefix(high, what)
		if isA && isB {
			return what + fromTo(a, b)
		}
	}
	if x, unit, ok := strings.Cut(low, " "); ok && strings.HasSuffix(high, " "+unit) && x != "x" {
		return x + " … " + high
	}
	return low + " … " + high
}

// howMoved says how inputs were moved, and what the marks mean.
func howMoved(s *whatif.Sensitivities, run sim.RunInfo) string {
	how := fmt.Sprintf("what is not known exactly, each input moved alone by %.4g %%: of a distribution the mean, its shape kept; of a share above one half what it lacks of 100 %%; a whole number by one", 100*s.Share)
	if s.Against != "" {
		how += "; an input of the line in both alternatives, each from its own value"
	}
	if run.Replications < 2 {
		return how + "; on the same chance as now; one replication says nothing of which differences are more than chance"
	}
	how += "; differences from now on the same chance; ~ no difference shown"
	if len(s.Varies) > 0 {
		how += ". What varies: each source of chance drawn anew alone, the share of the variance with all interactions, so that they may add up to more than 100 %"
	}
	return how
}

// stakeReader is how a metric of a sensitivity reads: one of a line, or of money.
type stakeReader struct {
	label string
	unit  model.Unit
	apart string // the unit of a difference: shares differ by points
	money bool   // an amount
	years bool   // a payback, which may never come
}

// stakeReading is how a metric reads, of about a size.
func stakeReading(s *whatif.Sensitivities, metric string, size float64, sys model.System) stakeReader {
	tax := "before tax"
	if s.Taxed {
		tax = "after tax"
	}
	cur := shorten(safe(s.Currency), 12)
	switch metric {
	case "savings":
		return stakeReader{label: "saved a year before tax", unit: model.Unit{Name: cur, SI: 1}, apart: cur, money: true}
	case "npv":
		return stakeReader{label: "net present value " + tax, unit: model.Unit{Name: cur, SI: 1}, apart: cur, money: true}
	case "payback":
		return stakeReader{label: "payback " + tax, unit: model.Unit{Name: "years", SI: 1}, apart: "years", years: true}
	}
	r := stakeReader{label: strings.TrimSpace(labelOf(metric).text), unit: shown(unitOf(metric), math.Abs(size), sys)}
	if r.apart = r.unit.Name; unitOf(metric) == "1" {
		r.apart = "points"
	}
	return r
}

// level is the metric itself with its half width.
func (r stakeReader) level(x, half float64) string {
	switch {
	case r.money && half > 0 && !math.IsInf(half, 1):
		return money(x, half) + " ± " + money(half, half) + " " + r.unit.Name
	case r.money:
		return money(x, 0) + " " + r.unit.Name
	case r.years && math.IsInf(x, 1):
		return "never"
	}
	e := sim.Estimate{Mean: x, HalfWidth: half}
	if math.IsInf(half, 1) {
		e.Why = estimate.TooFew
	}
	return strings.TrimSpace(figure(e, r.unit) + " " + r.unit.Name)
}

// moves is the difference that an end makes.
func (r stakeReader) moves(x whatif.Swing, end int) string {
	at := [2]float64{x.Low, x.Up}[end]
	switch {
	case math.IsNaN(at):
		return "no such line"
	case !x.Shown(end):
		return "~"
	case math.IsInf(at, 1):
		return "never"
	case math.IsInf(x.Base, 1):
		return yearsText(at) + " years"
	}
	d := r.unit.From(at - x.Base)
	sign := "+"
	if d < 0 {
		sign = "−"
	}
	if d = math.Abs(d); r.money {
		return sign + money(d, d/10) + " " + r.apart
	}
	return strings.TrimSpace(sign + strconv.FormatFloat(d, 'g', 3, 64) + " " + r.apart)
}
