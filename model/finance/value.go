package finance

import (
	"math"

	"rollchange/model/portable"
)

// SPV is the single present value factor: what 1 at the end of year n is worth
// at year 0,
//
//	SPV = (1 + rate)^-n
//
// for rate > -1 (NIST Handbook 135, table A-1).
func SPV(rate, n float64) float64 { return portable.Pow(1+rate, -n) }

// upv is the uniform present value factor: what 1 at the end of each of the
// years 1 to n is worth at year 0,
//
//	UPV = (1 - (1 + rate)^-n) / rate
//
// and n at a rate of 0 (NIST Handbook 135, table A-2).
func upv(rate, n float64) float64 {
	if rate == 0 {
		return n
	}
	return -portable.Expm1(-n*portable.Log1p(rate)) / rate
}

// NPV is the net present value of flows, flows[0] at year 0:
//
//	NPV = sum over t of flows[t] (1 + rate)^-t
//
// (ASTM E1074: net benefits).
func NPV(rate float64, flows []float64) float64 {
	x, sum := 1/(1+rate), 0.0
	for t := len(flows) - 1; t >= 0; t-- {
		sum = sum*x + flows[t]
	}
	return sum
}

// PerYear is the even yearly flow over years 1 to n that is worth npv at year 0
// (annual equivalent): npv / UPV. It is npv itself for n = 0.
func PerYear(npv, rate float64, n int) float64 {
	if n == 0 {
		return npv
	}
	return npv / upv(rate, float64(n))
}

// MIRR is the modified internal rate of return: outlays at their present value
// at the finance rate, returns carried to the last year at the reinvestment rate,
//
//	MIRR = (FV of returns / PV of outlays)^(1/n) - 1
//
// NaN without an outlay, without a return, or for fewer than two flows (the
// adjusted internal rate of return of ASTM E1057 when the rates are equal; from memory).
func MIRR(flows []float64, finance, reinvest float64) float64 {
	n := len(flows) - 1
	if n < 1 {
		return math.NaN()
	}
	out, in := 0.0, 0.0
	for t, f := range flows {
		if f < 0 {
			out -= f * SPV(finance, float64(t))
		} else {
			in += f * portable.Pow(1+reinvest, float64(n-t))
		}
	}
	if out == 0 || in == 0 {
		return math.NaN()
	}
	return portable.Pow(in/out, 1/float64(n)) - 1
}

// SIR is the savings-to-investment ratio: the present value of savings over
// that of what is invested. NaN when nothing is invested.
func SIR(savings, investment float64) float64 {
	if !(investment > 0) {
		return math.NaN()
	}
	return savings / investment
}
