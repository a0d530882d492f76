package whatif

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// What the answer hangs on is known for this line: output on its speed, the
// depletion on dwell, storage and speed, and nothing on what it does not use.
func TestSensitivityFindsWhatMatters(t *testing.T) {
	s := withDwell(t, laws["lognormal"])
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{"good_rate", "splice.depletion", "transfer.overfill"}, Share: 0.1}, Options{})
	require.NoError(t, err)
	assert.Equal(t, []string{"good_rate", "splice.depletion"}, a.Metrics, "there is no rewind storage")
	speed := a.Swings["good_rate"][0]
	assert.Equal(t, "line.speed", speed.Key)
	assert.Equal(t, "135 m/min", speed.At[0].Text)
	assert.Equal(t, "165 m/min", speed.At[2].Text)
	assert.InDelta(t, -0.1, speed.Low/speed.Base-1, 0.01)
	assert.InDelta(t, 0.1, speed.Up/speed.Base-1, 0.01)
	top := map[string]bool{}
	for _, w := range a.Swings["splice.depletion"][:3] {
		top[w.Key] = true
	}
	assert.True(t, top["line.speed"] && top["unwind.dwell"] && top["unwind.storage.capacity"], "%v", top)
	for _, list := range a.Swings {
		for i := 1; i < len(list); i++ {
			assert.GreaterOrEqual(t, list[i-1].Size(), list[i].Size(), "sorted")
		}
	}
}

// swingOf is what moving a key does to a metric.
func swingOf(t *testing.T, a *Sensitivities, metric, key string) Swing {
	t.Helper()
	for _, w := range a.Swings[metric] {
		if w.Key == key {
			return w
		}
	}
	t.Fatalf("%s is not moved; skipped: %v", key, a.Skipped)
	return Swing{}
}

// Moving one input is the plain run of the scenario with that input changed.
func TestSwingIsAPlainRun(t *testing.T) {
	s := withDwell(t, laws["gamma"])
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{"good_rate"}, Share: 0.1}, Options{})
	require.NoError(t, err)
	q := newSearch(context.Background(), s, Options{}, "line.speed", "m/s")
	at, err := q.at(2.25)
	require.NoError(t, err)
	assert.InEpsilon(t, at.Metrics["good_rate"].Mean, swingOf(t, a, "good_rate", "line.speed").Low, 1e-9)
}

// What is not known of a law is its mean: it is moved by the share, the shape
// kept, whatever the law. That an exponential spreads widely is chance.
func TestALawIsMovedByItsMean(t *testing.T) {
	s := twoWays(t)
	for _, share := range []float64{0.1, 0.25} {
		a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{"good_rate"}, Share: share}, Options{})
		require.NoError(t, err)
		w := swingOf(t, a, "good_rate", "stop[0].every")
		low, err := s.Again(scenarios.Override{Key: "stop[0].every.mean", Value: map[float64]string{0.1: "1.8 h", 0.25: "1.5 h"}[share]})
		require.NoError(t, err)
		rs, err := replicate.Simulate(context.Background(), &low.Study, replicate.Options{})
		require.NoError(t, err)
		assert.InEpsilon(t, rs.Alternatives[1].Metrics["good_rate"].Mean, w.Low, 1e-12)
		assert.Equal(t, Setting{How: Mean, Text: map[float64]string{0.1: "1.8 h", 0.25: "1.5 h"}[share]}, w.At[0])
		dwell := swingOf(t, a, "good_rate", "unwind.dwell")
		assert.Equal(t, Setting{How: Mean, Text: map[float64]string{0.1: "7.2 s", 0.25: "6 s"}[share]}, dwell.At[0])
		// Stops take 1/21 of the hours: a mean that is 10 % off moves the output by
		// about 0.5 %, its 10 % point (a tenth of the mean) would by a third.
		assert.Less(t, w.Size(), share*w.Base/8)
		assert.Equal(t, "line.speed", a.Swings["good_rate"][0].Key)
	}
}

