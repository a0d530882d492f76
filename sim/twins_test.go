package sim_test

import (
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/scenarios/random"
	"rollchange/sim"
	"rollchange/sim/replicate"
)

// Laws on two scenarios that say the same, or nearly.
//
// What holds only but for the order of things that happen at one instant, or
// but for a comparison of two numbers that are equal, is tried on Apart lines,
// where nothing is equal to anything.

// results simulates a scenario; nil when there is nothing to try.
func results(s *random.Scenario) (*replicate.Results, error) {
	study := studyOf(s)
	if study == nil {
		return nil, nil
	}
	most := mostEvents(study)
	return simulate(study, replicate.Options{Workers: 1, Watch: func(x sim.State) error {
		if x.Events > most {
			return breaks("events without end", "%d events by %g s", x.Events, x.Time)
		}
		return nil
	}})
}

// tied says that what happens may hang on the last bit of a length, however far
// apart its numbers are: where a web comes to rest just where a splice may part
// that has just been wound; where a line creeps; where identical lines do the same
// at the same time and share a crew; and where a ramp takes so long (1000 s) that
// the time of a rest is the root of what rounding leaves of its place.
func tied(s *random.Scenario) bool {
	study := studyOf(s)
	return study != nil && slices.ContainsFunc(study.Alternatives, func(a model.Alternative) bool {
		return slices.ContainsFunc(asRun(&a.Line), tiedLine)
	})
}

func tiedLine(l *model.Line) bool {
	parts := l.Unwind.SpliceBreaks > 0 && l.Rewind.Change != model.None && l.Rewind.Trigger != model.ByLength
	gentle := l.Process.Speed > 1000*min(l.Process.Accel, l.Process.Decel)
	return parts || gentle || l.Crew.Lines > 1 || startsLow(l, 0) || startsLow(l, 1)
}

// restless says that a line ramps much of the time that it moves, and speeds up
// faster than it slows. Where a ramp up is cut off by the next stop, what rounding
// does to the time of a rest grows by accel/decel with every stop.
func restless(study *model.Study, r *replicate.Results) bool {
	for i := range r.Alternatives {
		m := r.Alternatives[i].Metrics
		for _, p := range asRun(&study.Alternatives[i].Line) {
			if p.Process.Accel > p.Process.Decel && m["time.ramping"].Mean > 0.1*(1-m["time.stopped"].Mean) {
				return true
			}
		}
	}
	return false
}

// startsLow says that a line that was stopped for the storage of one end may
// start again with less in it (or less room) than it needs to stop; it then
// creeps, millimetre by millimetre.
func startsLow(l *model.Line, end int) bool {
	stop := l.Process.Speed * l.Process.Speed / (2 * l.Process.Decel)
	if u := &l.Unwind.Storage; end == 0 {
		return l.Unwind.Change == model.ZeroSpeed && u.RestartLevel < u.Reserve+stop
	}
	w := &l.Rewind.Storage
	return l.Rewind.Change == model.ZeroSpeed && w.Capacity-w.RestartLevel < w.Reserve+stop
}

// both simulates two scenarios; nil when there is nothing to try.
func both(a, b *random.Scenario) (*replicate.Results, *replicate.Results, error) {
	if tied(a) {
		return nil, nil, nil
	}
	x, err := results(a)
	if x == nil || err != nil || restless(studyOf(a), x) {
		return nil, nil, nil // the first law is about lines that do not end
	}
	y, err := results(b)
	if err != nil {
		return nil, nil, breaks("only one of the two ends", "%v", err)
	}
	if y == nil {
		return nil, nil, nil
	}
	return x, y, nil
}

