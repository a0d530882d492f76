package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The unit that stands in the place of a metric one is of the same dimension; what is
// written in it is the same within its two digits.
func TestCounterpartsAreOfTheSameDimension(t *testing.T) {
	for dim, list := range units {
		for _, u := range list {
			name := Imperial.UnitIn(u.Name)
			if name == u.Name {
				continue
			}
			_, ok := UnitOf(name, dim)
			assert.True(t, ok, "%s: %s for %s", dim, name, u.Name)
			for _, x := range []string{"0", "0.1", "1", "80", "150", "250000"} {
				was, err := ParseQuantity(x+" "+u.Name, dim)
				require.NoError(t, err)
				is, err := ParseQuantity(dim.in(Imperial, x+" "+u.Name), dim)
				require.NoError(t, err, dim.in(Imperial, x+" "+u.Name))
				assert.InDelta(t, was, is, 0.051*was, "%s %s", x, u.Name)
			}
		}
	}
	assert.Equal(t, `{ mean = "98 ft", sd = "26 ft", dist = "normal" } under [unwind]`, Length.In(Imperial, `{ mean = "30 m", sd = "8 m", dist = "normal" } under [unwind]`))
	assert.Equal(t, `caliper = "3.9 mil"`, Length.In(Imperial, `caliper = "0.1 mm"`))
	assert.Equal(t, `time = "30 s"`, Time.In(Imperial, `time = "30 s"`))
	assert.Equal(t, "m", Metric.UnitIn("m"))
}
