package words

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/sim/plan"
)

// targetWords are what a proposal has less of, and how that is said of a gain.
var targetWords = map[plan.Target]struct{ less, gain, of string }{
	plan.Late:       {"orders that are less late", "orders are %s h less late in total", "hours late"},
	plan.Changeover: {"less changeover", "changeovers take %s h less", "changeover"},
	plan.Done:       {"an earlier end of the list", "the list is done %s h earlier", "time until the list is done"},
}

// LessOf is what a proposal has less of, below a head that says so.
func LessOf(t plan.Target) string { return targetWords[t].of }

// ProposalSentences say what another sequence would bring, and the sequence.
func ProposalSentences(a *plan.Answer, p *plan.Proposal) []string {
	hour := model.Unit{Name: "h", SI: 3600}
	name := legible.Quote(p.Alternative)
	target := targetWords[p.Target]
	if !p.Changed() {
		if p.Exact {
			return []string{fmt.Sprintf("For %s no other sequence has a shorter mean changeover time.", name)}
		}
		return []string{fmt.Sprintf("For %s no sequence with %s was found: %d were tried.", name, target.less, p.Tried)}
	}
	var names []string
	for _, k := range p.Sequence {
		names = append(names, legible.Line(a.Orders[k].Name))
	}
	how := fmt.Sprintf("the best of %d that were tried, %d of them simulated", p.Tried, p.Simulated)
	if p.Exact {
		how = "no other has a shorter mean changeover time"
	}
	return []string{fmt.Sprintf("A sequence to consider for %s: %s (%s). On random events other than those it was found with, %s: %s h instead of %s h.",
		name, strings.Join(names, ", "), how, fmt.Sprintf(target.gain, Figure(p.Gain, hour)), Figure(p.Proposed, hour), Figure(p.Listed, hour))}
}
