package words

import (
	"testing"

	"rollchange/out/invented"
)

// Units by name are those that results have.
func TestUnitOf(t *testing.T) {
	for _, r := range invented.Results().Alternatives {
		for name, e := range r.Metrics {
			if UnitOf(name) != e.Unit {
				t.Errorf("%s: %q, want %q", name, UnitOf(name), e.Unit)
			}
		}
	}
}

func TestOneIn(t *testing.T) {
	for share, want := range map[float64]string{1: "all", 0.5: "1 in 2", 0.4: "1 in 2.5", 1e-3: "1 in 1,000", 2e-6: "1 in 500,000",
		1e-6: "1 in 1,000,000", 1e-9: "1 in 1e9"} {
		if got := OneIn(share); got != want {
			t.Errorf("%g: %q, want %q", share, got, want)
		}
	}
}
