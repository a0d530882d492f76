package fit

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"rollchange/model"
	"rollchange/sim/effort"
)

func TestRedrawHangsOnSeedAndNameAlone(t *testing.T) {
	for _, d := range []model.Dist{
		{Law: model.Exponential, A: 60, Least: 10}, {Law: model.Lognormal, A: 60, B: 30, Least: 5}, {Law: model.Gamma, A: 2, B: 30}, {Law: model.Weibull, A: 1.5, B: 50, Least: 3},
		{Law: model.Normal, A: 5, B: 2, Signed: true}, {Law: model.Uniform, A: 2, B: 9}, {Law: model.Triangular, A: 2, B: 3, C: 9}, {Law: model.Empirical, Values: []float64{3, 1, 4, 1, 5, 9, 2, 6}},
	} {
		a, ok := Redraw(d, 30, 7, "unwind.recover 1")
		require.True(t, ok, "%v", d)
		b, _ := Redraw(d, 30, 7, "unwind.recover 1")
		c, _ := Redraw(d, 30, 7, "unwind.recover 2")
		e, _ := Redraw(d, 30, 8, "unwind.recover 1")
		assert.Equal(t, a, b)
		assert.NotEqual(t, a, c)
		assert.NotEqual(t, a, e)
		assert.NotEqual(t, a, d)
		assert.Equal(t, []any{d.Law, d.Signed, d.Least}, []any{a.Law, a.Signed, a.Least})
		assert.NoError(t, a.Validate())
		for n := range 2 {
			_, ok = Redraw(d, n, 7, "x")
			assert.Equal(t, d.Law == model.Empirical || d.Law == model.Exponential && n == 1, ok, "%s of %d", d.Law, n)
		}
		for n := 2; n < 6; n++ {
			for k := range 200 {
				a, ok := Redraw(d, n, 7, fmt.Sprint(k))
				assert.True(t, ok, "%s of %d", d.Law, n)
				assert.NoError(t, a.Validate(), "%s of %d", d.Law, n)
			}
		}
	}
	for _, d := range []model.Dist{{}, model.Const(3), {Law: model.Empirical, Values: []float64{4}}} {
		a, ok := Redraw(d, 30, 7, "x")
		assert.False(t, ok)
		assert.Equal(t, d.Mean(), a.Mean(), "what nothing is fitted to stays")
	}
}

// How far parameters move: a mean of n values by sd/sqrt(n), the ln sigma of a lognormal
// law by 1/sqrt(2n), the ln shape of a Weibull law by sqrt(0.608/n) and its ln scale by
// sqrt(1.109/n)/shape (Lawless, Statistical Models and Methods for Lifetime Data, 2nd ed.
// (2003), section 5.2, from memory: 6/pi², and 1 + 6 (1 - gamma)²/pi² with Euler's gamma).
// Of more values than are drawn the move shrinks alike.
func TestRedrawMovesAsMuchAsItShould(t *testing.T) {
	effort.NotInRace(t)
	tries := effort.Of(50, 150, 3000)
	spreadOf := func(d model.Dist, n int, of func(model.Dist) float64) (mean, sd float64) {
		var sum, squares float64
		for k := range tries {
			again, ok := Redraw(d, n, 11, fmt.Sprint(k))
			require.True(t, ok)
			x := of(again)
			sum, squares = sum+x, squares+x*x
		}
		mean = sum / float64(tries)
		return mean, math.Sqrt(squares/float64(tries) - mean*mean)
	}
	off := 5/math.Sqrt(2*float64(tries)) + 0.03 // of an sd, 5 sigma, and what n falls short of many
	for _, n := range []int{100, 40_000} {
		root := math.Sqrt(float64(n))
		for _, d := range []model.Dist{{Law: model.Exponential, A: 60, Least: 10}, {Law: model.Gamma, A: 2, B: 30, Least: 5}} {
			mean, sd := spreadOf(d, n, model.Dist.Mean) // the mean of both is that of the values
			assert.InDelta(t, d.Mean(), mean, 5*d.SD()/root/math.Sqrt(float64(tries)), "%v", d)
			assert.InEpsilon(t, d.SD()/root, sd, off, "%v", d)
		}
		l := model.Dist{Law: model.Lognormal, A: 60, B: 30, Least: 5}
		mu, sigma := l.LognormalParams()
		mean, sd := spreadOf(l, n, func(d model.Dist) float64 { m, _ := d.LognormalParams(); return m })
		assert.InDelta(t, mu, mean, 5*sigma/root/math.Sqrt(float64(tries)))
		assert.InEpsilon(t, sigma/root, sd, off)
		_, sd = spreadOf(l, n, func(d model.Dist) float64 { _, s := d.LognormalParams(); return math.Log(s) })
		assert.InEpsilon(t, 1/math.Sqrt(2*float64(n)), sd, off)

		w := model.Dist{Law: model.Weibull, A: 1.5, B: 60}
		_, sd = spreadOf(w, n, func(d model.Dist) float64 { return math.Log(d.A) })
		assert.InEpsilon(t, math.Sqrt(0.608)/root, sd, off)
		_, sd = spreadOf(w, n, func(d model.Dist) float64 { return math.Log(d.B) })
		assert.InEpsilon(t, math.Sqrt(1.109)/1.5/root, sd, off)
	}
}

