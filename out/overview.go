package out

import (
	"fmt"
	"io"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim/savings"
)

// SavingsTable sets the savings cases of several alternatives side by side in
// short, against the first alternative, and says which is worth most. Cases are
// by alternative, nil where there is none.
func SavingsTable(w io.Writer, cases []*savings.Case, r savings.Ranking, color bool) error {
	if r.Best == 0 {
		return nil
	}
	var b strings.Builder
	c := cases[r.Best]
	fmt.Fprintf(&b, "\n%s\n", bold(shorten(fmt.Sprintf("Savings against %s, %s", alternativeName(c.Against), currency(c)), caseWidth), color))
	widths := []int{10, 21, 23, 16}
	row := func(cells ...string) { columnsOf(&b, cells[0], 30, widths, cells[1:]...) }
	row("", "investment", "saved a year", "net present value", "payback,")
	row("", "", "before tax", taxWords(c), "years")
	for _, c := range cases {
		if c == nil {
			continue
		}
		x := c.Random
		row(safe(c.Alternative), money(x.Investment.Mean, quarter(x.Investment)), money(x.Total.Mean, quarter(x.Total)), money(x.NPV.Mean, quarter(x.NPV)), yearsText(x.Simple.Median))
		row("  "+limitedBy(c), "", span(x.Total), span(x.NPV), yearsSpan(x.Simple))
	}
	note := fmt.Sprintf("(means over %s draws, of paybacks medians; below them what %g %% of the draws lie in; rollchange payback shows how each is reckoned", grouped(float64(c.Random.Draws)), 100*c.Run.Confidence)
	if math.IsInf(c.Demand, 1) {
		note += "; no demand is given: all good web that is made counts as sold"
	}
	fmt.Fprintln(&b, wrap(note+")", 96))
	for _, s := range []string{RankSentence(r, cases), coveredOfAll(cases)} {
		if s != "" {
			fmt.Fprintln(&b, "\n"+wrap(s, 96))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// coveredOfAll says what the limits of several cases cover.
func coveredOfAll(cases []*savings.Case) string {
	text := ""
	for _, c := range cases {
		switch s := ""; {
		case c == nil:
		case text == "":
			text = CoveredSentence(c)
		default:
			if s = CoveredSentence(c); s != text { // inputs of their own, such as the investment
				return "The limits cover the economic inputs that vary in each alternative" + noiseToo(c) + "." + notCovered
			}
		}
	}
	return text
}

// limitedBy says in a few words what limits what is sold.
func limitedBy(c *savings.Case) string {
	for _, k := range []savings.Kind{savings.CapacityLimited, savings.DemandLimited, savings.Between} {
		if c.Random.Kinds[k] == 1 {
			return string(k)
		}
	}
	return points(c.Random.Kinds[savings.DemandLimited]) + " % demand-limited"
}

// SolveText says at which value of an input a saving is just worth it.
func SolveText(s savings.Solution, c *savings.Case, sys model.System) string {
	name := safe(s.Label)
	if name == "" {
		name = s.Key
	}
	if s.Unit == "m" && s.Key == "economics.demand" {
		u := long(sys)
		s.Unit, s.Value, s.Base, s.Low, s.High = u.Name, u.From(s.Value), u.From(s.Base), u.From(s.Low), u.From(s.High)
	}
	unit := strings.TrimRight(" "+unitText(s.Unit), " ")
	if s.Value != s.Value {
		side := "not above"
		if s.Always {
			side = "above"
		}
		moves := ""
		if s.Flat {
			moves = ", and the same for each"
		}
		return fmt.Sprintf("The mean net present value of %s is %s 0 for every %s that was tried, %s to %s%s%s: there is no break-even among them.", alternativeName(c.Alternative), side, name, plain(s.Low), plain(s.High), unit, moves)
	}
	side := "below"
	if s.GainsAbove {
		side = "above"
	}
	base := ""
	if s.Base == s.Base {
		base = fmt.Sprintf("; the scenario has %s%s", plain(s.Base), unit)
		if s.Varies {
			base += " in the mean"
		}
	}
	if s.Whole {
		if side = "not above"; s.GainsAbove {
			side = "above"
		}
		return fmt.Sprintf("Break-even: %s of %s%s; with it the mean net present value of %s is %s 0 for the first time%s.", name, plain(s.Value), unit, alternativeName(c.Alternative), side, base)
	}
	near, within := "", ""
	if s.Crossings > 1 {
		near = "just "
	}
	if s.Asked {
		within = fmt.Sprintf(", within the %s to %s%s that were tried", plain(s.Low), plain(s.High), unit)
	}
	return fmt.Sprintf("Break-even: %s of %s%s. There the mean net present value of %s is 0; it is a gain %s%s that%s%s.", name, plain(s.Value), unit, alternativeName(c.Alternative), near, side, within, base)
}

// SolveTable writes the break-even values below the table of a case.
func SolveTable(w io.Writer, c *savings.Case, solved []savings.Solution, sys model.System) error {
	for _, s := range solved {
		if _, err := fmt.Fprintf(w, "\n%s\n", wrap(SolveText(s, c, sys), 96)); err != nil {
			return err
		}
	}
	return nil
}
