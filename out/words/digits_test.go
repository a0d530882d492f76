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
	}{{412.345, 1.834, "412.3 ± 1.8"}, {0.0012345, 0.0000012, "0.0012345 ± 0.0000012"}, {1234567, 12345, "1,235,000 ± 12,000"}, {0, 0, "0"}, {99.99999, 0.01, "100.00 ± 0.01"}} {
		assert.Equal(t, c.want, Figure(estimate.Estimate{Mean: c.mean, HalfWidth: c.half}, model.Unit{SI: 1}))
	}
}
