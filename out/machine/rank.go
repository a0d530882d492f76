package machine

import (
	"rollchange/out/words"
	"rollchange/sim/savings"
)

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
	return &jsonRanking{names(r.Best)[0], r.Gains, names(r.Behind...), names(append(append([]int{}, r.Rivals...), r.Unlike...)...), words.RankSentence(r, cases)}
}
