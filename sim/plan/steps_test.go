package plan

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/replicate"
)

func printsOf(study *model.Study) []string {
	var list []string
	for i := range study.Alternatives {
		list = append(list, replicate.Fingerprint(study.Alternatives[i].Line))
	}
	return list
}

// Steps come to the plan of as many replications, to the last bit; what a shelf holds is
// not simulated again: other prices, one alternative alone, but not another seed.
func TestStepsAreAPlan(t *testing.T) {
	shelf := NewShelf(3)
	study := studyOf(true)
	steps, err := NewSteps(study, printsOf(study), shelf)
	require.NoError(t, err)
	for k := 1; k <= 12; k++ {
		require.NoError(t, steps.Step(context.Background()))
		require.Equal(t, k, steps.Done())
		few := *study
		few.Run.Replications = k
		whole, err := Of(context.Background(), &few, 2, nil)
		require.NoError(t, err)
		assert.Equal(t, fmt.Sprintf("%x", *whole), fmt.Sprintf("%x", *steps.Answer(k)), "%d replications", k)
	}
	require.NoError(t, steps.Step(context.Background()))
	assert.Equal(t, 12, steps.Done(), "no more than asked for")
	again := studyOf(true)
	again.Alternatives = again.Alternatives[1:]
	again.Alternatives[0].Line.Economics.Currency = "USD"
	steps, err = NewSteps(again, printsOf(again), shelf)
	require.NoError(t, err)
	assert.Equal(t, 12, steps.Done())
	again.Run.Seed++
	steps, err = NewSteps(again, printsOf(again), shelf)
	require.NoError(t, err)
	assert.Zero(t, steps.Done())
	assert.Len(t, shelf.lines, 3)
	again.Alternatives[0].Line.Orders = nil
	_, err = NewSteps(again, printsOf(again), shelf)
	assert.ErrorContains(t, err, "no list of orders")
}
