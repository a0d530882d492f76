package invented

import (
	"fmt"
	"math"
	"time"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/plan"
)

// Plan is a plan that no line came to, of so many orders and alternatives, with the
// given name for the k-th of a kind: "order", "product", "alternative", "cause". Every third
// order has no due time. It begins on 30 November 2026 at 06:00.
func Plan(orders, alternatives int, name func(kind string, k int) string) *plan.Answer {
	a := &plan.Answer{Begin: time.Date(2026, 11, 30, 6, 0, 0, 0, time.UTC), Replications: 20, Seed: 1, Horizon: 30 * 86400, Confidence: 0.95}
	for k := range 3 {
		a.Products = append(a.Products, name("product", k))
	}
	for k := range orders {
		o := model.Order{Name: name("order", k), Product: k % 3, Length: 4000 + 250*float64(k%7), Due: model.NotDue}
		if k%3 < 2 {
			o.Due = 7200 * float64(k+2)
		}
		a.Orders = append(a.Orders, o)
	}
	for i := range alternatives {
		x := plan.Alternative{Name: name("alternative", i), Causes: []string{"unwind_change", "changeover", "stop." + name("cause", 0), "no_order"}}
		at, slow := 0.0, 1/(1+0.25*float64(i))
		for k := range orders {
			run, change := (5000+700*float64(k%4))*slow, 1200.
			if k == 0 {
				change = 0
			}
			begin, end := at+change, at+change+run+1000*slow
			spread := 300 + 60*float64(k)
			o := plan.Order{Line: 1, Begin: plan.Times{Mean: begin, Low: begin - spread, High: begin + spread}, End: plan.Times{Mean: end, Low: end - spread, High: end + spread}, Ended: 1,
				Running: run - 500, Ramping: 400, Slowed: 100, Stopped: []float64{700 * slow, change, 300 * slow, 0},
				Good: a.Orders[k].Length, Scrap: 90 + float64(k), Residual: 12.5, FinishedRolls: 2.25, RollChanges: 1.75, Tape: 0.525}
			if due := a.Orders[k].Due; !math.IsInf(due, 1) {
				p := min(1, max(0, (end-due)/7200))
				o.Late, o.LateBy = Estimate("1", p, p/4), max(0, end-due)*p
			}
			x.Orders = append(x.Orders, o)
			at = end
		}
		x.Done = x.Orders[orders-1].End
		x.OnTime, x.Late, x.Change = Estimate("1", float64(orders)/2+0.25*float64(i), 0.5), Estimate("s", 72000*slow, 3600), Estimate("s", 1200*float64(orders-1), 60)
		if i > 0 {
			x.SoonerBy, x.MoreTimed, x.LessLate = Estimate("s", 36000*float64(i), 1800), Estimate("1", float64(i), 0.25), Estimate("s", 18000*float64(i), 900)
		}
		a.Alternatives = append(a.Alternatives, x)
	}
	return a
}

// PlanNames are plain names of a plan.
func PlanNames(kind string, k int) string {
	switch kind {
	case "order":
		return fmt.Sprint(4901 + k)
	case "product":
		return []string{"wine, front", "wine, back", "cheese, film"}[k]
	case "alternative":
		return []string{"by hand", "zero-speed, 60 m", "flying"}[k]
	}
	return "plate cleaning"
}

// Proposals are another sequence for the first alternative, the list turned round.
func Proposals(a *plan.Answer) []*plan.Proposal {
	p := &plan.Proposal{Alternative: a.Alternatives[0].Name, Target: plan.Late, Tried: 120, Simulated: 30,
		Listed: Estimate("s", 72000, 3600), Proposed: Estimate("s", 36000, 1800), Gain: estimate.Estimate{Unit: "s", Mean: 36000, HalfWidth: math.NaN(), Low: math.NaN(), High: math.NaN(), N: 20, Why: estimate.Skewed}}
	for k := range a.Orders {
		p.Sequence = append(p.Sequence, len(a.Orders)-1-k)
	}
	return []*plan.Proposal{p}
}
