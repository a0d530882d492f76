package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

func TestMakesSentence(t *testing.T) {
	rs := &replicate.Results{Run: replicate.RunInfo{Replications: 20, Confidence: 0.9}, Alternatives: []replicate.Result{{Alternative: "base", Metrics: replicate.Metrics{metric.GoodRate: shown(2, 0.05)}}}}
	assert.Equal(t, `"base" makes 120.0 ± 3.0 m/min of good web, at 90 % confidence.`, MakesSentence(rs, 0, model.Metric))
	assert.Equal(t, `"base" makes 393.7 ± 9.8 ft/min of good web, at 90 % confidence.`, MakesSentence(rs, 0, model.Imperial))
	rs.Run.Replications = 1
	rs.Alternatives[0].Metrics[metric.GoodRate] = estimate.Estimate{Mean: 2, N: 1, Why: estimate.OneReplication}
	assert.Equal(t, `"base" makes 120 m/min of good web in one replication, which does not say how sure that is.`, MakesSentence(rs, 0, model.Metric))
}
