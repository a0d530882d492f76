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

// When the line goes on again before the unwind is at rest, the unwind goes back
// to its own ramp, the steeper now.
func TestAnUnwindGoesBackToItsOwnRamp(t *testing.T) {
	l := invented.Steep()
	l.Unwind.Decel = 0.2 // 15.625 m, 12.5 s: the trigger is at 1478.375 m, 591.35 s
	l.Process.Decel = 0.5
	l.Unwind.Storage.Slow, l.Unwind.Storage.SlowLevel, l.Unwind.Storage.SlowSpeed = true, 79, 1.5
	// The line slows to 1.5 m/s when the storage is at 79 m: the unwind is then at
	// 2.5 - 0.2 sqrt(2/0.2) m/s and the storage at its slow level falls on, so the
	// station, slower than the line throughout, is never capped.
	slow := 591.35 + math.Sqrt(10)
	for _, r := range LogOf(t, l, model.Run{Horizon: 596}) {
		if r.Event == SlowLevel {
			assert.InDelta(t, slow, r.Time, 1e-9)
			assert.InDelta(t, 79, r.UnwindStorage, 1e-9)
		}
	}
	s := newRun(&l, 1, 0, 590, 0, nil)
	require.NoError(t, s.simulate(context.Background()))
	// By hand on the engine: capped while the line slows more steeply, its own ramp after.
	line, st := &s.lines[0], &s.lines[0].side[0]
	st.ready = true
	line.p, line.pa, line.target = 2, -0.5, 1 // a ramp that ends at 1 m/s in 2 s
	line.slots[slotRamp] = line.now + 2
	st.follow()
	st.beginCycle()
	assert.True(t, st.capped)
	assert.Equal(t, -0.5, st.va, "with the line")
	assert.True(t, math.IsInf(st.ends, 1), "it does not come to rest with the line")
	line.now, st.at = line.now+2, st.at+2
	line.p = 1
	line.rampEnds()
	assert.False(t, st.capped)
	assert.Equal(t, -0.2, st.va, "its own ramp")
	assert.InDelta(t, line.now+5, st.ends, 1e-9, "1 m/s at 0.2 m/s2")
	assert.Equal(t, 80.0, st.M)
}
