package words

import (
	"fmt"
	"math"
	"strconv"

	"rollchange/model/portable"
	"rollchange/sim/estimate"
)

// oneInText is a chance in a sentence: "one in 193".
func oneInText(p float64) string {
	if p < 1e-12 {
		return "practically none"
	}
	n := 1 / p
	step := portable.Pow(10, math.Floor(portable.Log10(n))-2) // three digits
	return "one in " + withCommas(fixed(math.Round(n/step)*step, max(0, 2-int(math.Floor(portable.Log10(n))))))
}

// shareText is a chance as a target is written: "0.5 %", "1 in 1,000,000".
func shareText(p float64) string {
	if p >= 1e-4 || p == 0 {
		return digits(100*p, 3) + " %"
	}
	n, _ := strconv.ParseFloat(strconv.FormatFloat(1/p, 'g', 3, 64), 64)
	return "1 in " + Grouped(n)
}

// belowText is an upper limit of a chance, "1 in 3,100", never below it.
func belowText(p float64) string {
	n := 1 / p
	if !(n >= 2) {
		return shareText(p)
	}
	place := portable.Pow(10, max(0, math.Floor(portable.Log10(n))-1))
	return "1 in " + Grouped(math.Floor(n/place)*place)
}

// noLimits says that a chance has no confidence limits.
const noLimits = " (no confidence limits: too little was simulated)"

// chanceText is the estimate of a chance with its limits: "0.71 % (0.62 to 0.80)".
func chanceText(e estimate.Estimate) string {
	unit, name := 0.01, " %"
	if e.Mean < 1e-4 && e.High < 1e-3 || !e.Known() && e.Mean < 1e-4 {
		unit, name = 1e-6, " in a million"
	}
	if mean := digits(e.Mean/unit, 3) + name; !e.Known() {
		return mean + noLimits
	} else if !(e.High > e.Low) {
		return mean
	}
	return withLimits(e.Mean/unit, e.Low/unit, e.High/unit, name, 3)
}

// manyText is a large number in a sentence, rounded up to two digits: "3.7 million".
func manyText(n float64) string {
	place := portable.Pow(10, math.Max(0, math.Floor(portable.Log10(n))-1))
	n = math.Ceil(n/place*(1-1e-12)) * place
	for _, u := range []struct {
		size float64
		name string
	}{{1e9, "billion"}, {1e6, "million"}} {
		if n >= u.size {
			return Short(n/u.size, 12) + " " + u.name
		}
	}
	return Grouped(n)
}

// perMany is the round number in which a chance is so many: 1000 of "7 in 1,000".
func perMany(p float64) float64 {
	of := 1000.0
	if p >= 0.0995 {
		of = 100
	}
	for p*of < 0.95 && of < 1e12 {
		of *= 10
	}
	return of
}

// perManyText is a chance as so many in a round number: "7 in 1,000".
func perManyText(p float64) string {
	of := perMany(p)
	return digits(p*of, 2) + " in " + Grouped(of)
}

// perManyOf is an estimate in so many as a chance is written in: "3 (2.7 to 3.4) in 1,000".
func perManyOf(e estimate.Estimate, p float64) string {
	n := perMany(p)
	text := digits(e.Mean*n, 2)
	switch {
	case !e.Known():
		return fmt.Sprintf("%s in %s%s", text, Grouped(n), noLimits)
	case e.High > e.Low:
		text = withLimits(e.Mean*n, e.Low*n, e.High*n, "", 2)
	}
	return fmt.Sprintf("%s in %s", text, Grouped(n))
}
