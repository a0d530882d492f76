package sim

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"rollchange/model"
	"rollchange/sim/invented"
)

// Scrap is intervals, each metre for the cause that came first: against a
// drawing of every decimetre.
func TestScrapCountsEveryMetreOnceForTheFirstCause(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const n = 600
		var drawn [n]int
		var s scrap
		floor := rapid.IntRange(0, 100).Draw(t, "floor")
		s.floor = float64(floor)
		edge := 0
		for range rapid.IntRange(0, 40).Draw(t, "claims") {
			from := rapid.IntRange(0, n-1).Draw(t, "from")
			to := min(n, from+rapid.IntRange(0, 80).Draw(t, "length"))
			class := rapid.IntRange(0, int(wasteClasses)-1).Draw(t, "class")
			s.claim(float64(from), float64(to), wasteClass(class))
			for i := max(from, edge); i < to; i++ {
				if drawn[i] == 0 {
					drawn[i] = class + 1
				}
			}
			if rapid.Bool().Draw(t, "retire") {
				edge = max(edge, rapid.IntRange(0, n/2).Draw(t, "edge"))
				s.retire(float64(edge), float64(edge))
			}
		}
		end := rapid.IntRange(n/2, n).Draw(t, "end")
		var want [wasteClasses]float64
		for i := floor; i < end; i++ {
			if drawn[i] > 0 {
				want[drawn[i]-1]++
			}
		}
		got, good := s.until(float64(end))
		require.Equal(t, want, got)
		for _, x := range got {
			good += x
		}
		require.Equal(t, float64(end-floor), good, "good web is added up on its own")
	})
}

// The scrap that is kept does not grow with the horizon, however long the
// finished rolls.
func TestScrapThatIsKeptIsBounded(t *testing.T) {
	kept := func(horizon float64) int {
		l := invented.Manual()
		l.Process.StopScrap, l.Process.RestartScrap = model.Const(1), model.Const(2)
		l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(1e12)}, Trigger: model.ByLength, MaxSplices: 3, ChangeTime: model.Const(60)}
		s := newRun(&l, 1, 0, horizon, 0, nil)
		require.NoError(t, s.simulate(context.Background()))
		return cap(s.lines[0].scrap.spans) + cap(s.lines[0].splices)
	}
	assert.Equal(t, kept(10*86400), kept(1000*86400))
}
