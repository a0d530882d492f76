package table

import (
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

func sensitivityText(t *testing.T, s *whatif.Sensitivities, run replicate.RunInfo) string {
	t.Helper()
	return invented.Written(t, func(w io.Writer) error { return Sensitivity(w, about, s, run, model.Metric, Screen{}) })
}

// Differences of shares are points; what is not shown is "~"; what never comes
// is never; each only where it is so.
func TestSensitivityTable(t *testing.T) {
	run := replicate.RunInfo{Replications: 10, Confidence: 0.95}
	text := sensitivityText(t, invented.Sensed(), run)
	invented.Golden(t, "sensitivity.txt", []byte(text))
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, words.Columns(line), usual, line)
	}
	flat := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	text = flat(text)
	for _, want := range []string{"total waste, now 4.680 ± 0.040 %", "−0.180 points +0.220 points mean 18.9 … 23.1 m", "not possible +12.0 m/min", "net present value after tax, now 150,000 ± 4,000 EUR",
		"−50,000 EUR +60,000 EUR", "payback after tax, now 3.00 ± 0.10 years", "never −0.500 years", "and 1 input that moves it less or not significantly",
		"~ no significant difference", "Not moved: line.stop_scrap: it is 0.", "Not known: payback: nothing more is invested.", "moves in both alternatives"} {
		assert.Contains(t, text, want)
	}
	for _, want := range []string{"random variation between periods of 15 d (sd 0.08 points over 60)", "jobs.length 85 ± 20 %",
		"and 2 sources that add less or nothing significant", "and 1 source that adds less or nothing significant", "it does not vary between periods of 15 d", "each source is redrawn alone"} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "unwind.dwell", "it is not shown to add anything")
	assert.NotContains(t, text, "jobs.scrap", "what is not shown to move it does not rank")
	alone := invented.Sensed()
	alone.Varies = map[string]whatif.Varies{"waste.total": {SD: 1, Periods: 60, Sources: []whatif.Source{{Key: "x", Share: 0.1, Half: 0.2}}}}
	assert.Contains(t, sensitivityText(t, alone, run), "no source adds to it significantly")
	alone.Varies = nil
	alone.Against, alone.Metrics, alone.Skipped, alone.Lacking, alone.Taxed = "", []string{"waste.total"}, nil, nil, false
	alone.Swings["waste.total"] = alone.Swings["waste.total"][1:]
	text = flat(sensitivityText(t, alone, run))
	assert.Contains(t, text, "no input moves it significantly")
	for _, not := range []string{"random variation", "redrawn", "both alternatives", "Not moved", "Not known", "and 1 input"} {
		assert.NotContains(t, text, not)
	}
	assert.NotContains(t, text, "in a first replication")
	glanced := invented.Sensed()
	for _, list := range glanced.Swings {
		for i := range list {
			list[i].Glanced = true
		}
	}
	text = flat(sensitivityText(t, glanced, run))
	assert.Contains(t, text, "inputs that moved it least in a first replication are not followed further")
	assert.Contains(t, text, "no input moves it significantly")
	assert.NotContains(t, text, "−0.18 points", "one replication cannot tell a difference from noise")
	run.Replications = 1
	text = flat(sensitivityText(t, alone, run))
	assert.Contains(t, text, "one replication cannot tell a difference from noise")
	assert.NotContains(t, text, "significant difference")
	assert.Equal(t, "net present value before tax", words.StakeReading(alone, "npv", 1, model.Metric).Label)
	never := whatif.Swing{Low: 4, Base: math.Inf(1), Up: math.Inf(1)}
	assert.Equal(t, "4.00 years", words.StakeReading(alone, "payback", 1, model.Metric).Moves(never, 0))
	assert.Equal(t, "120 ± ? m/min", words.StakeReading(alone, "good_rate", 2, model.Metric).Level(2, math.Inf(1)), "few events carry it")
	assert.Equal(t, "never", words.StakeReading(alone, "payback", 1, model.Metric).Level(math.Inf(1), 0))
}

func TestFromTo(t *testing.T) {
	for _, x := range [][3]string{{"mean 3.6 min", "mean 4.4 min", "mean 3.6 … 4.4 min"}, {"108 m/min", "132 m/min", "108 … 132 m/min"}, {"1", "3", "1 … 3"}, {"x 0.9", "x 1.1", "x 0.9 … x 1.1"},
		{"mean 54 s", "mean 1.1 min", "mean 54 s … 1.1 min"}, {"sd 1.35 m", "sd 1.65 m", "sd 1.35 … 1.65 m"}} {
		assert.Equal(t, x[2], fromTo(x[0], x[1]))
	}
}
