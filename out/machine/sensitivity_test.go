package machine

import (
	"encoding/json"
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/replicate"
)

func TestSensitivityJSON(t *testing.T) {
	text := invented.Written(t, func(w io.Writer) error {
		return SensitivityJSON(w, about, invented.Sensed(), replicate.RunInfo{Replications: 10}, model.Metric)
	})
	var j struct {
		Against string
		By      float64 `json:"moved_by"`
		Metrics []struct {
			Metric, Label, Unit string
			Apart               string `json:"difference_unit"`
			Inputs              []struct {
				Key       string
				Low, High struct {
					Mean, Difference *float64
					Half             *float64 `json:"difference_half_width"`
					Shown            *bool
				}
			}
			Varies *struct {
				Period  float64 `json:"period_s"`
				SD      float64
				Sources []struct {
					Key   string
					Share float64
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(text), &j))
	assert.Equal(t, "by hand", j.Against)
	assert.Equal(t, 0.1, j.By)
	waste := j.Metrics[0]
	assert.Equal(t, "1", waste.Unit)
	assert.Equal(t, "points", waste.Apart)
	assert.InDelta(t, -0.18, *waste.Inputs[0].Low.Difference, 1e-12)
	assert.InDelta(t, 0.01, *waste.Inputs[0].Low.Half, 1e-12)
	assert.InDelta(t, 0.045, *waste.Inputs[0].Low.Mean, 1e-12)
	assert.True(t, *waste.Inputs[0].Low.Shown)
	assert.False(t, *waste.Inputs[1].Low.Shown)
	require.NotNil(t, waste.Varies)
	assert.Equal(t, 15*86400., waste.Varies.Period)
	assert.Equal(t, 0.0008, waste.Varies.SD)
	assert.Equal(t, "jobs.length", waste.Varies.Sources[0].Key)
	assert.Equal(t, 0.85, waste.Varies.Sources[0].Share)
	assert.Nil(t, j.Metrics[3].Varies)
	good := j.Metrics[1]
	assert.Equal(t, "m/s", good.Apart)
	assert.InDelta(t, 0.2, *good.Inputs[0].High.Difference, 1e-12)
	assert.Nil(t, good.Inputs[0].Low.Mean)
	assert.Nil(t, good.Inputs[0].Low.Shown)
	assert.Equal(t, "EUR", j.Metrics[2].Unit)
	assert.Nil(t, j.Metrics[3].Inputs[0].Low.Mean, "never is null")
}
