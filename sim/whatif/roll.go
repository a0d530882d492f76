package whatif

import (
	"context"
	"errors"
	"math"

	"rollchange/model"
	"rollchange/scenarios"
)

// RollQuestion asks for the longest finished roll that the ridge of its seam allows,
// or, with a Length above 0, for the least oscillation that a roll of that length needs.
type RollQuestion struct {
	Length float64 // m
}

// SizeRoll finds the longest finished roll, or the least oscillation, with which the
// ridge of the seam is within the allowed one. Both are closed forms (model.Build); the
// simulation shows what the roll does to the line.
func SizeRoll(ctx context.Context, s *scenarios.Scenario, q RollQuestion, opt Options) (*Answer, error) {
	l := &s.Study.Alternatives[0].Line
	w := &l.Rewind
	b, core, caliper, mean := w.Build, w.Roll.Core, l.Web.Caliper, model.FinishedLength(l)
	switch {
	case w.Change == model.None:
		return nil, errors.New("rewind.change is none: there is no finished roll")
	case !b.Given():
		return nil, errors.New("no seam is described: give rewind.build.seam_thickness and rewind.build.ridge")
	case w.Trigger == model.BySplice && q.Length == 0:
		return nil, errors.New("rewind.trigger is splice: a finished roll is as long as a parent roll, and has no length of its own")
	case q.Length > 0 && b.SeamWidth == 0:
		return nil, errors.New("an oscillation spreads a seam by its width: give rewind.build.seam_width")
	}
	a := &Answer{Kind: Roll, Of: FinishedRoll, Alternative: s.Study.Alternatives[0].Name, Dim: model.Length, Now: mean, Met: true, LimitedBy: Constraint{By: SeamRidge}}
	ridge := func(length float64) SeamRidgeOf {
		return SeamRidgeOf{Oscillation: b.Oscillation, Length: length, Ridge: b.RidgeOn(length, core, caliper), Allowed: b.Ridge}
	}
	if q.Length > 0 {
		x := b.LeastOscillation(q.Length, core, caliper)
		a.Of, a.Dim, a.Now, a.Value, a.Low, a.High = Oscillation, model.Thickness, math.NaN(), x, x, x
		if b.Oscillation > 0 {
			a.Now = b.Oscillation
		}
		a.ClosedForm = &ClosedForm{Value: x, Formula: OscillationOfARidge}
		a.Notes = []Note{ridge(q.Length)}
		if x == 0 {
			a.LimitedBy.By = Nothing
		}
		return a, nil
	}
	x := b.LongestRoll(core, caliper)
	a.Value, a.Low, a.High = x, x, x
	a.ClosedForm = &ClosedForm{Value: x, Formula: RollOfARidge}
	a.Notes = []Note{RollIs{Diameter: 2 * model.RollOf(x, l.Web, core).R, Wraps: model.Wraps(x, core, caliper), Mass: model.RollOf(x, l.Web, core).Mass}, ridge(mean)}
	search := newSearch(ctx, s, opt, "rewind.roll_length", "m")
	lengths := []float64{x}
	if w.Roll.Length.IsConst() && !w.Roll.ByDiameter { // else there is no one length that the line has
		lengths = append(lengths, mean)
	}
	for _, x := range lengths {
		if t, err := search.at(x); err != nil {
			return nil, err
		} else if !t.Possible && x == a.Value {
			a.Notes = append(a.Notes, Impossible{x, t.Why})
		}
	}
	a.Evidence = search.evidence()
	return a, nil
}
