package sim

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
	"rollchange/sim/invented"
)

// Nobody is called to mend a web that is whole, and nobody waits to: a web breaks
// anew with its own call. A run-out while a late flying change was being made by
// hand called twice, and the second operator stood until the next break.
func TestWholeWebIsNotMended(t *testing.T) {
	for seed := range uint64(effort.Of(200, 500, 6000)) {
		line := invented.Random(seed)
		s := newRun(&line, seed, 0, 40000, 3000, nil)
		s.watch = func(x State) error {
			c := &s.crew
			mends := func(i int32) {
				k := c.tasks[i].kind
				l := &s.lines[c.tasks[i].line]
				if (k == TaskRunOut || k == TaskBreak) && !l.holds.on(hWebBreak) {
					t.Fatalf("line %d at %g s: task %d and no web break", seed, x.Time, k)
				}
			}
			for _, i := range c.queue {
				mends(i)
			}
			for _, p := range c.people {
				if p.state != idle {
					mends(p.task)
				}
			}
			return nil
		}
		require.NoError(t, s.simulate(context.Background()))
	}
}
