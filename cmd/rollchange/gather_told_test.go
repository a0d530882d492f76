package main

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/out/report"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
	"rollchange/sim/whatif"
)

// What an input moves is laid to the figure of the answer: the differences stay, the base
// is the one that the page has everywhere.
func TestMovesStandBesideTheAnswer(t *testing.T) {
	swing := func() []whatif.Swing {
		return []whatif.Swing{{Key: "line.speed", Low: 90, Base: 100, Up: 115, LowHalf: 3, UpHalf: 4, BaseHalf: 7}, {Key: "web.width", Low: math.NaN(), Base: 100, Up: math.Inf(1)}}
	}
	good := estimate.Estimate{Mean: 104, HalfWidth: 1}
	c := &report.Content{Answer: 1, Stakes: &whatif.Sensitivities{Swings: map[string][]whatif.Swing{metric.GoodRate: swing(), "npv": swing(), "other": swing()}},
		Results: &replicate.Results{Alternatives: []replicate.Result{{}, {Metrics: replicate.Metrics{metric.GoodRate: good}}}},
		Cases:   []*savings.Case{nil, {Random: &savings.Random{}}}}
	c.Cases[1].Random.NPV.Mean = 1000
	shareBase(c)
	for name, base := range map[string]float64{metric.GoodRate: 104, "npv": 1000, "other": 100} {
		s := c.Stakes.Swings[name][0]
		assert.Equal(t, [3]float64{base - 10, base, base + 15}, [3]float64{s.Low, s.Base, s.Up}, name)
		assert.Equal(t, [2]float64{3, 4}, [2]float64{s.LowHalf, s.UpHalf})
		other := c.Stakes.Swings[name][1]
		assert.True(t, math.IsNaN(other.Low) && math.IsInf(other.Up, 1), "no possible line stays none")
	}
	assert.Equal(t, 1., c.Stakes.Swings[metric.GoodRate][0].BaseHalf, "as known as in the answer")
}

// The point of a sweep at what the scenario has is that of the answer; others, and one that
// was only reckoned, stay as they are.
func TestThePresentPointIsThatOfTheAnswer(t *testing.T) {
	of := func(mean float64, n int) *replicate.Results {
		m := replicate.Metrics{metric.GoodRate: {Mean: mean}}
		return &replicate.Results{Run: replicate.RunInfo{Replications: n}, Alternatives: []replicate.Result{{Alternative: "a", Metrics: m}, {Alternative: "b", Metrics: m}}, Differences: []replicate.Metrics{nil, {}}}
	}
	w := &whatif.Sweep{Alternatives: []string{"a", "b"}, Axes: []whatif.Axis{{Values: []float64{1, 2, 3}, Now: map[int]float64{0: 2, 1: 2}}},
		Points: []whatif.Point{{At: []int{0}, Results: of(10, 3)}, {At: []int{1}, Results: of(11, 3)}, {At: []int{2}}}}
	answer := of(12, 20)
	pin(w, answer, []int{0, 1})
	assert.Equal(t, 10., w.Points[0].Results.Alternatives[0].Metrics[metric.GoodRate].Mean)
	assert.Equal(t, 12., w.Points[1].Results.Alternatives[1].Metrics[metric.GoodRate].Mean)
	assert.Equal(t, 20, w.Points[1].Results.Run.Replications)
	assert.Len(t, w.Points[1].Binds, 2)
	assert.Nil(t, w.Points[2].Results)
	one := &whatif.Sweep{Alternatives: []string{"b"}, Axes: []whatif.Axis{{Values: []float64{2}, Now: map[int]float64{0: 2}}}, Points: []whatif.Point{{At: []int{0}, Results: of(11, 3), Reckoned: true}}}
	pin(one, answer, []int{1})
	assert.Equal(t, 11., one.Points[0].Results.Alternatives[0].Metrics[metric.GoodRate].Mean)
}

// What stands in [report] stands at the head of the page, a flag goes before it, and a day
// that is none is refused before any simulation.
func TestTheHeadOfAReport(t *testing.T) {
	if testing.Short() {
		t.Skip("a whole report")
	}
	t.Chdir(t.TempDir())
	code, _, errs := call(t, "", "new", "line.toml")
	require.Equal(t, exitAnswered, code, errs)
	text, err := os.ReadFile("line.toml")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("line.toml", append(text, "\n[report]\ncustomer = \"Example Labels\"\ndate = \"2026-03-31\"\n"...), 0o600))
	code, _, errs = callIn(together, "", "report", "line.toml", "-o", "line.html", "--replications", "2", "--horizon", "2 d", "--author", "A. Planner", "--set", "report.date=2026-04-01", "--risk", "1e-3")
	require.Equal(t, exitAnswered, code, errs)
	page, err := os.ReadFile("line.html")
	require.NoError(t, err)
	for _, want := range []string{"<bdi>Example Labels</bdi>", "<bdi>A. Planner</bdi>", "<bdi>2026-04-01</bdi>", "the target that was set, 1e-3", words.Keyless("report.date = 2026-04-01")} {
		assert.Contains(t, string(page), want)
	}
	for _, args := range [][]string{{"--date", "31.3.2026"}, {"--set", "report.date=yesterday"}, {"--risk", "often"}} {
		code, _, errs = call(t, "", append([]string{"report", "line.toml", "-o", "other.html"}, args...)...)
		assert.Equal(t, exitBad, code, args)
		assert.True(t, strings.Contains(errs, "YYYY-MM-DD") || strings.Contains(errs, "--risk"), errs)
	}
	assert.NoFileExists(t, "other.html")
}
