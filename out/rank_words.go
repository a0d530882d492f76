package out

import (
	"fmt"
	"strings"

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
	name := func(i int) string { return alternativeName(cases[i].Alternative) }
	best := cases[r.Best]
	unlike := ""
	if len(r.Unlike) > 0 {
		unlike = fmt.Sprintf(" Not held against it, because its prices are its own: %s.", namedAll(r.Unlike, name))
	}
	rivals := ""
	if len(r.Rivals) > 0 {
		rivals = fmt.Sprintf("; it is not shown to be worth more than %s", namedAll(r.Rivals, name))
	}
	highest := fmt.Sprintf("%s has the highest mean net present value%s.", name(r.Best), rivals)
	switch {
	case r.Once:
		return "Which of them is worth most one replication does not show." + unlike
	case r.Losses:
		return "None of them is worth what it costs: each is shown to be worth less than nothing is. " + highest + unlike
	case !r.Gains:
		return "None of them is shown to be worth what it costs. " + highest + unlike
	case len(r.Rivals) > 0 || len(r.Unlike) > 0:
		return highest + unlike
	}
	return fmt.Sprintf("Of all of them %s is worth most: its net present value is %s %s above that of %s in the mean over the draws (%s).",
		name(r.Best), money(r.Lead.Mean, quarter(r.Lead)), currency(best), name(r.Behind[0]), span(r.Lead))
}

// jsonRanking is which savings case has the highest mean net present value, and
// which others are shown to be worth less.
type jsonRanking struct {
	Highest string   `json:"highest_mean_npv"`
	Gains   bool     `json:"shown_above_0"`
	Above   []string `json:"shown_above"`
	Rivals  []string `json:"not_shown_above"`
	Says    string   `json:"says,omitempty"`
}

// rankJSON is nil when there is no case.
func rankJSON(r savings.Ranking, cases []*savings.Case) *jsonRanking {
	if r.Best == 0 {
		return nil
	}
	names := func(of ...int) []string {
		all := []string{}
		for _, i := range of {
			all = append(all, cases[i].Alternative)
		}
		return all
	}
	return &jsonRanking{names(r.Best)[0], r.Gains, names(r.Behind...), names(append(append([]int{}, r.Rivals...), r.Unlike...)...), RankSentence(r, cases)}
}

// namedAll lists alternatives: "a", "b" and "c".
func namedAll(of []int, name func(int) string) string {
	var all []string
	for _, i := range of {
		all = append(all, name(i))
	}
	if len(all) < 2 {
		return strings.Join(all, "")
	}
	return strings.Join(all[:len(all)-1], ", ") + " and " + all[len(all)-1]
}