// A difference that is not shown does not rank, however large it looks.
func TestNoiseDoesNotRank(t *testing.T) {
	nan := math.NaN()
	w := Swing{Low: 1, LowHalf: 5, Base: 3, Up: 3.5, UpHalf: 0.4}
	assert.False(t, w.Shown(0))
	assert.True(t, w.Shown(1))
	assert.Equal(t, 0.5, w.Size())
	assert.Zero(t, Swing{Low: nan, Base: 3, Up: 3, LowHalf: nan}.Size())
	assert.Equal(t, 1., Swing{Low: 2, Base: 3, Up: 3, LowHalf: nan, UpHalf: nan}.Size(), "one replication: nothing is known of noise")
}

func TestValuesInAFileAreNotMoved(t *testing.T) {
	_, why := rangeOf(scenarios.Input{Key: "unwind.dwell", InFile: true}, 0.1, "metric")
	assert.Equal(t, FromFile, why)
}

// On a line whose output is speed times a share, the total effect of the speed is
// nearly all of the variance.
func TestTotalEffects(t *testing.T) {
	t.Parallel()
	s := withDwell(t, laws["gamma"])
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{"good_rate"}, Share: 0.1, Total: 64, Inputs: 3}, Options{})
	require.NoError(t, err)
	assert.Equal(t, "line.speed", a.Swings["good_rate"][0].Key)
	assert.InDelta(t, 1, a.Swings["good_rate"][0].Total, 0.1)
	assert.False(t, a.Swings["good_rate"][1].Total >= 0.1, "NaN where the input moves nothing at all")
}

const prices = `
[web]
width = "0.5 m"
[economics]
hours_per_year = "4000 h"
price = 0.2
demand = { dist = "triangular", min = "16000 km", mode = "18000 km", max = "30000 km" }
crew_cost = 30
discount_rate = "8 %"
life = 10
[run]`

// priced is the pair with prices.
func priced(t *testing.T, replaced ...string) *scenarios.Scenario {
	t.Helper()
	text := strings.NewReplacer("[run]", prices, "name = \"automatic\"", "name = \"automatic\"\ninvestment = 100000").Replace(pair)
	s, err := scenarios.Parse("pair.toml", []byte(strings.NewReplacer(replaced...).Replace(text)), ".")
	require.NoError(t, err)
	return s
}

func moneyOf(t *testing.T, s *scenarios.Scenario, metrics ...string) *Sensitivities {
	t.Helper()
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: metrics, Share: 0.1}, Options{})
	require.NoError(t, err)
	return a
}

// figuresOf are the figures of a scenario, simulated on its own.
func figuresOf(t *testing.T, s *scenarios.Scenario) savings.Figures {
	t.Helper()
	rs, err := replicate.Simulate(context.Background(), &s.Study, replicate.Options{})
	require.NoError(t, err)
	f, err := new(savings.Draws).FiguresOf(&s.Study, rs, 0, 1, savings.Options{Draws: savings.DefaultDraws})
	require.NoError(t, err)
	return f
}

