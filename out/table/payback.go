package table

import (
	"fmt"
	"io"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// Payback writes a savings case: the answer in sentences, the year of both
// alternatives, the savings by cause, the cash flow, what it is worth, how
// likely it pays back, and what moves it.
func Payback(w io.Writer, about words.About, c *savings.Case, sys model.System, to Screen) error {
	var b strings.Builder
	title := strings.TrimPrefix(legible.Line(about.Title)+" · savings of "+words.AlternativeName(c.Alternative), " · ")
	fmt.Fprintf(&b, "%s\n%s\n", to.title(title), to.prose(fmt.Sprintf("%s; low – high holds %g %% of %s draws",
		words.Head(c.Run), 100*c.Run.Confidence, words.Grouped(float64(c.Random.Draws)))))
	for _, s := range words.CaseSentences(c, sys) {
		fmt.Fprintf(&b, "\n%s\n", to.prose(s))
	}
	for _, part := range []struct {
		head  string
		write func(*strings.Builder, *savings.Case, model.System, Screen)
	}{
		{"A year, mean of the draws", yearTable}, {fmt.Sprintf("What is saved a year before tax, %s", words.Currency(c)), savedTable},
		{fmt.Sprintf("Cash flow, %s, mean of the draws", words.Currency(c)), flowTable},
		{"What it is worth " + words.TaxWords(c), worthTable}, {"Chance of payback " + words.TaxWords(c), chanceTable},
		{"What moves the mean net present value", moveTable}, {"If one limit alone applied, mean of the draws", otherTable},
		{"Before you use these figures", warnTable},
	} {
		var body strings.Builder
		part.write(&body, c, sys, to)
		if body.Len() > 0 {
			fmt.Fprintf(&b, "\n%s\n%s", to.head(part.head), body.String())
		}
	}
	fmt.Fprintf(&b, "\n%s\n", to.prose("("+words.MoneyNote(c)+")"))
	_, err := io.WriteString(w, b.String())
	return err
}

func yearTable(b *strings.Builder, c *savings.Case, sys model.System, to Screen) {
	g := grid{heads: []string{words.Shorten(legible.Line(c.Against), 60), words.Shorten(legible.Line(c.Alternative), 60), "difference"}}
	u := words.LongUnit(sys)
	tape := model.Display(model.Length, sys)
	row := func(label string, x, y float64) {
		if x == 0 && y == 0 {
			return
		}
		sign := ""
		if y > x {
			sign = "+"
		}
		g.add(label, words.Whole(x), words.Whole(y), sign+words.Whole(y-x))
	}
	row("planned hours, h", c.Hours[0]/3600, c.Hours[1]/3600)
	for _, r := range []struct {
		label string
		si    float64
		of    func(savings.Year) float64
	}{
		{"good web, " + u.Name, u.SI, func(y savings.Year) float64 { return y.Good }},
		{"hours needed, h", 3600, func(y savings.Year) float64 { return y.Hours }},
		{"operator hours, h", 3600, func(y savings.Year) float64 { return y.OperatorHours }},
		{"line hours, h", 3600, func(y savings.Year) float64 { return y.LineHours }},
		{"waste, " + u.Name, u.SI, func(y savings.Year) float64 { return y.Waste }},
		{"splicing tape, " + tape.Name, tape.SI, func(y savings.Year) float64 { return y.Tape }},
	} {
		row(r.label, r.of(c.Random.Year[0])/r.si, r.of(c.Random.Year[1])/r.si)
	}
	g.write(b, to)
}

func savedTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	g := grid{heads: []string{"mean", "low – high", "mean inputs", "± simulated"}}
	row := func(label string, s savings.Saving, r savings.Spread) {
		half := "± n/a"
		switch h := s.HalfWidth; {
		case h == 0:
			half = ""
		case h > 0:
			half = "± " + words.Money(h, h)
		}
		g.add(label, words.Money(r.Mean, words.HalfOf(r)), words.MoneySpan(r), words.Money(s.Value, s.HalfWidth), half)
	}
	for _, s := range c.Save {
		if !s.Given || words.Idle(s, c.Random.Save[s.Cause]) {
			continue
		}
		row(words.CauseLabel(s.Cause), s, c.Random.Save[s.Cause])
		g.rows[len(g.rows)-1].below = to.indented("= "+words.CauseFormula(s.Cause), 4)
	}
	row("total", c.Total, c.Random.Total)
	g.write(b, to)
}

func flowTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	with := c.Taxed()
	g := grid{label: "year", heads: []string{"saved", "net", "cumulative", "net, low – high"}}
	if with {
		g.heads = []string{"saved", "depreciation", "tax", "net", "cumulative", "net, low – high"}
	}
	sum, largest := 0.0, 0.0
	for _, y := range words.MeanFlows(c) {
		largest = max(largest, math.Abs(y.Net))
	}
	show := func(x float64) string { return words.Money(x, largest/100) } // one place for all, so that they add up
	for t, y := range words.MeanFlows(c) {
		sum += y.Net
		cells := []string{show(y.Savings), show(y.Net), show(sum), words.MoneySpan(c.Random.Flow[t])}
		if with {
			cells = []string{show(y.Savings), show(y.Depreciation), show(y.Tax), show(y.Net), show(sum), words.MoneySpan(c.Random.Flow[t])}
		}
		g.add(fmt.Sprint(t), cells...)
		if y.Salvage != 0 {
			g.rows[len(g.rows)-1].below = "    including the salvage of " + show(y.Salvage)
		}
	}
	g.write(b, to)
}

func worthTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	w, r := &c.Worth, c.Random
	g := grid{heads: []string{"mean", "low – high", "median", "mean inputs"}}
	row := func(cells ...string) { g.add(cells[0], cells[1:]...) }
	below := func(text string) {
		if x := &g.rows[len(g.rows)-1].below; *x == "" {
			*x = to.indented(text, 4)
		} else {
			*x += "\n" + to.indented(text, 4)
		}
	}
	amount := func(label string, x float64, s savings.Spread) {
		q := words.HalfOf(s)
		row(label+", "+words.Currency(c), words.Money(s.Mean, q), words.MoneySpan(s), words.Money(s.Median, q), words.Money(x, q))
	}
	amount("investment", w.Investment, r.Investment)
	amount("net present value", w.NPV, r.NPV)
	amount("equivalent annual value", w.PerYear, r.PerYear)
	rate := words.Percent(w.IRR())
	switch len(w.Rates) {
	case 0:
		rate = "none"
	case 1:
	default:
		rate = "not unique"
	}
	row("internal rate of return, %", words.Percent(words.MeanOf(r.IRR)), words.PercentSpan(r.IRR), words.Percent(r.IRR.Median), rate)
	if k := r.IRR.Known; k < 1 && k > 0 {
		below("exactly one rate " + words.InDraws(k, r.Draws) + "; low, high and median are of those")
	}
	if len(w.Rates) > 1 {
		var all []string
		for _, x := range w.Rates {
			all = append(all, words.Percent(x))
		}
		below("with mean inputs: " + words.Shorten(strings.Join(all, ", "), 200))
	}
	row("modified rate of return, %", words.Percent(words.MeanOf(r.MIRR)), words.PercentSpan(r.MIRR), words.Percent(r.MIRR.Median), words.Percent(w.MIRR))
	years := func(label string, x float64, s savings.Spread) {
		row(label, words.Payback(words.MeanOf(s)), words.PaybackSpan(s), words.Payback(s.Median), words.Payback(x))
	}
	years("simple payback, years", w.Simple, r.Simple)
	years("discounted payback, years", w.Discounted, r.Discounted)
	years("savings to investment", w.SIR, r.SIR)
	g.write(b, to)
}

func chanceTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	if math.IsNaN(c.Random.PaysBack.Simple) {
		return
	}
	g := grid{label: "by the end of year", heads: []string{"simple", "at present value"}}
	last := savings.Chance{}
	for i, x := range c.Random.ByYear {
		if i > 0 && x.Simple == last.Simple && x.Discounted == last.Discounted {
			continue // as the year before
		}
		last = x
		g.add(fmt.Sprint(x.Year), words.ChanceOfDraws(x.Simple, c.Random.Draws), words.ChanceOfDraws(x.Discounted, c.Random.Draws))
	}
	g.write(b, to)
}

func moveTable(b *strings.Builder, c *savings.Case, sys model.System, to Screen) {
	const most = 6
	if len(c.Drivers) > 1 {
		g := grid{lead: "share of its spread (squared rank correlation)", heads: []string{""}}
		for i, d := range c.Drivers {
			if i == most || d.Share < 0.005 {
				break
			}
			g.add("  "+words.DriverLabel(d), words.Percent(d.Share)+" %")
		}
		g.write(b, to)
	}
	if len(c.Swings) == 0 {
		return
	}
	g := grid{label: "one input at a time", heads: []string{"from – to", "mean net present value"}}
	for i, s := range c.Swings {
		if i == most {
			break
		}
		note := ""
		if !s.Given {
			note = " (±10 %)"
		}
		g.add("  "+words.SwungLabel(s)+note, words.Shorten(words.Between(s.Low, s.High, s.Unit, sys), 25), words.Money(s.AtLow, 0)+" – "+words.Money(s.AtHigh, 0))
	}
	g.write(b, to)
}

func otherTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	for _, o := range c.Others {
		fmt.Fprintln(b, to.indented(words.OtherSentence(c, o), 2))
	}
}

// warnTable names what makes the answer look better than it is.
func warnTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	for _, x := range c.Warnings {
		fmt.Fprintln(b, to.indented(legible.Line(words.WarningText(c, x))+".", 2))
	}
}
