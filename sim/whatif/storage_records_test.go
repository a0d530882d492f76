package whatif

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/scenarios/fit"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
)

// The limit holds the dwell that the target allows, where the law was fitted to so many
// dwells of a known one, in 95 % of repeats: within 3.5 standard errors (false alarm 5e-4),
// of each law and of all together. The usual form finds a limit that holds in less than
// 87 % of 100. For an exponential law it is known in closed form: with n
// values the mean is at most n/gamma(n, 5 %) times the one that was fitted.
func TestUpperDwellHolds(t *testing.T) {
	t.Parallel()
	repeats := effort.Of(25, 25, 2000)
	heldInAll, all := 0, 0
	for _, c := range []struct {
		law    model.Dist
		n      int
		target float64
	}{
		{model.Dist{Law: model.Exponential, A: 8}, 20, 1e-3},
		{model.Dist{Law: model.Lognormal, A: 8, B: 3}, 20, 1e-3},
		{model.Dist{Law: model.Lognormal, A: 8, B: 3}, 60, 0.02},
		{model.Dist{Law: model.Lognormal, A: 8, B: 3, Least: 4}, 200, 1e-4},
	}[:effort.Of(1, 4, 4)] {
		truth := model.UpperQuantile(c.law, c.target)
		r := rand.New(rand.NewPCG(11, uint64(c.n)))
		held := 0
		for k := range repeats {
			var sum, logs, squares float64
			for range c.n {
				x := c.law.Quantile(r.Float64()) - c.law.Least
				l := math.Log(x)
				sum, logs, squares = sum+x, logs+l, squares+l*l
			}
			n := float64(c.n)
			d := c.law
			if d.Law == model.Exponential {
				d.A = sum / n
			} else {
				s2 := squares/n - logs/n*logs/n
				mean := math.Exp(logs/n + s2/2)
				d.A, d.B = d.Least+mean, mean*math.Sqrt(math.Expm1(s2))
			}
			if upperDwell(d, c.n, c.target, 0.95, uint64(k), "unwind") >= truth {
				held++
			}
		}
		share := float64(held) / float64(repeats)
		t.Logf("%v, %d dwells, target %g: held in %.1f %%", c.law, c.n, c.target, 100*share)
		assert.InDelta(t, 0.95, share, 3.5*math.Sqrt(0.95*0.05/float64(repeats)))
		heldInAll, all = heldInAll+held, all+repeats
	}
	assert.InDelta(t, 0.95, float64(heldInAll)/float64(all), 3.5*math.Sqrt(0.95*0.05/float64(all)))
	// Gamma(20, 5 %) = 13.25465 / 20 (half of the chi-square of 40 degrees of freedom,
	// 26.5093, NIST/SEMATECH 1.3.6.7.4, from memory).
	d := model.Dist{Law: model.Exponential, A: 8}
	assert.InEpsilon(t, 20/13.25465, upperDwell(d, 20, 1e-3, 0.95, 1, "x")/model.UpperQuantile(d, 1e-3), 0.04, "1,000 draws")
}

