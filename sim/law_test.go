package sim

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/invented"
)

// More storage never makes more depletions, when only the dwell is random and
// the storage is full again before every splice. Two honest exceptions: a line
// that depletes less makes more splices by the horizon, and each of those may
// deplete too; and with rolls so short that a splice begins from a storage not
// yet refilled, a line that one depletion stopped meets the next splice fuller.
func TestMoreStorageNeverDepletesMore(t *testing.T) {
	for seed := range uint64(50) {
		last := changes{starved: math.Inf(1)}
		for _, c := range []float64{18, 22, 26, 30, 35, 40, 50, 120} {
			l := invented.ZeroSpeed()
			l.Unwind.Dwell = model.Dist{Law: model.Lognormal, A: 6, B: 2}
			l.Unwind.Storage = model.Storage{Capacity: c, RunLevel: c, RestartLevel: c / 2, Reserve: 1}
			s := newRun(&l, seed, 0, 86400, 0, nil)
			require.NoError(t, s.simulate(context.Background()))
			now := s.lines[0].tally.side[0]
			assert.LessOrEqual(t, now.starved-(now.made-last.made), last.starved, "seed %d, capacity %g", seed, c)
			last = now
		}
		assert.Zero(t, last.starved, "120 m is ample")
	}
}
