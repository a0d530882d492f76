package whatif

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
)

func template(t *testing.T, name string) *scenarios.Scenario {
	t.Helper()
	for _, x := range scenarios.Templates() {
		if x.Name == name {
			s, err := scenarios.Parse(name, x.Text, ".")
			require.NoError(t, err)
			return s
		}
	}
	t.Fatal(name)
	return nil
}

// The speed ends where an alternative is no possible line, and says why; the
// storage is seen from less than a mean splice needs to more than there is.
func TestUsualAxes(t *testing.T) {
	s := template(t, "label_press") // rated for 150 m/min
	a, ends, err := SpeedAxis(s)
	require.NoError(t, err)
	assert.Equal(t, []string{"72 m/min", "90 m/min", "108 m/min", "120 m/min", "132 m/min", "150 m/min"}, a.Texts)
	assert.Contains(t, ends, "168 m/min: line.rated_speed must not be below line.speed")
	a, ok, err := StorageAxis(s, 0)
	require.NoError(t, err)
	assert.False(t, ok, "by hand, out of no storage")
	a, ok, err = StorageAxis(s, 1)
	require.NoError(t, err)
	require.True(t, ok)
	assert.Equal(t, "unwind.storage.capacity", a.Key)
	l := &s.Study.Alternatives[1].Line
	c := model.UnwindCycle(l)
	least := c.LeastRoom(c.Dwell.Mean())
	assert.Less(t, a.Values[0], least)
	assert.Greater(t, a.Values[len(a.Values)-1], l.Unwind.Storage.Capacity)
	assert.InDelta(t, 10, len(a.Values), 5)

	// A storage far too small is seen too, not only what it would have to be.
	l.Unwind.Storage.Capacity = 0.3 * least
	l.Unwind.Storage.RunLevel = l.Unwind.Storage.Capacity
	a, _, err = StorageAxis(s, 1)
	require.NoError(t, err)
	assert.InEpsilon(t, l.Unwind.Storage.Capacity, a.Values[0], 1e-5)
	assert.Greater(t, a.Values[len(a.Values)-1], 1.5*least)
	assert.InDelta(t, 10, len(a.Values), 5)
}

// One roll change: it begins before the unwind slows and ends after the refill,
// the process keeps its speed, and what was filled in before it is exact.
func TestRollChange(t *testing.T) {
	s := template(t, "label_press")
	l := &s.Study.Alternatives[1].Line
	log, err := RollChange(context.Background(), l, s.Study.Run)
	require.NoError(t, err)
	require.Greater(t, len(log), 5)
	var begin, end float64
	for i, r := range log {
		assert.Equal(t, l.Process.Speed, r.SpeedP)
		if i > 0 {
			assert.GreaterOrEqual(t, r.Time, log[i-1].Time)
		}
		switch r.Event {
		case sim.CycleBegins:
			begin = r.Time
		case sim.StorageRefilled:
			end = r.Time
		}
	}
	assert.InDelta(t, begin-cycleBefore, log[0].Time, 1e-9)
	assert.Greater(t, end, begin)
	assert.InDelta(t, l.Unwind.Storage.RunLevel, log[0].UnwindStorage, 1e-6)
	// At both ends: what has begun at either of them ends in the log.
	log, err = RollChange(context.Background(), &s.Study.Alternatives[2].Line, s.Study.Run)
	require.NoError(t, err)
	open, transfers := map[sim.Source]bool{}, 0
	for _, r := range log {
		switch {
		case r.Event == sim.CycleBegins:
			open[r.Of] = true
		case r.Event == sim.StorageRefilled && r.Of == sim.OfRewind:
			transfers++
			fallthrough
		case r.Event == sim.StorageRefilled:
			delete(open, r.Of)
		}
	}
	assert.Empty(t, open, "a cycle that does not end")
	assert.Positive(t, transfers, "a transfer begins before the picture would end")
	last := log[len(log)-1]
	assert.True(t, settled(&last))
	assert.InDelta(t, s.Study.Alternatives[2].Line.Unwind.Storage.RunLevel, last.UnwindStorage, 1e-6)
	assert.InDelta(t, s.Study.Alternatives[2].Line.Rewind.Storage.RunLevel, last.RewindStorage, 1e-6)
	by, err := RollChange(context.Background(), &s.Study.Alternatives[0].Line, s.Study.Run)
	require.NoError(t, err)
	require.NotEmpty(t, by)
	assert.Equal(t, 1, Tells(&s.Study.Alternatives[0].Line))
	assert.Equal(t, 2, Tells(l))
}
