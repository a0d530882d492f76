package out

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/whatif"
)

// sensed is an invented sensitivity of a share, a speed and money.
func sensed() *whatif.Sensitivities {
	nan, inf := math.NaN(), math.Inf(1)
	return &whatif.Sensitivities{Period: 15 * 86400, Varies: map[string]whatif.Varies{
		"waste.total": {SD: 0.0008, Periods: 60, Sources: []whatif.Source{{Key: "jobs.length", Share: 0.85, Half: 0.2}, {Key: "unwind.dwell", Share: 0.3, Half: 0.4}, {Key: "web_breaks.mean_length", Share: 0.004, Half: 0.001}}},
		"good_rate":   {SD: 0.01, Periods: 60, Sources: []whatif.Source{{Key: "jobs.length", Share: 0.9, Half: 0.2}, {Key: "unwind.dwell", Share: 0.3, Half: 0.4}}},
		"npv":         {Periods: 60},
	}, Alternative: "automatic", Against: "by hand", Currency: "EUR", Taxed: true, Share: 0.1,
		Metrics: []string{"waste.total", "good_rate", "npv", "payback"}, Skipped: []string{"line.stop_scrap: it is 0"}, Lacking: []string{"x: y"},
		Swings: map[string][]whatif.Swing{
			"waste.total": {{Key: "line.restart_scrap", LowText: "mean 18.9 m", BaseText: "lognormal, mean 21 m, sd 8 m", High: "mean 23.1 m", Low: 0.045, Base: 0.0468, Up: 0.049, LowHalf: 0.0001, BaseHalf: 0.0004, UpHalf: 0.0001, Total: nan},
				{Key: "jobs.scrap", LowText: "54 m", BaseText: "60 m", High: "66 m", Low: 0.0467, Base: 0.0468, Up: 0.0469, LowHalf: 0.01, BaseHalf: 0.0004, UpHalf: 0.01, Total: nan}},
			"good_rate": {{Key: "line.speed", LowText: "108 m/min", BaseText: "120 m/min", High: "132 m/min", Low: nan, Base: 2, Up: 2.2, LowHalf: nan, BaseHalf: 0.02, UpHalf: 0.01, Total: 0.5}},
			"npv":       {{Key: "economics.price", LowText: "0.18 EUR/m2", BaseText: "0.2 EUR/m2", High: "0.22 EUR/m2", Low: 100000, Base: 150000, Up: 210000, LowHalf: 1000, BaseHalf: 4000, UpHalf: 1000, Total: nan}},
			"payback":   {{Key: "economics.price", LowText: "0.18 EUR/m2", BaseText: "0.2 EUR/m2", High: "0.22 EUR/m2", Low: inf, Base: 3, Up: 2.5, LowHalf: nan, BaseHalf: 0.1, UpHalf: 0.01, Total: nan}},
		}}
}

func sensitivityText(t *testing.T, s *whatif.Sensitivities, run sim.RunInfo) string {
	t.Helper()
	return written(t, func(w io.Writer) error { return SensitivityTable(w, about, s, run, model.Metric, false) })
}

