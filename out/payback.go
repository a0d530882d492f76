package out

import (
	"fmt"
	"io"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim/savings"
)

// caseWidth is the width of the tables of a savings case, in columns.
const caseWidth = 100

// PaybackTable writes a savings case: the answer in sentences, the year of both
// alternatives, the savings by cause, the cash flow, what it is worth, how
// likely it pays back, and what moves it.
func PaybackTable(w io.Writer, about About, c *savings.Case, sys model.System, color bool) error {
	var b strings.Builder
	title := strings.TrimPrefix(safe(about.Title)+" · savings of "+alternativeName(c.Alternative), " · ")
	fmt.Fprintf(&b, "%s\n%s\n", bold(shorten(title, caseWidth), color), wrap(fmt.Sprintf("%s; low – high holds %g %% of %s draws of all that is not certain",
		head(c.Run), 100*c.Run.Confidence, grouped(float64(c.Random.Draws))), caseWidth))
	for _, s := range CaseSentences(c, sys) {
		fmt.Fprintf(&b, "\n%s\n", wrap(s, 96))
	}
	for _, part := range []struct {
		head  string
		write func(*strings.Builder, *savings.Case, model.System)
	}{
		{"A year", yearTable}, {fmt.Sprintf("What is saved a year, %s", currency(c)), savedTable},
		{fmt.Sprintf("Cash flow, %s, at the means of all inputs", currency(c)), flowTable},
		{"What it is worth", worthTable}, {"Chance to have paid back", chanceTable}, {"What moves the net present value", moveTable}, {"In the other case", otherTable},
		{"To know before using it", warnTable},
	} {
		var body strings.Builder
		part.write(&body, c, sys)
		if body.Len() > 0 {
			fmt.Fprintf(&b, "\n%s\n%s", bold(part.head, color), body.String())
		}
	}
	fmt.Fprintf(&b, "\n%s\n", wrap("("+moneyNote(c)+")", 96))
	_, err := io.WriteString(w, b.String())
	return err
}

// moneyNote is what goes with every cash flow.
func moneyNote(c *savings.Case) string {
	s := "flows at the ends of years, year 0 the investment; savings are in the money of today, so the discount rate is a real one: without inflation"
	if c.Worth.Salvage != 0 || taxed(c) {
		s += "; straight-line depreciation of the investment less its salvage"
	}
	return s
}

func taxed(c *savings.Case) bool {
	for _, y := range c.Worth.Flow {
		if y.Tax != 0 {
			return true
		}
	}
	return false
}

// columnsOf writes a row: a label, then right-aligned columns.
func columnsOf(b *strings.Builder, label string, first int, widths []int, cells ...string) {
	s := pad("  "+shorten(label, first-3), first)
	for i, x := range cells {
		s += padLeft(x, widths[i])
	}
	fmt.Fprintln(b, strings.TrimRight(s, " "))
}

func yearTable(b *strings.Builder, c *savings.Case, sys model.System) {
	widths := []int{22, 22, 18}
	columnsOf(b, "", 34, widths, shorten(safe(c.Against), 20), shorten(safe(c.Alternative), 20), "difference")
	u := long(sys)
	tape := model.Display(model.Length, sys)
	for _, r := range []struct {
		label string
		si    float64
		of    func(savings.Year) float64
	}{
		{"good web, " + u.Name, u.SI, func(y savings.Year) float64 { return y.Good }},
		{"planned hours that it takes, h", 3600, func(y savings.Year) float64 { return y.Hours }},
		{"operator hours, h", 3600, func(y savings.Year) float64 { return y.OperatorHours }},
		{"line hours, h", 3600, func(y savings.Year) float64 { return y.LineHours }},
		{"waste, " + u.Name, u.SI, func(y savings.Year) float64 { return y.Waste }},
		{"splicing tape, " + tape.Name, tape.SI, func(y savings.Year) float64 { return y.Tape }},
	} {
		x, y := r.of(c.Years[0])/r.si, r.of(c.Years[1])/r.si
		if x == 0 && y == 0 {
			continue
		}
		sign := ""
		if y > x {
			sign = "+"
		}
		columnsOf(b, r.label, 34, widths, whole(x), whole(y), sign+whole(y-x))
	}
}

