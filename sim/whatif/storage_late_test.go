package whatif

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// A rewind whose late core slows the line has no size from few simulations: it is said,
// with what does compare capacities.
func TestARewindThatSlowsForACoreIsNotSized(t *testing.T) {
	text := ""
	for _, x := range scenarios.Templates() {
		if x.Name == "label_press" {
			text = strings.Replace(string(x.Text), `overrun = "40 m", doff`, `overrun = "40 m", on_late = "slow", late_speed = "40 m/min", doff`, 1)
		}
	}
	require.Contains(t, text, "on_late")
	s, err := scenarios.Parse("line.toml", []byte(text), ".")
	require.NoError(t, err)
	s.Study.Alternatives = s.Study.Alternatives[2:]
	_, err = newSizing(context.Background(), s, StorageQuestion{Rewind: true}, Options{})
	assert.ErrorContains(t, err, "sweep --vary rewind.storage.capacity")
	_, err = newSizing(context.Background(), s, StorageQuestion{}, Options{})
	assert.NoError(t, err, "the unwind is sized as ever")
}
