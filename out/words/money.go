package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/model/portable"
	"rollchange/sim/savings"
)

// Grouped writes a whole number with commas: "-1,234,567".
func Grouped(x float64) string {
	s := withCommas(strconv.FormatFloat(math.Abs(x), 'f', 0, 64))
	if x < 0 && s != "0" {
		return "−" + s
	}
	return s
}

// withCommas writes the whole part of a figure as Grouped does: "3,115.2".
func withCommas(s string) string {
	sign, digits := "", s
	for _, x := range []string{"-", "−"} {
		if rest, is := strings.CutPrefix(s, x); is {
			sign, digits = x, rest
		}
	}
	whole, rest, _ := strings.Cut(digits, ".")
	if rest != "" {
		rest = "." + rest
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	return sign + whole + rest
}

// Money is an amount with as many digits as it deserves: to the second digit of
// its half width, four of its own when there is none; below 1000 with decimals.
func Money(x, half float64) string {
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
	place := portable.Pow(10, math.Floor(portable.Log10(size))-digits)
	if place < 0.5 {
		if math.Abs(x) >= 1000 {
			return Grouped(math.Round(x))
		}
		return strings.Replace(number(x, int(min(2, -math.Floor(portable.Log10(place))))), "-", "−", 1)
	}
	return Grouped(math.Round(x/place) * place)
}

// MoneySpan is the two ends of an interval of amounts, to two digits of half its width.
func MoneySpan(s savings.Spread) string {
	if math.IsNaN(s.Low) {
		return "–"
	}
	if s.Low == s.High {
		return Money(s.Low, 0)
	}
	half := HalfOf(s)
	return Money(s.Low, half) + " – " + Money(s.High, half)
}

// Payback is a payback: "3.41", "never".
func Payback(x float64) string {
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

func PaybackSpan(s savings.Spread) string {
	if math.IsNaN(s.Low) {
		return "–"
	}
	low, high := Payback(s.Low), Payback(s.High)
	if low == high {
		return low
	}
	return low + " – " + high
}

// Percent is a share in per cent with three digits.
func Percent(x float64) string {
	if math.IsNaN(x) {
		return "–"
	}
	return strings.Replace(strconv.FormatFloat(100*x, 'f', int(max(0, min(2, 2-math.Floor(portable.Log10(math.Max(1, math.Abs(100*x))))))), 64), "-", "−", 1)
}

func PercentSpan(s savings.Spread) string {
	if s.Low == s.High || math.IsNaN(s.Low) {
		return Percent(s.Low)
	}
	return Percent(s.Low) + " – " + Percent(s.High)
}

// ChanceOfDraws is a share of the draws: never "100 %" when one of them did not.
func ChanceOfDraws(x float64, draws int) string {
	switch {
	case math.IsNaN(x):
		return "–"
	case x == 0:
		return fmt.Sprintf("none of %s", Grouped(float64(draws)))
	case x == 1:
		return fmt.Sprintf("all of %s", Grouped(float64(draws)))
	case x > 0.999:
		return "more than 99.9 %"
	case x < 0.001:
		return "less than 0.1 %"
	}
	return Percent(x) + " %"
}

// LongUnit is the unit of yearly lengths of web: km, or millions of feet.
func LongUnit(sys model.System) model.Unit {
	if sys == model.Imperial {
		return model.Unit{Name: "million ft", SI: 304800}
	}
	return model.Unit{Name: "km", SI: 1000}
}

// Whole is a figure of four digits at least, without an exponent, to thousandths.
func Whole(x float64) string {
	if a := math.Abs(x); a < 1000 && a >= 0.0005 {
		return strings.Replace(strconv.FormatFloat(x, 'f', int(max(0, min(3, 3-math.Floor(portable.Log10(a))))), 64), "-", "−", 1)
	}
	return Grouped(math.Round(x))
}

// Currency is the name of the currency, of no more than a few letters.
func Currency(c *savings.Case) string { return Shorten(legible.Line(c.Currency), 12) }

func AlternativeName(s string) string { return strconv.Quote(Shorten(legible.Line(s), 40)) }

// HalfOf is half the width of an interval: it says how many digits its ends and its
// middle deserve. Where only a few draws differ from the rest, both ends are alike and the mean is not: it
// deserves three digits of what separates it from them.
func HalfOf(s savings.Spread) float64 {
	if s.Low == s.High && !certain(s) {
		return math.Abs(s.Mean-s.Low) / 10
	}
	return (s.High - s.Low) / 2
}

// Between is a range in a unit; lengths of a year in the long unit.
func Between(low, high float64, unit string, sys model.System) string {
	u := InputUnit(unit, max(math.Abs(low), math.Abs(high)), sys)
	return strings.TrimRight(fmt.Sprintf("%s – %s %s", Plain(u.From(low)), Plain(u.From(high)), UnitText(u.Name)), " ")
}

// InputUnit is the unit in which people read an input of a savings case that is
// given in another, the largest of its figures with it.
func InputUnit(unit string, largest float64, sys model.System) model.Unit {
	if unit == "m" { // web of a year
		return LongUnit(sys)
	}
	return ShownUnit(unit, largest, sys)
}

// UnitText is a unit for people; a pure number has none.
func UnitText(u string) string {
	if u == "1" {
		return ""
	}
	return legible.Line(u)
}

// Plain is a figure of four digits.
func Plain(x float64) string {
	if math.Abs(x) >= 1e4 {
		return Money(x, 0)
	}
	return strings.Replace(fmt.Sprintf("%.4g", x), "-", "−", 1)
}