// agree says whether two results have the same figures but for the share near,
// those of the second divided by factor.
func agree(a, b *replicate.Results, near float64, factor func(unit string) float64) error {
	if len(a.Alternatives) != len(b.Alternatives) {
		return breaks("another number of alternatives", "%d and %d", len(a.Alternatives), len(b.Alternatives))
	}
	for i := range a.Alternatives {
		m := a.Alternatives[i].Metrics
		made := m["processed_rate"].Mean
		// Beside what a difference is small: good web is what is left of the
		// processed, and may be little.
		usual := map[string]float64{"1": 1, "m/s": made, "1/s": 1 / a.Run.Horizon, "s": a.Run.Horizon,
			"m2/s": made * m["good_area_rate"].Mean / m["good_rate"].Mean, "kg/s": made * m["good_mass_rate"].Mean / m["good_rate"].Mean}
		for _, h := range []*sim.Histogram{a.Alternatives[i].Lowest, a.Alternatives[i].Highest} {
			if h != nil {
				usual["m"] = max(usual["m"], h.Max)
			}
		}
		x, y := &a.Alternatives[i], &b.Alternatives[i]
		if len(x.Names) != len(y.Names) {
			return breaks("other figures", "%d and %d: %v", len(x.Names), len(y.Names), differing(x.Names, y.Names))
		}
		for _, name := range x.Names {
			p, q := x.Metrics[name], y.Metrics[name]
			if math.IsInf(p.Mean, 1) && math.IsInf(q.Mean, 1) {
				continue
			}
			if strings.HasPrefix(name, "waste.") && made*a.Run.Horizon < 1e-6 {
				continue // shares of no web
			}
			d := math.Abs(p.Mean - q.Mean/factor(p.Unit))
			u := usual[p.Unit]
			if name == "splice.web_lost" { // beside the web of a roll
				u = made / m["splice_rate"].Mean
			}
			if !(d <= near*math.Abs(p.Mean)) && !(d <= near*u) {
				return breaks("figures differ", "%s of %q: %.15g and %.15g", name, x.Alternative, p.Mean, q.Mean/factor(p.Unit))
			}
		}
	}
	return nil
}

// unlessFickle is the error, but for a line that hangs on the last digits: one that
// comes to other figures too when its speed and its path are changed in the
// thirteenth, one way or the other. The few that the reasons of tied do not catch.
func unlessFickle(s *random.Scenario, as *replicate.Results, err error) error {
	if err == nil {
		return nil
	}
	for _, share := range []float64{1e-13, -1e-13, 1e-12} {
		study := studyOf(s)
		for i := range study.Alternatives {
			for _, l := range asRun(&study.Alternatives[i].Line) {
				l.Process.Speed *= 1 + share
				l.Process.RatedSpeed *= 1 + share
				l.Process.Path = l.Process.Path*(1+share) + math.Abs(10*share)
			}
		}
		x, failed := simulate(study, replicate.Options{Workers: 1, Watch: func(sim.State) error { return nil }})
		if failed == nil && agree(as, x, 1e-9, one) != nil {
			return nil
		}
	}
	return err
}

// samePlanned: a station that plans ahead comes to the same as one whose every
// event is looked at.
func samePlanned(s *random.Scenario) error {
	s = s.Apart()
	watched, err := results(s)
	if watched == nil || err != nil {
		return nil
	}
	planned, err := simulate(studyOf(s), replicate.Options{Workers: 1})
	if err != nil {
		return breaks("planned ahead it does not end", "%v", err)
	}
	err = unlessFickle(s, watched, agree(watched, planned, 1e-7, one))
	if err == nil || !slices.ContainsFunc(studyOf(s).Alternatives, func(a model.Alternative) bool { return a.Line.Crew.Lines > 1 }) {
		return err
	}
	// Lines that are twins call one crew at one instant, and the last digit says
	// which is served first. What is wrong of one line is wrong of it alone.
	alone := func(o replicate.Options) (*replicate.Results, error) {
		study := studyOf(s)
		for i := range study.Alternatives {
			study.Alternatives[i].Line.Crew.Lines = 1
		}
		o.Workers = 1
		return simulate(study, o)
	}
	watched, err = alone(replicate.Options{Watch: func(sim.State) error { return nil }})
	if err != nil {
		return nil
	}
	planned, err = alone(replicate.Options{})
	if err != nil {
		return breaks("planned ahead it does not end", "%v", err)
	}
	return unlessFickle(s, watched, agree(watched, planned, 1e-7, one))
}

func differing(a, b []string) []string {
	in := map[string]int{}
	for _, n := range a {
		in[n]++
	}
	for _, n := range b {
		in[n]--
	}
	var list []string
	for n, k := range in {
		if k != 0 {
			list = append(list, n)
		}
	}
	return list
}
