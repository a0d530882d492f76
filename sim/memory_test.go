package sim_test

import (
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/scenarios/random"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
)

// A run needs no more memory for a longer horizon: what it allocates from its
// begin to its end is the same for eight times the horizon but for lists that
// happen to be longer, and for 100 kB at most. Each line is tried as it is and
// with finished rolls, where it has any, that are never full.
//
// Honest exception: web that the scrap of a stop may still reach is remembered;
// lines whose stop_scrap reaches back further than the short run is long are left out.
// So are crews with a group that is off at times: calls to pack wait for it, so many at
// most.
func TestMemoryDoesNotGrowWithTheHorizon(t *testing.T) {
	lines := uint64(effort.Of(10, 25, 300))
	looked := 0
	for seed := range lines {
		s, _, err := random.Draw(seed)
		if err != nil || byWeek(s) || endsWell(s) != nil {
			continue // TestRandomLines is about those
		}
		looked++
		err = memoryGrows(s)
		if err == nil {
			continue
		}
		s = random.Shrink(s, func(s *random.Scenario) bool { return memoryGrows(s) != nil }, 200, 10*time.Second)
		t.Fatalf("seed %d: %v\n%s", seed, err, s.Text())
	}
	assert.Greater(t, looked, int(lines)/2)
}

// memoryGrows says whether one replication of the first alternative takes more
// memory for a longer horizon.
func memoryGrows(s *random.Scenario) error {
	base := studyOf(s)
	if base == nil {
		return nil
	}
	study := *base
	study.Run.Replications, study.Run.WarmUp, study.Run.WarmUpAuto = 1, 0, false
	study.Alternatives = []model.Alternative{base.Alternatives[0]}
	l := &study.Alternatives[0].Line
	if l.Process.StopScrap.Quantile(1-1e-9) > l.Process.Speed*study.Run.Horizon {
		return nil
	}
	if short, long := allocated(&study, 1), allocated(&study, 8); long > short+100<<10 {
		return breaks("memory grows with the horizon", "%d bytes, and %d for eight times the horizon", short, long)
	}
	if l.Rewind.Change == model.None {
		return nil
	}
	l.Rewind.Roll, l.Rewind.Trigger = model.RollSize{Length: model.Const(100 * study.Run.Horizon * l.Process.Speed)}, model.ByLength
	if short, long := allocated(&study, 1), allocated(&study, 8); long > short+100<<10 {
		return breaks("memory grows with the length of finished rolls", "%d bytes, and %d for eight times the horizon", short, long)
	}
	return nil
}

// allocated is what a simulation of so many times the horizon allocates in all,
// bytes; 0 when it does not end, which is another law's matter.
func allocated(study *model.Study, times float64) uint64 {
	longer := *study
	longer.Run.Horizon *= times
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if _, err := simulate(&longer, replicate.Options{Workers: 1}); err != nil {
		return 0
	}
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}
