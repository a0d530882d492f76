package estimate

import "math"

// An Interval is the ends of a confidence interval.
type Interval struct{ Low, High float64 }

// ClopperPearson is the exact two-sided interval of a chance of which k of n
// trials came true (Clopper and Pearson, Biometrika 26 (1934) 404): its ends
// are the chances at which k or more, and k or fewer, would be seen with
// probability (1-confidence)/2,
//
//	low = Beta quantile of (1-confidence)/2 with (k, n-k+1)
//	high = Beta quantile of (1+confidence)/2 with (k+1, n-k)
//
// 0 <= k <= n, n > 0; else both ends are NaN. It covers at least as often as
// it says, for any chance.
func ClopperPearson(k, n int, confidence float64) Interval {
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

// Wilson is the score interval of a chance of which k of n trials came true
// (E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209), with z the normal quantile
// of (1+confidence)/2:
//
//	(k + z²/2 ± z sqrt(k (n-k)/n + z²/4)) / (n + z²)
//
// It is shorter than ClopperPearson and covers as often as it says on average
// over chances, not for each one.
func Wilson(k, n int, confidence float64) Interval {
	if n <= 0 || k < 0 || k > n {
		return Interval{math.NaN(), math.NaN()}
	}
	z := normalQuantile(0.5 + confidence/2)
	x, m := float64(k), float64(n)
	half := z * math.Sqrt(x*(m-x)/m+z*z/4)
	return Interval{max(0, (x+z*z/2-half)/(m+z*z)), min(1, (x+z*z/2+half)/(m+z*z))}
}
