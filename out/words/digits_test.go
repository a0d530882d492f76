package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/estimate"
)

func TestFiguresHaveAsManyDigitsAsTheyDeserve(t *testing.T) {
	for _, c := range []struct {
		mean, half float64
		want       string
	}{{412.345, 1.834, "412.3 ± 1.8"}, {0.0012345, 0.0000012, "0.001234 ± 0.000001"}, {1234567, 12345, "1235000 ± 12000"}, {0, 0, "0"}, {99.99999, 0.01, "100.000 ± 0.010"}} {
		assert.Equal(t, c.want, Figure(estimate.Estimate{Mean: c.mean, HalfWidth: c.half}, model.Unit{SI: 1}))
	}
}
