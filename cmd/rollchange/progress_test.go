package main

import (
	"io"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/whatif"
)

func TestProgressIsSilent(t *testing.T) {
	f, err := os.CreateTemp(t.TempDir(), "")
	require.NoError(t, err)
	defer f.Close()
	p := newProgress(f, "inputs moved", 10)
	p.Set(5, 10)
	p.Done()
	newProgress(io.Discard, "", 10).Set(1, 10)
	info, err := f.Stat()
	require.NoError(t, err)
	assert.Zero(t, info.Size(), "where there is no terminal")
	assert.False(t, useColor(f), "where there is no terminal")
}

// A bar says how far the work is, how much there is and how long the rest takes at the
// pace so far, in the width that there is.
func TestProgressSaysHowFarAndHowLong(t *testing.T) {
	at := func(done, most int, took time.Duration) string {
		return progressText("inputs moved", whatif.Progress{Done: done, Most: most}, took, 100)
	}
	assert.Equal(t, "inputs moved [#####               ]  25 %  20 of 80 replications, 31 s left", at(20, 80, 10*time.Second+100*time.Millisecond))
	assert.Equal(t, "inputs moved [####################] 100 %  80 of 80 replications", at(80, 80, time.Minute))
	assert.Equal(t, "inputs moved [                    ]   0 %  0 of 80 replications", at(0, 80, time.Minute))
	assert.Contains(t, at(1, 100, 5*time.Second), "9 min left")
	assert.Contains(t, at(1, 100, 5*time.Minute), "8.2 h left")
	assert.NotContains(t, at(1, 100, 500*time.Millisecond), "left", "too early to tell")
	assert.Equal(t, "inputs moved", at(3, 0, time.Second), "where it is not known")
	search := whatif.Progress{Done: 5, Most: 20, Value: 3}
	assert.Equal(t, "storage, value 3 [#####               ]  25 %  5 of 20 replications", progressText("storage", search, 0, 100))
	search.Values = 9
	assert.Contains(t, progressText("storage", search, 0, 100), "value 3 of at most 9")
	for columns := range 80 {
		assert.LessOrEqual(t, len(progressText("storage", search, time.Minute, columns)), columns)
	}
}