func savedTable(b *strings.Builder, c *savings.Case, _ model.System) {
	widths := []int{16, 14, 32}
	columnsOf(b, "", 36, widths, "at the means", "± simulated", "low – high")
	row := func(label string, s savings.Saving, r savings.Spread) {
		half := "± n/a"
		switch h := s.HalfWidth; {
		case h == 0:
			half = ""
		case h > 0:
			half = "± " + money(h, h)
		}
		columnsOf(b, label, 36, widths, money(s.Value, s.HalfWidth), half, span(r))
	}
	for _, s := range c.Save {
		if !s.Given || s.Value == 0 && s.HalfWidth == 0 && c.Random.Save[s.Cause].High == 0 {
			continue
		}
		row(s.Cause.String(), s, c.Random.Save[s.Cause])
		fmt.Fprintln(b, "    = "+s.Cause.Formula())
	}
	row("total", c.Total, c.Random.Total)
}

func flowTable(b *strings.Builder, c *savings.Case, _ model.System) {
	with := taxed(c)
	widths := []int{12, 12, 12, 30, 14}
	heads := []string{"saved", "net", "cumulative", "net, low – high", ""}
	if with {
		widths, heads = []int{12, 12, 12, 12, 12, 28}, []string{"saved", "depreciation", "tax", "net", "cumulative", "net, low – high"}
		widths[1] = 14
	}
	columnsOf(b, "year", 9, widths, heads...)
	sum, largest := 0.0, 0.0
	for _, y := range c.Worth.Flow {
		largest = max(largest, math.Abs(y.Net))
	}
	show := func(x float64) string { return money(x, largest/100) } // one place for all, so that they add up
	for t, y := range c.Worth.Flow {
		sum += y.Net
		cells := []string{show(y.Savings), show(y.Net), show(sum), span(c.Random.Flow[t])}
		if with {
			cells = []string{show(y.Savings), show(y.Depreciation), show(y.Tax), show(y.Net), show(sum), span(c.Random.Flow[t])}
		}
		columnsOf(b, fmt.Sprint(t), 9, widths, cells...)
		if y.Salvage != 0 {
			fmt.Fprintf(b, "    with the salvage of %s\n", show(y.Salvage))
		}
	}
}

func worthTable(b *strings.Builder, c *savings.Case, _ model.System) {
	w, r := &c.Worth, c.Random
	row := func(cells ...string) { columnsOf(b, cells[0], 36, []int{14, 26, 12, 12}, cells[1:]...) }
	row("", "at the means", "low – high", "median", "mean")
	amount := func(label string, x float64, s savings.Spread) {
		q := quarter(s)
		row(label+", "+currency(c), money(x, q), span(s), money(s.Median, q), money(s.Mean, q))
	}
	amount("investment", w.Investment, r.Investment)
	amount("net present value", w.NPV, r.NPV)
	amount("as an even sum a year", w.PerYear, r.PerYear)
	rate := points(w.IRR())
	switch len(w.Rates) {
	case 0:
		rate = "none"
	case 1:
	default:
		rate = "not unique"
	}
	row("internal rate of return, %", rate, pointsSpan(r.IRR), points(r.IRR.Median), points(r.IRR.Mean))
	if len(w.Rates) > 1 {
		var all []string
		for _, x := range w.Rates {
			all = append(all, points(x))
		}
		fmt.Fprintln(b, "    "+shorten(strings.Join(all, ", "), 90))
	}
	row("modified rate of return, %", points(w.MIRR), pointsSpan(r.MIRR), points(r.MIRR.Median), points(r.MIRR.Mean))
	years := func(label string, x float64, s savings.Spread) {
		row(label, yearsText(x), yearsSpan(s), yearsText(s.Median), yearsText(s.Mean))
	}
	years("simple payback, years", w.Simple, r.Simple)
	years("discounted payback, years", w.Discounted, r.Discounted)
	years("savings to investment", w.SIR, r.SIR)
}

