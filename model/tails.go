package model

import (
	"fmt"
	"math"
)

// TailLaws are the laws that a task time is usually taken to follow; fitted to
// the same data they agree in the middle and differ in the far tail.
var TailLaws = [...]Law{Lognormal, Gamma, Weibull}

// Like is the law with the mean and standard deviation of d, for the laws of
// TailLaws; d itself when it does not vary or its mean is not above 0.
//
// Lognormal takes both as they are; gamma has shape (mean/sd)² and scale
// sd²/mean; the Weibull shape k is the root of
//
//	Γ(1 + 2/k)/Γ(1 + 1/k)² = 1 + (sd/mean)²
func (d Dist) Like(law Law) Dist {
	mean, sd := d.Mean(), d.SD()
	if !(mean > 0) || !(sd > 0) || math.IsInf(sd, 1) {
		return d
	}
	cv2 := (sd / mean) * (sd / mean)
	switch law {
	case Lognormal:
		return Dist{Law: Lognormal, A: mean, B: sd}
	case Gamma:
		return Dist{Law: Gamma, A: 1 / cv2, B: sd * sd / mean}
	case Weibull:
		k := weibullShape(cv2)
		return Dist{Law: Weibull, A: k, B: mean / math.Gamma(1+1/k)}
	}
	return d
}

// weibullShape finds the shape whose squared coefficient of variation is cv2,
// which falls from infinity to 0 as the shape grows.
func weibullShape(cv2 float64) float64 {
	low, high := 0.05, 1e4
	for {
		mid := math.Sqrt(low * high)
		if mid <= low || mid >= high {
			return mid
		}
		a, _ := math.Lgamma(1 + 1/mid)
		b, _ := math.Lgamma(1 + 2/mid)
		if math.Expm1(b-2*a) > cv2 {
			low = mid
		} else {
			high = mid
		}
	}
}

// beyondData says that the risk of depletion leans on a part of the dwell's law
// that no data can show: fewer than one dwell in a thousand is so long.
func beyondData(c Cycle) string {
	longest := c.LongestDwell()
	chance := c.Dwell.SurvivalFrom(longest)
	switch {
	case c.Dwell.IsConst() || longest <= 0 || chance > 1e-3:
		return ""
	case chance == 0:
		return fmt.Sprintf("its law ends at %.3g s and the storage lasts for %.3g s; that no longer dwell can be is what the answer rests on", c.Dwell.Max(), longest)
	}
	s := fmt.Sprintf("the storage lasts for %.3g s, longer than all but one in %.2g of its law: beyond the data. With the same mean and sd, so many in a million would be longer:", longest, 1/chance)
	for i, law := range TailLaws {
		s += fmt.Sprintf(" %s %.2g", [...]string{"lognormal", "gamma", "Weibull"}[i], 1e6*c.Dwell.Like(law).SurvivalFrom(longest))
	}
	return s
}

// UpperQuantile is the x that d exceeds with the chance p, accurate also for the
// p of a far tail, where 1-p has lost its digits.
func UpperQuantile(d Dist, p float64) float64 {
	if d.IsConst() || p > 0.01 {
		return d.Quantile(1 - p)
	}
	low, high := d.Quantile(0.5), max(d.Quantile(0.99), 1e-9)
	for d.SurvivalFrom(high) > p {
		if high *= 2; math.IsInf(high, 1) {
			return high
		}
	}
	if d.SurvivalFrom(low) <= p {
		return low
	}
	for {
		mid := (low + high) / 2
		if mid <= low || mid >= high {
			return high
		}
		if d.SurvivalFrom(mid) > p {
			low = mid
		} else {
			high = mid
		}
	}
}
