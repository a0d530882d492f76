package machine

import (
	"encoding/json"
	"io"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// The figures of a ridge stand in JSON and CSV as numbers, not in sentences alone.
func TestRidgeForPrograms(t *testing.T) {
	a := &whatif.Answer{Kind: whatif.Roll, Of: whatif.FinishedRoll, Dim: model.Length, Met: true, Value: 69.5, Low: 69.5, High: 69.5, Now: 100,
		Notes: []whatif.Note{whatif.RollIs{Diameter: 0.101, Wraps: 250, Mass: 2.29}, whatif.SeamRidgeOf{Oscillation: 0.001, Length: 100, Ridge: 0.00684, Allowed: 0.005}}}
	var j struct{ Roll, Ridge map[string]float64 }
	text := invented.Written(t, func(w io.Writer) error {
		return AnswersJSON(w, words.About{}, []*whatif.Answer{a}, replicate.RunInfo{}, model.Metric)
	})
	require.NoError(t, json.Unmarshal([]byte(text), &j))
	assert.Equal(t, map[string]float64{"diameter_m": 0.101, "wraps": 250, "web_kg": 2.29}, j.Roll)
	assert.Equal(t, map[string]float64{"roll_m": 100, "oscillation_m": 0.001, "ridge_m": 0.00684, "allowed_m": 0.005}, j.Ridge)
	text = invented.Written(t, func(w io.Writer) error { return AnswersCSV(w, []*whatif.Answer{a}) })
	for _, row := range []string{",true,answer,,,m,69.5,69.5,69.5\n", ",true,roll,diameter,,m,0.101,,\n", ",true,roll,wraps,,1,250,,\n", ",true,roll,web,,kg,2.29,,\n", ",true,ridge,roll,,m,100,,\n",
		",true,ridge,oscillation,,m,0.001,,\n", ",true,ridge,ridge,,m,0.00684,,\n", ",true,ridge,allowed,,m,0.005,,\n"} {
		assert.Contains(t, text, row)
	}
	moved := &whatif.Answer{Kind: whatif.Roll, Of: whatif.Oscillation, Dim: model.Thickness, Value: 0.008, Low: 0.008, High: 0.008, Now: math.NaN()}
	text = invented.Written(t, func(w io.Writer) error { return AnswersCSV(w, []*whatif.Answer{moved}) })
	assert.Contains(t, text, "roll,oscillation,,false,answer,,,m,0.008,0.008,0.008\n", "an oscillation is in metres for programs")
	assert.NotContains(t, text, "ridge")
}