func chanceTable(b *strings.Builder, c *savings.Case, _ model.System) {
	if math.IsNaN(c.Random.PaysBack.Simple) {
		return
	}
	widths := []int{20, 24}
	columnsOf(b, "by the end of year", 24, widths, "simple", "at present value")
	last := savings.Chance{}
	for i, x := range c.Random.ByYear {
		if i > 0 && x.Simple == last.Simple && x.Discounted == last.Discounted {
			continue // as the year before
		}
		last = x
		columnsOf(b, fmt.Sprint(x.Year), 24, widths, chanceText(x.Simple, c.Random.Draws), chanceText(x.Discounted, c.Random.Draws))
	}
}

func moveTable(b *strings.Builder, c *savings.Case, sys model.System) {
	const most = 6
	if len(c.Drivers) > 1 {
		columnsOf(b, "share of its spread (squared rank correlation)", 60, []int{10}, "")
		for i, d := range c.Drivers {
			if i == most || d.Share < 0.005 {
				break
			}
			columnsOf(b, "  "+d.Label, 44, []int{10}, points(d.Share)+" %")
		}
	}
	if len(c.Swings) == 0 {
		return
	}
	columnsOf(b, "one input at a time", 44, []int{26, 27}, "from – to", "net present value")
	for i, s := range c.Swings {
		if i == most {
			break
		}
		note := ""
		if !s.Given {
			note = " (±10 %)"
		}
		columnsOf(b, "  "+s.Label+note, 44, []int{26, 27}, shorten(between(s.Low, s.High, s.Unit, sys), 25), money(s.AtLow, 0)+" – "+money(s.AtHigh, 0))
	}
}

// between is a range in a unit; lengths of a year in the long unit.
func between(low, high float64, unit string, sys model.System) string {
	u := inputUnit(unit, max(math.Abs(low), math.Abs(high)), sys)
	return strings.TrimRight(fmt.Sprintf("%s – %s %s", plain(u.From(low)), plain(u.From(high)), unitText(u.Name)), " ")
}

// inputUnit is the unit in which people read an input of a savings case that is
// given in another, the largest of its figures with it.
func inputUnit(unit string, largest float64, sys model.System) model.Unit {
	if unit == "m" { // web of a year
		return long(sys)
	}
	return shown(unit, largest, sys)
}

// unitText is a unit for people; a pure number has none.
func unitText(u string) string {
	if u == "1" {
		return ""
	}
	return safe(u)
}

// plain is a figure of four digits.
func plain(x float64) string {
	if math.Abs(x) >= 1e4 {
		return money(x, 0)
	}
	return strings.Replace(fmt.Sprintf("%.4g", x), "-", "−", 1)
}

func otherTable(b *strings.Builder, c *savings.Case, _ model.System) {
	for _, o := range c.Others {
		s := fmt.Sprintf("%s, %s: %s %s a year, net present value %s %s.", o.Kind, safe(o.If), money(o.Total, 0), currency(c), money(o.NPV, 0), currency(c))
		if o.Why != "" {
			s = fmt.Sprintf("%s, %s: not known, %s.", o.Kind, safe(o.If), o.Why)
		}
		fmt.Fprintln(b, "  "+strings.ReplaceAll(wrap(s, 94), "\n", "\n  "))
	}
}

// warnTable names what makes the answer look better than it is.
func warnTable(b *strings.Builder, c *savings.Case, _ model.System) {
	for _, x := range c.Warnings {
		fmt.Fprintln(b, "  "+strings.ReplaceAll(wrap(safe(x.Text)+".", 94), "\n", "\n  "))
	}
}