// A figure of money with an input of the line moved is that of the scenario
// with the input changed in both alternatives, by its own value in each.
func TestMoneyIsMovedInBothAlternatives(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("each input simulated again; TestMoneyMovesWithPrices has one")
	}
	s := priced(t, "name = \"automatic\"", "name = \"automatic\"\nline.stop_scrap = \"4 m\"", "decel = \"0.5 m/s2\"\n[unwind]", "decel = \"0.5 m/s2\"\nstop_scrap = \"2 m\"\n[unwind]")
	a := moneyOf(t, s, "savings", "npv", "payback", "good_rate")
	assert.Equal(t, []string{"savings", "npv", "payback", "good_rate"}, a.Metrics)
	assert.Equal(t, "by hand", a.Against)
	assert.Equal(t, "automatic", a.Alternative)
	now := figuresOf(t, s)
	for k, name := range savings.FigureNames {
		assert.Equal(t, now.Value[k], a.Swings[name][0].Base, name)
	}
	for key, over := range map[string]scenarios.Override{
		"line.speed":         {Key: "line.speed", Value: "132 m/min"},
		"unwind.roll_length": {Key: "unwind.roll_length", Value: "1650 m"},
		"unwind.change_time": {Key: "unwind.change_time", Factor: 1.1},
		"unwind.dwell":       {Key: "unwind.dwell", Factor: 1.1},
		"line.stop_scrap":    {Key: "line.stop_scrap", Factor: 1.1},
		"crew.operators":     {Key: "crew.operators", Value: "2"},
	} {
		c, err := s.Again(over)
		require.NoError(t, err)
		f := figuresOf(t, c)
		for k, name := range savings.FigureNames {
			w := swingOf(t, a, name, key)
			// The mean over draws of what the simulation leaves open is that of the base.
			within := 0.05*math.Abs(w.Up-w.Base) + 1e-5*math.Abs(w.Up)
			if name == "payback" {
				within = 0.05 * w.Up
			}
			assert.InDelta(t, f.Value[k], w.Up, within, "%s of %s", name, key)
			assert.False(t, math.IsNaN(w.UpHalf), "%s of %s", name, key)
		}
	}
	assert.Equal(t, Setting{How: Times, Amount: 1.1}, swingOf(t, a, "npv", "line.stop_scrap").At[2], "the two have values of their own")
	assert.Equal(t, "4.4 m", swingOf(t, a, "good_rate", "line.stop_scrap").At[2].Text, "that of the one that is looked at")
	assert.Equal(t, "132 m/min", swingOf(t, a, "npv", "line.speed").At[2].Text)
	alone, beside := swingOf(t, moneyOf(t, s, "good_rate"), "good_rate", "line.speed"), swingOf(t, a, "good_rate", "line.speed")
	alone.Total, beside.Total = 0, 0
	assert.Equal(t, alone, beside, "a figure of the line is that of the alternative")
}

// Whole numbers that differ are moved by one in each.
func TestWholeNumbersOfTheirOwnAreMovedByOne(t *testing.T) {
	t.Parallel()
	s := priced(t, "name = \"automatic\"", "name = \"automatic\"\ncrew.operators = 3")
	a := moneyOf(t, s, "npv")
	w := swingOf(t, a, "npv", "crew.operators")
	assert.Equal(t, Setting{How: Step, Amount: 1}, w.At[2])
	c, err := s.Again(scenarios.Override{Key: "crew.operators", Value: "2", Of: "by hand"}, scenarios.Override{Key: "crew.operators", Value: "4", Of: "automatic"})
	require.NoError(t, err)
	assert.Equal(t, 2, c.Study.Alternatives[0].Line.Crew.Operators)
	assert.Equal(t, 4, c.Study.Alternatives[1].Line.Crew.Operators)
	assert.InDelta(t, figuresOf(t, c).Value[1], w.Up, 0.05*math.Abs(w.Up-w.Base))
}

// Economic inputs rank among those of the line, moved by the same share.
func TestMoneyMovesWithPrices(t *testing.T) {
	t.Parallel()
	s := priced(t)
	a := moneyOf(t, s, "npv")
	c, err := scenarios.Parse(s.Name, []byte(strings.Replace(string(s.Text), "price = 0.2", "price = 0.22", 1)), ".")
	require.NoError(t, err)
	w := swingOf(t, a, "npv", "economics.price")
	assert.InDelta(t, figuresOf(t, c).Value[1], w.Up, 0.05*math.Abs(w.Up-w.Base))
	near := func(want, got Setting) {
		t.Helper()
		assert.InEpsilon(t, want.Amount, got.Amount, 1e-9)
		got.Amount = want.Amount
		assert.Equal(t, want, got)
	}
	near(Setting{Amount: 0.22, Unit: "EUR/m2"}, w.At[2])
	near(Setting{How: Mean, Amount: 64e6 / 3 * 1.1, Unit: "m"}, swingOf(t, a, "npv", "economics.demand").At[2])
	near(Setting{Amount: 110000, Unit: "EUR"}, swingOf(t, a, "npv", "alternative.investment").At[2])
}

func TestNoPaybackWithoutAnInvestment(t *testing.T) {
	t.Parallel()
	a := moneyOf(t, priced(t, "investment = 100000", ""), "npv", "payback")
	assert.Equal(t, []string{"npv"}, a.Metrics)
	assert.Equal(t, []Lack{{"payback", NoInvestment}}, a.Lacking)
}