// The answer is larger than without by the speed of the line times what the dwell may be
// longer; more dwells bring it nearer, and a target rarer than one in them is said to be.
func TestSizeWithRecords(t *testing.T) {
	t.Parallel()
	size := func(dwell string, risk float64) (*Answer, *RecordsNeed) {
		text := `[line]
speed = "120 m/min"
accel = "0.5 m/s2"
decel = "0.5 m/s2"
[unwind]
change = "zero-speed"
roll_length = "2000 m"
load = "1 min"
prepare = "1 min"
dwell = ` + dwell + `
decel = "1 m/s2"
accel = "1 m/s2"
max_speed = "180 m/min"
storage.capacity = "50 m"
[rewind]
change = "none"
[run]
horizon = "4 d"
replications = 4
`
		s, err := scenarios.Parse("test", []byte(text), ".")
		require.NoError(t, err)
		q := StorageQuestion{Risk: Risk{Share: risk}, Most: 500}
		a, err := SizeStorage(context.Background(), s, q, Options{})
		require.NoError(t, err)
		require.NoError(t, SizeWithRecords(context.Background(), s, q, a, nil, Options{}))
		for _, n := range a.Notes {
			if r, ok := n.(RecordsNeed); ok {
				return a, &r
			}
		}
		return a, nil
	}
	a, few := size(`{ dist = "lognormal", mean = "8 s", sd = "2 s", observed = 50 }`, 0.01)
	require.NotNil(t, few)
	d := model.Dist{Law: model.Lognormal, A: 8, B: 2, Observed: 50}
	longer := upperDwell(d, 50, 0.01, 0.95, 1, "unwind") - model.UpperQuantile(d, 0.01)
	assert.InDelta(t, a.Value+2*longer, few.Value, 1e-9, "2 m/s")
	assert.True(t, few.Beyond())
	if testing.Short() {
		return // one law; TestUpperDwellHolds
	}
	_, many := size(`{ dist = "lognormal", mean = "8 s", sd = "2 s", observed = 5000 }`, 0.01)
	assert.Less(t, many.Value-a.Value, 0.2*(few.Value-a.Value), "a hundred times the values, a tenth of what is open")
	assert.Greater(t, many.Value, a.Value)
	assert.False(t, many.Beyond())
	_, list := size(`{ dist = "empirical", values = ["7 s", "8 s", "9 s"] }`, 0.4)
	require.NotNil(t, list)
	assert.True(t, math.IsNaN(list.Value))
	assert.Equal(t, 3, list.Observed)
	_, none := size(`{ dist = "lognormal", mean = "8 s", sd = "2 s" }`, 0.01)
	require.NotNil(t, none)
	assert.True(t, math.IsNaN(none.Value) && none.Observed == 0 && !none.Beyond(), "nothing says how many were observed")

	// What as many dwells do not tell from the law: by the gamma law less is enough than by
	// the lognormal one of the same dwells, of 60 of them, and of 10,000 no other law fits.
	_, gamma := size(`{ dist = "gamma", shape = 16, scale = "0.5 s", observed = 60 }`, 0.02)
	assert.Equal(t, model.Lognormal, gamma.Rival)
	assert.Greater(t, gamma.RivalValue, gamma.Value)
	assert.Less(t, gamma.RivalValue, 1.1*gamma.Value)
	assert.Empty(t, few.Rival, "the lognormal law is the longest already")
	_, sure := size(`{ dist = "gamma", shape = 16, scale = "0.5 s", observed = 10000 }`, 0.02)
	assert.Empty(t, sure.Rival)
	_, fits := size(`{ dist = "empirical", values = ["5.1 s", "6.2 s", "6.9 s", "7.3 s", "7.6 s", "8.1 s", "8.2 s", "8.8 s", "9.7 s", "11.9 s"] }`, 0.2)
	assert.True(t, fits.Listed)
	assert.NotEmpty(t, fits.Law)
	assert.Greater(t, fits.Value, 0.)
}

// The laws that so many values do not tell apart. Twice the Kullback-Leibler divergence of
// two laws times the number of values is by how much their AIC differ in the mean. From a
// Weibull law of shape 2 the exponential one of the same mean has pi/4's: with the integral
// of f ln(f/g) = ln 2 - gamma/2 - 1 + ln(mean/scale) + 1, gamma Euler's and scale 1, mean
// sqrt(pi)/2: 0.2838.
func TestRivals(t *testing.T) {
	w := model.Dist{Law: model.Weibull, A: 2, B: 5, Least: 3}
	divergence := math.Log(2) - 0.5772156649/2 + math.Log(math.Sqrt(math.Pi)/2)
	assert.InDelta(t, 0.2838, divergence, 1e-4)
	has := func(n int, law model.Law) bool {
		for _, d := range rivals(w, n) {
			assert.InDelta(t, 3, d.Least, 1e-12)
			assert.InEpsilon(t, w.Mean(), d.Mean(), 0.06, "%v", d)
			if d.Law == law {
				return true
			}
		}
		return false
	}
	// A parameter less is worth 2 of AIC, a rival may be 2 worse: 4/(2 x 0.2838) = 7 values. The
	// quantiles of so few have no tail, so that they tell a little more than a record.
	assert.True(t, has(5, model.Exponential))
	assert.False(t, has(12, model.Exponential))
	for _, n := range []int{5, 50, 5000} {
		assert.True(t, has(n, model.Weibull), "the law itself")
	}
	assert.False(t, has(5000, model.Gamma))
	assert.Empty(t, rivals(model.Dist{Law: model.Empirical, Values: []float64{7, 8, 9}}, 3), "too few for a law")
}

