package table

import (
	"fmt"
	"strings"

	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// stepsTable writes the steps of investment of a study, each with how it was judged;
// nothing where there is only one.
func stepsTable(b *strings.Builder, s *savings.Steps, to Screen) {
	if !s.Several() {
		return
	}
	first := s.List[0].Case
	fmt.Fprintf(b, "\n%s\n", to.head(fmt.Sprintf(words.HeadSteps, words.Currency(first))))
	g := grid{heads: []string{words.HeadStepExtra, words.HeadStepSaved, fmt.Sprintf(words.HeadNPVTaxed, words.TaxWords(first)),
		words.HeadStepRate, words.HeadStepPayback, words.HeadStepAtPresent, words.HeadStepGain}}
	for _, x := range s.List {
		c, r := x.Case, x.Case.Random
		rate, rates := words.StepRate(r.IRR)
		g.add(words.Shorten(legible.Line(c.Alternative), 60), words.Money(r.Investment.Mean, words.HalfOf(r.Investment)), words.Money(r.Total.Mean, words.HalfOf(r.Total)),
			words.Money(r.NPV.Mean, words.HalfOf(r.NPV)), rate, words.Payback(r.Simple.Median), words.Payback(r.Discounted.Median), words.StepGain(r.Gains))
		g.add(fmt.Sprintf(words.HeadStepOver, words.Shorten(legible.Line(c.Against), 60)), "", words.MoneySpan(r.Total), words.MoneySpan(r.NPV), rates, words.PaybackSpan(r.Simple), words.PaybackSpan(r.Discounted))
		g.rows[len(g.rows)-1].below = to.indented(words.StepVerdict(x), 4)
	}
	g.write(b, to)
	fmt.Fprintln(b, to.prose("("+words.StepsNote(s)+")"))
}
