package words

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/whatif"
)

// Both ends of an input have three digits, and no more decimals than the larger; what its third
// digit does not show of the other is about 0. "+2.27 USD" beside "−1,800,000 USD" was a figure of nothing.
func TestMovesAreWrittenToThePlaceOfTheLarger(t *testing.T) {
	s := &whatif.Sensitivities{Currency: "USD"}
	money, web := StakeReading(s, "npv", 2e6, model.Metric), StakeReading(s, "good_rate", 3, model.Metric)
	moves := func(r Stake, base, low, up float64) [2]string {
		x := whatif.Swing{Base: base, Low: low, Up: up}
		return [2]string{r.Moves(x, 0), r.Moves(x, 1)}
	}
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		r             Stake
		base, low, up float64
		want          [2]string
	}{
		{money, 2e6, 0.2e6, 2e6 + 2.27, [2]string{"−1,800,000 USD", "about 0"}},
		{money, 2e6, 2e6 - 2.27, 3.8e6, [2]string{"about 0", "+1,800,000 USD"}},
		{money, 2e6, 0.2e6, 2e6 + 4999, [2]string{"−1,800,000 USD", "about 0"}}, // half of the place of the larger, 10,000
		{money, 2e6, 0.2e6, 2e6 + 5001, [2]string{"−1,800,000 USD", "+5,000 USD"}},
		{money, 2e6, 2e6 - 2.27, 2e6 + 1.5, [2]string{"−2.27 USD", "+1.50 USD"}},
		{money, 100, 100 - 2272, 100 + 1199, [2]string{"−2,270 USD", "+1,200 USD"}},
		{money, 2e6, nan, 2e6 + 227, [2]string{"not possible", "+227 USD"}},
		{money, 2e6, 2e6, 2e6 + 227, [2]string{NotShown, "+227 USD"}},
		{web, 3, 3 - 1.1/60, 3 + 1.03/60, [2]string{"−1.10 m/min", "+1.03 m/min"}},
		{web, 3, 3 - 19.8/60, 3 + 0.04/60, [2]string{"−19.8 m/min", "about 0"}},
		{web, 3, 3 - 19.8/60, 3 + 0.06/60, [2]string{"−19.8 m/min", "+0.1 m/min"}},
		{StakeReading(s, "payback", 2, model.Metric), 2, 1.75, inf, [2]string{"−0.250 years", "never"}},
	} {
		assert.Equal(t, c.want, moves(c.r, c.base, c.low, c.up), "%g: %g to %g", c.base, c.low, c.up)
	}
}