// Where a wait for the crew decides, each draw of all records is simulated: fewer values take
// a larger storage, very many the one that is answered without, but for what is simulated
// twice; and the same for any number of workers. Nothing recorded says nothing.
func TestSizeWithRecordsWhereWaitsDecide(t *testing.T) {
	t.Parallel()
	assert.Equal(t, 39, drawsFor(0.95, 1e9))
	assert.Equal(t, 19, drawsFor(0.95, 25))
	assert.Equal(t, 0, drawsFor(0.95, 10))
	assert.Equal(t, 199, drawsFor(0.99, 1e9))
	assert.Equal(t, 0, drawsFor(0.999, 1e9), "more than 199")
	if testing.Short() {
		return // each draw is simulated
	}
	size := func(observed, workers int) (*Answer, RecordsNeed) {
		text := fmt.Sprintf(`[line]
speed = "60 m/min"
accel = "0.5 m/s2"
decel = "0.5 m/s2"
[unwind]
change = "zero-speed"
roll_length = "400 m"
load = "1 min"
prepare = "1 min"
dwell = "6 s"
decel = "1 m/s2"
accel = "1 m/s2"
max_speed = "120 m/min"
storage.capacity = "50 m"
[rewind]
change = "none"
[crew]
operators = 1
[[crew.duty]]
name = "cartons"
every = { dist = "exponential", mean = "40 min" }
takes = { dist = "lognormal", mean = "4 min", sd = "2 min"%s }
[run]
horizon = "10 d"
replications = 6
`, map[bool]string{true: fmt.Sprintf(", observed = %d", observed)}[observed > 0])
		s, err := scenarios.Parse("test", []byte(text), ".")
		require.NoError(t, err)
		q := StorageQuestion{Risk: Risk{Share: 0.01}, Most: 2000}
		opt := Options{Workers: workers}
		a, err := SizeStorage(context.Background(), s, q, opt)
		require.NoError(t, err)
		var records replicate.Records
		if r := (duties{s, observed}); observed > 0 {
			records = r
		}
		require.NoError(t, SizeWithRecords(context.Background(), s, q, a, records, opt))
		return a, a.Notes[len(a.Notes)-1].(RecordsNeed)
	}
	a, few := size(30, 1)
	require.NotEqual(t, LongDwell, a.LimitedBy.By)
	assert.False(t, few.Decides)
	assert.Equal(t, 39, few.Draws)
	_, same := size(30, 3)
	assert.Equal(t, few.Value, same.Value)
	assert.Greater(t, few.Value, 1.1*a.Value)
	_, many := size(1e6, 2)
	t.Logf("answer %.1f m; with 30 values %.1f m, with a million %.1f m", a.Value, few.Value, many.Value)
	assert.Less(t, many.Value, a.Value+0.3*(few.Value-a.Value))
	_, none := size(0, 2)
	assert.True(t, math.IsNaN(none.Value))
}

// duties are records of how long the first duty takes.
type duties struct {
	s        *scenarios.Scenario
	observed int
}

func (d duties) Records() []model.Record {
	return []model.Record{{Key: "crew.duty[cartons].takes", Observed: d.observed}}
}

func (d duties) Draw(number int) ([]model.Alternative, []float64) {
	a := d.s.Study.Alternatives[0]
	a.Line.Crew.Duties = slices.Clone(a.Line.Crew.Duties)
	takes := &a.Line.Crew.Duties[0].Takes
	*takes, _ = fit.Redraw(*takes, d.observed, 5, fmt.Sprint(number))
	return []model.Alternative{a}, []float64{0}
}
