package sim_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/invented"
	"rollchange/sim/replicate"
)

// calculatedLessCounted is the difference of the calculated chance of a depletion
// (or overfill) and the counted share, its standard error by the jackknife over
// replications, the counted share with its own, and that of the calculated.
func calculatedLessCounted(t testing.TB, l model.Line, run model.Run, which int) (diff, se, counted, seCounted, seCalculated float64) {
	t.Helper()
	run.Confidence = 0.95
	name := [2]string{"splice.depletion", "transfer.overfill"}[which]
	study := &model.Study{Run: run, Alternatives: []model.Alternative{{Name: "base", Line: l}}}
	info, err := replicate.Prepare(context.Background(), study)
	require.NoError(t, err)
	metrics := replicate.OutlinesOf(study)[0].Metrics
	var ofCalculated, ofCounted []estimate.Figure
	require.NoError(t, replicate.Each(context.Background(), study, info, 0, run.Replications, replicate.Options{}, func(_ int, x []*sim.Sample) error {
		for i, m := range metrics {
			switch m.Name {
			case name:
				ofCalculated = append(ofCalculated, x[0].Figures[i])
			case name + "_counted":
				ofCounted = append(ofCounted, x[0].Figures[i])
			}
		}
		return nil
	}))
	a, b := estimate.PseudoOf(ofCalculated), estimate.PseudoOf(ofCounted)
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

// The calculated chance and the counted share have the same mean, whatever else
// happens to the line. Each comparison wrongly alarmed in 1 of 100,000
// (4.5 standard errors of the paired difference).
func TestCalculatedAndCountedAgree(t *testing.T) {
	t.Parallel()
	effort.NotInRace(t)
	for name, l := range invented.Depleting() {
		if testing.Short() && !strings.HasPrefix(name, "failures") {
			continue
		}
		t.Run(name, func(t *testing.T) {
			run := model.Run{Horizon: 10 * 86400, WarmUp: 3600, Replications: effort.Of(12, 12, 150), Seed: 11}
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
	t.Parallel()
	if testing.Short() {
		t.Skip("long")
	}
	for seed := range uint64(effort.Of(0, 8, 300)) {
		l := invented.Random(seed)
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
	for _, d := range []model.Dist{{Law: model.Lognormal, A: 8, B: 2}, {Law: model.Gamma, A: 16, B: 0.5}, {Law: model.Weibull, A: 3, B: 9}, {Law: model.Lognormal, A: 8, B: 2, Least: 5}, {Law: model.Uniform, A: 6, B: 12}} {
		for _, risk := range []float64{1e-2, 1e-4, 1e-6, 1e-9} {
			t.Run(fmt.Sprint(d.Law, risk), func(t *testing.T) {
				l := invented.ZeroSpeed()
				l.Unwind.Dwell = d
				room := model.UnwindCycle(&l).LeastRoom(d.Quantile(1 - risk))
				l.Unwind.Storage.Capacity, l.Unwind.Storage.RunLevel = room, room
				want := d.SurvivalFrom(model.UnwindCycle(&l).LongestDwell())
				assert.InEpsilon(t, risk, want, 1e-6)
				r := simulated(t, l, model.Run{Horizon: 86400, Seed: 3})
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
	for name, l := range invented.Depleting() {
		r := simulated(t, l, model.Run{Horizon: 86400, Seed: 5})
		sum := 0.0
		for _, c := range sim.CauseNames {
			sum += r.Metrics["splice.depletion."+c].Mean
		}
		assert.InDelta(t, r.Metrics["splice.depletion"].Mean, sum, 1e-12, name)
	}
	late := simulated(t, invented.Depleting()["late arming"], model.Run{Horizon: 5 * 86400, Seed: 5}).Metrics
	assert.Greater(t, late["splice.depletion.not_ready"].Mean, 0.1)
	short := simulated(t, invented.Depleting()["short rolls"], model.Run{Horizon: 5 * 86400, Seed: 5}).Metrics
	assert.Greater(t, short["splice.depletion.refill"].Mean, 0.05)
	assert.Greater(t, short["splice.not_refilled"].Mean, 0.5)
}

// BenchmarkRareDepletion reports, for lines whose storage depletes for every
// reason, how many times the variance of the count is that of the calculated
// chance: so many times more replications would the count need.
func BenchmarkRareDepletion(b *testing.B) {
	for _, name := range []string{"web breaks", "failures", "late arming", "short rolls", "both storages"} {
		l := invented.Depleting()[name]
		b.Run(name, func(b *testing.B) {
			ratio := 0.0
			for b.Loop() {
				_, _, _, counted, calculated := calculatedLessCounted(b, l, model.Run{Horizon: 5 * 86400, Replications: 60, Seed: 11}, 0)
				ratio = counted * counted / (calculated * calculated)
			}
			b.ReportMetric(ratio, "variance-ratio")
		})
	}
}
