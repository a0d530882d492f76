package whatif

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/estimate"
)

// What a curve told is read as it was, also what is no number; anything else is not read.
func TestWhatACurveToldIsReadAgain(t *testing.T) {
	list := [2]estimate.Estimate{
		{Unit: "1", Mean: 1e-300, HalfWidth: math.NaN(), SD: math.Inf(1), N: 20, Low: 0, High: 0.1 + 0.2, Why: estimate.NotSeen, Needed: 7, Trials: 1e15 / 3, Unseen: math.Copysign(0, -1)},
		{Unit: "1", Mean: math.NaN()},
	}
	text := estimatesText(list)
	got, ok := estimatesOf(text)
	require.True(t, ok)
	assert.Equal(t, fmt.Sprintf("%#v", list), fmt.Sprintf("%#v", got))
	for _, bad := range []string{"", text + "\t", text[1:] + "x", text[:len(text)-1] + "x", "\t" + text} {
		_, ok := estimatesOf(bad)
		assert.False(t, ok, bad)
	}
}
