package out

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim/savings"
)

// grouped writes a whole number with commas: "-1,234,567".
func grouped(x float64) string {
	s := strconv.FormatFloat(math.Abs(x), 'f', 0, 64)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	if x < 0 && s != "0" {
		return "−" + s
	}
	return s
}

// money is an amount with as many digits as it deserves: to the second digit of
// its half width, four of its own when there is none; below 1000 with decimals.
func money(x, half float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	size, digits := math.Abs(half), 1.0
	if math.IsNaN(half) || size == 0 {
		size, digits = math.Abs(x), 3
	}
	if size == 0 {
		return "0"
	}
	place := math.Pow(10, math.Floor(math.Log10(size))-digits)
	if place < 0.5 {
		if math.Abs(x) >= 1000 {
			return grouped(math.Round(x))
		}
		return strings.Replace(number(x, int(min(2, -math.Floor(math.Log10(place))))), "-", "−", 1)
	}
	return grouped(math.Round(x/place) * place)
}

// span is the two ends of an interval of amounts, to the third digit of its width.
func span(s savings.Spread) string {
	if math.IsNaN(s.Low) {
		return "–"
	}
	if s.Low == s.High {
		return money(s.Low, 0)
	}
	w := (s.High - s.Low) / 10
	return money(s.Low, w) + " – " + money(s.High, w)
}

// yearsText is a payback: "3.41", "never".
func yearsText(x float64) string {
	switch {
	case math.IsNaN(x):
		return "–"
	case math.IsInf(x, 1):
		return "never"
	}
	if x < 1 && x > 0 {
		return strconv.FormatFloat(x, 'f', 3, 64)
	}
	return strconv.FormatFloat(x, 'f', 2, 64)
}

func yearsSpan(s savings.Spread) string {
	if math.IsNaN(s.Low) {
		return "–"
	}
	low, high := yearsText(s.Low), yearsText(s.High)
	if low == high {
		return low
	}
	return low + " – " + high
}

// points is a share in per cent with three digits.
func points(x float64) string {
	if math.IsNaN(x) {
		return "–"
	}
	return strconv.FormatFloat(100*x, 'f', int(max(0, min(2, 2-math.Floor(math.Log10(math.Max(1, math.Abs(100*x))))))), 64)
}

func pointsSpan(s savings.Spread) string {
	if s.Low == s.High || math.IsNaN(s.Low) {
		return points(s.Low)
	}
	return points(s.Low) + " – " + points(s.High)
}

// chanceText is a share of the draws: never "100 %" when one of them did not.
func chanceText(x float64, draws int) string {
	switch {
	case math.IsNaN(x):
		return "–"
	case x == 0:
		return fmt.Sprintf("none of %s", grouped(float64(draws)))
	case x == 1:
		return fmt.Sprintf("all of %s", grouped(float64(draws)))
	case x > 0.999:
		return "over 99.9 %"
	case x < 0.001:
		return "below 0.1 %"
	}
	return points(x) + " %"
}

// long is the unit of yearly lengths of web: km, or millions of feet.
func long(sys model.System) model.Unit {
	if sys == model.Imperial {
		return model.Unit{Name: "million ft", SI: 304800}
	}
	return model.Unit{Name: "km", SI: 1000}
}

// whole is a figure of four digits at least, without an exponent.
func whole(x float64) string {
	if a := math.Abs(x); a < 1000 && a > 0 {
		return strings.Replace(strconv.FormatFloat(x, 'f', int(max(0, min(3, 3-math.Floor(math.Log10(a))))), 64), "-", "−", 1)
	}
	return grouped(math.Round(x))
}

// currency is the name of the currency, of no more than a few letters.
func currency(c *savings.Case) string { return shorten(safe(c.Currency), 12) }

func alternativeName(s string) string { return strconv.Quote(shorten(safe(s), 40)) }

// quarter of the width of an interval says how many digits its middle deserves.
func quarter(s savings.Spread) float64 { return (s.High - s.Low) / 4 }

// ofDraws is a share of the draws in a sentence.
func ofDraws(x float64, draws int) string {
	s := chanceText(x, draws)
	if strings.HasSuffix(s, "%") {
		return s + " of the draws"
	}
	return s + " draws"
}
