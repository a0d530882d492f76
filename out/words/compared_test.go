package words

import (
	"testing"

	"rollchange/out/invented"
)

// Time for a hold that only one alternative can have differs by all of it.
func TestDifferenceOfHoldOfOne(t *testing.T) {
	rs := invented.Results()
	for name, want := range map[string]float64{"time.stopped.unwind_change": -0.2, "time.stopped.unwind_depleted": 0.009} {
		d, ok := DifferenceOf(rs, 1, name)
		if !ok || d.Mean != want || !d.Shown() {
			t.Errorf("%s: %v, %v; want %g", name, d, ok, want)
		}
	}
	if _, ok := DifferenceOf(rs, 1, "splice.failed"); ok {
		t.Error("a share of splices that cannot fail was compared")
	}
	if _, ok := DifferenceOf(rs, 0, "time.stopped.unwind_change"); ok {
		t.Error("the first differs from itself")
	}
}
