package whatif

import (
	"context"
	"errors"
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// CrewQuestion asks for the fewest operators, or for the most lines that the
// operators of the scenario can tend.
type CrewQuestion struct {
	Lost  float64 // share of the good web that may be lost for want of an operator
	Lines bool    // look for the most lines
	Group string  // of the crew, whose operators are looked for; "" where the crew has none
}

// operators is the key of the operators that are looked for, and how many there are.
func (q CrewQuestion) operators(crew *model.Crew) (key string, now int, err error) {
	var names []string
	for i, g := range crew.Groups {
		if g.Name == q.Group {
			return fmt.Sprintf("crew.group[%d].operators", i), g.Operators, nil
		}
		names = append(names, g.Name)
	}
	switch {
	case q.Group == "" && len(names) == 0:
		return "crew.operators", crew.Operators, nil
	case q.Group == "":
		return "", 0, fmt.Errorf("the crew is in groups: --group says of which, %s", legible.List(names))
	case len(names) == 0:
		return "", 0, fmt.Errorf("--group: the crew has no [[crew.group]]")
	}
	return "", 0, fmt.Errorf("--group: no [[crew.group]] is called %s%s", legible.Quote(q.Group), scenarios.DidYouMean(q.Group, names))
}

// ample makes a crew so large that nobody ever waits for somebody who is there.
func ample(crew *model.Crew) []scenarios.Override {
	if len(crew.Groups) == 0 {
		return []scenarios.Override{{Key: "crew.operators", Value: fmt.Sprint(mostPeople)}}
	}
	var list []scenarios.Override
	for i := range crew.Groups {
		list = append(list, scenarios.Override{Key: fmt.Sprintf("crew.group[%d].operators", i), Value: fmt.Sprint(mostPeople)})
	}
	return list
}

// mostPeople is the most operators, and lines, that are considered.
const mostPeople = 60

// SizeCrew finds the fewest operators (or most lines) for which no more good web
// is lost than the target, against a crew in which nobody ever waits.
func SizeCrew(ctx context.Context, s *scenarios.Scenario, q CrewQuestion, opt Options) (*Answer, error) {
	line := &s.Study.Alternatives[0].Line
	a := &Answer{Kind: Crew, Of: Operators, Alternative: s.Study.Alternatives[0].Name, Dim: model.Number, Now: float64(line.Crew.Operators),
		Target: Target{Lost: q.Lost}}
	ctx = replicate.Remembering(ctx, rememberedOf) // the line with an ample crew is simulated once
	if q.Lines {
		return mostLines(ctx, s, q, opt, a)
	}
	key, now, err := q.operators(&line.Crew)
	if err != nil {
		return nil, err
	}
	a.Group, a.Now = q.Group, float64(now)
	search := newSearch(ctx, s, opt, key, "")
	plenty, all, err := ampleCrew(search, s, key)
	if err != nil {
		return nil, err
	}
	full := all.Metrics[metric.GoodRate].Mean
	if q.Group == "" {
		a.ClosedForm = interference(line, all.Metrics, mostPeople, q.Lost)
	}
	guess := 1.0 // where to begin
	if a.ClosedForm != nil && a.ClosedForm.Value > 1 {
		guess = min(mostPeople, a.ClosedForm.Value)
	}
	done := search.done
	search = newSearch(ctx, s, opt, key, "")
	search.against, search.done = plenty, done
	var ends [3]int
	for i, side := range []float64{0, -1, 1} { // the upper end of what is lost asks for most
		ends[i], err = fewest(int(guess), 1, mostPeople, func(n int) (bool, error) {
			t, err := search.at(float64(n))
			return err == nil && t.Possible && lostShare(t, full, side) <= q.Lost, err
		})
		if err != nil {
			return nil, err
		}
		guess = float64(ends[i])
	}
	n := ends[0]
	a.Met, a.Value, a.Low, a.High = true, float64(n), float64(min(ends[1], n)), float64(max(ends[2], n))
	if oneReplication(search.trials[float64(n)].Less[metric.GoodRate]) {
		a.Low, a.High = math.NaN(), math.NaN()
	}
	a.LimitedBy.By = Waiting
	a.Notes = append(a.Notes, lostWith(n, search.trials[float64(n)], full, true))
	if n > 1 {
		if t, err := search.at(float64(n - 1)); err != nil {
			return nil, err
		} else if t.Possible {
			a.Notes = append(a.Notes, lostWith(n-1, t, full, false))
		}
	}
	a.Evidence = search.evidence()
	return a, nil
}

// ampleCrew is the line with so many operators that nobody ever waits.
func ampleCrew(q *search, s *scenarios.Scenario, key string) (*model.Alternative, *Trial, error) {
	all, err := q.at(mostPeople)
	if err != nil {
		return nil, nil, err
	}
	if !all.Possible {
		return nil, nil, errors.New(all.Why)
	}
	plenty, err := s.Again(scenarios.Override{Key: key, Value: q.text(mostPeople)})
	if err != nil {
		return nil, nil, err
	}
	a := &plenty.Study.Alternatives[0]
	a.Name += " with an ample crew"
	return a, all, nil
}

// fewest is the fewest, of 1 to most, that are enough, found from a guess: it goes from
// there, by steps that double, to where one is enough and one is not, and bisects. It is
// most where not even so many are enough.
func fewest(guess, step, most int, enough func(n int) (bool, error)) (int, error) {
	good, bad := most, 0
	for n := guess; n > bad && n < good || n == most && bad < most; step *= 2 {
		yes, err := enough(n)
		switch {
		case err != nil:
			return 0, err
		case yes:
			good, n = n, max(bad, n-step)
		case n == most:
			return most, nil
		default:
			bad, n = n, min(good, n+step)
		}
	}
	return bisectWhole(good, bad, enough)
}

// lostShare is the share of the good web that is lost, or an end of its interval.
func lostShare(t *Trial, full, side float64) float64 {
	return -t.Less[metric.GoodRate].End(-side) / full
}

// lostWith is what is lost with so many operators, with its limits.
func lostWith(operators int, t *Trial, full float64, first bool) LostWith {
	x := LostWith{operators, lostShare(t, full, 0), math.NaN(), math.NaN(), first}
	if t.Less[metric.GoodRate].Known() {
		x.Low, x.High = lostShare(t, full, -1), lostShare(t, full, 1)
	}
	return x
}

// mostLines finds the most lines that the crew can tend.
func mostLines(ctx context.Context, s *scenarios.Scenario, q CrewQuestion, opt Options, a *Answer) (*Answer, error) {
	line := &s.Study.Alternatives[0].Line
	a.Of, a.Now = Lines, float64(line.Crew.Lines)
	// What a line makes when it never waits: one line with an ample crew.
	free, err := simulate(ctx, s, replicate.Options{Workers: opt.Workers}, append(ample(&line.Crew), scenarios.Override{Key: "crew.lines", Value: "1"})...)
	if err != nil {
		return nil, err
	}
	full := free.Alternatives[0].Metrics[metric.GoodRate].Mean
	search := newSearch(ctx, s, opt, "crew.lines", "")
	ok := func(n int, side float64) (bool, error) {
		t, err := search.at(float64(n))
		if err != nil || !t.Possible {
			return false, err
		}
		e := t.Metrics[metric.GoodRate]
		return 1-e.End(side)/(float64(n)*full) <= q.Lost, nil
	}
	if good, err := ok(1, 0); err != nil || !good {
		if err == nil {
			t := search.trials[1]
			a.Value, a.Low, a.High = 1, 1, 1
			a.Why = []Note{LoneLine{1 - t.Metrics[metric.GoodRate].Mean/full, line.Crew.Operators}}
			a.LimitedBy.By, a.Evidence = Waiting, search.evidence()
		}
		return a, err
	}
	var most [3]float64 // by the estimate, and by the ends of its interval
	guess := 1
	for i, side := range []float64{0, -1, 1} {
		// One more than the most is the fewest that are too many.
		n, err := fewest(guess+1, guess+1, mostPeople, func(n int) (bool, error) {
			good, err := ok(n, side)
			return !good, err
		})
		if err != nil {
			return nil, err
		}
		guess = n - 1
		most[i] = float64(guess)
	}
	a.Met, a.Value, a.Low, a.High = true, most[0], min(most[1], most[0]), max(most[2], most[0])
	a.LimitedBy.By = Waiting
	a.Notes = append(a.Notes, LinesEach{a.Value / float64(max(1, line.Crew.Operators))})
	a.Evidence = search.evidence()
	return a, nil
}

// interference is the number of operators that the machine interference model
// M/M/c//N gives: N lines that call after exponential times and are served in
// exponential times, both as the simulation with an ample crew has them.
func interference(line *model.Line, m replicate.Metrics, ample int, target float64) *ClosedForm {
	n := max(1, line.Crew.Lines)
	f := &ClosedForm{Value: math.NaN(), Formula: MachineInterference}
	stops := m[metric.StopRate].Mean / float64(n) // of one line
	busy := m[metric.CrewBusy].Mean * float64(ample) / float64(n)
	running := 1 - m[metric.Stopped].Mean
	if !(stops > 0) || !(busy > 0) || !(running > 0) {
		return nil
	}
	lambda, mu := stops/running, stops/busy
	all := model.Interference(n, n, lambda, mu).Running
	for c := 1; c <= n; c++ {
		if 1-model.Interference(n, c, lambda, mu).Running/all <= target {
			f.Value = float64(c)
			break
		}
	}
	return f
}
