package words

import (
	"fmt"

	"rollchange/sim/savings"
)

// RankSentence says which of several savings cases is worth most, as far as the
// draws show it; "" where there are not several. Cases are by alternative.
func RankSentence(r savings.Ranking, cases []*savings.Case) string {
	n := 0
	for _, c := range cases {
		if c != nil {
			n++
		}
	}
	if n < 2 {
		return ""
	}
	name := func(i int) string { return AlternativeName(cases[i].Alternative) }
	best := cases[r.Best]
	unlike := ""
	if len(r.Unlike) > 0 {
		unlike = fmt.Sprintf(" Not compared, because its prices differ: %s.", namedAll(r.Unlike, name))
	}
	rivals := ""
	if len(r.Rivals) > 0 {
		rivals = fmt.Sprintf("; it is not shown to be worth more than %s", namedAll(r.Rivals, name))
	}
	taxed := TaxWords(best)
	highest := fmt.Sprintf("%s has the highest mean net present value %s%s.", name(r.Best), taxed, rivals)
	switch {
	case r.Once:
		return "One replication does not show which of them is worth most." + unlike
	case r.Losses:
		return "None of them pays for itself: each has a net present value " + taxed + " below 0. " + highest + unlike
	case !r.Gains:
		return "None of them is shown to pay for itself. " + highest + unlike
	case len(r.Rivals) > 0 || len(r.Unlike) > 0:
		return highest + unlike
	}
	return fmt.Sprintf("%s is worth most: its mean net present value %s is %s %s above that of %s (%s).",
		name(r.Best), taxed, Money(r.Lead.Mean, HalfOf(r.Lead)), Currency(best), name(r.Behind[0]), MoneySpan(r.Lead))
}

// namedAll lists alternatives: "a", "b" and "c".
func namedAll[T any](of []T, name func(T) string) string {
	var all []string
	for _, i := range of {
		all = append(all, name(i))
	}
	return allOf(all)
}
