package estimate

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"rollchange/sim/effort"
)

// madeUp are n groups with sums of mean 0 and figures that go with them.
func madeUp(r *rand.Rand, n int, noise float64) (x [][2]float64, y []float64, size []int) {
	for g := range n {
		a, b := r.NormFloat64(), r.NormFloat64()
		size = append(size, 1+g%3)
		w := float64(size[g])
		x = append(x, [2]float64{w * 3 * a, w * (a + b)})
		y = append(y, w*(7+2*a-b+noise*r.NormFloat64()))
	}
	return x, y, size
}

// fitAt0 is the value at sums of 0 of the weighted least squares plane, by gonum's QR.
func fitAt0(x [][2]float64, y []float64, size []int, without, columns int) float64 {
	var a, b []float64
	for g := range x {
		if g == without {
			continue
		}
		w := math.Sqrt(float64(size[g]))
		a = append(a, w)
		for k := range columns {
			a = append(a, x[g][k]/w)
		}
		b = append(b, y[g]/w)
	}
	var beta mat.Dense
	if err := beta.Solve(mat.NewDense(len(b), 1+columns, a), mat.NewDense(len(b), 1, b)); err != nil {
		panic(err)
	}
	return beta.At(0, 0)
}

// The fit and the fits without each group are those of ordinary weighted least squares.
func TestPseudoValuesAreThoseOfTheFits(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for columns := 1; columns <= 2; columns++ {
		x, y, size := madeUp(r, 15, 0.5)
		if columns == 1 {
			for g := range x {
				x[g][1] = 2 * x[g][0] // says nothing new
			}
		}
		c := NewControls(x, size)
		require.NotNil(t, c)
		require.Equal(t, columns, c.columns)
		p := c.Pseudo(y, 0.95)
		all := fitAt0(x, y, size, -1, columns)
		assert.InEpsilon(t, all, p.All, 1e-10)
		stretch := StudentT(0.975, 14-float64(columns)) / StudentT(0.975, 14)
		for g := range x {
			want := 15*all - 14*fitAt0(x, y, size, g, columns)
			assert.InEpsilon(t, all+stretch*(want-all), p.Values[g], 1e-8)
		}
	}
}

func TestControlsThatCannotBeUsed(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	x, _, size := madeUp(r, 9, 1)
	assert.Nil(t, NewControls(x, size), "nine replications are too few")
	x, _, size = madeUp(r, 12, 1)
	require.NotNil(t, NewControls(x, size))
	x[3] = [2]float64{1e6, 1e6}
	assert.Nil(t, NewControls(x, size), "one replication alone makes the slope")
	for g := range x {
		x[g] = [2]float64{}
	}
	assert.Nil(t, NewControls(x, size), "they do not vary")
}

// Sums of which the rare part never happened are all but the same, away from 0: they are
// left out, the other one alone is used, and both where that part has happened.
func TestSumsThatLackWhatIsRare(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for _, varies := range []float64{1e-16, 1e-9, 1e-3} {
		x, _, size := madeUp(r, 20, 1)
		for g := range x {
			x[g][0] = float64(size[g]) * (-0.01 + 0.01*varies*r.NormFloat64())
		}
		c := NewControls(x, size)
		require.NotNil(t, c)
		assert.Equal(t, 1, c.columns)
		assert.Zero(t, c.inverse[0][0], "the sum that varies is used")
		x[4][0], x[9][0] = x[4][0]+0.2, x[9][0]+0.2
		c = NewControls(x, size)
		require.NotNil(t, c)
		assert.Equal(t, 2, c.columns)
		for g := range x {
			x[g] = [2]float64{float64(size[g]) * (-0.01 + 0.01*varies*r.NormFloat64()), 0}
		}
		assert.Nil(t, NewControls(x, size))
	}
}

// What the sums explain is taken off: the interval is as wide as the noise alone makes
// it, and covers in 95 of 100.
func TestControlledMeansCover(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	sets := effort.Of(500, 4000, 40000)
	for _, n := range []int{10, 20, 60} {
		covers, known, width := 0, 0, 0.0
		for range sets {
			x, y, size := madeUp(r, n, 0.3)
			for g, w := range size { // one replication each
				x[g], y[g], size[g] = [2]float64{x[g][0] / float64(w), x[g][1] / float64(w)}, y[g]/float64(w), 1
			}
			p := PlainPseudo(y, size)
			if c := NewControls(x, size); c != nil {
				p = c.Pseudo(y, 0.95)
			}
			e := Controlled(p, Estimate{SD: 1, N: n, Low: math.NaN(), High: math.NaN()}, 0.95)
			if !e.Known() { // skewed by chance, as of any ten replications now and then
				continue
			}
			known++
			if e.Low <= 7 && 7 <= e.High {
				covers++
			}
			width += (e.High - e.Low) / 2
		}
		share := float64(covers) / float64(known)
		width /= float64(known)
		assert.Greater(t, known, sets*4/5, "%d groups", n)
		assert.Greater(t, share, 0.95-3.5*math.Sqrt(0.95*0.05/float64(sets)), "%d groups", n)
		assert.Less(t, share, 0.97, "%d groups", n)
		noise := 0.3 / math.Sqrt(float64(n)) * StudentT(0.975, float64(n-1))
		assert.Less(t, width, 1.6*noise, "%d groups", n)
		t.Logf("%d groups: %.1f %%, %.2f of the noise", n, 100*share, width/noise)
	}
}

