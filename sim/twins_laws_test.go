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
	"rollchange/sim/replicate"
)

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
// all is as before. Honest exception: a week does not grow, nor do the shifts of a
// group.
func sameInTime(s *random.Scenario) error {
	if s.Values["orders.list"].Word != "" {
		return nil // its numbers stand in a text
	}
	if byWeek(s) {
		return nil
	}
	s = s.Apart()
	a, b, err := both(s, s.Scaled(1, 2))
	if a == nil || err != nil {
		return err
	}
	return unlessFickle(s, a, agree(a, b, 1e-9, grows(1, 2)))
}

// byWeek says whether a group of a crew is off at times.
func byWeek(s *random.Scenario) bool {
	study := studyOf(s)
	return study != nil && slices.ContainsFunc(study.Alternatives, func(a model.Alternative) bool {
		return slices.ContainsFunc(a.Line.Crew.Groups, func(g model.Group) bool { return !g.Always() })
	})
}

// sameInLength: with all lengths doubled all is as before. Honest exception: a
// stop that ends within a millimetre of where it should, a roll that is a
// millimetre short and a storage that must be a millimetre above its level do
// not grow with the line. So lines of a thousand times the size are compared, to
// a thousandth of what the millimetre would come to; and where a roll of less
// than that happens to be drawn, of a million times the size.
func sameInLength(s *random.Scenario) error {
	if s.Values["orders.list"].Word != "" {
		return nil
	}
	s = s.Apart()
	err := doubled(s, 1e3)
	if err == nil || crumbs(studyOf(s.Scaled(1e3, 1))) {
		return nil
	}
	return doubled(s, 1e6)
}

func doubled(s *random.Scenario, size float64) error {
	a, b, err := both(s.Scaled(size, 1), s.Scaled(2*size, 1))
	if a == nil || err != nil {
		return err
	}
	return unlessFickle(s.Scaled(size, 1), a, agree(a, b, 1e-6, grows(2, 1)))
}

// crumbs says that one roll or order in a million is shorter than a
// micrometre: of a law whose sd is several times its mean.
func crumbs(study *model.Study) bool {
	return study != nil && slices.ContainsFunc(study.Alternatives, func(a model.Alternative) bool {
		l := &a.Line
		lengths := []model.Dist{l.Unwind.Roll.Length, l.Rewind.Roll.Length}
		if l.Jobs != nil {
			lengths = append(lengths, l.Jobs.Length)
		}
		for _, d := range lengths {
			if d.Given() && d.Quantile(1e-6) < 1e-6 {
				return true
			}
		}
		return false
	})
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
func rows(r *replicate.Results, but string) string {
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
		r, err := simulate(study, replicate.Options{Workers: workers})
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
// as two duties do that a finished roll calls for; sums over stops may round
// differently; and of two groups the first takes a task.
func sameInOrder(s *random.Scenario) error {
	if strings.Count(s.Text(), "per_roll") > 1 || strings.Count(s.Text(), "[[crew.group]]") > 1 {
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
