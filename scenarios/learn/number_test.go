package learn

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
)

// A law says how many values stand behind it where it does not hold them itself.
func TestLawSaysHowManyValues(t *testing.T) {
	many := model.Dist{Law: model.Empirical, Observed: 300}
	for i := range 300 {
		many.Values = append(many.Values, float64(60+i))
	}
	assert.Contains(t, law(many), `], observed = 300 }`, "only some of its quantiles are written")
	assert.Equal(t, `{ dist = "empirical", values = ["60 s", "61 s"] }`, law(model.Dist{Law: model.Empirical, Values: []float64{61, 60}, Observed: 2}))
	assert.Equal(t, `{ dist = "lognormal", mean = "90 s", sd = "30 s", observed = 40 }`, law(model.Dist{Law: model.Lognormal, A: 90, B: 30, Observed: 40}))
	assert.Equal(t, `{ dist = "weibull", shape = 1.5, scale = "60 s", least = "10 s", observed = 7 }`, law(model.Dist{Law: model.Weibull, A: 1.5, B: 60, Least: 10, Observed: 7}))
	assert.Equal(t, `{ dist = "exponential", mean = "60 s" }`, law(model.Dist{Law: model.Exponential, A: 60}))
	assert.Equal(t, `"60 s"`, law(model.Dist{Law: model.Fixed, A: 60, Observed: 9}), "what does not vary has no law")
}
