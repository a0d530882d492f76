package whatif

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// Where the line needs a storage that no dwell asks for, that is what binds: it restarts
// at 30 % of the run level, and stops within 2.5²/(2 0.5) = 6.25 m above a reserve of 2 m.
// A dwell of 0.1 s would do with 3.91 + 0.25 + 5.21 + 2 + 6.25 = 17.6 m.
func TestWhatALineNeedsBindsItsStorage(t *testing.T) {
	text := strings.Replace(automatic, `reserve = "2 m"`, `reserve = "2 m"
restart_level = "30 %"`, 1)
	s, err := scenarios.Parse("test.toml", []byte(strings.Replace(text, "DWELL", `"0.1 s"`, 1)), ".")
	require.NoError(t, err)
	a, err := SizeStorage(context.Background(), s, StorageQuestion{Risk: Risk{Share: 0.01}, Most: 1000}, Options{})
	require.NoError(t, err)
	require.True(t, a.Met)
	assert.InEpsilon(t, (2+6.25)/0.3, a.Value, 5e-4)
	assert.Equal(t, NotPossible, a.LimitedBy.By)
	assert.Contains(t, a.LimitedBy.Why, "unwind.storage.restart_level")
	assert.Equal(t, []float64{a.Value, a.Value}, []float64{a.Low, a.High}, "no chance is in it")
}
