package fit

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
)

// The distance is the integral that it is defined by,
//
//	A² = N integral (F_N - u)²/(u (1 - u)) du,
//
// and of one value with the chance u it is -1 - ln u - ln(1 - u).
func TestDistanceIsItsIntegral(t *testing.T) {
	c := curveAt(model.Exponential, point{math.Log(10)})
	list, _ := spans(exact(1, 4, 4, 7, 30), 0)
	got := newSample(list, 0, 0).distance(c)
	const steps = 2_000_000
	sum := 0.0
	for i := range steps {
		u := (float64(i) + 0.5) / steps
		x := -10 * math.Log1p(-u)
		seen := 0.0
		for _, v := range []float64{1, 4, 4, 7, 30} {
			if v <= x {
				seen++
			}
		}
		sum += 5 * (seen/5 - u) * (seen/5 - u) / (u * (1 - u)) / steps
	}
	assert.InEpsilon(t, sum, got, 1e-5)
	list, _ = spans(exact(4), 0)
	u := -math.Expm1(-0.4)
	assert.InEpsilon(t, -1-math.Log(u)-math.Log(1-u), newSample(list, 0, 0).distance(c), 1e-12)
	// Given that values above 3 alone were recorded, an exponential law begins anew there.
	later, _ := spans(exact(4, 7, 10, 33), 3)
	moved, _ := spans(exact(1, 4, 7, 30), 0)
	assert.InEpsilon(t, newSample(moved, 0, 0).distance(c), newSample(later, 3, 0).distance(c), 1e-12)
}

// Points of the law of the distance with fitted parameters, as D'Agostino and Stephens,
// Goodness-of-Fit Techniques (1986), tables 4.7 and 4.11, print them (from memory): 5 % of
// A² (1 + 0.75/n + 2.25/n²) are above 0.752 for a normal law of both unknown, so for a
// lognormal one; 5 % of A² (1 + 0.6/n) above 1.321 for an exponential one.
func TestDistanceOfFittedLawsHasItsTable(t *testing.T) {
	effort.NotInRace(t)
	const n = 40
	tries := effort.Of(1000, 3000, 60000)
	for _, c := range []struct {
		law   model.Law
		point float64
	}{{model.Lognormal, 0.752 / (1 + 0.75/n + 2.25/n/n)}, {model.Exponential, 1.321 / (1 + 0.6/n)}} {
		r := rand.New(rand.NewPCG(1, 5))
		curve := curveAt(c.law, point{1, -0.5})
		above := 0
		for range tries {
			list := make([]span, n)
			for i := range list {
				x := curve.draw(r)
				list[i] = span{x, x}
			}
			s := newSample(list, 0, 0)
			p, _, ok := s.maximum(c.law, s.start(c.law))
			require.True(t, ok)
			if s.distance(curveAt(c.law, p)) > c.point {
				above++
			}
		}
		// False alarm below 1e-5 for the draws; the table is rounded and asymptotic, 0.003.
		assert.InDelta(t, 0.05, float64(above)/float64(tries), 4.5*math.Sqrt(0.05*0.95/float64(tries))+0.003, c.law)
	}
}

// recorded draws values as a log has them: rounded, the last cut off, short ones left out.
func recorded(r *rand.Rand, c curve, least float64, n int, step, from float64) []Value {
	var values []Value
	for len(values) < n {
		x := least + c.draw(r)
		if step > 0 {
			x = math.Round(x/step) * step
		}
		if x >= from {
			values = append(values, Value{X: x, Step: step})
		}
	}
	last := &values[n-1]
	if off := from + 2000*r.Float64(); off < last.X { // the record ends, whatever happens
		*last = Value{X: off, Open: true}
	}
	return values
}

