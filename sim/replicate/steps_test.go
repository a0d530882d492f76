package replicate

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
)

// stepped takes a study so many steps at most and returns how many there were.
func stepped(t *testing.T, s *Steps, most int) int {
	t.Helper()
	n := 0
	for ; n < most && s.Done() < s.Need(); n++ {
		before := s.Done()
		require.NoError(t, s.Step(context.Background()))
		require.Greater(t, s.Done(), before)
	}
	return n
}

func begun(t *testing.T, study *model.Study, shelf *Shelf) *Steps {
	t.Helper()
	s, err := NewSteps(context.Background(), study, shelf)
	require.NoError(t, err)
	return s
}

// So many steps come to what Simulate of so many comes to, to the last bit: for every
// shipped scenario, below ten replications and from ten on, where controls are used.
func TestStepsAreASimulation(t *testing.T) {
	t.Parallel()
	for _, x := range scenarios.Templates()[:effort.Of(2, 6, len(scenarios.Templates()))] {
		t.Run(x.Name, func(t *testing.T) {
			t.Parallel()
			s, err := scenarios.Parse(x.Name, x.Text, "../../scenarios")
			require.NoError(t, err)
			study := s.Study
			study.Run.Horizon = min(study.Run.Horizon, 2*model.Day)
			for _, want := range []int{1, 2, 9, 10, 13} {
				study.Run.Replications = want
				steps := begun(t, &study, NewShelf(8))
				assert.Zero(t, steps.Done())
				_, err := steps.Results()
				require.Error(t, err)
				assert.Equal(t, want, stepped(t, steps, 100))
				require.NoError(t, steps.Step(context.Background())) // no more than asked for
				got, err := steps.Results()
				require.NoError(t, err)
				whole, err := Simulate(context.Background(), &study, Options{})
				require.NoError(t, err)
				assert.Equal(t, printed(whole), printed(got), "%d replications", want)
			}
		})
	}
}

// What there is on the way is what Simulate of fewer comes to: with the controls of a
// study that has them from ten on.
func TestStepsOnTheWay(t *testing.T) {
	t.Parallel()
	of := func(n int) *model.Study {
		s := invented.Study(invented.Random(1), invented.Random(2))
		s.Run.Replications = n
		return s
	}
	steps := begun(t, of(14), NewShelf(8))
	for k := 1; k <= 14; k++ {
		require.Equal(t, 1, stepped(t, steps, 1))
		got, err := steps.Results()
		require.NoError(t, err)
		whole, err := Simulate(context.Background(), of(k), Options{})
		require.NoError(t, err)
		assert.Equal(t, printed(whole), printed(got), "%d replications", k)
	}
}

// What a shelf holds is not simulated again: other prices, another order of the
// alternatives, one that was left out; another line, seed, horizon or warm-up is. It
// holds so many lines and no more.
func TestShelf(t *testing.T) {
	t.Parallel()
	study := func(of ...model.Line) *model.Study {
		s := invented.Study(of...)
		s.Run.Replications = 12
		return s
	}
	a, b := invented.Random(1), invented.Random(2)
	for what, c := range map[string]struct {
		study *model.Study
		steps int
	}{
		"the same":       {study(a, b), 0},
		"turned around":  {study(b, a), 0},
		"one of them":    {study(b), 0},
		"twice the same": {study(a, a), 0},
		"another price": {func() *model.Study {
			s := study(a, b)
			s.Alternatives[1].Line.Economics.Price = model.Const(3)
			return s
		}(), 0},
		"more of them":       {func() *model.Study { s := study(a, b); s.Run.Replications = 15; return s }(), 3},
		"fewer, no controls": {func() *model.Study { s := study(a, b); s.Run.Replications = 5; return s }(), 0},
		"another line":       {study(a, invented.Random(3)), 12},
		"another seed":       {func() *model.Study { s := study(a, b); s.Run.Seed++; return s }(), 12},
		"another horizon":    {func() *model.Study { s := study(a, b); s.Run.Horizon /= 2; return s }(), 12},
		"another warm-up":    {func() *model.Study { s := study(a, b); s.Run.WarmUp++; return s }(), 12},
	} {
		shelf := NewShelf(3)
		stepped(t, begun(t, study(a, b), shelf), 100)
		steps := begun(t, c.study, shelf)
		assert.Equal(t, c.steps, stepped(t, steps, 100), what)
		assert.LessOrEqual(t, len(shelf.lines), 3)
		got, err := steps.Results()
		require.NoError(t, err)
		whole, err := Simulate(context.Background(), c.study, Options{})
		require.NoError(t, err)
		assert.Equal(t, printed(whole), printed(got), what)
	}
	shelf := NewShelf(2)
	for n := range 6 {
		stepped(t, begun(t, study(invented.Random(uint64(n))), shelf), 1)
	}
	assert.Len(t, shelf.lines, 2)
	assert.Equal(t, 11, stepped(t, begun(t, study(invented.Random(5)), shelf), 100), "the last is there")
	assert.Equal(t, 12, stepped(t, begun(t, study(invented.Random(0)), shelf), 100), "the first is gone")
}

// A step that is broken off leaves what there was; the next goes on.
func TestStepsCanBeBrokenOff(t *testing.T) {
	t.Parallel()
	study := invented.Study(invented.Random(1), invented.Random(2))
	study.Run.Replications = 12
	steps := begun(t, study, NewShelf(8))
	stepped(t, steps, 4)
	ended, end := context.WithCancel(context.Background())
	end()
	require.ErrorIs(t, steps.Step(ended), context.Canceled)
	assert.Equal(t, 4, steps.Done())
	assert.Equal(t, 8, stepped(t, steps, 100))
	got, err := steps.Results()
	require.NoError(t, err)
	whole, err := Simulate(context.Background(), study, Options{})
	require.NoError(t, err)
	assert.Equal(t, printed(whole), printed(got))
}

// A warm-up that is found from the output is the one that Prepare finds, once a line.
func TestStepsFindTheWarmUp(t *testing.T) {
	t.Parallel()
	study := invented.Study(invented.Random(1), invented.Random(2))
	study.Run.Replications, study.Run.WarmUpAuto = 3, true
	shelf := NewShelf(8)
	for range 2 {
		steps := begun(t, study, shelf)
		stepped(t, steps, 3)
		got, err := steps.Results()
		require.NoError(t, err)
		whole, err := Simulate(context.Background(), study, Options{})
		require.NoError(t, err)
		assert.Equal(t, printed(whole), printed(got))
		assert.Len(t, shelf.cuts, 2)
	}
}
