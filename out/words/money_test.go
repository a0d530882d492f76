package words

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/savings"
)

func TestMoneyHasAsManyDigitsAsItDeserves(t *testing.T) {
	for _, c := range []struct {
		x, half float64
		want    string
	}{{4942155, 28276, "4,942,000"}, {-2172, 14, "−2,172"}, {0, 0, "0"}, {736.93, 2.6, "736.9"}, {1234567, 0, "1,235,000"}, {math.NaN(), 0, "–"},
		{46647, math.NaN(), "46,650"}, {0.123, 0, "0.12"}, {-0.2, 40, "0"}, {5, 40, "5"}} {
		assert.Equal(t, c.want, Money(c.x, c.half), "%g ± %g", c.x, c.half)
	}
	assert.Equal(t, "all of 10,000", ChanceOfDraws(1, 10000))
	assert.Equal(t, "more than 99.9 %", ChanceOfDraws(0.9999, 10000))
	assert.Equal(t, "none of 100", ChanceOfDraws(0, 100))
	assert.Equal(t, "never", Payback(math.Inf(1)))
}

func TestSolveText(t *testing.T) {
	c, _ := invented.Valued(t, nil)
	s, err := c.Solve("investment", savings.Target{})
	require.NoError(t, err)
	assert.Regexp(t, `^Break-even: investment of [0-9,]+ EUR\. There .* it is positive below that; the scenario has [0-9,]+ EUR \(mean\)\.$`, SolveText(s, c, model.Metric))
	assert.Contains(t, SolveText(savings.Solution{Key: "economics.price", Value: math.NaN(), Always: true}, c, model.Metric), "above 0 for every contribution of good web tried")
}

func TestInDraws(t *testing.T) {
	for share, want := range map[float64]string{0: "in none of 10,000 draws", 1: "in all 10,000 draws", 0.99995: "in more than 99.9 % of the draws", 0.0005: "in fewer than 0.1 % of the draws", 0.4321: "in 43.2 % of the draws"} {
		assert.Equal(t, want, InDraws(share, 10000))
	}
}

// An interval has the decimals of its median: three of a payback below a year, three digits
// of a share. By hand, both sides of each boundary.
func TestIntervalsHaveTheDecimalsOfTheirMedian(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		s             savings.Spread
		years, shares [2]string
	}{
		{savings.Spread{Median: 0.999, Low: 0.7, High: 1.691}, [2]string{"0.999", "0.700 – 1.691"}, [2]string{"99.9", "70.0 – 169.1"}},
		{savings.Spread{Median: 1, Low: 0.7, High: 1.691}, [2]string{"1.00", "0.70 – 1.69"}, [2]string{"100", "70 – 169"}},
		{savings.Spread{Median: 2, Low: 2, High: inf}, [2]string{"2.00", "2.00 – never"}, [2]string{"200", "200 – Inf"}},
		{savings.Spread{Median: inf, Low: 0.5, High: inf}, [2]string{"never", "0.500 – never"}, [2]string{}},
		{savings.Spread{Median: 0.999997, Low: 0.95, High: 1.2}, [2]string{"1.000", "0.950 – 1.200"}, [2]string{"100", "95 – 120"}},
		{savings.Spread{Median: -0.0123, Low: -0.5, High: 0.1}, [2]string{"−0.01", "−0.50 – 0.10"}, [2]string{"−1.23", "−50.00 – 10.00"}},
		{savings.Spread{Median: math.NaN(), Low: math.NaN(), High: math.NaN()}, [2]string{"–", "–"}, [2]string{"–", "–"}},
		{savings.Spread{Median: 3.412, Low: 3.412, High: 3.4123}, [2]string{"3.41", "3.41"}, [2]string{"341", "341"}},
	} {
		assert.Equal(t, c.years, [2]string{Payback(c.s.Median), PaybackSpan(c.s)})
		if c.shares[0] != "" {
			assert.Equal(t, c.shares, [2]string{Percent(c.s.Median), PercentSpan(c.s)})
		}
	}
}
