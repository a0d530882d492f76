package whatif

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

var (
	slows    = []scenarios.Override{over("unwind.storage.on_low", `"slow"`), over("unwind.storage.slow_level", "50 %"), over("unwind.storage.slow_speed", "1 m/s")}
	waits    = []scenarios.Override{over("unwind.prepare", `{ dist = "gamma", mean = "300 s", sd = "120 s" }`), over("crew.operators", "1")}
	waitsFar = []scenarios.Override{over("unwind.prepare", `{ dist = "exponential", mean = "150 s" }`), over("crew.operators", "1")}
)

// What more replications do to the answer of few.
const (
	stays  = iota
	more   // it does not hold with them
	less   // less is enough, but not the lower end of its interval
	lowest // that is enough too
)

// A rare target whose replications the records of the dwell alone do not decide is shown by
// a search with as many as it takes: with them the answer meets the target, a little less or
// the lower end of the interval does not, the upper end holds it, and they are never more
// than allowed. The cases go each way of the search; the first replications are few, so that
// their answer is often another.
func TestMoreReplicationsFindTheAnswerAnew(t *testing.T) {
	t.Parallel()
	for _, c := range effort.Some([]struct {
		name    string
		line    []scenarios.Override
		share   float64
		most    float64 // m
		seed    int
		revised int
		met     bool
	}{
		{"the first try holds", slows, 0.02, 1000, 1, stays, true},
		{"a larger one does not hold at first", slices.Concat(slows, waits), 0.02, 1000, 2, more, true},
		{"less is enough", slices.Concat(slows, waits), 0.02, 1000, 4, less, true},
		{"the upper end is far off", slices.Concat(slows, waits), 0.01, 1000, 4, less, true},
		{"no room for what was not seen", slices.Concat(slows, waits), 0.01, 35, 4, less, true},
		{"the largest does not show it", slices.Concat(slows, waits), 0.01, 35, 11, more, false},
		{"the curve knows of no more", slices.Concat(slows, waits), 0.01, 60, 11, more, false},
		{"waits with a line that stops", waits, 0.02, 1000, 2, more, true},
		{"all causes were seen", slices.Concat(slows, waitsFar), 0.05, 60, 7, lowest, true},
	}, 4) {
		s := withDwell(t, laws["gamma"], append(c.line, over("run.seed", fmt.Sprint(c.seed)), over("run.horizon", "12 h"), over("run.replications", "3"))...)
		q := StorageQuestion{Risk: Risk{Share: c.share}, Most: c.most}
		a := sizeStorage(t, s, q, 0)
		require.Equal(t, c.met, a.Met, "%s: %v", c.name, a.Why)
		n := 0
		for _, e := range a.Evidence {
			n = max(n, e.Replications)
		}
		require.Greater(t, n, 3, c.name)
		at := func(x float64) *Trial {
			m := metricsWith(t, s, over("unwind.storage.capacity", metres(x)), over("run.replications", fmt.Sprint(n)))
			return &Trial{X: x, Possible: true, Metrics: m}
		}
		b := Bound{Metric: a.Metric, Most: c.share}
		assert.True(t, holds(b, 0)(at(a.Value)), "%s: the answer", c.name)
		assert.False(t, holds(b, 0)(at(0.998*a.Value)) && holds(b, 0)(at(a.Low)), "%s: less", c.name)
		assert.LessOrEqual(t, a.Low, a.Value, c.name)
		if c.met {
			assert.GreaterOrEqual(t, a.High, a.Value, c.name)
			assert.True(t, holds(b, 1)(at(a.High)), "%s: the upper end", c.name)
			assert.Equal(t, n, noteOf[TookMore](t, a.Notes).Replications, c.name)
		} else {
			require.NotNil(t, a.Short, c.name)
			assert.False(t, holds(b, 1)(at(c.most)), "%s: not even the largest", c.name)
		}

		few := sizeStorage(t, s, q, 3) // no more than the scenario's
		assert.False(t, few.Met, c.name)
		switch c.revised {
		case stays:
			assert.Equal(t, few.Value, a.Value, c.name)
		case more:
			assert.False(t, holds(b, 0)(at(few.Value)), c.name)
			assert.Greater(t, a.Value, few.Value, c.name)
		case less:
			assert.False(t, holds(b, 0)(at(few.Low)), c.name)
			assert.Less(t, a.Value, few.Value, c.name)
		case lowest:
			assert.True(t, holds(b, 0)(at(few.Low)), c.name)
			assert.LessOrEqual(t, a.Value, few.Low, c.name)
		}
		for _, most := range []int{3, n - 1, n} {
			for _, e := range sizeStorage(t, s, q, most).Evidence {
				assert.LessOrEqual(t, e.Replications, most, "%s: %g m", c.name, e.X)
			}
		}
	}
}
