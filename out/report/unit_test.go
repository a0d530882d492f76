package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A bare number of money or years has its unit; what has one, or needs none, stays.
func TestBareNumbersHaveTheirUnit(t *testing.T) {
	c := made(t, shipped(t, "label_press"))
	for _, x := range [][3]string{
		{"economics.material_cost", "0.34", "0.34 EUR/m2"},
		{"economics.material_cost", "0.05 /ft2", "0.05 /ft2"},
		{"economics.disposal_cost", "0.11", "0.11 EUR/kg"},
		{"economics.crew_cost", "uniform, min 30, max 42", "uniform, min 30 EUR/h, max 42 EUR/h"},
		{"economics.life", "10", "10 years"},
		{"economics.life", "1", "1 year"},
		{"alternative.investment", "triangular, min 225000, mode 240000, max 280000", "triangular, min 225000 EUR, mode 240000 EUR, max 280000 EUR"},
		{"alternative.investment", "gamma, shape 4, scale 50000, observed 9", "gamma, shape 4, scale 50000 EUR, observed 9"},
		{"alternative.maintenance", "7500", "7500 EUR/year"},
		{"economics.hours_per_year", "3800 h", "3800 h"},
		{"crew.operators", "2", "2"},
	} {
		assert.Equal(t, x[2], c.withUnit(x[0], x[1]), x[0])
	}
}