// A law that is true is refused as often as was said, however the values were recorded.
func TestTrueLawsAreRefusedAsOftenAsSaid(t *testing.T) {
	effort.NotInRace(t)
	tries := effort.Of(14, 60, 800)
	for _, c := range []struct {
		law   model.Law
		p     point
		least float64
		step  float64
		from  float64
	}{
		{model.Lognormal, point{math.Log(600), math.Log(0.8)}, 0, 60, 0},
		{model.Weibull, point{math.Log(900), math.Log(1.5)}, 0, 0, 300},
		{model.Gamma, point{math.Log(300), math.Log(2)}, 600, 60, 0},
		{model.Exponential, point{math.Log(500)}, 0, 60, 0},
	} {
		r := rand.New(rand.NewPCG(4, 9))
		refused, tried := 0, 0
		for range tries {
			values := recorded(r, curveAt(c.law, c.p), c.least, 30, c.step, c.from)
			list, _ := spans(values, c.from)
			s, least := newSample(list, c.from, 0), 0.0
			if c.least > 0 {
				s, least = laterSample(list, c.from)
			}
			f, ok := s.fitted(c.law)
			if !ok {
				continue
			}
			f.Dist = curveAt(c.law, f.at).dist(least)
			f.A2 = s.distance(curveAt(c.law, f.at))
			tried++
			if judge(values, Options{From: c.from, Seed: 3}, f).P < 0.1 {
				refused++
			}
		}
		assert.Greater(t, tried, tries*9/10, c.law)
		share := float64(refused) / float64(tried)
		assert.InDelta(t, 0.1, share, 4*math.Sqrt(0.09/float64(tried))+0.01, "%s: false alarm 6e-5", c.law)
		t.Logf("%s: %.1f %%", c.law, 100*share)
	}
}

// A law that is not true is refused, and the values are the answer.
func TestWhatFitsNoLaw(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	var values []Value
	for i := range 200 { // two jobs under one name: 5 and 60 minutes
		x := 300 + 20*r.NormFloat64()
		if i%2 == 0 {
			x = 3600 + 200*r.NormFloat64()
		}
		values = append(values, Value{X: math.Round(x), Step: 1})
	}
	res, err := Of(values, Options{Seed: 1})
	require.NoError(t, err)
	assert.Equal(t, NoLaw, res.Why)
	assert.Equal(t, model.Empirical, res.Answer.Law)
	assert.Len(t, res.Answer.Values, 200)
	assert.Less(t, res.Judged.P, 0.02)
	assert.Less(t, res.Judged.Draws, 100, "it is soon clear")
	assert.NotEmpty(t, res.Laws, "the laws that were refused stand beside")
	if !testing.Short() {
		again, err := Of(values, Options{Seed: 1})
		require.NoError(t, err)
		assert.Equal(t, res, again)
	}
	more, err := Of(values, Options{Seed: 1, Refuse: 1e-9, Draws: 40})
	require.NoError(t, err)
	assert.NotEqual(t, NoLaw, more.Why, "who refuses nothing gets the best law")
}

// A big log: 100,000 values below 2 s of the processor, exact or rounded.
func TestManyValuesAreQuick(t *testing.T) {
	effort.NotInRace(t)
	for _, step := range effort.Some([]float64{60, 1, 0}, 1) {
		r := rand.New(rand.NewPCG(2, 2))
		values := recorded(r, curveAt(model.Gamma, point{math.Log(900), math.Log(1.7)}), 0, 100_000, step, 0)
		begin := effort.Processor(t)
		res, err := Of(values, Options{Seed: 1})
		require.NoError(t, err)
		took := effort.Processor(t) - begin
		t.Logf("step %g: %v", step, took)
		assert.Less(t, took, 2*time.Second)
		f := fitted(t, res, model.Gamma, false)
		assert.InEpsilon(t, 1.7, f.Dist.A, 0.05, "7 sigma")
		assert.InEpsilon(t, 900, f.Dist.Mean(), 0.02, "8 sigma")
		assert.Equal(t, model.Gamma, res.Laws[0].Dist.Law)
	}
}

// A log of 10,000 stops of 40 causes, in minutes: all of them within 10 s; the other forms have fewer.
func TestBigLogIsQuick(t *testing.T) {
	effort.NotInRace(t)
	r := rand.New(rand.NewPCG(2, 3))
	begin := effort.Processor(t)
	laws := map[Why]int{}
	causes := effort.Of(5, 20, 40)
	for cause := range causes {
		law := families[cause%len(families)]
		c := curveAt(law, point{math.Log(1500) + r.NormFloat64(), 0.3})
		values := recorded(r, c, 0, 250, 60, 0)
		if cause%5 == 0 { // two jobs under one name
			values = append(values[:125], recorded(r, curveAt(law, point{math.Log(9000), 2}), 3600, 125, 60, 0)...)
		}
		res, err := Of(values, Options{Seed: 1})
		require.NoError(t, err)
		laws[res.Why]++
	}
	took := effort.Processor(t) - begin
	t.Logf("%v %v", took, laws)
	assert.Less(t, took, time.Duration(causes)*time.Second/4)
	assert.GreaterOrEqual(t, laws[NoLaw], max(1, causes/10))
	assert.GreaterOrEqual(t, laws[Best]+laws[Tied], causes*26/40)
}