// A line that alternates exponential running (mean u of n values) and repair (mean d of
// m) has the availability A = u/(u + d), and the records leave A²(1 - A)²(1/n + 1/m) of
// variance to it (delta method). With u 50 min, d 5 min, n = m = 40: sd 0.018479.
func TestRecordsLeaveAvailabilityOpen(t *testing.T) {
	u, d := model.Dist{Law: model.Exponential, A: 3000}, model.Dist{Law: model.Exponential, A: 300}
	tries := effort.Of(2000, 10000, 40000)
	var sum, squares float64
	for k := range tries {
		run, _ := Redraw(u, 40, 5, fmt.Sprint("run ", k))
		repair, _ := Redraw(d, 40, 5, fmt.Sprint("repair ", k))
		a := run.A / (run.A + repair.A)
		sum, squares = sum+a, squares+a*a
	}
	n := float64(tries)
	mean := sum / n
	assert.InDelta(t, 0.909091, mean, 0.002, "biased by less than a ninth of the sd")
	// 4.5 sigma of an sd, and 4 % for what bends: A is no straight line.
	assert.InEpsilon(t, 0.018479, math.Sqrt(squares/n-mean*mean), 4.5/math.Sqrt(2*n)+0.04)
}

// An interval of redrawn means of an exponential law covers as often as its closed form
// says: the mean of n values is a gamma variable G of n over n, times the truth; the
// interval goes from q to q' times it, quantiles of G, and covers where 1/q' < G < 1/q.
// That is less than 95 % of few values, as of any such interval: 92.3 % of ten, 94.3 % of 40.
func TestCoverageOfRedrawnMeans(t *testing.T) {
	effort.NotInRace(t)
	for _, n := range []int{10, 40} {
		g := distuv.Gamma{Alpha: float64(n), Beta: float64(n)}
		q, q2 := g.Quantile(0.025), g.Quantile(0.975)
		want := g.CDF(1/q) - g.CDF(1/q2)
		tries, draws := effort.Of(150, 400, 10000), 400
		truth := model.Dist{Law: model.Exponential, A: 60}
		covers := 0.0
		for k := range tries {
			seen, _ := Redraw(truth, n, 1, fmt.Sprint(k))
			means := make([]float64, draws)
			for i := range means {
				again, _ := Redraw(seen, n, uint64(k), fmt.Sprint(i))
				means[i] = again.A
			}
			slices.Sort(means)
			if means[9] <= 60 && 60 <= means[390] {
				covers++
			}
		}
		share := covers / float64(tries)
		// 4.5 sigma (7e-6), and what ends of 400 draws cost.
		assert.InDelta(t, want, share, 4.5*math.Sqrt(want*(1-want)/float64(tries))+0.006, "%d values", n)
		t.Logf("%d values: %.1f %%, %.1f %% in closed form", n, 100*share, 100*want)
	}
}

// Limits of the mean of an exponential law, quantiles of RedrawMean, hold the truth with
// their chance for any number of values, one too: the mean of n values is G/n times the
// truth, and the limits turn that over. Those of Redraw do not (TestCoverageOfRedrawnMeans).
func TestLimitsOfRedrawnMeansHold(t *testing.T) {
	effort.NotInRace(t)
	for _, n := range []int{1, 3, 40} {
		tries, draws := effort.Of(250, 1000, 10000), 399
		covers := 0.0
		for k := range tries {
			seen, _ := Redraw(model.Dist{Law: model.Exponential, A: 60}, n, 1, fmt.Sprint(k))
			means := make([]float64, draws)
			for i := range means {
				means[i] = RedrawMean(seen.A, n, uint64(k), fmt.Sprint(i))
			}
			slices.Sort(means)
			if means[9] <= 60 && 60 <= means[389] { // the 10th of 399 from both ends: 2.5 %
				covers++
			}
		}
		assert.InDelta(t, 0.95, covers/float64(tries), 4.5*math.Sqrt(0.95*0.05/float64(tries)), "%d values; false alarm 7e-6", n)
	}
	assert.Equal(t, 60., RedrawMean(60, 0, 1, "x"), "nothing was observed")
}

// A share of n cases has the mean and variance of Beta(n p + 1/2, n (1 - p) + 1/2).
func TestRedrawnShares(t *testing.T) {
	tries := effort.Of(2000, 10000, 40000)
	for _, p := range []float64{1, 0.98, 0.3} {
		a, b := 50*p+0.5, 50*(1-p)+0.5
		var sum, squares float64
		for k := range tries {
			x := RedrawShare(p, 50, 3, fmt.Sprint(k))
			require.True(t, x > 0 && x <= 1)
			sum, squares = sum+x, squares+x*x
		}
		mean := sum / float64(tries)
		sd := math.Sqrt(a * b / ((a + b) * (a + b) * (a + b + 1)))
		assert.InDelta(t, a/(a+b), mean, 4.5*sd/math.Sqrt(float64(tries)), "false alarm 7e-6")
		assert.InEpsilon(t, sd, math.Sqrt(squares/float64(tries)-mean*mean), 0.15)
	}
	assert.Equal(t, 0.98, RedrawShare(0.98, 0, 3, "x"), "nothing was observed")
}
