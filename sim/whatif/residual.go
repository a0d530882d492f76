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
		return nil, errors.New("unwind.residual_error does not vary, so the least residual that never runs out is best")
	}
	a := &Answer{Kind: "residual", Of: "residual set point", Alternative: s.Study.Alternatives[0].Name, Dim: model.Length, Now: u.Residual,
		Target: "least cost of web left on cores and of run-outs", Met: true}
	c := model.ResidualCost{SetPoint: q.SetPoint, Web: q.Web, RunOut: q.RunOut, Short: q.Short, Error: u.ResidualError}
	how, err := fillCosts(&c, line, q, s.Study.Units)
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
	a.LimitedBy = "the cost of a run-out against that of web left on every core"
	in := search.in
	money := currencyOf(line)
	if best != free {
		a.LimitedBy = why
		a.Notes = append(a.Notes, fmt.Sprintf("without that limit the best is %s, at %.4g%s a roll", in(free), c.At(free), money))
	}
	a.Notes = append(a.Notes, how,
		fmt.Sprintf("a roll costs %.4g%s at a set point of %s and %.4g%s at the present %s; %s runs out, at present %s",
			c.At(a.Value), money, in(a.Value), c.At(u.Residual), money, in(u.Residual), oneIn(c.RunOuts(a.Value)), oneIn(c.RunOuts(u.Residual))))
	for _, x := range []float64{u.Residual, a.Value} {
		if _, err := search.at(x); err != nil {
			return nil, err
		}
	}
	a.Evidence = search.evidence()
	if u.Change.Stores() && best == u.ResidualLeast && best < u.Residual {
		a.Notes = append(a.Notes, "at that set point no web is left to run on if the next roll is late: the unwind then stops at once")
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
		return 0, "", fmt.Errorf("the scenario itself is not a possible line: %s", now)
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

// fillCosts takes the costs that were not given from the economics, and says how.
func fillCosts(c *model.ResidualCost, line *model.Line, q ResidualQuestion, sys model.System) (string, error) {
	e, w := &line.Economics, &line.Web
	how, money := "", currencyOf(line)
	if math.IsNaN(q.Web) {
		if !e.MaterialCost.Given() || w.Width == 0 {
			return "", errors.New("the cost of web is not known: give --web-cost, or economics.material_cost and web.width")
		}
		c.Web = w.Width * (e.MaterialCost.Mean() + e.DisposalCost.Mean()*w.Grammage)
		how = fmt.Sprintf("a metre of web left costs %.4g%s: width x (material + disposal x grammage)", c.Web, money)
	} else {
		how = fmt.Sprintf("a metre of web left costs %.4g%s, as given", c.Web, money)
	}
	switch {
	case q.Short > 0:
		c.RunOut = 0
		how += fmt.Sprintf("; a metre short costs %.4g%s, as given", q.Short, money)
	case math.IsNaN(q.RunOut):
		work := line.Unwind.Recover
		if line.Unwind.Change == model.Manual && line.WebBreaks != nil && line.WebBreaks.Repair.Given() {
			work = line.WebBreaks.Repair
		}
		if !e.CrewCost.Given() && !e.LineCost.Given() && !e.Price.Given() {
			return "", errors.New("the cost of a run-out is not known: give --run-out-cost, or economics.crew_cost, line_cost or price")
		}
		hours := (line.Crew.Reaction.Mean() + work.Mean()) / 3600
		scrap := 0.0
		if line.WebBreaks != nil {
			scrap = line.WebBreaks.Scrap.Mean()
		}
		lost := hours * 3600 * line.Process.Speed * w.Width * e.Price.Mean()
		c.RunOut = hours*(e.CrewCost.Mean()+e.LineCost.Mean()) + scrap*c.Web + lost
		how += fmt.Sprintf("; a run-out costs %.4g%s: %.3g min of an operator and the line, %s of scrap, output lost %.4g%s", c.RunOut, money, 60*hours, inUnits(scrap, model.Length, sys), lost, money)
	default:
		how += fmt.Sprintf("; a run-out costs %.4g%s, as given", q.RunOut, money)
	}
	return how, nil
}

func residualForm(c model.ResidualCost, best float64) *ClosedForm {
	f := &ClosedForm{Value: best, Assumptions: "every roll is changed when the control believes that the set point is left, and the errors of rolls are independent"}
	switch {
	case c.Short > 0:
		f.Formula = "Φ(x/s) = p/(p + c): the error is below x with that chance, p the cost a metre short, c that of a metre left"
	case c.SetPoint:
		f.Formula = "x = s sqrt(-2 ln(c s sqrt(2 pi)/K)), c the cost of a metre, s the sd of the error, K the cost of a run-out"
	default:
		f.Formula = "φ(x/s)/Φ(x/s) = c s/K, c the cost of a metre left, s the sd of the error, K the cost of a run-out"
	}
	if c.Error.Law != model.Normal {
		f.Formula = "least of c E[rest] + K P(run-out) over the distribution of the error, by golden section"
	}
	return f
}
