package model

import (
	"math"
	"slices"
	"sort"

	"rollchange/model/portable"
)

// LognormalParams returns the mean and standard deviation of the logarithm of
// what a lognormal variable with mean A and standard deviation B has above its
// least value:
//
//	sigma² = ln(1 + (B/m)²)    mu = ln m - sigma²/2    m = A - Least
func (d Dist) LognormalParams() (mu, sigma float64) {
	mean := d.A - d.Least
	s2 := portable.Log1p(d.B * d.B / (mean * mean))
	return portable.Log(mean) - s2/2, math.Sqrt(s2)
}

// cut is the chance that the normal law of d gives to values below 0, which a
// quantity that cannot be negative redraws; 0 for every other law.
func (d Dist) cut() float64 {
	if d.Law != Normal || d.Signed {
		return 0
	}
	return portable.Erfc(d.A/d.B/math.Sqrt2) / 2
}

// Mean is the mean of d, after the cut at 0 of a normal.
func (d Dist) Mean() float64 {
	switch d.Law {
	case NotGiven:
		return 0
	case Normal:
		if d.Signed {
			return d.A
		}
		z := -d.A / d.B
		return d.A + d.B*portable.Exp(-z*z/2)/math.Sqrt(2*math.Pi)/(1-d.cut())
	case Uniform:
		return (d.A + d.B) / 2
	case Triangular:
		return (d.A + d.B + d.C) / 3
	case Gamma:
		return d.Least + d.A*d.B
	case Weibull:
		return d.Least + d.B*portable.Gamma(1+1/d.A)
	case Empirical:
		sum := 0.0
		for _, v := range d.Values {
			sum += v
		}
		return sum / float64(len(d.Values))
	}
	return d.A
}

// SD is the standard deviation of d, after the cut at 0 of a normal; that of
// an empirical law has divisor n.
func (d Dist) SD() float64 {
	switch d.Law {
	case Exponential:
		return d.A - d.Least
	case Lognormal:
		return d.B
	case Normal:
		if d.Signed {
			return d.B
		}
		z := -d.A / d.B
		h := portable.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / (1 - d.cut())
		return d.B * math.Sqrt(max(0, 1+z*h-h*h))
	case Uniform:
		return (d.B - d.A) / math.Sqrt(12)
	case Triangular:
		return math.Sqrt((d.A*d.A + d.B*d.B + d.C*d.C - d.A*d.B - d.A*d.C - d.B*d.C) / 18)
	case Gamma:
		return math.Sqrt(d.A) * d.B
	case Weibull:
		g := portable.Gamma(1 + 1/d.A)
		return d.B * math.Sqrt(max(0, portable.Gamma(1+2/d.A)-g*g))
	case Empirical:
		mean, sum := d.Mean(), 0.0
		for _, v := range d.Values {
			sum += (v - mean) * (v - mean)
		}
		return math.Sqrt(sum / float64(len(d.Values)))
	}
	return 0
}

// survival is P(X > x), accurate also far out in the tail.
func (d Dist) survival(x float64) float64 {
	if low := d.Min(); x < low {
		return 1
	}
	if d.Least != 0 {
		return d.above().survival(x - d.Least)
	}
	switch d.Law {
	case Exponential:
		return portable.Exp(-x / d.A)
	case Lognormal:
		mu, sigma := d.LognormalParams()
		return portable.Erfc((portable.Log(x)-mu)/sigma/math.Sqrt2) / 2
	case Normal:
		return portable.Erfc((x-d.A)/d.B/math.Sqrt2) / 2 / (1 - d.cut())
	case Uniform:
		return max(0, min(1, (d.B-x)/(d.B-d.A)))
	case Triangular:
		switch {
		case x >= d.C:
			return 0
		case x >= d.B:
			return (d.C - x) * (d.C - x) / ((d.C - d.A) * (d.C - d.B))
		}
		h := d.B - d.A
		return (h*(d.C-d.B) + (d.B-x)*(d.B+x-2*d.A)) / ((d.C - d.A) * h)
	case Gamma:
		_, q := portable.GammaPQ(d.A, x/d.B)
		return q
	case Weibull:
		return portable.Exp(-portable.Pow(x/d.B, d.A))
	case Empirical:
		n := 0
		for _, v := range d.Values {
			if v > x {
				n++
			}
		}
		return float64(n) / float64(len(d.Values))
	}
	if d.A > x {
		return 1
	}
	return 0
}

// SurvivalFrom is P(X >= x): it differs from P(X > x) where a law has atoms.
func (d Dist) SurvivalFrom(x float64) float64 {
	switch d.Law {
	case NotGiven, Fixed, Empirical:
		return d.survival(math.Nextafter(x, math.Inf(-1)))
	}
	return d.survival(x)
}

