package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model/portable"
)

// TailLaws are the laws that a task time is usually taken to follow; fitted to
// the same data they agree in the middle and differ in the far tail.
var TailLaws = [...]Law{Lognormal, Gamma, Weibull}

// Like is the law with the mean, standard deviation and least value of d, for the
// laws of TailLaws; d itself when it does not vary or its mean is not above 0.
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
	cv2 := (sd / (mean - d.Least)) * (sd / (mean - d.Least))
	switch law {
	case Lognormal:
		return Dist{Law: Lognormal, A: mean, B: sd, Least: d.Least}
	case Gamma:
		return Dist{Law: Gamma, A: 1 / cv2, B: sd * sd / (mean - d.Least), Least: d.Least}
	case Weibull:
		k := weibullShape(cv2)
		return Dist{Law: Weibull, A: k, B: (mean - d.Least) / portable.Gamma(1+1/k), Least: d.Least}
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
		a := portable.Lgamma(1 + 1/mid)
		b := portable.Lgamma(1 + 2/mid)
		if portable.Expm1(b-2*a) > cv2 {
			low = mid
		} else {
			high = mid
		}
	}
}

// beyondData says that the risk of depletion leans on a part of the dwell's law
// that no data can show: fewer than one dwell in a thousand is so long. The less long
// the storage lasts the worse.
func beyondData(c Cycle, what string) (says caution, is bool) {
	longest := c.LongestDwell()
	chance := c.Dwell.SurvivalFrom(longest)
	switch {
	case c.Dwell.IsConst() || longest <= 0 || chance > 1e-3:
		return caution{}, false
	case chance == 0:
		return cautionOf(what, -longest, "%s dwell: its distribution ends at %.3g s and the storage lasts %.3g s; the answer rests on no dwell being longer", what, c.Dwell.Max(), longest), true
	}
	var laws [len(TailLaws)]string
	for i, law := range TailLaws {
		laws[i] = [...]string{"lognormal", "gamma", "Weibull"}[i] + " " + twoDigits(1e6*c.Dwell.Like(law).SurvivalFrom(longest))
	}
	return cautionOf(what, -longest, "%s dwell: the storage lasts %.3g s; in the distribution given one dwell in %s is longer: beyond any data. Longer dwells per million with the same mean and sd: %s",
		what, longest, twoDigits(1/chance), strings.Join(laws[:], ", ")), true
}

// twoDigits writes a number above 0 with two digits, thousands apart: "580,000".
func twoDigits(x float64) string {
	switch {
	case x < 0.001:
		return "below 0.001"
	case x >= 1e12:
		return fmt.Sprintf("%.1e", x)
	}
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 2, 64), 64)
	s := strconv.FormatFloat(x, 'f', -1, 64)
	for i := strings.IndexByte(s+".", '.') - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
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
