package sim_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/scenarios/random"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
	"rollchange/sim/replicate"
)

// splicedLine has parent rolls of 1500 m, changed at line speed, and a turret that ends
// its rolls at 400 m or at a splice. The splice is 20 m from the process when made, so
// a parent roll makes rolls of 400, 400, 400 and 300 m, the first 420 m of one later.
func splicedLine(side model.SpliceSide) model.Line {
	l := invented.Manual()
	l.Process.Path = 20
	l.Crew = model.Crew{Operators: 4, Lines: 1, Reaction: model.Const(0), Shift: 8 * 3600}
	l.Unwind = model.Unwind{Change: model.Flying, Roll: model.RollSize{Length: model.Const(1500)}, Load: model.Const(10), Prepare: model.Const(10), SpliceSuccess: 1, Recover: model.Const(60)}
	l.Rewind = model.Rewind{Change: model.Flying, Roll: model.RollSize{Length: model.Const(400)}, Trigger: model.ByLengthOrSplice, MaxSplices: -1,
		Doff: model.Const(5), LoadCore: model.Const(5), TransferSuccess: 1, Recover: model.Const(60), SpliceAt: side}
	return l
}

// When rolls end, and which are waste where none may hold a splice: the 300 m that end
// behind it, or the 400 m that begin with it.
func TestTransfersAtSplices(t *testing.T) {
	type end struct {
		at   float64 // m
		what string
	}
	for side, want := range map[model.SpliceSide][]end{
		model.SpliceOutside: {{400, "roll finished"}, {800, "roll finished"}, {1200, "roll finished"}, {1520, "roll rejected"}, {1920, "roll finished"}, {2320, "roll finished"}, {2720, "roll finished"}, {3020, "roll rejected"}, {3420, "roll finished"}},
		model.SpliceInside:  {{400, "roll finished"}, {800, "roll finished"}, {1200, "roll finished"}, {1520, "roll finished"}, {1920, "roll rejected"}, {2320, "roll finished"}, {2720, "roll finished"}, {3020, "roll finished"}, {3420, "roll rejected"}},
	} {
		l := splicedLine(side)
		l.Rewind.MaxSplices = 0
		var got []end
		for _, r := range sim.LogOf(t, l, model.Run{Horizon: 3500 / 2.5}) {
			if r.Of == sim.OfRewind && (r.Event == sim.RollFinished || r.Event == sim.RollRejected) {
				assert.InDelta(t, r.P/2.5, r.Time, 1e-9*r.Time)
				got = append(got, end{math.Round(r.P*1e6) / 1e6, map[sim.Event]string{sim.RollFinished: "roll finished", sim.RollRejected: "roll rejected"}[r.Event]})
			}
		}
		assert.Equal(t, want, got, string(side))
	}
}

// Shares of rolls without a splice over ten parent rolls: of the four of each, the
// shortest holds it on its outside, or the next at its core.
func TestFinishedRollsWithoutASplice(t *testing.T) {
	run := model.Run{WarmUp: 1530 / 2.5, Horizon: (1530 + 15000) / 2.5}
	for _, c := range []struct {
		name            string
		change          func(*model.Rewind)
		outside, inside float64
		waste           [2]float64 // m a parent roll, of rejected rolls
	}{
		{"all of them", func(*model.Rewind) {}, 3. / 4, 3. / 4, [2]float64{}},
		{"short ones are waste", func(w *model.Rewind) { w.MinLength = 350 }, 1, 2. / 3, [2]float64{300, 300}},
		{"none may hold one", func(w *model.Rewind) { w.MaxSplices = 0 }, 1, 1, [2]float64{300, 399}}, // the warm-up cuts 10 m off the first, and the last is not wound yet
		{"at splices only", func(w *model.Rewind) { w.Trigger, w.Roll.Length = model.BySplice, model.Const(math.Inf(1)) }, 0, 0, [2]float64{}},
		{"lanes", func(w *model.Rewind) { w.Lanes = 5 }, 3. / 4, 3. / 4, [2]float64{}},
	} {
		for i, side := range []model.SpliceSide{model.SpliceOutside, model.SpliceInside} {
			l := splicedLine(side)
			c.change(&l.Rewind)
			r := simulated(t, l, run)
			assert.InDelta(t, []float64{c.outside, c.inside}[i], r.Metrics["finished_rolls.without_splice"].Mean, 1e-12, "%s, %s", c.name, side)
			assert.InDelta(t, c.waste[i]/1500, r.Metrics["waste.rejected"].Mean, 1e-9, "%s, %s", c.name, side)
		}
	}
	// The first roll holds none: of ten that end at splices, one that begins with the line.
	l := splicedLine(model.SpliceInside)
	l.Rewind.Trigger, l.Rewind.Roll.Length = model.BySplice, model.Const(math.Inf(1))
	within(t, simulated(t, l, model.Run{Horizon: 15100 / 2.5}), "finished_rolls.without_splice", 1./10)
	// Rolls of 400 m whatever comes: 15 of four parent rolls, a splice in each fourth or so.
	l = splicedLine(model.SpliceInside)
	l.Rewind.Trigger = model.ByLength
	within(t, simulated(t, l, model.Run{Horizon: 6100 / 2.5}), "finished_rolls.without_splice", 12./15) // 1520, 3020, 4520 m
	// Where the key is not given nothing is told of it.
	_, told := simulated(t, splicedLine(""), run).Metrics["finished_rolls.without_splice"]
	assert.False(t, told)
}