// Tail is SurvivalFrom for many values of one law: what hangs on the law alone is
// worked out once.
func (d Dist) Tail() func(x float64) float64 {
	low, least := d.Min(), d.Least
	switch d.Law {
	case Lognormal:
		mu, sigma := d.LognormalParams()
		return func(x float64) float64 {
			if x < low {
				return 1
			}
			return portable.Erfc((portable.Log(x-least)-mu)/sigma/math.Sqrt2) / 2
		}
	case Normal:
		mean, sd, kept := d.A, d.B, 1-d.cut()
		return func(x float64) float64 {
			if x < low {
				return 1
			}
			return portable.Erfc((x-mean)/sd/math.Sqrt2) / 2 / kept
		}
	}
	return d.SurvivalFrom
}

// cdf is P(X <= x), accurate also far down in the lower tail.
func (d Dist) cdf(x float64) float64 {
	if x < d.Min() {
		return 0
	}
	if d.Least != 0 {
		return d.above().cdf(x - d.Least)
	}
	switch d.Law {
	case Exponential:
		return -portable.Expm1(-x / d.A)
	case Lognormal:
		mu, sigma := d.LognormalParams()
		return portable.Erfc((mu-portable.Log(x))/sigma/math.Sqrt2) / 2
	case Normal:
		if d.Signed {
			return portable.Erfc((d.A-x)/d.B/math.Sqrt2) / 2
		}
	case Uniform:
		return min(1, (x-d.A)/(d.B-d.A))
	case Triangular:
		if x < d.B {
			return (x - d.A) * (x - d.A) / ((d.C - d.A) * (d.B - d.A))
		}
	case Gamma:
		p, _ := portable.GammaPQ(d.A, x/d.B)
		return p
	case Weibull:
		return -portable.Expm1(-portable.Pow(x/d.B, d.A))
	case Empirical:
		n := 0
		for _, v := range d.Values {
			if v <= x {
				n++
			}
		}
		return float64(n) / float64(len(d.Values))
	}
	return 1 - d.survival(x)
}

// Min is the least value that d can take, -Inf for a signed normal.
func (d Dist) Min() float64 {
	switch d.Law {
	case Fixed, Uniform, Triangular:
		return d.A
	case Normal:
		if d.Signed {
			return math.Inf(-1)
		}
	case Empirical:
		return slices.Min(d.Values)
	}
	return d.Least
}

// Max is the greatest value that d can take, +Inf when there is none.
func (d Dist) Max() float64 {
	switch d.Law {
	case NotGiven, Fixed:
		return d.A
	case Uniform:
		return d.B
	case Triangular:
		return d.C
	case Empirical:
		return slices.Max(d.Values)
	}
	return math.Inf(1)
}

// Quantile is the least x with P(X <= x) >= p, 0 <= p <= 1. It finds a root of
// cdf by bisection where the law has no simple inverse, to about 1e-14 relative.
func (d Dist) Quantile(p float64) float64 {
	if d.Least != 0 {
		return d.Least + d.above().Quantile(p)
	}
	switch d.Law {
	case NotGiven, Fixed:
		return d.A
	case Exponential:
		return -d.A * portable.Log1p(-p)
	case Lognormal:
		mu, sigma := d.LognormalParams()
		return portable.Exp(mu + sigma*portable.NormalQuantile(p))
	case Normal:
		cut := d.cut()
		return max(d.Min(), d.A+d.B*portable.NormalQuantile(cut+p*(1-cut)))
	case Uniform:
		return d.A + p*(d.B-d.A)
	case Triangular:
		w := d.C - d.A
		if p*w < d.B-d.A {
			return d.A + math.Sqrt(p*w*(d.B-d.A))
		}
		return d.C - math.Sqrt((1-p)*w*(d.C-d.B))
	case Weibull:
		return d.B * portable.Pow(-portable.Log1p(-p), 1/d.A)
	case Empirical:
		v := d.Values
		if !slices.IsSorted(v) {
			v = slices.Sorted(slices.Values(v))
		}
		i := sort.Search(len(v), func(i int) bool { return float64(i+1)/float64(len(v)) >= p })
		return v[min(i, len(v)-1)]
	}
	if p <= 0 {
		return 0
	}
	if p >= 1 {
		return math.Inf(1)
	}
	low, high := 0.0, d.Mean()
	for d.cdf(high) < p {
		high *= 2
	}
	for {
		// Invariant: cdf(low) < p <= cdf(high).
		mid := (low + high) / 2
		if mid <= low || mid >= high {
			return high
		}
		if d.cdf(mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
}

// cutShift is how much the cut at 0 moves the mean of a normal, relative; +Inf
// when the mean before it is 0.
func (d Dist) cutShift() float64 {
	if d.Law != Normal || d.Signed {
		return 0
	}
	return d.Mean()/d.A - 1
}
