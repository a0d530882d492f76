package sim

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/invented"
)

// The sums of the controls have mean 0, since which draw comes next hangs on earlier
// ones alone (Wald, Ann. Math. Statist. 15 (1944) 283), but only if the last draw of
// each source is in them, which mostly outlives the run: without it they have not.
func TestControlsHaveMeanZero(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("long")
	}
	replications := effort.Of(0, 700, 20000)
	for name, line := range map[string]model.Line{"every chance": invented.EveryChance(), "random 3": invented.Random(3), "random 8": invented.Random(8), "stops": withStops(invented.ZeroSpeed())} {
		for _, warmUp := range []float64{0, 5000} {
			at := Replication{Seed: 77, Number: -1, Horizon: 40000, WarmUp: warmUp}
			w, err := Weigh(context.Background(), &line, at)
			require.NoError(t, err)
			if w == nil {
				continue
			}
			var sums, without [2]estimate.Moments
			for k := range replications {
				s := newRunOf(&line, streams{seed: 77, replication: k}, at.Horizon, warmUp, nil)
				var fresh []source
				s.visit(func(_ int, p part) { fresh = append(fresh, *p.src) })
				require.NoError(t, s.simulate(context.Background()))
				all := *w.Controls(&Sample{excess: s.excess()})
				short := all
				i := 0
				s.visit(func(place int, p part) {
					last := lastOf(&fresh[i], p.src, p.role == happens)
					short[0] -= w.good[place] * last
					short[1] -= w.waste[place] * last
					i++
				})
				for j := range sums {
					sums[j].Add(all[j])
					without[j].Add(short[j])
				}
			}
			for j := range sums {
				off := func(m estimate.Moments) float64 { return math.Abs(m.Mean()) / m.SD() * math.Sqrt(float64(m.N())) }
				// Beyond 4.5 standard errors once in 150,000 such figures.
				assert.Less(t, off(sums[j]), 4.5, "%s, warm-up %g, sum %d", name, warmUp, j)
				if name == "every chance" {
					assert.Greater(t, off(without[j]), 10.0, "without the last draws they have not: %s, sum %d", name, j)
				}
				t.Logf("%s, warm-up %g, sum %d: %.2f standard errors from 0, %.1f without the last draws", name, warmUp, j, off(sums[j]), off(without[j]))
			}
		}
	}
}

// withStops is a line with stops that are seldom and long, by which the last draw
// weighs the more.
func withStops(l model.Line) model.Line {
	l.Stops = []model.Stop{{Name: "jam", Every: model.Dist{Law: model.Exponential, A: 1500}, Repair: model.Dist{Law: model.Lognormal, A: 600, B: 600}}}
	return l
}

// lastOf is what the last draw of a source was above its mean, 0 when it has drawn
// nothing: fresh is the source as it was before.
func lastOf(fresh, used *source, event bool) float64 {
	if used.n == 0 || used.law == model.Fixed {
		return 0
	}
	s := *fresh
	before := 0.0
	for s.pcg != used.pcg {
		before = s.sum
		if event {
			s.chance()
		} else {
			s.draw()
		}
	}
	return s.sum - before
}

// A line that loses web to nothing but stops of known laws has the weights that can
// be written down: v the speed, m the mean of the time between, r that of the repair.
func TestWeightsOfStops(t *testing.T) {
	line := invented.ZeroSpeed()
	line.Unwind.Roll.Length = model.Const(1e7)
	line.Process.StopScrap, line.Process.RestartScrap = model.Dist{}, model.Dist{}
	line.WebBreaks, line.Jobs, line.Rewind = nil, nil, model.Rewind{Change: model.None}
	v := line.Process.Speed
	line.Process.Accel, line.Process.Decel = 50, 50
	const between, repair, scrap = 900.0, 300.0, 4.0
	line.Stops = []model.Stop{{Name: "jam", Every: model.Dist{Law: model.Exponential, A: between}, Repair: model.Dist{Law: model.Gamma, A: 2, B: repair / 2}, Scrap: model.Dist{Law: model.Uniform, A: 0, B: 2 * scrap}}}
	w, err := Weigh(context.Background(), &line, Replication{Seed: 3, Number: -1, Horizon: 2000 * (between + repair)})
	require.NoError(t, err)
	require.NotNil(t, w)
	s := newRunOf(&line, streams{seed: 3}, 1, 0, nil)
	good := (v*between - scrap) / (between + repair)
	waste := scrap / (between + repair)
	s.visit(func(place int, p part) {
		var want [2]float64
		switch p.src {
		case &s.lines[0].stops[0].every:
			want = [2]float64{(repair*good + scrap) / between, (repair*waste - scrap) / between}
		case &s.lines[0].stops[0].repair:
			want = [2]float64{-good, -waste}
		case &s.lines[0].stops[0].scrap:
			want = [2]float64{-1, 1}
		default:
			return
		}
		assert.InEpsilon(t, want[0], w.good[place], 0.06, "good web, place %d", place)
		assert.InEpsilon(t, want[1], w.waste[place], 0.06, "waste, place %d", place)
	})
}

// Where the source that weighs most draws too seldom there are no weights.
func TestFewDrawsHaveNoControls(t *testing.T) {
	line := invented.ZeroSpeed()
	line.Stops = []model.Stop{{Name: "fire", Every: model.Dist{Law: model.Exponential, A: 20000}, Repair: model.Dist{Law: model.Exponential, A: 9000}}}
	w, err := Weigh(context.Background(), &line, Replication{Seed: 3, Number: -1, Horizon: 80000})
	require.NoError(t, err)
	assert.Nil(t, w)
	w, err = Weigh(context.Background(), &line, Replication{Seed: 3, Number: -1, Horizon: 8000000})
	require.NoError(t, err)
	assert.NotNil(t, w)
}

// Of a line on which a stop comes a tenth as often, what its draws bring weighs a tenth;
// all else weighs as before.
func TestWeightsForAnotherLaw(t *testing.T) {
	line := withStops(invented.ZeroSpeed())
	w, err := Weigh(context.Background(), &line, Replication{Seed: 3, Number: -1, Horizon: 400000})
	require.NoError(t, err)
	require.NotNil(t, w)
	rare := line
	rare.Stops = append([]model.Stop(nil), line.Stops...)
	rare.Stops[0].Every = model.Dist{Law: model.Exponential, A: 10 * line.Stops[0].Every.Mean()}
	v := w.For(&rare)
	moved := 0
	for i := range w.good {
		if v.good[i] != w.good[i] {
			moved++
			assert.InEpsilon(t, w.good[i]/10, v.good[i], 1e-9, w.names[i])
			assert.InEpsilon(t, w.waste[i]/10, v.waste[i], 1e-9, w.names[i])
		}
	}
	assert.Equal(t, 1, moved)
	assert.Equal(t, w, w.For(&line))
	assert.Nil(t, (*Weights)(nil).For(&line))
	more := line
	more.Stops = append(append([]model.Stop(nil), line.Stops...), line.Stops[0])
	assert.Nil(t, w.For(&more), "it has other sources")
}
