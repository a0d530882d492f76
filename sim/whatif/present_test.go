package whatif

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// A sweep knows what each alternative has now: a value that is given, the mean
// of a law, the storage that strands and travel make; and of which stop it is.
func TestPresentValues(t *testing.T) {
	var text string
	for _, x := range scenarios.Templates() {
		if x.Name == "press_comparison" {
			text = string(x.Text)
		}
	}
	s := scenario(t, text)
	now := func(spec string) Axis {
		a, err := ParseAxis(s, spec, false)
		require.NoError(t, err)
		w, err := NewSweep(s, []Axis{a}, Usual())
		require.NoError(t, err)
		return w.Axes[0]
	}
	near := func(want map[int]float64, got map[int]float64) {
		t.Helper()
		assert.Len(t, got, len(want))
		for i, v := range want {
			assert.InDelta(t, v, got[i], 1e-9, i)
		}
	}
	near(map[int]float64{0: 140. / 60, 1: 140. / 60, 2: 140. / 60}, now("line.speed=100 m/min,140 m/min").Now)
	near(map[int]float64{1: 43.2, 2: 43.2}, now("unwind.storage.capacity=30 m,40 m").Now)
	near(map[int]float64{1: 6.5, 2: 6.5}, now("unwind.dwell.mean=5 s,6 s").Now)
	near(map[int]float64{1: 6.5, 2: 6.5}, now("unwind.dwell=5 s,6 s").Now)
	assert.Empty(t, now("unwind.dwell.sd=1 s,2 s").Now, "the spread of a law is not its mean")
	a := now("stop[1].repair=20 min,30 min")
	assert.Equal(t, "start-up check", a.Of)
	near(map[int]float64{0: 1500, 1: 1500, 2: 1500}, a.Now)
	assert.Equal(t, "samples and paperwork", now("crew.duty[0].takes=3 min,4 min").Of)
	assert.Empty(t, now("line.speed=100 m/min,140 m/min").Of)
	for _, key := range []string{"stop[9].repair", "stop[x].repair", "stop[.repair", "stop", "crew.break[0].at"} {
		assert.Empty(t, called(s, 0, key), key)
	}
}