func TestCovarianceOfPseudoValues(t *testing.T) {
	p := Pseudo{Values: []float64{1, 3, 5}}
	q := Pseudo{Values: []float64{2, 8, 5}}
	assert.InDelta(t, 3.0, Covariance(p, q, 3), 1e-12)
	assert.InDelta(t, 6.0, Covariance(p, q, 6), 1e-12, "groups of two")
	assert.True(t, math.IsNaN(Covariance(Pseudo{Values: []float64{1}}, q, 1)))
}

// withEvents are pseudo-values of replications of which the first few had an event.
func withEvents(n, events int) Pseudo {
	p := Pseudo{All: 4.9 + 2*float64(events)/float64(n)}
	for i := range n {
		p.Values = append(p.Values, 4.9)
		if i < events {
			p.Values[i] += 2
		}
	}
	return p
}

// Where what few events are left carry a figure, the plain limits stand about the mean
// with controls, or, where these are nearer, those of as many events as there may be: of
// one that was seen 5.57 (Poisson, 95 %: Garwood, Biometrika 28 (1936) 437).
func TestLimitsWhereControlsLeaveFewEvents(t *testing.T) {
	p := withEvents(20, 1)
	plain := Estimate{Mean: 5.2, HalfWidth: 0.4, Low: 4.8, High: 5.6, SD: 1, N: 20}
	e := Controlled(p, plain, 0.95)
	assert.Equal(t, 5.0, e.Mean)
	assert.InDelta(t, 4.6, e.Low, 1e-12)
	assert.InDelta(t, 5.4, e.High, 1e-12)
	assert.InDelta(t, 0.4, e.HalfWidth, 1e-12)
	assert.Equal(t, 1.0, e.SD, "that of a replication as it is")
	plain.Low, plain.High = 2.2, 8.2
	e = Controlled(p, plain, 0.95)
	assert.InDelta(t, 0.1*4.5716, e.HalfWidth, 1e-4)
	assert.InDelta(t, 5+0.1*4.5716, e.High, 1e-4)
	plain.Low, plain.High = math.NaN(), math.NaN()
	assert.Equal(t, TooFew, Controlled(p, plain, 0.95).Why)
}

// However many events are to be expected, the limits of a figure that few of them carry
// miss the truth above and below in no more sets than they say.
func TestLimitsOfFewEventsCover(t *testing.T) {
	plain, highest := Estimate{Mean: 5, Low: -95, High: 105, SD: 1, N: 20}, 0.0
	for expected := 0.1; expected < 12; expected += 0.1 {
		chance, below, above := math.Exp(-expected), 0.0, 0.0
		truth := 4.9 + 2*expected/20
		for events := 1; events <= 10; events++ { // of more, replications have several
			chance *= expected / float64(events)
			p := withEvents(20, events)
			switch e := Controlled(p, plain, 0.95); {
			case Mean(p.moments(), 0.95).Why != TooFew: // they have limits of their own
			case truth < e.Low:
				below += chance
			case truth > e.High:
				above += chance
			}
		}
		assert.LessOrEqual(t, below, 0.025, expected)
		assert.LessOrEqual(t, above, 0.025, expected)
		highest = max(highest, above)
	}
	assert.Greater(t, highest, 0.01, "nor are they far wider")
}

// With slopes from other replications the mean is that at sums of 0.
func TestSlopedPseudo(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	x, y, size := madeUp(r, 200, 0)
	c := NewControls(x, size)
	require.NotNil(t, c)
	slope := c.Slope(y)
	fewX, fewY, fewSize := madeUp(r, 3, 0)
	p := SlopedPseudo(fewY, fewX, fewSize, slope)
	assert.InDelta(t, 7, p.All, 1e-9)
	for _, v := range p.Values {
		assert.InDelta(t, 7, v, 1e-9)
	}
}