// The other kinds of change, of either end, count alike.
func TestWithoutASpliceOfEveryKind(t *testing.T) {
	for _, unwind := range []model.ChangeKind{model.Manual, model.ZeroSpeed, model.Flying} {
		for _, rewind := range []model.ChangeKind{model.Manual, model.ZeroSpeed, model.Flying}[:effort.Of(1, 3, 3)] {
			for i, side := range []model.SpliceSide{model.SpliceOutside, model.SpliceInside} {
				l := splicedLine(side)
				if unwind == model.ZeroSpeed {
					u := invented.ZeroSpeed().Unwind
					u.Residual, u.ResidualLeast = 0, 0
					l.Unwind = u
				}
				l.Unwind.Change, l.Unwind.ChangeTime = unwind, model.Const(30)
				w := &l.Rewind
				w.Change, w.ChangeTime, w.Dwell, w.Decel, w.Accel, w.MaxSpeed, w.MinLength = rewind, model.Const(30), model.Const(5), 0.8, 0.6, 3.75, 350
				w.Storage = model.Storage{Capacity: 60, RunLevel: 5, RestartLevel: 30, Reserve: 2}
				r := simulated(t, l, model.Run{WarmUp: 3600, Horizon: 400 * 3600})
				assert.InDelta(t, []float64{1, 2. / 3}[i], r.Metrics["finished_rolls.without_splice"].Mean, 2e-3, "%s, %s, %s", unwind, rewind, side)
			}
		}
	}
}

// otherSide: on which side of a change the splice lies moves the share of rolls
// without one, and nothing else where a roll may hold any number.
func otherSide(s *random.Scenario) error {
	study := studyOf(s)
	if study == nil || !slices.ContainsFunc(study.Alternatives, func(a model.Alternative) bool { return a.Line.Rewind.SpliceAt != "" }) {
		return nil
	}
	other := *study
	other.Alternatives = slices.Clone(study.Alternatives)
	for i := range other.Alternatives {
		if w := &other.Alternatives[i].Line.Rewind; w.SpliceAt != "" && w.MaxSplices < 0 {
			w.SpliceAt = map[model.SpliceSide]model.SpliceSide{model.SpliceInside: model.SpliceOutside, model.SpliceOutside: model.SpliceInside}[w.SpliceAt]
		}
	}
	a, err := simulate(study, replicate.Options{Workers: 1})
	if err != nil {
		return nil // the first law is about lines that do not end
	}
	b, err := simulate(&other, replicate.Options{Workers: 1})
	if err != nil {
		return err
	}
	for i := range a.Alternatives {
		for _, name := range a.Alternatives[i].Names {
			p, q := a.Alternatives[i].Metrics[name].Mean, b.Alternatives[i].Metrics[name].Mean
			if name != "finished_rolls.without_splice" && p != q && !(math.IsNaN(p) && math.IsNaN(q)) {
				return breaks("the side of the splice moves another figure", "%s: %.15g and %.15g", name, p, q)
			}
		}
	}
	return nil
}
