package words

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/plan"
)

func shown(mean, half float64) estimate.Estimate {
	return estimate.Estimate{Mean: mean, HalfWidth: half, Low: mean - half, High: mean + half, N: 20}
}

func twoWays() *plan.Answer {
	return &plan.Answer{Orders: []model.Order{{Name: "1", Due: 3600}, {Name: "2", Due: model.NotDue}}, Products: []string{"film"}, Replications: 20, Horizon: 86400, Alternatives: []plan.Alternative{
		{Name: "by hand", Orders: make([]plan.Order, 2)}, {Name: "automatic", Orders: make([]plan.Order, 2), SoonerBy: shown(7200, 720), MoreTimed: shown(2, 0.5), LessLate: shown(3600, 360)}}}
}

// Each sentence of a plan is there where it is true, and not where it is not.
func TestPlanSentences(t *testing.T) {
	a := twoWays()
	assert.Equal(t, `Against "by hand", "automatic" is done 2.00 ± 0.20 h sooner, has 2.00 ± 0.50 more orders on time and is 1.00 ± 0.10 h less late in total.`, strings.Join(PlanSentences(a), " "))
	x := &a.Alternatives[1]
	x.SoonerBy, x.MoreTimed, x.LessLate = shown(-7200, 720), shown(-2, 0.5), shown(-3600, 360)
	assert.Equal(t, `Against "by hand", "automatic" is done 2.00 ± 0.20 h later, has 2.00 ± 0.50 fewer orders on time and is 1.00 ± 0.10 h more late in total.`, strings.Join(PlanSentences(a), " "))
	x.SoonerBy, x.MoreTimed, x.LessLate = shown(100, 200), shown(0.1, 0.5), shown(10, 360)
	assert.Equal(t, `No difference is shown between "automatic" and "by hand".`, strings.Join(PlanSentences(a), " "))
	a.Orders[0].Due = model.NotDue
	x.MoreTimed = shown(2, 0.5)
	assert.NotContains(t, strings.Join(PlanSentences(a), " "), "on time", "nothing is due")
	a.Alternatives[0].Unended = 0.25
	assert.Contains(t, PlanSentences(a)[0], `With "by hand" the list is not done in 1 d in 5 of 20 replications`)
	a.Alternatives[0].Unended = 0
	assert.NotContains(t, strings.Join(PlanSentences(a), " "), "not done")
}

// A proposal says that it is one, what it gains on what it was judged by, and nothing
// where there is none.
func TestProposalSentences(t *testing.T) {
	a := twoWays()
	p := &plan.Proposal{Alternative: "by hand", Target: plan.Late, Sequence: []int{1, 0}, Tried: 12, Simulated: 3, Listed: shown(7200, 360), Proposed: shown(3600, 360), Gain: shown(3600, 720)}
	s := strings.Join(ProposalSentences(a, p), " ")
	assert.Contains(t, s, `A sequence to consider for "by hand": 2, 1 (the best of 12 that were tried, 3 of them simulated)`)
	assert.Contains(t, s, "orders are 1.00 ± 0.20 h less late in total: 1.00 ± 0.10 h instead of 2.00 ± 0.10 h")
	p.Target, p.Exact = plan.Changeover, true
	s = strings.Join(ProposalSentences(a, p), " ")
	assert.Contains(t, s, "no other has a shorter mean changeover time")
	assert.Contains(t, s, "changeovers take 1.00 ± 0.20 h less")
	p.Sequence = []int{0, 1}
	assert.Equal(t, `For "by hand" no other sequence has a shorter mean changeover time.`, strings.Join(ProposalSentences(a, p), " "))
	p.Exact = false
	assert.Equal(t, `For "by hand" no sequence with less changeover was found: 12 were tried.`, strings.Join(ProposalSentences(a, p), " "))
}

// Times are hours without a begin, days of the week within six days of it, dates beyond.
func TestPlanClock(t *testing.T) {
	a := twoWays()
	assert.Equal(t, "1.5 h", ClockOf(a).Text(5400))
	assert.Empty(t, ClockOf(a).Date(5400))
	a.Begin = time.Date(2026, 11, 30, 6, 0, 0, 0, time.UTC)
	assert.Equal(t, "Mon 07:30", ClockOf(a).Text(5400))
	assert.Equal(t, "2026-11-30T07:30:00", ClockOf(a).Date(5400))
	assert.Equal(t, NotDue, ClockOf(a).Text(math.NaN()))
	a.Orders[0].Due = 10 * 86400
	assert.Equal(t, "30 Nov 07:30", ClockOf(a).Text(5400))
	c := ClockOf(a)
	assert.InDelta(t, 6, c.FirstTick(0.5, 12), 1e-9, "noon is 6 h from the begin")
	assert.Equal(t, "12:00", c.Tick(6, 12, false))
	assert.Equal(t, "Mon 12:00", c.Tick(6, 12, true), "the first names its day")
	assert.Equal(t, "Tue 1 Dec", c.Tick(18, 12, false))
	assert.Equal(t, "1 Dec 2026", c.Tick(18, 8064, false))
}
