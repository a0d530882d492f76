package whatif

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim/estimate"
)

// inUnits is a quantity in SI as the reader of the study writes it.
func inUnits(x float64, d model.Dimension, sys model.System) string {
	u := model.Display(d, sys)
	return fmt.Sprintf("%.4g %s", u.From(x), u.Name)
}

// currencyOf is the currency of a line, after a space; "" when it has none.
func currencyOf(l *model.Line) string {
	if l.Economics.Currency == "" {
		return ""
	}
	return " " + l.Economics.Currency
}

// oneIn is a chance in words.
func oneIn(p float64) string {
	if p < 1e-12 {
		return "practically none"
	}
	n := 1 / p
	step := math.Pow(10, math.Floor(math.Log10(n))-2) // three digits
	return "one in " + strconv.FormatFloat(math.Round(n/step)*step, 'f', max(0, 2-int(math.Floor(math.Log10(n)))), 64)
}

// shareWords is a chance as a target is written: "0.5 %", "1 in 1,000,000".
func shareWords(p float64) string {
	if p >= 1e-4 || p == 0 {
		return digits(100*p, 3) + " %"
	}
	n, _ := strconv.ParseFloat(strconv.FormatFloat(1/p, 'g', 3, 64), 64)
	return "1 in " + grouped(n)
}

// oneInFloor is an upper limit of a chance, "1 in 3,100", never below it.
func oneInFloor(p float64) string {
	n := 1 / p
	if !(n >= 2) {
		return shareWords(p)
	}
	place := math.Pow(10, math.Floor(math.Log10(n))-1)
	return "1 in " + grouped(math.Floor(n/place)*place)
}

// chanceWords is the estimate of a chance with its limits: "0.71 % (0.62 to 0.80)".
func chanceWords(e estimate.Estimate) string {
	unit, name := 0.01, " %"
	if e.Mean < 1e-4 && e.High < 1e-3 || !e.Known() && e.Mean < 1e-4 {
		unit, name = 1e-6, " in a million"
	}
	number := func(x float64) string { return digits(x/unit, 3) }
	if !e.Known() {
		return number(e.Mean) + name + " (no confidence limits: too little was simulated)"
	}
	low, high := number(e.Low), number(e.High)
	if low == high {
		return number(e.Mean) + name
	}
	return fmt.Sprintf("%s%s (%s to %s)", number(e.Mean), name, low, high)
}

// many is a large number in words, rounded up to two digits: "3.7 million".
func many(n float64) string {
	place := math.Pow(10, math.Max(0, math.Floor(math.Log10(n))-1))
	n = math.Ceil(n/place*(1-1e-12)) * place
	for _, u := range []struct {
		size float64
		name string
	}{{1e9, "billion"}, {1e6, "million"}} {
		if n >= u.size {
			return strconv.FormatFloat(n/u.size, 'g', 12, 64) + " " + u.name
		}
	}
	return grouped(n)
}

// grouped is a whole number with its thousands apart: "11,589".
func grouped(x float64) string {
	s := strconv.FormatFloat(math.Round(x), 'f', 0, 64)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// perMany is a chance as so many in a round number: "7 in 1,000".
func perMany(p float64) string {
	of := 1000.0
	if p >= 0.0995 {
		of = 100
	}
	for p*of < 0.95 && of < 1e12 {
		of *= 10
	}
	return digits(p*of, 2) + " in " + grouped(of)
}

// digits is a number to so many digits, written out.
func digits(x float64, n int) string {
	if x == 0 {
		return "0"
	}
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', n, 64), 64)
	return strconv.FormatFloat(y, 'f', -1, 64)
}

// perManyOf is an estimate in so many as a chance is written in: "3 (2.7 to 3.4) in 1,000".
func perManyOf(e estimate.Estimate, p float64) string {
	_, of, _ := strings.Cut(perMany(p), " in ")
	n, _ := strconv.ParseFloat(strings.ReplaceAll(of, ",", ""), 64)
	number := func(x float64) string { return digits(x*n, 2) }
	switch low, high := number(e.Low), number(e.High); {
	case !e.Known():
		return fmt.Sprintf("%s in %s (no confidence limits: too little was simulated)", number(e.Mean), of)
	case low == high:
		return fmt.Sprintf("%s in %s", number(e.Mean), of)
	default:
		return fmt.Sprintf("%s (%s to %s) in %s", number(e.Mean), low, high, of)
	}
}

// counted is a number of things with its noun: "1 operator", "3 operators".
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
