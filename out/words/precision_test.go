package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/sim/metric"
	"rollchange/sim/whatif"
)

// What more replications would bring is said where the limit came first: half the half
// width takes four times as many. By hand: 40 (3 %/1 %)² = 360.
func TestPrecisionSaysWhatMoreWouldBring(t *testing.T) {
	p := whatif.Precision{Metric: metric.GoodRate, Half: 0.01, Most: 40}
	short := whatif.Reached{Precision: p, Worst: 0.03, Alternative: "base", Replications: 40}
	assert.Equal(t, 360.0, short.Needed())
	assert.Equal(t, "good web (good_rate): half width still 3 % of the mean after 40 replications, the most allowed; 1 % was asked for, which takes about 360", PrecisionSentence(short))
	enough := whatif.Reached{Precision: p, Worst: 0.008, Alternative: "other", Replications: 20, Enough: true}
	assert.Equal(t, "good web (good_rate): half width 0.8 % of the mean, \"other\" after 20 replications; 1 % was asked for", PrecisionSentence(enough))

	more := enough
	more.Worst, more.Replications = 0.009, 31
	assert.Equal(t, "good web (good_rate): half width 0.9 % of the mean or less at each of 2 points, after 20 to 31 replications; 1 % was asked for", PrecisionOfMany([]whatif.Reached{enough, more}))
	assert.Contains(t, PrecisionOfMany([]whatif.Reached{more, more}), "after 31 replications")
	assert.Equal(t, "at 1 of 3 points too few replications were allowed; the widest: "+PrecisionSentence(short), PrecisionOfMany([]whatif.Reached{enough, short, more}))
	for n, text := range map[float64]string{3.2: "4", 99: "99", 360: "360", 361: "370", 12345: "13,000"} {
		assert.Equal(t, text, aboutSoMany(n))
	}
}
