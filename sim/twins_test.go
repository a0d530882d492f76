package sim_test

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/scenarios/random"
	"rollchange/sim"
)

// Laws on two scenarios that say the same, or nearly.
//
// What holds only but for the order of things that happen at one instant, or
// but for a comparison of two numbers that are equal, is tried on Apart lines,
// where nothing is equal to anything.

// results simulates a scenario; nil when there is nothing to try.
func results(s *random.Scenario) (*sim.Results, error) {
	study := studyOf(s)
	if study == nil {
		return nil, nil
	}
	most := mostEvents(study)
	return simulate(study, sim.Options{Workers: 1, Watch: func(x sim.State) error {
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
		l := &a.Line
		parts := l.Unwind.SpliceBreaks > 0 && l.Rewind.Change != model.None && l.Rewind.Trigger != model.ByLength
		gentle := l.Process.Speed > 1000*min(l.Process.Accel, l.Process.Decel)
		return parts || gentle || l.Crew.Lines > 1 || startsLow(l, 0) || startsLow(l, 1)
	})
}

// restless says that a line ramps much of the time that it moves, and speeds up
// faster than it slows. Where a ramp up is cut off by the next stop, what rounding
// does to the time of a rest grows by accel/decel with every stop.
func restless(study *model.Study, r *sim.Results) bool {
	for i := range r.Alternatives {
		m, p := r.Alternatives[i].Metrics, &study.Alternatives[i].Line.Process
		if p.Accel > p.Decel && m["time.ramping"].Mean > 0.1*(1-m["time.stopped"].Mean) {
			return true
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
func both(a, b *random.Scenario) (*sim.Results, *sim.Results, error) {
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
func agree(a, b *sim.Results, near float64, factor func(unit string) float64) error {
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
			d := math.Abs(p.Mean - q.Mean/factor(p.Unit))
			if u := usual[p.Unit]; !(d <= near*math.Abs(p.Mean)) && !(d <= near*u) {
				return breaks("figures differ", "%s of %q: %.15g and %.15g", name, x.Alternative, p.Mean, q.Mean/factor(p.Unit))
			}
		}
	}
	return nil
}

// unlessFickle is the error, but for a line that hangs on the last digits: one that
// comes to other figures too when its speed and its path are changed in the
// thirteenth. The few that the reasons of tied do not catch.
func unlessFickle(s *random.Scenario, as *sim.Results, err error) error {
	if err == nil {
		return nil
	}
	study := studyOf(s)
	for i := range study.Alternatives {
		l := &study.Alternatives[i].Line
		l.Process.Speed *= 1 + 1e-13
		l.Process.RatedSpeed *= 1 + 1e-13
		l.Process.Path = l.Process.Path*(1+1e-13) + 1e-12
	}
	x, failed := simulate(study, sim.Options{Workers: 1, Watch: func(sim.State) error { return nil }})
	if failed == nil && agree(as, x, 1e-9, one) != nil {
		return nil
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
	planned, err := simulate(studyOf(s), sim.Options{Workers: 1})
	if err != nil {
		return breaks("planned ahead it does not end", "%v", err)
	}
	err = unlessFickle(s, watched, agree(watched, planned, 1e-7, one))
	if err == nil || studyOf(s).Alternatives[0].Line.Crew.Lines <= 1 {
		return err
	}
	// Lines that are twins call one crew at one instant, and the last digit says
	// which is served first. What is wrong of one line is wrong of it alone.
	alone := func(o sim.Options) (*sim.Results, error) {
		study := studyOf(s)
		for i := range study.Alternatives {
			study.Alternatives[i].Line.Crew.Lines = 1
		}
		o.Workers = 1
		return simulate(study, o)
	}
	watched, err = alone(sim.Options{Watch: func(sim.State) error { return nil }})
	if err != nil {
		return nil
	}
	planned, err = alone(sim.Options{})
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

func one(string) float64 { return 1 }

// sameInUnits: metric and US text of a scenario give the same to 1e-9.
func sameInUnits(s *random.Scenario) error {
	s = s.Apart()
	a, b, err := both(s.InUnits(model.Metric), s.InUnits(model.Imperial))
	if a == nil || err != nil {
		return err
	}
	return unlessFickle(s, a, agree(a, b, 1e-9, one))
}

var unitPart = regexp.MustCompile(`(kg|m|s)([0-9]?)`)

// grows is by how much a figure of a unit grows with lengths and times.
func grows(length, time float64) func(unit string) float64 {
	return func(unit string) float64 {
		f := 1.0
		for i, side := range strings.SplitN(unit, "/", 2) {
			for _, part := range unitPart.FindAllStringSubmatch(side, -1) {
				n := 1.0
				if part[2] != "" {
					n = float64(part[2][0] - '0')
				}
				if i == 1 {
					n = -n
				}
				switch part[1] {
				case "m":
					f *= math.Pow(length, n)
				case "s":
					f *= math.Pow(time, n)
				}
			}
		}
		return f
	}
}

// sameInTime: with all times doubled, a film of the line shown at half speed,
// all is as before.
func sameInTime(s *random.Scenario) error {
	s = s.Apart()
	a, b, err := both(s, s.Scaled(1, 2))
	if a == nil || err != nil {
		return err
	}
	return unlessFickle(s, a, agree(a, b, 1e-9, grows(1, 2)))
}

// sameInLength: with all lengths doubled all is as before. Honest exception: a
// stop that ends within a millimetre of where it should, a roll that is a
// millimetre short and a storage that must be a millimetre above its level do
// not grow with the line. So lines of a thousand times the size are compared, to
// a thousandth of what the millimetre would come to.
func sameInLength(s *random.Scenario) error {
	s = s.Apart()
	a, b, err := both(s.Scaled(1000, 1), s.Scaled(2000, 1))
	if a == nil || err != nil {
		return err
	}
	return unlessFickle(s.Scaled(1000, 1), a, agree(a, b, 1e-6, grows(2, 1)))
}

func quantity(x float64, unit string, dim model.Dimension) random.Value {
	return random.Value{Nums: []random.Num{{X: []float64{x}, Unit: unit, Dim: dim}}}
}

// neverComes: a stop, a duty or an order that never comes changes nothing, to
// the last bit, but adds its own rows.
func neverComes(s *random.Scenario) error {
	x, err := results(s)
	if x == nil || err != nil {
		return nil
	}
	for what, add := range map[string]map[string]random.Value{
		"stop": {"stop[99].name": {Word: `"never"`}, "stop[99].every": quantity(1e6, "d", model.Time), "stop[99].repair": quantity(1, "s", model.Time)},
		"duty": {"crew.duty[99].name": {Word: `"never"`}, "crew.duty[99].every": quantity(1e6, "d", model.Time), "crew.duty[99].takes": quantity(1, "s", model.Time)},
	} {
		y, err := results(s.With(add))
		if y == nil {
			continue
		}
		if err != nil {
			return breaks("a "+what+" that never comes ends the run", "%v", err)
		}
		if a, b := rows(x, ".never"), rows(y, ".never"); a != b {
			return breaks("a "+what+" that never comes changes figures", "%s", firstDifference(a, b))
		}
	}
	return nil
}

// rows are the figures of all alternatives as text, to the last bit, less those
// whose name has a part.
func rows(r *sim.Results, but string) string {
	var b strings.Builder
	for i := range r.Alternatives {
		for _, name := range r.Alternatives[i].Names {
			if but == "" || !strings.HasSuffix(name, but) {
				fmt.Fprintln(&b, name, r.Alternatives[i].Metrics[name])
			}
		}
		for _, h := range []*sim.Histogram{r.Alternatives[i].Lowest, r.Alternatives[i].Highest} {
			if h != nil {
				fmt.Fprintln(&b, h.Count)
			}
		}
		if i > 0 {
			for _, name := range r.Alternatives[i].Names {
				if but == "" || !strings.HasSuffix(name, but) {
					fmt.Fprintln(&b, "difference", name, r.Differences[i][name])
				}
			}
		}
	}
	return b.String()
}

func firstDifference(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range x {
		if i >= len(y) || x[i] != y[i] {
			return fmt.Sprintf("%.200s / %.200s", x[i], strings.Join(y[min(i, len(y)):min(i+1, len(y))], ""))
		}
	}
	return "the second has more rows"
}

// sameForWorkers: the number of workers changes no bit.
func sameForWorkers(s *random.Scenario) error {
	study := studyOf(s.With(map[string]random.Value{"run.replications": {Word: "5"}}))
	if study == nil {
		return nil
	}
	var first string
	for _, workers := range []int{1, 2, 5} {
		r, err := simulate(study, sim.Options{Workers: workers})
		if err != nil {
			return nil
		}
		if text := rows(r, ""); first == "" {
			first = text
		} else if text != first {
			return breaks("the number of workers changes figures", "%s", firstDifference(first, text))
		}
	}
	return nil
}

// sameBesideOthers: a line is the same as the only one and beside an alternative
// that is equipped in another way. Honest exception: warm_up = "auto" takes the
// longest of all alternatives.
func sameBesideOthers(s *random.Scenario) error {
	if study := studyOf(s); study == nil || study.Alternatives[0].Name != "base" || study.Run.WarmUpAuto {
		return nil
	}
	alone, err := results(s)
	if alone == nil || err != nil {
		return nil
	}
	beside, err := results(s.With(map[string]random.Value{
		"alternative[0].name": {Word: `"other"`}, "alternative[0].crew.operators": {Word: "7"}, "alternative[0].line.path": quantity(3, "m", model.Length),
		"alternative[1].name": {Word: `"as it is"`}}))
	if beside == nil || err != nil {
		return nil
	}
	beside.Alternatives, beside.Differences = beside.Alternatives[1:], beside.Differences[1:]
	if a, b := rows(alone, ""), rows(beside, ""); a != b {
		return breaks("another alternative changes figures", "%s", firstDifference(a, b))
	}
	return nil
}

// sameInOrder: the order in which stops, duties and breaks are written changes
// nothing. Honest exceptions: what happens at one instant goes in their order,
// as two duties do that a finished roll calls for; and sums over stops may round
// differently.
func sameInOrder(s *random.Scenario) error {
	if strings.Count(s.Text(), "per_roll") > 1 {
		return nil
	}
	s = s.Apart()
	turned := s.Reversed()
	if turned.Text() == s.Text() {
		return nil
	}
	a, b, err := both(s, turned)
	if a == nil || err != nil {
		return err
	}
	return unlessFickle(s, a, agree(a, b, 1e-11, one))
}

// prefixOf: what happens does not depend on how long one looks.
func prefixOf(s *random.Scenario) error {
	study := studyOf(s)
	if study == nil {
		return nil
	}
	for i := range study.Alternatives {
		var logs [2][]string
		for k, until := range []float64{study.Run.Horizon / 2, study.Run.Horizon} {
			err := sim.Trace(context.Background(), &study.Alternatives[i].Line, study.Run, 0, until, func(r *sim.Record) {
				if len(logs[k]) < 20000 {
					logs[k] = append(logs[k], fmt.Sprint(*r))
				}
			})
			if err != nil {
				return nil
			}
		}
		if len(logs[0]) > len(logs[1]) {
			return breaks("a longer horizon has fewer events", "%d and %d", len(logs[0]), len(logs[1]))
		}
		for n := range logs[0] {
			if logs[0][n] != logs[1][n] {
				return breaks("the horizon changes what happens before it", "%s / %s", logs[0][n], logs[1][n])
			}
		}
	}
	return nil
}

// sameWithTinyWarmUp: a warm-up in which nothing happens changes nothing.
func sameWithTinyWarmUp(s *random.Scenario) error {
	s = s.Apart().With(map[string]random.Value{"run.replications": {Word: "1"}})
	study := studyOf(s)
	if study == nil {
		return nil
	}
	tiny := study.Run.Horizon * 1e-10
	for i := range study.Alternatives { // honest exception: what happens at t = 0
		early := false
		err := sim.Trace(context.Background(), &study.Alternatives[i].Line, study.Run, 0, 2*tiny, func(r *sim.Record) { early = early || len(r.Holds) > 0 || r.P > 0 })
		if err != nil || early {
			return nil
		}
	}
	a, b, err := both(s.With(map[string]random.Value{"run.warm_up": quantity(0, "s", model.Time)}), s.With(map[string]random.Value{"run.warm_up": quantity(tiny, "s", model.Time)}))
	if a == nil || err != nil {
		return err
	}
	// The web that runs in so short a time, beside all that the line makes.
	near := 1e-8
	for i := range a.Alternatives {
		l := &study.Alternatives[i].Line
		near = max(near, 1e-9*l.Process.Speed*float64(l.Crew.Lines)/a.Alternatives[i].Metrics["processed_rate"].Mean)
	}
	return unlessFickle(s, a, agree(a, b, near, one))
}
