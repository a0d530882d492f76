package sim

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
)

// calculatedLessCounted is the difference of the calculated chance of a depletion
// (or overfill) and the counted share, its standard error by the jackknife over
// replications, the counted share with its own, and that of the calculated.
func calculatedLessCounted(t testing.TB, l model.Line, run model.Run, which int) (diff, se, counted, seCounted, seCalculated float64) {
	t.Helper()
	run.Confidence = 0.95
	name := [2]string{"splice.depletion", "transfer.overfill"}[which]
	study := &model.Study{Run: run, Alternatives: []model.Alternative{{Name: "base", Line: l}}}
	info, err := Prepare(context.Background(), study)
	require.NoError(t, err)
	c := newCollector(&OutlinesOf(study)[0])
	require.NoError(t, Replicate(context.Background(), study, info, 0, run.Replications, Options{}, func(_ int, x []*Sample) error { c.add(x[0]); return nil }))
	var a, b estimate.Pseudo
	for i, m := range c.metrics {
		switch m.Name {
		case name:
			a = estimate.PseudoOf(c.ratios[i])
		case name + "_counted":
			b = estimate.PseudoOf(c.ratios[i])
		}
	}
	seOf := func(p estimate.Pseudo) float64 {
		var m estimate.Moments
		for _, x := range p.Values {
			m.Add(x)
		}
		return m.SD() / math.Sqrt(float64(m.N()))
	}
	d := a.Minus(b)
	return d.All, seOf(d), b.All, seOf(b), seOf(a)
}

// riskyLines are lines whose storage depletes for every reason that there is.
func riskyLines() map[string]model.Line {
	lognormal := func(mean, sd float64) model.Dist { return model.Dist{Law: model.Lognormal, A: mean, B: sd} }
	exponential := func(mean float64) model.Dist { return model.Dist{Law: model.Exponential, A: mean} }
	base := func(change func(l *model.Line)) model.Line {
		l := zeroLine()
		l.Unwind.Dwell = lognormal(8, 3)
		change(&l)
		return l
	}
	breaks := &model.WebBreaks{MeanLength: 400, AtSpeed: 2.5, Repair: lognormal(60, 60)}
	return map[string]model.Line{
		"dwell only": base(func(*model.Line) {}),
		"failures":   base(func(l *model.Line) { l.Unwind.SpliceSuccess, l.Unwind.Recover = 0.9, lognormal(12, 8) }),
		"failures, certain": base(func(l *model.Line) {
			l.Unwind.SpliceSuccess, l.Unwind.Recover = 0.9, model.Const(120)
		}),
		"failures and one busy operator": base(func(l *model.Line) {
			l.Unwind.SpliceSuccess, l.Unwind.Recover, l.Crew.Operators, l.Crew.Reaction = 0.8, lognormal(8, 8), 1, exponential(3)
			l.Crew.Duties = []model.Duty{{Name: "check", Every: exponential(100), Takes: exponential(30)}}
		}),
		"late arming": base(func(l *model.Line) {
			l.Unwind.Load, l.Crew.Operators = lognormal(480, 100), 1
		}),
		"short rolls": base(func(l *model.Line) {
			l.Unwind.Roll.Length, l.Unwind.Load, l.Unwind.Prepare = model.Dist{Law: model.Uniform, A: 60, B: 160}, model.Const(2), model.Const(1)
			l.Crew.Reaction = model.Const(0)
		}),
		"web breaks": base(func(l *model.Line) { l.WebBreaks = breaks }),
		"web breaks, failures, short rolls": base(func(l *model.Line) {
			l.WebBreaks = breaks
			l.Unwind.SpliceSuccess, l.Unwind.Recover = 0.8, exponential(12)
			l.Unwind.Roll.Length = model.Dist{Law: model.Uniform, A: 60, B: 400}
			l.Unwind.ResidualError = model.Dist{Law: model.Normal, B: 3, Signed: true}
		}),
		"stops that are short": base(func(l *model.Line) {
			l.Stops = []model.Stop{{Name: "jam", Every: exponential(60), Repair: exponential(4)}}
		}),
		"slows first": base(func(l *model.Line) {
			l.Unwind.Storage.Slow, l.Unwind.Storage.SlowLevel, l.Unwind.Storage.SlowSpeed = true, 35, 1.2
			l.Unwind.Dwell = lognormal(12, 5)
			l.WebBreaks = breaks
		}),
		"dwell with atoms": base(func(l *model.Line) {
			l.Unwind.Dwell = model.Dist{Law: model.Empirical, Values: []float64{6, 7, 7, 8, 12, 20}}
		}),
		"torque limits the ramp": base(func(l *model.Line) {
			l.Web = model.Web{Width: 0.33, Caliper: 1e-4, Grammage: 0.08}
			l.Unwind.Roll.Length, l.Unwind.Roll.Core = model.Dist{Law: model.Uniform, A: 500, B: 3000}, 0.15
			l.Unwind.SpindleTorque = 3
		}),
		"both storages": base(func(l *model.Line) {
			addZeroRewind(l)
			l.Rewind.Dwell = lognormal(7, 3)
			l.Rewind.Storage.Capacity, l.Rewind.Storage.RestartLevel = 48, 25
			l.Rewind.TransferSuccess, l.Rewind.Recover = 0.9, lognormal(15, 8)
		}),
		"a manual rewind": base(func(l *model.Line) {
			l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: lognormal(90, 40)}, Trigger: model.ByLength, ChangeTime: lognormal(20, 8), MaxSplices: -1}
		}),
	}
}

