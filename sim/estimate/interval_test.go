package estimate

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.2, to seven
// decimals (rows 1, 2 and 5 read in a high-precision copy; the others computed).
func TestStudentTTable(t *testing.T) {
	p := []float64{0.90, 0.95, 0.975, 0.99, 0.995}
	for nu, row := range map[float64][]float64{
		1:  {3.0776835, 6.3137515, 12.7062047, 31.8205160, 63.6567412},
		2:  {1.8856181, 2.9199856, 4.3026527, 6.9645567, 9.9248432},
		5:  {1.4758840, 2.0150484, 2.5705818, 3.3649300, 4.0321430},
		9:  {1.3830287, 1.8331129, 2.2621572, 2.8214379, 3.2498355},
		19: {1.3277282, 1.7291328, 2.0930241, 2.5394832, 2.8609346},
		29: {1.3114336, 1.6991270, 2.0452296, 2.4620214, 2.7563859},
		99: {1.2901614, 1.6603912, 1.9842170, 2.3646059, 2.6264055},
	} {
		for i, want := range row {
			assert.InDelta(t, want, StudentT(p[i], nu), 6e-8, "nu %g, p %g", nu, p[i])
		}
	}
	// NIST/SEMATECH 1.3.5.2, data ZARR13: n 195, mean 9.261460, sd 0.022789,
	// 95 % interval (9.258242, 9.264679).
	half := StudentT(0.975, 194) * 0.022789 / math.Sqrt(195)
	assert.InDelta(t, 9.258242, 9.261460-half, 1e-6)
	assert.InDelta(t, 9.264679, 9.261460+half, 1e-6)
	assert.InDelta(t, 1.972267533, StudentT(0.975, 194), 1e-8)
}

func momentsOf(x ...float64) *Moments {
	var m Moments
	for _, v := range x {
		m.Add(v)
	}
	return &m
}

// The bank of Law and Kelton, Simulation Modeling and Analysis, 5 tellers, 10
// replications (data as reprinted at solutioninn.com, question 52445): average
// delay 2.03 ± 0.32, share delayed below 5 min 0.853 ± 0.036 at 90 % (printed
// intervals from memory).
func TestLawBank(t *testing.T) {
	delay := momentsOf(1.53, 1.66, 1.24, 2.34, 2.00, 1.69, 2.69, 2.86, 1.70, 2.60)
	assert.Equal(t, 10, delay.N())
	assert.InDelta(t, 2.031, delay.Mean(), 1e-12)
	assert.InDelta(t, 0.30909889, delay.SD()*delay.SD(), 5e-9)
	assert.InDelta(t, 0.32, delay.HalfWidth(0.90), 0.005)
	assert.InDelta(t, 0.32228340, delay.HalfWidth(0.90), 5e-8)
	assert.InDelta(t, 0.39771457, delay.HalfWidth(0.95), 5e-8)
	share := momentsOf(.917, .916, .952, .822, .840, .866, .783, .782, .873, .779)
	assert.InDelta(t, 0.853, share.Mean(), 1e-12)
	assert.InDelta(t, 0.00388689, share.SD()*share.SD(), 5e-9)
	assert.InDelta(t, 0.036, share.HalfWidth(0.90), 5e-4)
	// The second sample of the same book (from memory): 1.34 ± 0.24.
	second := momentsOf(1.20, 1.50, 1.68, 1.89, .95, 1.49, 1.58, 1.55, .50, 1.09)
	assert.InDelta(t, 1.343, second.Mean(), 1e-12)
	assert.InDelta(t, 0.24, second.HalfWidth(0.90), 0.005)
}

func TestOneObservationHasNoInterval(t *testing.T) {
	m := momentsOf(3)
	assert.Equal(t, 3.0, m.Mean())
	assert.True(t, math.IsNaN(m.SD()))
	assert.True(t, math.IsNaN(m.HalfWidth(0.95)))
	e := Ratio([]Figure{{Num: 1, Den: 4}}, 1, 0.95)
	assert.Equal(t, 0.25, e.Mean)
	assert.True(t, math.IsNaN(e.HalfWidth))
	assert.False(t, e.Shown())
	assert.Equal(t, OneReplication, e.Why)
	assert.True(t, math.IsNaN(Ratio([]Figure{{}, {}}, 2, 0.95).Mean), "nothing to count per")
	// A large mean and a small spread: the sum of squares would lose all of it.
	assert.InDelta(t, 1, momentsOf(1e9-1, 1e9, 1e9+1).SD(), 1e-6)
}

// clopperPearson is the exact two-sided interval of a chance of which k of n
// trials came true (Clopper and Pearson, Biometrika 26 (1934) 404): its ends
// are the chances at which k or more, and k or fewer, would be seen with
// probability (1-confidence)/2,
//
//	low = Beta quantile of (1-confidence)/2 with (k, n-k+1)
//	high = Beta quantile of (1+confidence)/2 with (k+1, n-k)
//
// 0 <= k <= n, n > 0; else both ends are NaN. It covers at least as often as
// it says, for any chance.
func clopperPearson(k, n int, confidence float64) Interval {
	if n <= 0 || k < 0 || k > n {
		return Interval{math.NaN(), math.NaN()}
	}
	tail := (1 - confidence) / 2
	i := Interval{0, 1}
	switch {
	case k > 0 && k < n:
		i.Low = betaQuantile(float64(k), float64(n-k+1), tail)
		i.High = betaQuantile(float64(k+1), float64(n-k), 1-tail)
	case k > 0: // all of them
		i.Low = math.Pow(tail, 1/float64(n))
	default: // none
		i.High = -math.Expm1(math.Log(tail) / float64(n))
	}
	return i
}

