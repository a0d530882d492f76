package fit

import (
	"math"

	"rollchange/model/portable"
)

// Rates is a rate of events with its limits, as many a unit of exposure.
type Rates struct {
	Events    int
	Exposure  float64 // s of running, m of web: what they happened in
	Mean      float64
	Low, High float64
}

// Rate is the rate of events that come at random, with exact limits (Garwood,
// Biometrika 28 (1936) 437): of k events in the time T
//
//	low = chi²(a/2; 2k)/(2T)    high = chi²(1 - a/2; 2k + 2)/(2T)    a = 1 - confidence
//
// Without any event the low limit is 0 and the high one -ln(a/2)/T; without exposure
// nothing is known: NaN, 0 and +Inf.
func Rate(events int, exposure, confidence float64) Rates {
	k, a := float64(events), (1-confidence)/2
	r := Rates{Events: events, Exposure: exposure, Mean: math.NaN(), High: math.Inf(1)}
	if exposure <= 0 {
		return r
	}
	r.Mean = k / exposure
	if events > 0 {
		r.Low = portable.GammaQuantile(k, a) / exposure
	}
	r.High = portable.GammaQuantileAbove(k+1, a) / exposure
	return r
}

// Evenness is a test of whether rates are one: of groups with counts of events and
// the exposure of each.
type Evenness struct {
	Rates []Rates // of each group
	Chi2  float64 // sum (seen - expected)²/expected, of groups with an exposure
	P     float64 // chance of so much or more at one rate; NaN with fewer than two groups or no event
}

// leastExpected is what each group must expect for the chi-square law to hold; below
// that the chance is counted in draws.
const (
	leastExpected = 5
	enoughUneven  = 100        // draws as uneven as what was seen: then the chance is known to a tenth
	mostEvents    = 20_000_000 // in all draws: a second
)

// Even tests rates of groups. Events at one rate fall into the groups by their
// exposure (multinomial), which has the chi-square law of one degree of freedom less
// than groups where all expect five or more; else it is counted in up to 9,999
// draws from the seed (Besag and Clifford, Biometrika 78 (1991) 301).
func Even(counts []int, exposure []float64, confidence float64, seed uint64) Evenness {
	e := Evenness{P: math.NaN()}
	events, all, groups := 0, 0.0, 0
	for i, n := range counts {
		e.Rates = append(e.Rates, Rate(n, exposure[i], confidence))
		if exposure[i] > 0 {
			events, all, groups = events+n, all+exposure[i], groups+1
		}
	}
	if groups < 2 || events == 0 {
		return e
	}
	least := math.Inf(1)
	distance := func(counts []int) float64 {
		sum := 0.0
		for i, n := range counts {
			if want := float64(events) * exposure[i] / all; want > 0 {
				sum += (float64(n) - want) * (float64(n) - want) / want
				least = min(least, want)
			}
		}
		return sum
	}
	e.Chi2 = distance(counts)
	if least >= leastExpected {
		_, e.P = portable.GammaPQ(float64(groups-1)/2, e.Chi2/2)
		return e
	}
	r := newDrawer(seed, "even")
	draws := max(999, min(9999, mostEvents/events))
	farther := 0
	again := make([]int, len(counts))
	for n := 1; n <= draws; n++ {
		clear(again)
		for range events {
			u := all * r.Float64()
			i := 0
			for ; i < len(again)-1 && u >= exposure[i]; i++ {
				u -= exposure[i]
			}
			again[i]++
		}
		if distance(again) >= e.Chi2*(1-1e-9) {
			if farther++; farther == enoughUneven {
				e.P = float64(farther) / float64(n)
				return e
			}
		}
	}
	e.P = float64(farther+1) / float64(draws+1)
	return e
}
