package fit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
)

// Weeks of remission of 21 patients (Freireich and others, Blood 21 (1963) 699), as
// textbooks of survival print the estimate of Kaplan and Meier (from memory): 0.857 at 6,
// then 0.807, 0.753, 0.690, 0.627, 0.538 and 0.448.
func TestObservedOfCutOffValues(t *testing.T) {
	values := exact(6, 6, 6, 7, 10, 13, 16, 22, 23)
	for _, x := range []float64{6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35} {
		values = append(values, Value{X: x, Open: true})
	}
	d := observedOf(values, 0)
	for x, want := range map[float64]float64{5.9: 1, 6: 0.857, 7: 0.807, 10: 0.753, 13: 0.690, 16: 0.627, 22: 0.538, 23: 0.448, 40: 0.448} {
		assert.InDelta(t, want, 1-d.below(x), 5e-4, "%g", x)
	}
	assert.InDelta(t, 0.552, d.all(), 5e-4)
	assert.Equal(t, 23.0, d.at(1), "the largest that ended")
	assert.Equal(t, 13.0, d.at(0.3))
	assert.Nil(t, observedOf([]Value{{X: 3, Open: true}}, 0))
}

// A rounded value lies evenly within its step, and what was not recorded below from is
// not there.
func TestObservedOfRoundedValues(t *testing.T) {
	d := observedOf(rounded(60, 60, 60, 120, 300), 0)
	for x, want := range map[float64]float64{30: 0, 60: 0.25, 90: 0.5, 120: 0.625, 150: 0.75, 269: 0.75, 300: 0.875, 330: 1} {
		assert.InDelta(t, want, d.below(x), 1e-12, "%g", x)
	}
	assert.InDelta(t, 60, d.at(0.25), 1e-9)
	assert.InDelta(t, 300, d.at(0.875), 1e-9)
	assert.InDelta(t, 0.5, observedOf(rounded(60, 30, 120, 300), 100).below(200), 1e-12)
}

// At each point of the picture 95 % of further records of the law lie within the band, of
// the distribution and of the quantiles alike, however they were recorded.
func TestRecordsOfTheLawLieInItsBand(t *testing.T) {
	effort.NotInRace(t)
	tries := effort.Of(100, 400, 10000)
	for _, c := range []struct {
		law        model.Law
		p          point
		n          int
		step, from float64
	}{{model.Lognormal, point{math.Log(600), math.Log(0.8)}, 40, 60, 0}, {model.Weibull, point{math.Log(900), 0.4}, 30, 0, 300}, {model.Exponential, point{math.Log(500)}, 700, 1, 0}} {
		r := rand.New(rand.NewPCG(8, 3))
		values := recorded(r, curveAt(c.law, c.p), 0, c.n, c.step, c.from)
		o := Options{From: c.from, Seed: 5, Refuse: 1e-9, Draws: 1}
		res, err := Of(values, o)
		require.NoError(t, err)
		s, ok := ShapeOf(values, o, res)
		require.True(t, ok)
		require.Len(t, s.X, gridPoints)
		assert.True(t, slices.IsSorted(s.X) && slices.IsSorted(s.Seen) && slices.IsSorted(s.Law))
		assert.Len(t, s.At, min(mostAt, res.Observed()), "%s", c.law)
		f := res.Laws[res.Taken]
		record := newRecord(values, c.from)
		inside, points := 0.0, 0.0
		for range tries {
			again := observedOf(record.again(r, curveAt(f.Dist.Law, f.at), f.Dist.Least), c.from)
			for i := 20; i < 60; i += 8 {
				if s.Law[i] < 0.03 || s.Law[i] > 0.97 {
					continue // few of its records have a value there
				}
				points++
				if y := again.below(s.X[i]); y >= s.Low[i] && y <= s.High[i] {
					inside++
				}
			}
			for i := 3; i < len(s.At)-3; i += 5 {
				points++
				if y := again.at((float64(i) + 0.5) / float64(len(s.At))); y >= s.At[i].Low && y <= s.At[i].High {
					inside++
				}
			}
		}
		// One band of 199 draws holds 95 % with an sd of 1.5 % at a point; points of a
		// picture go together: false alarm below 1 in 1,000 for the fixed seed's kind.
		assert.InDelta(t, 0.95, inside/points, 0.05, "%s", c.law)
		t.Logf("%s: %.3f", c.law, inside/points)
	}
}

// The law goes through the middle of what was drawn from it; a law that was refused is
// shown as that, and nothing where no law was fitted.
func TestShapeOfAFit(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	values := recorded(r, curveAt(model.Gamma, point{math.Log(900), 0.7}), 0, 4000, 60, 0)
	res, err := Of(values, Options{Seed: 1})
	require.NoError(t, err)
	s, ok := ShapeOf(values, Options{Seed: 1}, res)
	require.True(t, ok)
	for i := range s.X {
		assert.InDelta(t, s.Law[i], s.Seen[i], 0.03, "Kolmogorov: 1.95/sqrt(4000) in 1 of 1,000")
		assert.LessOrEqual(t, s.High[i]-s.Low[i], 2*2.8*0.5/math.Sqrt(4000)+1e-9, "a band of many values is narrow")
	}
	for _, q := range s.At {
		assert.InEpsilon(t, q.Law, q.Seen, 0.25)
	}
	assert.False(t, s.Refused)
	two := append(rounded(1, 295, 296, 300, 301, 302, 303, 305, 298, 297, 299, 300, 301, 302), rounded(1, 3590, 3600, 3605, 3610, 3595, 3600, 3611, 3607, 3602, 3600, 3599, 3601)...)
	res, err = Of(two, Options{Seed: 1})
	require.NoError(t, err)
	require.Equal(t, NoLaw, res.Why)
	s, ok = ShapeOf(two, Options{Seed: 1}, res)
	require.True(t, ok)
	assert.True(t, s.Refused)
	few := rounded(60, 60, 120)
	res, err = Of(few, Options{Seed: 1})
	require.NoError(t, err)
	_, ok = ShapeOf(few, Options{}, res)
	assert.False(t, ok)
}
