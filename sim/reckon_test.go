package sim_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/invented"
	"rollchange/sim/metric"
)

// ran is one replication of a line, its cycles kept.
func ran(t testing.TB, l *model.Line, seed uint64, days float64) *sim.Sample {
	t.Helper()
	x, err := sim.Prepare(l).Run(context.Background(), sim.Replication{Seed: seed, Horizon: days * 86400, WarmUp: 3600, Cycles: true}, nil)
	require.NoError(t, err)
	return x
}

// figureOf is a metric of a sample.
func figureOf(l *model.Line, x *sim.Sample, name string) estimate.Figure {
	for i, g := range sim.GaugesOf(l) {
		if g.Name == name {
			return x.Figures[i]
		}
	}
	return estimate.Figure{}
}

// At its own capacity the recorded cycles give what the replication itself
// reckoned and counted, in each of its parts.
func TestReckoningAtTheRecordedCapacityIsTheSimulation(t *testing.T) {
	t.Parallel()
	check := func(name string, l model.Line, seed uint64) {
		x := ran(t, &l, seed, 3)
		for which, kind := range [2]model.ChangeKind{l.Unwind.Change, l.Rewind.Change} {
			if !kind.Stores() {
				assert.Empty(t, x.Cycles[which])
				continue
			}
			whole, notFailed := sim.ReckoningOf(&l, which).At(&l, x.Cycles[which])
			for of, got := range map[string]estimate.Figure{[2]string{metric.Depletion, metric.Overfill}[which]: whole, [2]string{metric.DepletionNotFailed, metric.OverfillNotFailed}[which]: notFailed} {
				want := figureOf(&l, x, of)
				near := 1e-7 * (1 + want.Num)
				assert.InDelta(t, want.Num, got.Num, near, "%s %s", name, of)
				assert.Equal(t, want.Den, got.Den, "%s %s", name, of)
				assert.InDelta(t, want.Counted, got.Counted, near, "%s %s counted", name, of)
				assert.Equal(t, want.Exposed, got.Exposed, "%s %s exposed", name, of)
			}
		}
	}
	for name, l := range invented.Depleting() {
		check(name, l, 7)
	}
	for seed := range uint64(effort.Of(15, 30, 600)) {
		check(fmt.Sprint("random ", seed), invented.Random(seed), seed)
		check(fmt.Sprint("random with orders ", seed), makesOrders(invented.Random(seed), seed), seed)
	}
}

// Nearly every change is reckoned from its record; what a replication adds to few
// others, where a low storage slows the process or a roll ran out, is kept as it was.
func TestRecordedChangesAreReckoned(t *testing.T) {
	for name, l := range invented.Depleting() {
		for which, lines := range ran(t, &l, 7, 3).Cycles {
			for _, c := range lines {
				if which == 1 && l.Rewind.LateSpeed > 0 {
					continue // all of it is counted
				}
				off, all := sim.OffOf(c)
				most := 0.01
				if name == "slows first" {
					most = 0.1
				}
				if name == "short rolls" || name == "web breaks, failures, short rolls" { // cycles that the next roll cuts short are counted
					most = 0.5
				}
				assert.LessOrEqual(t, off, most*all, "%s %d", name, which)
				assert.Greater(t, all, 50.0, name)
			}
		}
	}
}

// withCapacity is a line with another storage of a station, its levels moved with it
// as those of a whole storage are.
func withCapacity(l model.Line, which int, factor float64) model.Line {
	if which == 1 {
		l.Rewind.Storage.Capacity *= factor
	} else {
		x := &l.Unwind.Storage
		x.RunLevel += (factor - 1) * x.Capacity
		x.Capacity *= factor
	}
	list := l.Products
	l.Products = nil
	for _, p := range list {
		line := withCapacity(*p.Line, which, factor)
		p.Line = &line
		l.Products = append(l.Products, p)
	}
	return l
}

