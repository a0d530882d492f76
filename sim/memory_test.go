package sim_test

import (
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/scenarios/random"
	"rollchange/sim"
)

// A run needs no more memory for a longer horizon: what it allocates from its
// begin to its end is the same for eight times the horizon but for lists that
// happen to be longer, and for 100 kB at most. Each line is tried as it is and
// with finished rolls, where it has any, that are never full.
func TestMemoryDoesNotGrowWithTheHorizon(t *testing.T) {
	lines := uint64(200)
	if testing.Short() {
		lines = 20
	}
	tried := 0
	for seed := range lines {
		s, parsed, err := random.Draw(seed)
		if err != nil || endsWell(s) != nil {
			continue // TestRandomLines is about those
		}
		study := parsed.Study
		study.Run.Replications, study.Run.WarmUp, study.Run.WarmUpAuto = 1, 0, false
		study.Alternatives = study.Alternatives[:1]
		l := &study.Alternatives[0].Line
		short, long := allocated(t, &study, 1), allocated(t, &study, 8)
		if !assert.LessOrEqual(t, long, short+100<<10, "bytes, seed %d:\n%s", seed, s.Text()) {
			return
		}
		if tried++; l.Rewind.Change == model.None {
			continue
		}
		l.Rewind.Roll, l.Rewind.Trigger = model.RollSize{Length: model.Const(100 * study.Run.Horizon * l.Process.Speed)}, model.ByLength
		short, long = allocated(t, &study, 1), allocated(t, &study, 8)
		if !assert.LessOrEqual(t, long, short+100<<10, "bytes, with finished rolls that are never full, seed %d:\n%s", seed, s.Text()) {
			return
		}
	}
	assert.Greater(t, tried, int(lines)/2)
}

// allocated is what a simulation of so many times the horizon allocates in all, bytes.
func allocated(t *testing.T, study *model.Study, times float64) uint64 {
	t.Helper()
	longer := *study
	longer.Run.Horizon *= times
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if _, err := simulate(&longer, sim.Options{Workers: 1}); err != nil {
		return 0 // a fault that shows later: nothing to say about memory
	}
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}
