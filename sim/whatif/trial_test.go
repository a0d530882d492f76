package whatif

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// What stays after the trial has the figures of the full answer, and the largest
// stay.
func TestTrialKeepsTheLargest(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("long")
	}
	s, err := scenarios.Files{}.Load("../../scenarios/label_press.toml", nil, scenarios.Override{Key: "run.replications", Value: "6"}, scenarios.Override{Key: "run.horizon", Value: "5 d"})
	require.NoError(t, err)
	s = Only(s, len(s.Study.Alternatives)-1)
	ask := func(most int) []Swing {
		a, err := Sensitivity(t.Context(), s, SensitivityQuestion{Metrics: []string{"good_rate"}, Share: 0.1, Most: most}, Options{Workers: 2})
		require.NoError(t, err)
		return a.Swings["good_rate"]
	}
	all, few := ask(0), ask(8)
	require.Len(t, few, 8)
	assert.Greater(t, len(all), 12)
	for _, w := range few {
		i := slices.IndexFunc(all, func(x Swing) bool { return x.Key == w.Key })
		assert.Equal(t, fmt.Sprintf("%+v", all[i]), fmt.Sprintf("%+v", w))
	}
	for i := range 3 {
		assert.Equal(t, all[i].Key, few[i].Key)
	}
}