// The calculated chance and the counted share have the same mean, whatever else
// happens to the line. Each comparison wrongly alarmed in 1 of 100,000
// (4.5 standard errors of the paired difference).
func TestCalculatedAndCountedAgree(t *testing.T) {
	effort.NotInRace(t)
	for name, l := range riskyLines() {
		t.Run(name, func(t *testing.T) {
			run := model.Run{Horizon: 10 * 86400, WarmUp: 3600, Replications: effort.Of(40, 60, 150), Seed: 11}
			for which := range 2 {
				if which == 1 && l.Rewind.Change != model.ZeroSpeed {
					continue
				}
				diff, se, counted, seCounted, seCalculated := calculatedLessCounted(t, l, run, which)
				t.Logf("%s: counted %.5g, error %.2g; calculated error %.2g, variances as %.3g to 1; difference %.2g, %.2f errors",
					[2]string{"unwind", "rewind"}[which], counted, seCounted, seCalculated, seCounted*seCounted/(seCalculated*seCalculated), diff, diff/se)
				assert.InDelta(t, 0, diff, 4.5*se+1e-12, "difference")
				assert.Greater(t, counted, 1e-4, "too rare to say anything")
				assert.Less(t, seCounted, 0.2*counted, "too few to say anything")
			}
		})
	}
}

// And over random lines of every make: 3 of 10,000 comparisons may pass 4.5
// errors where few depletions make the law of the difference wide.
func TestCalculatedAndCountedAgreeOnRandomLines(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	for seed := range uint64(effort.Of(0, 60, 300)) {
		l := randomLine(seed)
		for which, kind := range [2]model.ChangeKind{l.Unwind.Change, l.Rewind.Change} {
			if kind != model.ZeroSpeed {
				continue
			}
			diff, se, counted, _, _ := calculatedLessCounted(t, l, model.Run{Horizon: 2 * 86400, Replications: 40, Seed: seed}, which)
			if math.IsNaN(diff) {
				continue
			}
			assert.InDelta(t, 0, diff, 6*se+1e-4, "seed %d side %d, counted %g, error %g, z %.2f", seed, which, counted, se, diff/se)
		}
	}
}

// A line without other chance: the calculated chance is the tail of the dwell
// law, right down to 1e-9 and below, where counting sees nothing.
func TestCalculatedChanceIsTheTail(t *testing.T) {
	for _, d := range []model.Dist{{Law: model.Lognormal, A: 8, B: 2}, {Law: model.Gamma, A: 16, B: 0.5}, {Law: model.Weibull, A: 3, B: 9}, {Law: model.Uniform, A: 6, B: 12}} {
		for _, risk := range []float64{1e-2, 1e-4, 1e-6, 1e-9} {
			t.Run(fmt.Sprint(d.Law, risk), func(t *testing.T) {
				l := zeroLine()
				l.Unwind.Dwell = d
				room := model.UnwindCycle(&l).LeastRoom(d.Quantile(1 - risk))
				l.Unwind.Storage.Capacity, l.Unwind.Storage.RunLevel = room, room
				want := d.Survival(model.UnwindCycle(&l).LongestDwell())
				assert.InEpsilon(t, risk, want, 1e-6)
				r := simulate(t, l, model.Run{Horizon: 86400, Seed: 3})
				near := 1e-7
				if d.Law == model.Uniform {
					near = 1e-4 // a nanosecond before its end
				}
				assert.InEpsilon(t, want, r.Metrics["splice.depletion"].Mean, near)
				assert.InEpsilon(t, want, r.Metrics["splice.depletion.dwell"].Mean, near)
				if d.Law != model.Uniform {
					assert.InEpsilon(t, want, r.Metrics["splice.depletion.if_"+string(d.Law)].Mean, 1e-5)
				}
			})
		}
	}
}

// The causes add up to the chance.
func TestCausesAddUp(t *testing.T) {
	for name, l := range riskyLines() {
		r := simulate(t, l, model.Run{Horizon: 86400, Seed: 5})
		sum := 0.0
		for _, c := range causeNames {
			sum += r.Metrics["splice.depletion."+c].Mean
		}
		assert.InDelta(t, r.Metrics["splice.depletion"].Mean, sum, 1e-12, name)
	}
	late := simulate(t, riskyLines()["late arming"], model.Run{Horizon: 5 * 86400, Seed: 5}).Metrics
	assert.Greater(t, late["splice.depletion.not_ready"].Mean, 0.1)
	short := simulate(t, riskyLines()["short rolls"], model.Run{Horizon: 5 * 86400, Seed: 5}).Metrics
	assert.Greater(t, short["splice.depletion.refill"].Mean, 0.05)
	assert.Greater(t, short["splice.not_refilled"].Mean, 0.5)
}