// Without a price the case is that of a demand that both meet; a slower line that
// no longer meets it is moved to all the same.
func TestMoneyOfALineThatNoLongerMeetsTheDemand(t *testing.T) {
	t.Parallel()
	s := priced(t, "price = 0.2\n", "", `demand = { dist = "triangular", min = "16000 km", mode = "18000 km", max = "30000 km" }`, `demand = "20500 km"`)
	now := figuresOf(t, s)
	slow, err := s.Again(scenarios.Override{Key: "line.speed", Value: "108 m/min"})
	require.NoError(t, err)
	rs, err := replicate.Simulate(context.Background(), &slow.Study, replicate.Options{})
	require.NoError(t, err)
	_, err = savings.New(&slow.Study, rs, 1, savings.Options{Draws: 100})
	var needs *savings.NeedsError
	require.ErrorAs(t, err, &needs, "on its own it would ask for a price: %g m/s", rs.Alternatives[0].Metrics["good_rate"].Mean)
	a := moneyOf(t, s, "npv")
	assert.InEpsilon(t, now.Value[1], a.Swings["npv"][0].Base, 1e-12)
	assert.False(t, math.IsNaN(swingOf(t, a, "npv", "line.speed").Low))
}

func TestMoneyNeedsPrices(t *testing.T) {
	_, err := Sensitivity(context.Background(), twoWays(t), SensitivityQuestion{Metrics: []string{"npv"}, Share: 0.1}, Options{})
	var needs *savings.NeedsError
	assert.ErrorAs(t, err, &needs)
	_, err = Sensitivity(context.Background(), Only(priced(t), 1), SensitivityQuestion{Metrics: []string{"npv"}, Share: 0.1}, Options{})
	assert.ErrorContains(t, err, "with the first")
}

// An end is shown where the interval of its difference leaves out 0, whatever
// its shape; of what few events carry nothing is shown.
func TestReachOfADifference(t *testing.T) {
	nan := math.NaN()
	for _, x := range []struct {
		d     estimate.Estimate
		shown bool
	}{
		{estimate.Estimate{Mean: 2, Low: 1, High: 3, HalfWidth: 1}, true},
		{estimate.Estimate{Mean: 2, Low: -1, High: 5, HalfWidth: 3}, false},
		{estimate.Estimate{Mean: 2, Low: 0.5, High: 6, HalfWidth: nan, Why: estimate.Skewed}, true},
		{estimate.Estimate{Mean: -2, Low: -6, High: -0.5, HalfWidth: nan, Why: estimate.Skewed}, true},
		{estimate.Estimate{Mean: -2, Low: -3, High: 0.5, HalfWidth: nan, Why: estimate.Skewed}, false},
		{estimate.Estimate{Mean: 2, Low: nan, High: nan, HalfWidth: nan, Why: estimate.TooFew}, false},
		{estimate.Estimate{Mean: 2, Low: nan, High: nan, HalfWidth: nan, Why: estimate.Same}, true},
		{estimate.Estimate{Mean: 0, Low: nan, High: nan, HalfWidth: nan, Why: estimate.NotSeen}, false},
	} {
		w := Swing{Low: 10 + x.d.Mean, Base: 10, LowHalf: reach(x.d), Up: 10, UpHalf: 0}
		assert.Equal(t, x.shown, w.Shown(0), "%v", x.d)
		assert.Equal(t, x.shown, w.Size() > 0)
	}
	assert.True(t, math.IsNaN(reach(estimate.Estimate{Why: estimate.OneReplication, Low: nan, High: nan})))
}

// What a law is moved to stands in the unit that its parameters are written in.
func TestALawIsMovedInItsOwnUnit(t *testing.T) {
	for text, want := range map[string]string{
		"uniform, min 945 mm, max 1015 mm":             "mm",
		"gamma, shape 2, scale 75 s":                   "s",
		"triangular, min 3 min, mode 4 min, max 6 min": "min",
	} {
		u, ok := writtenUnit(text, map[bool]model.Dimension{true: model.Length, false: model.Time}[want == "mm"])
		assert.True(t, ok, text)
		assert.Equal(t, want, u.Name)
	}
	_, ok := writtenUnit("empirical, 10 values", model.Time)
	assert.False(t, ok)
}
