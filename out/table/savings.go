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
// short, against the first alternative, and the steps of investment between them,
// with the one that these recommend. Cases are by alternative, nil where there is none.
func Savings(w io.Writer, cases []*savings.Case, r savings.Ranking, to Screen) error {
	if r.Best == 0 {
		return nil
	}
	var b strings.Builder
	c := cases[r.Best]
	fmt.Fprintf(&b, "\n%s\n", to.title(fmt.Sprintf(words.HeadSavingsAgainst, words.AlternativeName(c.Against), words.Currency(c))))
	g := grid{heads: []string{words.HeadSavedBefore, fmt.Sprintf(words.HeadNPVTaxed, words.TaxWords(c)), fmt.Sprintf(words.HeadPaybackYears, words.TaxWords(c))}}
	for _, c := range cases {
		if c == nil {
			continue
		}
		x := c.Random
		g.add(legible.Line(c.Alternative), words.Money(x.Total.Mean, words.HalfOf(x.Total)), words.Money(x.NPV.Mean, words.HalfOf(x.NPV)), words.Payback(x.Simple.Median))
		g.add("  "+words.LimitedBy(c), words.MoneySpan(x.Total), words.MoneySpan(x.NPV), words.PaybackSpan(x.Simple))
		if c.HoursDiffer {
			g.add(fmt.Sprintf(words.HeadHoursOfEach, words.Whole(c.Hours[1]/3600), words.Whole(c.Hours[0]/3600)))
		}
		g.add(fmt.Sprintf(words.HeadInvested, words.Money(x.Investment.Mean, words.HalfOf(x.Investment))))
	}
	g.write(&b, to)
	sold := ""
	if math.IsInf(c.Demand, 1) {
		sold = words.AllSoldNote
	}
	fmt.Fprintln(&b, to.prose(fmt.Sprintf(words.SavingsNote, words.Grouped(float64(c.Random.Draws)), 100*c.Run.Confidence, sold)))
	if s := words.StepsSentence(&r.Steps); s != "" {
		fmt.Fprintln(&b, "\n"+to.prose(s))
	}
	stepsTable(&b, &r.Steps, to)
	fmt.Fprintln(&b, "\n"+to.prose(words.CoveredOfAll(cases)))
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
