package report

import (
	"fmt"

	"rollchange/out/words"
)

// stepsTable is the steps of investment, each alternative against the last one accepted;
// nil where there is nothing to choose from.
func (c *Content) stepsTable(w *phrases) *table {
	s, m := &c.Rank.Steps, w.Money
	if !s.Several() {
		return nil
	}
	first := s.List[0].Case
	tax := taxed(w, first)
	t := &table{Name: fmt.Sprintf(m["steps_name"], name(first.Currency)), Note: words.StepsNote(s),
		Head: []string{m["alternative"], m["extra"], m["more"], m["npv"] + " " + tax, m["irr"] + " " + tax + ", %", m["simple"] + " " + tax + ", " + m["years"], m["present"], m["step_gains"]}}
	for i, x := range s.List {
		r := x.Case.Random
		of := func(figure string) string { return fmt.Sprintf("steps.%d.%s", i, figure) }
		rate, rates := words.StepRate(r.IRR)
		t.add("", row{Head: name(x.Case.Alternative), Sub: fmt.Sprintf(m["step_over"], name(x.Case.Against), words.StepVerdict(x)), Cells: []cell{
			{Text: words.Money(r.Investment.Mean, words.HalfOf(r.Investment)), Of: of("extra_investment")},
			{Text: words.Money(r.Total.Mean, words.HalfOf(r.Total)), Below: words.MoneySpan(r.Total), Of: of("savings_per_year"), BelowOf: of("savings_per_year.span")},
			{Text: words.Money(r.NPV.Mean, words.HalfOf(r.NPV)), Below: words.MoneySpan(r.NPV), Of: of("npv"), BelowOf: of("npv.span")},
			{Text: rate, Below: rates, Of: of("irr"), BelowOf: of("irr.span")},
			{Text: words.Payback(r.Simple.Median), Below: words.PaybackSpan(r.Simple), Of: of("simple_payback"), BelowOf: of("simple_payback.span")},
			{Text: words.Payback(r.Discounted.Median), Below: words.PaybackSpan(r.Discounted), Of: of("discounted_payback"), BelowOf: of("discounted_payback.span")},
			{Text: words.StepGain(r.Gains), Of: of("gains")},
		}})
	}
	return t
}