// The interval of a share lies within the exact one, which covers at least as
// often as it says (Brown, Cai and DasGupta, from memory: Jeffreys' is always
// contained in it).
func TestClopperPearson(t *testing.T) {
	for _, c := range []struct {
		k, n       int
		confidence float64
		low, high  float64
		delta      float64
	}{
		// NIST/SEMATECH 7.2.4.2: 4 of 20, 90 % (ends printed as 0.071354, 0.401029, from memory).
		{4, 20, 0.90, 0.071354, 0.401029, 1.5e-6},
		{4, 20, 0.90, 0.0713538843, 0.4010281173, 1e-9},
		// The trials of Newcombe's table I and one larger, computed independently.
		{81, 263, 0.95, .252737, .367622, 6e-7}, {15, 148, 0.95, .057844, .161650, 6e-7},
		{0, 20, 0.95, 0, .168433, 6e-7}, {1, 29, 0.95, .000873, .177644, 6e-7}, {682, 925, 0.95, .707668, .765407, 6e-7},
	} {
		i := clopperPearson(c.k, c.n, c.confidence)
		assert.InDelta(t, c.low, i.Low, c.delta, "%d of %d", c.k, c.n)
		assert.InDelta(t, c.high, i.High, c.delta, "%d of %d", c.k, c.n)
		mirror := clopperPearson(c.n-c.k, c.n, c.confidence)
		assert.InDelta(t, 1-i.High, mirror.Low, 1e-9)
		assert.InDelta(t, 1-i.Low, mirror.High, 1e-9)
		own := shareLimits(float64(c.k), float64(c.n), c.confidence)
		if c.k != 1 { // of one the modified interval goes down to 0
			assert.GreaterOrEqual(t, own.Low, i.Low-1e-12, "%d of %d", c.k, c.n)
		}
		assert.LessOrEqual(t, own.High, i.High+1e-12, "%d of %d", c.k, c.n)
	}
	assert.True(t, math.IsNaN(clopperPearson(0, 0, 0.95).High))
	assert.True(t, math.IsNaN(shareLimits(3, 2, 0.95).Low))
}

// Never seen in n: the exact one-sided limit at 95 % and the rule of three, 3/n,
// that stands for it (Jovanovic and Levy, The American Statistician 51 (1997) 137;
// Eypasch and others, BMJ 311 (1995) 619). The upper end of the two-sided interval
// at 90 % is that limit.
func TestNeverSeen(t *testing.T) {
	for n, want := range map[int]float64{10: .258866, 30: .095034, 100: .029513, 1500: .001995} {
		assert.InDelta(t, want, clopperPearson(0, n, 0.90).High, 6e-7)
		assert.InDelta(t, want, shareLimits(0, float64(n), 0.90).High, 6e-7)
		assert.Less(t, clopperPearson(0, n, 0.90).High, 3/float64(n))
	}
	assert.InDelta(t, 3.6889e-9, shareLimits(0, 1e9, 0.95).High, 1e-13, "no cancellation")
	assert.Equal(t, 1.0, shareLimits(5, 5, 0.95).High)
	assert.Greater(t, shareLimits(1, 100, 0.95).High, shareLimits(0, 100, 0.95).High)
}

// With equal denominators the jackknife of a ratio is the interval of a mean.
// Else the delete-one ratios, by hand: 3/5 of all; 2/4, 2/3, 2/3 without each.
func TestJackknife(t *testing.T) {
	x := []float64{1.53, 1.66, 1.24, 2.34, 2.00, 1.69, 2.69, 2.86, 1.70, 2.60}
	pairs := make([]Figure, len(x))
	for i := range pairs {
		pairs[i] = Figure{Num: x[i], Den: 2}
	}
	e, m := Ratio(pairs, len(x), 0.90), momentsOf(x...)
	assert.InDelta(t, m.Mean()/2, e.Mean, 1e-12)
	assert.InDelta(t, m.SD()/2, e.SD, 1e-12)
	assert.InDelta(t, m.HalfWidth(0.90)/2, e.HalfWidth, 1e-12)

	e = Ratio([]Figure{{Num: 1, Den: 1}, {Num: 1, Den: 2}, {Num: 1, Den: 2}}, 3, 0.95)
	assert.InDelta(t, 0.6, e.Mean, 1e-15)
	// Mean of 1/2, 2/3, 2/3 is 11/18; squares about it sum to 1/54; times 2/3.
	se := math.Sqrt(2. / 3 / 54)
	assert.InDelta(t, se*math.Sqrt(3), e.SD, 1e-12)
	assert.InDelta(t, 4.3026527*se, e.HalfWidth, 1e-8)
}

// One large newspaper: 99.7 % of splices good, one failure in 305 (Rosenberg,
// Editor & Publisher, story 110670). In 305,000 splices 1,000 failures are expected, sd 31.57.
func TestSpliceFailuresPublished(t *testing.T) {
	p := 1. / 305
	assert.InDelta(t, 0.997, 1-p, 5e-4)
	assert.InDelta(t, 31.57, math.Sqrt(305000*p*(1-p)), 0.005)
	i := shareLimits(1000, 305000, 0.95)
	assert.Less(t, i.Low, p)
	assert.Greater(t, i.High, p)
}
