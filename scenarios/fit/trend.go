package fit

import (
	"math"
	"slices"

	"rollchange/model/portable"
)

// Trends are three tests of whether events come more or less often as time goes on; a
// chance is of both sides. Events at random at a steady rate are the hypothesis.
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.3.4.
type Trends struct {
	Events   int
	Laplace  float64 // standard normal; above 0: they come more often
	LaplaceP float64
	Handbook float64 // chi-square of 2 Events degrees of freedom (MIL-HDBK-189); small: they come more often
	Degrees  int
	ChanceP  float64 // of Handbook

	Reversals  int     // pairs of intervals of which the later is longer; many: they come less often
	Pairs      int     // of intervals
	ReversalsP float64 // of as far from half of the pairs
}

// Trend tests times of events, s from the start of a record that went on to its
// length, whatever happened at its end:
//
//	z = (sum t - n T/2) / (T sqrt(n/12))        chi² = 2 sum ln(T/t)
//
// and the intervals between them, from the start on, by reverse arrangements, whatever
// their law.
//
// Below four events, and with a time outside 0 to length, nothing is known: NaN.
func Trend(times []float64, length float64) Trends {
	nan := math.NaN()
	n := float64(len(times))
	t := Trends{Events: len(times), Laplace: nan, LaplaceP: nan, Handbook: nan, ChanceP: nan, Degrees: 2 * len(times), ReversalsP: nan}
	if len(times) < 4 || slices.ContainsFunc(times, func(x float64) bool { return !(x > 0 && x <= length) }) {
		return t
	}
	sum, chi := 0.0, 0.0
	for _, x := range times {
		sum += x
		chi += 2 * portable.Log(length/x)
	}
	t.Laplace = (sum - n*length/2) / (length * math.Sqrt(n/12))
	t.LaplaceP = portable.Erfc(math.Abs(t.Laplace) / math.Sqrt2)
	t.Handbook = chi
	fewer, more := portable.GammaPQ(n, chi/2)
	t.ChanceP = min(1, 2*min(fewer, more))
	t.reverse(times)
	return t
}

// Serial says whether a value goes with the one before it.
type Serial struct {
	R float64 // correlation of the ranks of neighbours, about; NaN of fewer than ten values
	P float64 // chance of one so far from 0 of values in any order
}

// serialOf is the rank version of von Neumann's ratio (Bartels, J. Am. Statist. Assoc.
// 77 (1982) 40) of values in the order of the record, those that are open left out:
//
//	V = sum (R(i) - R(i+1))² / sum (R(i) - mean R)²
//
// which has mean 2 and the variance 4 (n-2) (5n² - 2n - 9) / (5 n (n+1) (n-1)²)
// without ties, and is near a normal law from ten on.
func serialOf(values []Value) Serial {
	var x []float64
	for _, v := range values {
		if !v.Open {
			x = append(x, v.X)
		}
	}
	n := float64(len(x))
	none := Serial{math.NaN(), math.NaN()}
	if n < 10 {
		return none
	}
	rank := portable.Ranks(x) // from 0, so that their mean is (n-1)/2
	var up, all float64
	for i, r := range rank {
		if i > 0 {
			up += (r - rank[i-1]) * (r - rank[i-1])
		}
		all += (r - (n-1)/2) * (r - (n-1)/2)
	}
	if all == 0 {
		return none
	}
	ratio := up / all
	sd := math.Sqrt(serialVariance(n))
	return Serial{1 - ratio/2, portable.Erfc(math.Abs(ratio-2) / sd / math.Sqrt2)}
}

func serialVariance(n float64) float64 {
	return 4 * (n - 2) * (5*n*n - 2*n - 9) / (5 * n * (n + 1) * (n - 1) * (n - 1))
}
