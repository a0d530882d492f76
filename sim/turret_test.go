package sim_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/effort"
)

// What check says of the shortest roll is what a simulation without chance does: a
// turret keeps up with rolls longer by a thousandth, and not with rolls shorter by a
// hundredth, whatever limits it.
func TestShortestRollThatATurretKeepsUpWith(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 5))
	in := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	limits := map[string]int{}
	for range effort.Of(60, 200, 2000) {
		l := lateTurret([]model.ChangeKind{model.Flying, model.ZeroSpeed}[r.IntN(2)])
		w := &l.Rewind
		l.Unwind.Roll.Length = model.Const(1e7)
		l.Crew.Reaction = model.Const(in(0, 30))
		w.Doff, w.LoadCore, w.Dwell = model.Const(in(0, 60)), model.Const(in(0, 60)), model.Const(in(0, 20))
		w.Decel, w.Accel, w.MaxSpeed = in(0.5, 2), in(0.5, 2), in(2.7, 5)
		w.Overrun, w.LateSpeed, w.Lanes = 20, 0.5*float64(r.IntN(2)), 1+r.IntN(4)
		w.Storage = model.Storage{Capacity: 300, RunLevel: 5, RestartLevel: 100}
		if r.IntN(2) == 0 {
			w.Pack = model.Const(in(0, 40))
		}
		var shortest float64
		limit := ""
		for _, f := range model.FactsOf(&l) {
			if f.Label == "shortest roll it keeps up with" {
				shortest = f.Value
				_, limit, _ = strings.Cut(f.Note, "limited by ")
			}
		}
		limits[limit]++
		unusual := func(length float64) float64 {
			w.Roll.Length = model.Const(length)
			m := simulated(t, l, model.Run{Horizon: 1000 * length / 2.5, Replications: 1}).Metrics
			return m["transfer.not_ready"].Mean + m["transfer.not_refilled"].Mean
		}
		assert.Zero(t, unusual(1.001*shortest), "%s, %g m: %+v", limit, shortest, *w)
		assert.Greater(t, unusual(0.99*shortest), 0.01, "%s, %g m: %+v", limit, shortest, *w)
	}
	assert.Len(t, limits, 4, "%v", limits)
}
