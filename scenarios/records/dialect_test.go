package records

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios/records/invented"
)

var begun = time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC)

// Every way of writing gives what was written: starts, durations, causes, notes,
// each within its interval; and the truth, before it was rounded, lies in it.
func TestEveryDialectIsReadBack(t *testing.T) {
	stops := invented.Of(1, 300, begun, "")
	for _, d := range invented.Dialects() {
		t.Run(d.Name, func(t *testing.T) {
			l := read(t, string(d.Write(stops)), Options{})
			require.Len(t, l.Stops, len(stops), "%v", l.Findings)
			for _, f := range l.Findings {
				assert.Contains(t, []Kind{Zero}, f.Kind, "%+v", f)
			}
			assert.Equal(t, d.Newest, l.Understood.Falling)
			assert.Equal(t, d.Round.Seconds(), l.Understood.Start.Seconds)
			assert.Equal(t, d.Length.Seconds(), l.Understood.Length.Seconds)
			noted := false
			for _, c := range l.Understood.Columns {
				noted = noted || c.Role == Note
			}
			for i, s := range l.Stops {
				want := d.Rounded(stops[i])
				require.Equal(t, want.Start, s.Start, i)
				require.Equal(t, want.End, s.End, i)
				require.Equal(t, want.Cause, s.Cause)
				if noted {
					require.Equal(t, want.Note, s.Note)
				}
				require.InDelta(t, want.End.Sub(want.Start).Seconds(), s.Seconds, 1e-9)
				truth := stops[i].End.Sub(stops[i].Start).Seconds()
				require.LessOrEqual(t, s.Low, truth, i)
				require.GreaterOrEqual(t, s.High, truth, i)
			}
		})
	}
}

// What is true of a log is found in it: of 4,000 stops the mean gap and the mean
// duration of each cause are within 4 standard errors, and the true gap of
// running time within its interval. 10 comparisons at 4 standard errors: a false
// alarm in 1 of 1,600 seeds.
func TestTruthIsFound(t *testing.T) {
	stops := invented.Of(3, 4000, begun, "")
	d := invented.Dialects()[0]
	l := read(t, string(d.Write(stops)), Options{From: begun})
	for _, c := range invented.Causes() {
		sum, n := 0.0, 0
		for _, g := range l.Gaps(c.Text) {
			if !g.Censored {
				sum, n = sum+g.Seconds, n+1
			}
		}
		require.Greater(t, n, 50)
		assert.InDelta(t, c.Every, sum/float64(n), 4*c.Every/math.Sqrt(float64(n)), c.Text)
		lasted, m := 0.0, 0
		for _, s := range l.Stops {
			if s.Cause == c.Text {
				lasted, m = lasted+s.Seconds, m+1
			}
		}
		assert.InDelta(t, c.Lasts, lasted/float64(m), 4*c.Lasts*c.Spread/math.Sqrt(float64(m)), c.Text)
	}
}
