package sim

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
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
			l := zeroLine()
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

func study(lines ...model.Line) *model.Study {
	s := &model.Study{Run: model.Run{Horizon: 30000, Replications: 7, Seed: 5, Confidence: 0.95}}
	for i, l := range lines {
		s.Alternatives = append(s.Alternatives, model.Alternative{Name: string(rune('A' + i)), Line: l})
	}
	return s
}

func TestInterruptEndsAtOnce(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := study(zeroLine())
	s.Run.Horizon = 1e9
	_, err := Simulate(ctx, s, Options{})
	require.ErrorIs(t, err, context.Canceled)
}

func TestALineThatMakesNoProgressIsAnError(t *testing.T) {
	effort.NotInRace(t)
	l := manualLine()
	l.Unwind.Roll.Length, l.Unwind.Residual, l.Unwind.ChangeTime, l.Crew.Reaction = model.Const(1e-15), 0, model.Const(0), model.Const(0)
	s := study(l)
	s.Run.Replications = 1
	_, err := Simulate(context.Background(), s, Options{})
	require.ErrorContains(t, err, "no progress")
}

// One operator, called ahead to the unwind, while the rewind stops the line
// first: he is called away, and the line goes on.
func TestAnOperatorCalledAheadDoesNotWaitForEver(t *testing.T) {
	l := manualLine()
	l.Unwind.CallAhead = 60
	l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(650)}, Trigger: model.ByLength,
		ChangeTime: model.Const(45), CallAhead: 60, MaxSplices: -1}
	l.Stops = []model.Stop{{Name: "jam", Every: model.Dist{Law: model.Exponential, A: 900}, Repair: model.Const(60), NeedsOperator: true}}
	for operators := 1; operators <= 3; operators++ {
		l.Crew.Operators = operators
		r := simulate(t, l, model.Run{Horizon: 30 * 86400, Replications: 4, Seed: 2})
		assert.Greater(t, r.Metrics["processed_rate"].Mean, 1.3, "%d operators", operators)
	}
}