// Differences of shares are points; what is not shown is "~"; what never comes
// is never; each only where it is so.
func TestSensitivityTable(t *testing.T) {
	run := sim.RunInfo{Replications: 10, Confidence: 0.95}
	text := sensitivityText(t, sensed(), run)
	golden(t, "sensitivity.txt", []byte(text))
	for _, want := range []string{"waste in all, now 4.680 ± 0.040 %", "−0.18 points     +0.22 points         mean 18.9 … 23.1 m", "no such line        +12 m/min", "net present value after tax, now 150,000 ± 4,000 EUR",
		"−50,000 EUR      +60,000 EUR", "payback after tax, now 3.00 ± 0.10 years", "never       −0.5 years", "and 1 input that moves it less, or is not shown to move it",
		"~ no\ndifference shown", "Not moved: line.stop_scrap: it is 0.", "Not known: x: y.", "line in both alternatives"} {
		assert.Contains(t, text, want)
	}
	for _, want := range []string{"by chance, from one 15 d to the next (sd 0.08 points in 60 of them)", "jobs.length                                                          85.0 ± 20.0 %",
		"    and 2 sources that add less, or are not shown to add anything", "    and 1 source that adds less, or is not shown to add anything", "it does not vary from one 15 d to the next", "each source of chance drawn anew"} {
		assert.Contains(t, strings.ReplaceAll(text, "each source of chance drawn anew\n", "each source of chance drawn anew "), want)
	}
	assert.NotContains(t, text, "unwind.dwell", "it is not shown to add anything")
	assert.NotContains(t, text, "jobs.scrap", "what is not shown to move it does not rank")
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, columns(line), 100, line)
	}
	alone := sensed()
	alone.Varies = map[string]whatif.Varies{"waste.total": {SD: 1, Periods: 60, Sources: []whatif.Source{{Key: "x", Share: 0.1, Half: 0.2}}}}
	assert.Contains(t, sensitivityText(t, alone, run), "no source is shown to add to it")
	alone.Varies = nil
	alone.Against, alone.Metrics, alone.Skipped, alone.Lacking, alone.Taxed = "", []string{"waste.total"}, nil, nil, false
	alone.Swings["waste.total"] = alone.Swings["waste.total"][1:]
	text = sensitivityText(t, alone, run)
	assert.Contains(t, text, "no input is shown to move it")
	for _, not := range []string{"by chance", "chance drawn anew", "both alternatives", "Not moved", "Not known", "and 1 input"} {
		assert.NotContains(t, text, not)
	}
	run.Replications = 1
	text = sensitivityText(t, alone, run)
	assert.Contains(t, text, "one replication says nothing of which differences are more than chance")
	assert.NotContains(t, text, "no difference shown")
	assert.Equal(t, "net present value before tax", stakeReading(alone, "npv", 1, model.Metric).label)
	never := whatif.Swing{Low: 4, Base: math.Inf(1), Up: math.Inf(1)}
	assert.Equal(t, "4.00 years", stakeReading(alone, "payback", 1, model.Metric).moves(never, 0))
	assert.Equal(t, "120 ± ? m/min", stakeReading(alone, "good_rate", 2, model.Metric).level(2, math.Inf(1)), "few events carry it")
	assert.Equal(t, "never", stakeReading(alone, "payback", 1, model.Metric).level(math.Inf(1), 0))
}

func TestSensitivityJSON(t *testing.T) {
	text := written(t, func(w io.Writer) error { return SensitivityJSON(w, about, sensed(), sim.RunInfo{Replications: 10}) })
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

func TestFromTo(t *testing.T) {
	for _, x := range [][3]string{{"mean 3.6 min", "mean 4.4 min", "mean 3.6 … 4.4 min"}, {"108 m/min", "132 m/min", "108 … 132 m/min"}, {"1", "3", "1 … 3"}, {"x 0.9", "x 1.1", "x 0.9 … x 1.1"},
		{"mean 54 s", "mean 1.1 min", "mean 54 s … 1.1 min"}, {"sd 1.35 m", "sd 1.65 m", "sd 1.35 … 1.65 m"}} {
		assert.Equal(t, x[2], fromTo(x[0], x[1]))
	}
}

// The picture of a figure of money, and of one that never pays back.
func TestStakesPlot(t *testing.T) {
	s := sensed()
	has(t, sound(t, "stakes-npv", StakesPlot(s, "npv", 10, model.Metric)), "Net present value after tax, thousand EUR: automatic", "0.18 EUR/m2", "in both alternatives")
	has(t, sound(t, "stakes-payback", StakesPlot(s, "payback", 10, model.Metric)), "Payback after tax, years: automatic", "0.18 EUR/m2: never")
	has(t, sound(t, "stakes-waste", StakesPlot(s, "waste.total", 10, model.Metric)), "Waste in all, %: automatic", "mean 18.9 m")
	assert.NotContains(t, fmt.Sprint(sound(t, "stakes-waste", StakesPlot(s, "waste.total", 10, model.Metric))), "jobs.scrap")
	s.Swings["npv"] = nil
	assert.Nil(t, StakesPlot(s, "npv", 10, model.Metric))
}
