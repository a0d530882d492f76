package whatif

import (
	"context"
	"errors"
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/scenarios"
)

// ResidualQuestion says what the residual is weighed with. A cost that is NaN
// is taken from the economics of the scenario.
type ResidualQuestion struct {
	Web      float64 // currency per m of web
	RunOut   float64 // currency per run-out
	Short    float64 // currency per m short; 0: run-outs cost by the piece
	SetPoint bool    // the web is counted by the set point
}

// SizeResidual finds the set point of the residual that costs least in web left
// on cores and run-outs. It is found from the error's law alone; the simulation
// shows what it does to the line.
func SizeResidual(ctx context.Context, s *scenarios.Scenario, q ResidualQuestion, opt Options) (*Answer, error) {
	line := &s.Study.Alternatives[0].Line
	u := &line.Unwind
	if u.ResidualError.SD() == 0 {
		unit := model.Display(model.Length, s.Study.Units)
		least := max(0, u.ResidualLeast, -u.ResidualError.Mean())
		return nil, fmt.Errorf("unwind.residual_error does not vary, so the least set point at which no roll runs out costs least, %.4g %s; give it as a distribution to weigh run-outs against the web left", unit.From(least), unit.Name)
	}
	a := &Answer{Kind: Residual, Of: ResidualSetPoint, Alternative: s.Study.Alternatives[0].Name, Dim: model.Length, Now: u.Residual,
		Met: true, Currency: line.Economics.Currency}
	c := model.ResidualCost{SetPoint: q.SetPoint, Web: q.Web, RunOut: q.RunOut, Short: q.Short, Error: u.ResidualError}
	how, err := fillCosts(&c, line, q)
	if err != nil {
		return nil, err
	}
	search := newSearch(ctx, s, opt, "unwind.residual", "m")
	free := c.Best()
	best, why, err := search.bestPossible(c, free, u)
	if err != nil {
		return nil, err
	}
	a.Value, a.Low, a.High = best, best, best
	a.ClosedForm = residualForm(c, free)
	a.LimitedBy.By = RunOutCost
	if best != free {
		a.LimitedBy = Constraint{By: NotPossible, Why: why}
		a.Notes = append(a.Notes, FreeBest{free, c.At(free)})
	}
	at := func(x float64) RollCost { return RollCost{x, c.At(x), c.RunOuts(x)} }
	a.Notes = append(a.Notes, how, RollCosts{at(a.Value), at(u.Residual)})
	for _, x := range []float64{u.Residual, a.Value} {
		if _, err := search.at(x); err != nil {
			return nil, err
		}
	}
	a.Evidence = search.evidence()
	if u.Change.Stores() && best == u.ResidualLeast && best < u.Residual {
		a.Notes = append(a.Notes, NothingLeft{})
	}
	return a, nil
}

// bestPossible is the set point that costs least of those that are possible lines,
// free where that is one; else it says what keeps it from there.
func (q *search) bestPossible(c model.ResidualCost, free float64, u *model.Unwind) (float64, string, error) {
	ok, why := q.possible(free)
	if ok {
		return free, "", nil
	}
	if yes, now := q.possible(u.Residual); !yes {
		return 0, "", fmt.Errorf("the scenario itself is not possible: %s", now)
	}
	good, bad := u.Residual, free
	if x := u.ResidualLeast; free < x { // the limit that there usually is, to the last digit
		if yes, _ := q.possible(x); yes {
			good, bad = x, x
		}
	}
	for math.Abs(good-bad) > 1e-9*(math.Abs(good)+math.Abs(bad)) {
		mid := (good + bad) / 2
		if yes, _ := q.possible(mid); yes {
			good = mid
		} else {
			bad = mid
		}
	}
	if free < good {
		return c.BestFrom(good), why, nil
	}
	return good, why, nil
}

// fillCosts takes the costs that were not given from the economics, and tells how.
func fillCosts(c *model.ResidualCost, line *model.Line, q ResidualQuestion) (how ResidualCosts, err error) {
	e, w := &line.Economics, &line.Web
	if how.WebGiven = !math.IsNaN(q.Web); !how.WebGiven {
		if !e.MaterialCost.Given() || w.Width == 0 {
			return how, errors.New("the cost of web is not known: give --web-cost, or economics.material_cost and web.width")
		}
		c.Web = w.Width * (e.MaterialCost.Mean() + e.DisposalCost.Mean()*w.Grammage)
	}
	how.RunOutGiven = !math.IsNaN(q.RunOut)
	switch {
	case q.Short > 0:
		c.RunOut = 0
	case !how.RunOutGiven:
		work := line.Unwind.Recover
		if line.Unwind.Change == model.Manual && line.WebBreaks != nil && line.WebBreaks.Repair.Given() {
			work = line.WebBreaks.Repair
		}
		if !e.CrewCost.Given() && !e.LineCost.Given() && !e.Price.Given() {
			return how, errors.New("the cost of a run-out is not known: give --run-out-cost, or economics.crew_cost, line_cost or price")
		}
		how.Work = line.Crew.Reaction.Mean() + work.Mean()
		hours := how.Work / 3600
		if line.WebBreaks != nil {
			how.Scrap = line.WebBreaks.Scrap.Mean()
		}
		how.Lost = hours * 3600 * line.Process.Speed * line.GoodWidth() * e.Price.Mean()
		c.RunOut = hours*(e.CrewCost.Mean()+e.LineCost.Mean()) + how.Scrap*c.Web + how.Lost
	}
	how.Web, how.Short, how.RunOut = c.Web, c.Short, c.RunOut
	return how, nil
}

func residualForm(c model.ResidualCost, best float64) *ClosedForm {
	f := &ClosedForm{Value: best, Formula: ResidualByRest}
	switch {
	case c.Error.Law != model.Normal:
		f.Formula = ResidualOfAnyLaw
	case c.Short > 0:
		f.Formula = ResidualByShort
	case c.SetPoint:
		f.Formula = ResidualBySetPoint
	}
	return f
}
