package fit

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"rollchange/model"
	"rollchange/model/portable"
)

// newDrawer is the chance of one name under a seed (PCG-DXSM, math/rand/v2).
func newDrawer(seed uint64, name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(seed, h.Sum64()))
}

// gamma is a gamma variable of scale 1 (Marsaglia and Tsang, ACM Trans. Math. Softw.
// 26 (2000) 363).
func gamma(r *rand.Rand, shape float64) float64 {
	boost := 1.0
	if shape < 1 {
		boost = portable.Pow(1-r.Float64(), 1/shape)
		shape++
	}
	d := shape - 1./3
	c := 1 / math.Sqrt(9*d)
	for {
		x := r.NormFloat64()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v = v * v * v
		if portable.Log(1-r.Float64()) < x*x/2+d-d*v+d*portable.Log(v) {
			return boost * d * v
		}
	}
}

// Redraw is the law that another record of as many values would have given, were d
// the truth: so many are drawn and the law is fitted to them (parametric bootstrap;
// Barton, Nelson and Xie, INFORMS J. Comput. 26 (2014) 74). The values of an empirical
// law are drawn with replacement, as many as were observed, or as it has where that is
// 0. A uniform and a triangular law keep their shape: mean and standard deviation are
// those of the values. A least value stays: it comes from how values were rounded. The
// same for the same seed and name; one of too few values for its parameters stays and is
// false.
func Redraw(d model.Dist, observed int, seed uint64, name string) (model.Dist, bool) {
	r := newDrawer(seed, name)
	n := float64(observed)
	switch d.Law {
	case model.Empirical:
		n := observed
		if n < 1 {
			n = len(d.Values)
		}
		e := model.Dist{Law: model.Empirical, Signed: d.Signed, Values: make([]float64, min(n, mostResampled))}
		for i := range e.Values {
			e.Values[i] = d.Values[r.IntN(len(d.Values))]
		}
		return e, len(d.Values) > 1
	case model.Uniform, model.Triangular:
		if observed < 2 {
			return d, false
		}
		e := likeSample(d, observed, r)
		return e, e.Validate() == nil
	case model.Exponential:
		if observed < 1 {
			return d, false
		}
		d.A = d.Least + (d.A-d.Least)*gamma(r, n)/n
		return d, true
	case model.Normal:
		if observed < 2 {
			return d, false
		}
		d.A, d.B = d.A+d.B*r.NormFloat64()/math.Sqrt(n), d.B*math.Sqrt(2*gamma(r, (n-1)/2)/(n-1))
		return d, d.Validate() == nil
	case model.Lognormal, model.Gamma, model.Weibull:
		if observed < 2 {
			return d, false
		}
		for range 100 {
			if again := refitted(d, observed, r); usable(again) {
				return again, true
			}
		}
	}
	return d, false
}

// mostResampled is the most values of an empirical law that is drawn anew: the
// simulation looks each of its draws up in them.
const mostResampled = 10000

// likeSample is a law between two ends, moved and stretched to the mean and the
// standard deviation of n values drawn from it. Of more than mostDrawn a part is drawn,
// as in refitted. What cannot be negative ends at 0.
func likeSample(d model.Dist, observed int, r *rand.Rand) model.Dist {
	n := min(observed, mostDrawn)
	mean, sd := d.Mean(), d.SD()
	var sum, squares float64
	for range n {
		x := d.Quantile(r.Float64()) - mean
		sum += x
		squares += x * x
	}
	shrink := math.Sqrt(float64(n) / float64(observed))
	off := sum / float64(n)
	stretch := math.Sqrt(max(0, squares-float64(n)*off*off)/float64(n-1)) / sd
	stretch = 1 + shrink*(stretch-1)
	for _, x := range []*float64{&d.A, &d.B, &d.C} {
		*x = mean + shrink*off + stretch*(*x-mean)
		if !d.Signed {
			*x = max(0, *x)
		}
	}
	if d.Law == model.Uniform {
		d.C = 0
	}
	return d
}

// refitted is the law of n values drawn from d. Of more than mostDrawn a part is
// drawn, and what it differs by from d is made as small as that of all.
func refitted(d model.Dist, observed int, r *rand.Rand) model.Dist {
	at := pointOf(d)
	c := curveAt(d.Law, at)
	n := min(observed, mostDrawn)
	if d.Law == model.Lognormal { // in closed form: mean and sd of normal values
		n = observed
		at[0] += c.b * r.NormFloat64() / math.Sqrt(float64(n))
		at[1] += portable.Log(2*gamma(r, float64(n-1)/2)/float64(n)) / 2
		return again(d, at)
	}
	list := make([]span, n)
	for i := range list {
		x := c.draw(r)
		list[i] = span{x, x}
	}
	p, _, ok := newSample(list, 0, 0).maximum(d.Law, at)
	if !ok {
		return model.Dist{}
	}
	shrink := math.Sqrt(float64(n) / float64(observed))
	return again(d, point{at[0] + shrink*(p[0]-at[0]), at[1] + shrink*(p[1]-at[1])})
}

func again(d model.Dist, p point) model.Dist {
	e := curveAt(d.Law, p).dist(d.Least)
	e.Signed = d.Signed
	return e
}

// RedrawMean is a mean that an exponential law may have, so many values of which had this
// mean: from what they leave open of it by Jeffreys' prior, mean n/G with G gamma of shape
// n, since G/n is what the mean of n values is times the true one. Its quantiles are limits
// that hold with their chance for any n (the limits of a Poisson rate, turned over); those of
// means drawn as Redraw does hold for many values, and of one value reach 40 times the rate.
func RedrawMean(mean float64, observed int, seed uint64, name string) float64 {
	if observed < 1 {
		return mean
	}
	n := float64(observed)
	return mean * n / max(gamma(newDrawer(seed, name), n), math.SmallestNonzeroFloat64*n)
}

// RedrawShare is the share that another record might have shown, of so many cases
// observed: from what they leave open of it by Jeffreys' prior, Beta(n p + 1/2,
// n (1 - p) + 1/2), so that a share that was never missed is not certain.
func RedrawShare(share float64, observed int, seed uint64, name string) float64 {
	if observed < 1 {
		return share
	}
	r := newDrawer(seed, name)
	hit := gamma(r, float64(observed)*share+0.5)
	return hit / (hit + gamma(r, float64(observed)*(1-share)+0.5))
}
