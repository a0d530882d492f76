package estimate

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat/distuv"
)

// The laws as gonum/stat/distuv has them (gonum v0.17.0), to 1e-12.
func TestQuantilesAreThoseOfTheLaws(t *testing.T) {
	same := func(want, got float64, args ...any) {
		t.Helper()
		assert.InDelta(t, want, got, 1e-12*max(1, math.Abs(want)), args...)
	}
	chances := []float64{1e-9, 0.0005, 0.005, 0.025, 0.05, 0.3, 0.5, 0.8, 0.95, 0.975, 0.9995, 1 - 1e-9}
	sizes := []float64{0.5, 1, 1.5, 2, 3.7, 10, 40.5, 305, 1e5}
	for _, p := range chances {
		same(distuv.UnitNormal.CDF(6*p-3), normalBelow(6*p-3), "normal below %g", 6*p-3)
		for _, a := range sizes {
			same(distuv.StudentsT{Sigma: 1, Nu: a}.Quantile(p), studentQuantile(p, a), "t of %g, %g", a, p)
			same(distuv.Gamma{Alpha: a, Beta: 1}.Quantile(p), gammaQuantile(a, p), "gamma of %g, %g", a, p)
			for _, b := range sizes {
				same(distuv.Beta{Alpha: a, Beta: b}.Quantile(p), betaQuantile(a, b, p), "beta of %g and %g, %g", a, b, p)
			}
		}
	}
}
