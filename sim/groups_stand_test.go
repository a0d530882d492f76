package sim

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
)

// However the work of three lines is shared out among groups, and however early they
// are called, no line stands for long: what one stands for somebody does, if he has to
// be called away for it. The longest work takes some 10 min, and 10 h are far beyond
// what a queue for it comes to.
func TestNoLineStandsForEver(t *testing.T) {
	const horizon, most = 100e3, 36e3
	away := 0
	for seed := range uint64(effort.Of(25, 60, 4000)) {
		line := invented.Random(seed)
		r := rand.New(rand.NewPCG(seed, 5))
		line.Crew.Lines, line.Crew.Breaks, line.Crew.Duties = 3, nil, nil
		line.Rewind.Pack = model.Dist{}
		line.Unwind.CallAhead, line.Rewind.CallAhead = 300*r.Float64(), 300*r.Float64()
		line.Crew.Groups = make([]model.Group, 2+r.IntN(2))
		for i := range line.Crew.Groups {
			line.Crew.Groups[i] = model.Group{Name: string(rune('a' + i)), Operators: 1}
		}
		for _, w := range model.WorkWords() {
			g := &line.Crew.Groups[r.IntN(len(line.Crew.Groups))]
			g.Tasks = append(g.Tasks, w)
		}
		for i := range line.Crew.Groups {
			if g := &line.Crew.Groups[i]; g.Tasks == nil {
				g.Tasks = []string{model.Packing.String()}
			}
		}
		line.Crew.Operators = len(line.Crew.Groups)
		s := newRun(&line, seed, 0, horizon, 0, func(r *Record) {
			if r.Event == CalledAway {
				away++
			}
		})
		var moved [3]float64
		s.watch = func(x State) error {
			if x.Speed[1] > 0 || x.Accel[1] > 0 {
				moved[x.Line] = x.Time
			}
			if x.Time-moved[x.Line] >= most {
				t.Fatalf("seed %d, line %d stands since %g s at %g s", seed, x.Line, moved[x.Line], x.Time)
			}
			return nil
		}
		require.NoError(t, s.simulate(context.Background()))
		for i := range moved {
			if s.lines[i].p > 0 {
				continue
			}
			require.Less(t, horizon-moved[i], most, "seed %d, line %d", seed, i)
		}
	}
	assert.Greater(t, away, effort.Of(5, 20, 100))
}