// The recorded cycles against simulations on the same chance with a tenth less and a
// tenth more storage: within 2.5 % of the chance. Where a low storage slows the
// process its speed hangs on the capacity: within 15 %. A start before the refill is
// left out: there the next cycle begins with what the last one left.
func TestReckoningAtOtherCapacitiesIsNearTheSimulation(t *testing.T) {
	t.Parallel()
	replications := uint64(effort.Of(3, 4, 30))
	lines := invented.Depleting()
	for _, name := range []string{"dwell only", "failures", "web breaks", "both storages"} {
		lines[name+", with orders"] = makesOrders(lines[name], 5)
	}
	quick := makesOrders(lines["dwell only"], 5)
	quick.Unwind.Dwell = model.Const(1) // as of product a
	quick.Products[0].Line.Unwind.Dwell = quick.Unwind.Dwell
	lines["products of other dwells"] = quick
	for name, l := range lines {
		if testing.Short() && name != "dwell only" && name != "both storages" && name != "products of other dwells" {
			continue
		}
		near := 0.025
		if l.Orders != nil {
			near = 0.1 // what runs through at a change of web hangs on the storage: other rolls, other chance
		}
		switch name {
		case "short rolls":
			continue
		case "slows first":
			near = 0.15
		}
		for which, kind := range [2]model.ChangeKind{l.Unwind.Change, l.Rewind.Change} {
			if !kind.Stores() || which == 1 && l.Rewind.LateSpeed > 0 { // that is counted alone
				continue
			}
			k := sim.ReckoningOf(&l, which)
			for _, factor := range []float64{0.9, 1.1}[:effort.Of(1, 1, 2)] {
				other := withCapacity(l, which, factor)
				var got, want estimate.Figure
				for seed := range replications {
					whole, _ := k.At(&other, ran(t, &l, seed, 5).Cycles[which])
					got.Add(whole)
					want.Add(figureOf(&other, ran(t, &other, seed, 5), [2]string{metric.Depletion, metric.Overfill}[which]))
				}
				assert.InEpsilon(t, want.Num/want.Den, got.Num/got.Den, near, "%s %d %g", name, which, factor)
			}
		}
	}
}

// A replication whose cycles are kept comes to the same, and one whose cycles are
// not allocates nothing for them: ten times the horizon takes no more memory.
func TestCyclesAreKeptOnlyWhereAskedFor(t *testing.T) {
	l := invented.Depleting()["late arming"]
	with := ran(t, &l, 3, 2)
	r := sim.Replication{Seed: 3, Horizon: 2 * 86400, WarmUp: 3600}
	without, err := sim.Prepare(&l).Run(context.Background(), r, nil)
	require.NoError(t, err)
	assert.Equal(t, without.Figures, with.Figures)
	assert.Equal(t, [2][]*sim.Cycles{}, without.Cycles)
	allocations := func(days float64, cycles bool) float64 {
		r := sim.Replication{Seed: 3, Horizon: days * 86400, Cycles: cycles}
		line := sim.Prepare(&l)
		return testing.AllocsPerRun(2, func() { _, _ = line.Run(context.Background(), r, nil) })
	}
	// The whole process is counted, so the limits are wide, but one for each change
	// would be thousands.
	assert.InDelta(t, allocations(2, false), allocations(20, false), 100)
	assert.Less(t, allocations(20, true), allocations(20, false)+150, "by doubling, not one for each change")
}

// Changes told by fewer come to the same at every capacity, to 1e-8 of the chance: those of
// a line whose torque limits its ramps, each with its own, are a tenth as many.
func TestCondensedChangesComeToTheSame(t *testing.T) {
	t.Parallel()
	lines := invented.Depleting()
	lines["torque limits the ramp, by atoms"] = lines["torque limits the ramp"]
	atoms := lines["torque limits the ramp, by atoms"]
	atoms.Unwind.Dwell = lines["dwell with atoms"].Unwind.Dwell
	lines["torque limits the ramp, by atoms"] = atoms
	for seed := range uint64(effort.Of(3, 30, 600)) {
		lines[fmt.Sprint("random ", seed)] = invented.Random(seed)
	}
	lines["random 228"] = invented.Random(228) // its process slows and speeds up in dwells
	for name, l := range lines {
		for which, all := range ran(t, &l, 7, 10).Cycles {
			k := sim.ReckoningOf(&l, which)
			var few []*sim.Cycles
			for _, c := range all {
				few = append(few, k.Condensed(c))
			}
			for _, factor := range []float64{1.3, 0.8, 0.84, 0.86, 1, 1.15} { // what adds nothing at one is passed over at larger ones
				other := withCapacity(l, which, factor)
				for i, want := range figuresAt(k, &other, all) {
					got := figuresAt(k, &other, few)[i]
					assert.InDelta(t, want.Num, got.Num, 1e-8*want.Num+1e-30, "%s %d %g", name, which, factor)
					assert.InDelta(t, want.Counted, got.Counted, 1e-8*want.Counted, name)
					assert.InDelta(t, want.Exposed, got.Exposed, 1e-8*want.Exposed, name)
					assert.Equal(t, want.Den, got.Den, name)
				}
			}
			for i := range all {
				was, is := sim.Recorded(all[i]), sim.Recorded(few[i])
				assert.LessOrEqual(t, is, was, name)
				if name == "torque limits the ramp" {
					assert.Less(t, 10*is, was, name)
				}
			}
		}
	}
}

func figuresAt(k *sim.Reckoning, l *model.Line, c []*sim.Cycles) [2]estimate.Figure {
	whole, notFailed := k.At(l, c)
	return [2]estimate.Figure{whole, notFailed}
}
