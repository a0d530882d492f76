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

// Savings sets the savings cases of several alternatives side by side in
// short, against the first alternative, and says which is worth most. Cases are
// by alternative, nil where there is none.
func Savings(w io.Writer, cases []*savings.Case, r savings.Ranking, to Screen) error {
	if r.Best == 0 {
		return nil
	}
	var b strings.Builder
	c := cases[r.Best]
	fmt.Fprintf(&b, "\n%s\n", to.title(fmt.Sprintf("Savings against %s, %s", words.AlternativeName(c.Against), words.Currency(c))))
	g := grid{heads: []string{"saved a year before tax", "net present value " + words.TaxWords(c), "payback, years"}}
	for _, c := range cases {
		if c == nil {
			continue
		}
		x := c.Random
		g.add(legible.Line(c.Alternative), words.Money(x.Total.Mean, words.HalfOf(x.Total)), words.Money(x.NPV.Mean, words.HalfOf(x.NPV)), words.Payback(x.Simple.Median))
		g.add("  "+words.LimitedBy(c), words.MoneySpan(x.Total), words.MoneySpan(x.NPV), words.PaybackSpan(x.Simple))
		g.add("  investment " + words.Money(x.Investment.Mean, words.HalfOf(x.Investment)))
	}
	g.write(&b, to)
	note := fmt.Sprintf("(means of %s draws, medians for paybacks; below each figure the range that holds %g %% of the draws; rollchange payback shows the calculation", words.Grouped(float64(c.Random.Draws)), 100*c.Run.Confidence)
	if math.IsInf(c.Demand, 1) {
		note += "; no demand is given, so all good web counts as sold"
	}
	fmt.Fprintln(&b, to.prose(note+")"))
	for _, s := range []string{words.RankSentence(r, cases), words.CoveredOfAll(cases)} {
		if s != "" {
			fmt.Fprintln(&b, "\n"+to.prose(s))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Solve writes the break-even values below the table of a case.
func Solve(w io.Writer, c *savings.Case, solved []savings.Solution, sys model.System, to Screen) error {
	for _, s := range solved {
		if _, err := fmt.Fprintf(w, "\n%s\n", to.prose(words.SolveText(s, c, sys))); err != nil {
			return err
		}
	}
	return nil
}
