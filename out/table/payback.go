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

// Payback writes a savings case: the answer in sentences, the steps of investment
// where it was chosen by them, the year of both
// alternatives, the savings by cause, the cash flow, what it is worth, how
// likely it pays back, and what moves it.
func Payback(w io.Writer, about words.About, c *savings.Case, sys model.System, to Screen) error {
	var b strings.Builder
	title := strings.TrimPrefix(legible.Line(about.Title)+" · "+fmt.Sprintf(words.HeadSavingsOf, words.AlternativeName(c.Alternative)), " · ")
	fmt.Fprintf(&b, "%s\n%s\n", to.title(title), to.made(about, fmt.Sprintf(words.HeadDraws,
		words.Head(c.Run), 100*c.Run.Confidence, words.Grouped(float64(c.Random.Draws)))))
	if s := words.StepsSentence(c.Steps); s != "" {
		fmt.Fprintf(&b, "\n%s\n", to.prose(s))
	}
	for _, s := range words.CaseSentences(c, sys) {
		fmt.Fprintf(&b, "\n%s\n", to.prose(s))
	}
	stepsTable(&b, c.Steps, to)
	for _, part := range []struct {
		head  string
		write func(*strings.Builder, *savings.Case, model.System, Screen)
	}{
		{words.HeadAYear, yearTable}, {fmt.Sprintf(words.HeadSaved, words.Currency(c)), savedTable},
		{fmt.Sprintf(flowHead(c), words.Currency(c)), flowTable},
		{fmt.Sprintf(words.HeadWorth, words.TaxWords(c)), worthTable}, {fmt.Sprintf(words.HeadChance, words.TaxWords(c)), chanceTable},
		{words.HeadShares, shareTable}, {fmt.Sprintf(words.HeadMoves, words.TaxWords(c)), moveTable}, {words.HeadOtherKinds, otherTable}, {words.HeadBefore, warnTable},
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
	g := grid{heads: []string{words.Shorten(legible.Line(c.Against), 60), words.Shorten(legible.Line(c.Alternative), 60), words.HeadDifference}}
	tape := model.Display(model.Length, sys)
	row := func(label string, x, y float64) {
		if x == 0 && y == 0 {
			return
		}
		texts := words.WholePair(x, y)
		g.add(label, texts[:]...)
	}
	year := &c.Random.Year
	web := func(head string, of func(savings.Year) float64) {
		u := words.LongUnitOf(max(of(year[0]), of(year[1])), 0, sys)
		row(fmt.Sprintf(head, u.Name), u.From(of(year[0])), u.From(of(year[1])))
	}
	row(words.HeadPlanned, c.Hours[0]/3600, c.Hours[1]/3600)
	web(words.HeadGoodOf, func(y savings.Year) float64 { return y.Good })
	for _, r := range []struct {
		label string
		of    func(savings.Year) float64
	}{
		{words.HeadHoursNeeded, func(y savings.Year) float64 { return y.Hours }},
		{words.HeadOperatorHours, func(y savings.Year) float64 { return y.OperatorHours }},
		{words.HeadLineHours, func(y savings.Year) float64 { return y.LineHours }},
	} {
		row(r.label, r.of(year[0])/3600, r.of(year[1])/3600)
	}
	web(words.HeadWasteOf, func(y savings.Year) float64 { return y.Waste })
	row(fmt.Sprintf(words.HeadTapeOf, tape.Name), tape.From(year[0].Tape), tape.From(year[1].Tape))
	g.write(b, to)
}

func savedTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	g := grid{heads: []string{words.HeadMean, words.HeadLowHigh, words.HeadMeanInputs, words.HeadSimulated}}
	if c.Records {
		g.heads = append(g.heads, words.OpenHead)
	}
	row := func(label string, s savings.Saving, r savings.Spread) {
		half := "± n/a"
		switch h := s.HalfWidth; {
		case h == 0:
			half = ""
		case h > 0:
			half = "± " + words.Money(h, h)
		}
		cells := []string{words.Money(r.Mean, words.HalfOf(r)), words.MoneySpan(r), words.Money(s.Value, s.HalfWidth), half}
		if c.Records {
			open := ""
			if s.Records > 0 {
				open = "± " + words.Money(s.Records, s.Records)
			}
			cells = append(cells, open)
		}
		g.add(label, cells...)
	}
	for _, s := range c.Save {
		if !s.Given || words.Idle(s, c.Random.Save[s.Cause]) {
			continue
		}
		row(words.CauseLabel(s.Cause), s, c.Random.Save[s.Cause])
		g.rows[len(g.rows)-1].below = to.indented("= "+words.CauseFormula(c, s.Cause), 4)
	}
	row(words.HeadTotal, c.Total, c.Random.Total)
	g.write(b, to)
}

func worthTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	w, r := &c.Worth, c.Random
	g := grid{heads: []string{words.HeadMean, words.HeadLowHigh, words.HeadMedian, words.HeadMeanInputs}}
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
		row(fmt.Sprintf(words.HeadWithUnit, label, words.Currency(c)), words.Money(s.Mean, q), words.MoneySpan(s), words.Money(s.Median, q), words.Money(x, q))
	}
	amount(words.HeadInvestment, w.Investment, r.Investment)
	if c.ByYear() && (r.StartUp.Low != 0 || r.StartUp.High != 0) {
		amount(words.HeadStartUp, c.AtMeans().StartUp, r.StartUp)
	}
	if c.Standing() > 0 {
		amount(words.HeadLost, c.AtMeans().Lost, r.Lost)
	}
	amount(words.HeadNPV, w.NPV, r.NPV)
	amount(words.HeadPerYear, w.PerYear, r.PerYear)
	rate := words.Percent(w.IRR())
	switch len(w.Rates) {
	case 0:
		rate = words.HeadNone
	case 1:
	default:
		rate = words.RateNotUnique
	}
	row(words.HeadIRR, words.Percent(words.MeanOf(r.IRR)), words.PercentSpan(r.IRR), words.Percent(r.IRR.Median), rate)
	if k := r.IRR.Known; k < 1 && k > 0 {
		below(fmt.Sprintf(words.OneRateIn, words.InDraws(k, r.Draws)))
	}
	if len(w.Rates) > 1 {
		var all []string
		for _, x := range w.Rates {
			all = append(all, words.Percent(x))
		}
		below(fmt.Sprintf(words.RatesOfMeans, words.Shorten(strings.Join(all, ", "), 200)))
	}
	row(words.HeadMIRR, words.Percent(words.MeanOf(r.MIRR)), words.PercentSpan(r.MIRR), words.Percent(r.MIRR.Median), words.Percent(w.MIRR))
	years := func(label string, x float64, s savings.Spread) {
		row(label, words.Payback(words.MeanOf(s)), words.PaybackSpan(s), words.Payback(s.Median), words.Payback(x))
	}
	years(words.HeadSimple, w.Simple, r.Simple)
	years(words.HeadDiscounted, w.Discounted, r.Discounted)
	years(words.HeadSIR, w.SIR, r.SIR)
	g.write(b, to)
}

func chanceTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	if math.IsNaN(c.Random.PaysBack.Simple) {
		return
	}
	g := grid{label: words.HeadByYear, heads: []string{words.HeadSimpleShort, words.HeadAtPresent}}
	last := savings.Chance{}
	for i, x := range c.Random.ByYear {
		open := i == len(c.Random.ByYear)-1 && min(x.Simple, x.Discounted) < 1 // by the end of the life, not in all draws
		if i > 0 && x.Simple == last.Simple && x.Discounted == last.Discounted && !open {
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
		g := grid{lead: words.HeadSpreadShare, heads: []string{""}}
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
	g := grid{label: words.HeadOneInput, heads: []string{words.HeadFromTo, words.HeadMeanNPV}}
	for i, s := range c.Swings {
		if i == most {
			break
		}
		label := words.SwungLabel(s)
		if !s.Given {
			label = fmt.Sprintf(words.MovedByTenth, label)
		}
		g.add("  "+label, words.Shorten(words.Between(s.Low, s.High, s.Unit, sys), 25), words.Money(s.AtLow, 0)+" – "+words.Money(s.AtHigh, 0))
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
