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

// Money is an amount with as many digits as it deserves: to the second digit of
// its half width, four of its own when there is none; below 1000 with decimals, two at most.
func Money(x, half float64) string { return amount(x, moneyPlace(x, x, half)) }

// moneyPlace is the number of decimals of an amount whose size, and that of the largest
// beside it, is given; below 0 tens, hundreds… are rounded.
func moneyPlace(x, largest, half float64) int {
	of, d := half, 1
	if math.IsNaN(half) || half == 0 {
		of, d = x, 3
	}
	if of == 0 || !Finite(of) {
		return 0
	}
	d -= int(math.Floor(portable.Log10(math.Abs(of))))
	if d > 0 && math.Abs(largest) >= 1000 {
		return 0
	}
	return min(2, d)
}

// amount writes an amount of money with d decimals.
func amount(x float64, d int) string {
	if !Finite(x) {
		return "–"
	}
	if x == 0 {
		return "0"
	}
	return withCommas(fixed(x, d))
}

// MoneySpan is the two ends of an interval of amounts, to two digits of half its width.
func MoneySpan(s savings.Spread) string {
	if math.IsNaN(s.Low) {
		return "–"
	}
	if s.Low == s.High {
		return Money(s.Low, 0)
	}
	largest := max(math.Abs(s.Low), math.Abs(s.High))
	d := moneyPlace(largest, largest, HalfOf(s))
	return amount(s.Low, d) + " – " + amount(s.High, d)
}

// Payback is a payback: "3.41", "never".
func Payback(x float64) string { return payback(x, paybackDecimals(x)) }

// paybackDecimals are those of a payback: three below a year.
func paybackDecimals(x float64) int {
	if x < 1 && x > 0 {
		return 3
	}
	return 2
}

func payback(x float64, decimals int) string {
	switch {
	case math.IsNaN(x):
		return "–"
	case math.IsInf(x, 1):
		return "never"
	}
	return number(x, decimals)
}

// PaybackSpan is the interval of a payback, with the decimals of its median.
func PaybackSpan(s savings.Spread) string {
	if math.IsNaN(s.Low) {
		return "–"
	}
	d := paybackDecimals(s.Median)
	if !Finite(s.Median) {
		d = paybackDecimals(s.Low)
	}
	return spanOf(payback(s.Low, d), payback(s.High, d))
}

// spanOf is an interval by its ends as they are written; one where they read alike.
func spanOf(low, high string) string {
	if low == high {
		return low
	}
	return low + " – " + high
}

// Percent is a share in per cent with three digits.
func Percent(x float64) string { return percent(x, percentDecimals(x)) }

func percentDecimals(x float64) int {
	return max(0, 2-max(0, exponent(100*x, 3)))
}

func percent(x float64, decimals int) string {
	if math.IsNaN(x) {
		return "–"
	}
	return number(100*x, decimals)
}

// PercentSpan is the interval of a share, with the decimals of its median.
func PercentSpan(s savings.Spread) string {
	if s.Low == s.High || math.IsNaN(s.Low) {
		return Percent(s.Low)
	}
	d := percentDecimals(s.Median)
	return spanOf(percent(s.Low, d), percent(s.High, d))
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
func LongUnit(sys model.System) model.Unit { return longUnits(sys)[0] }

// longUnits are the units of yearly lengths of web, the largest first.
func longUnits(sys model.System) []model.Unit {
	if sys == model.Imperial {
		return []model.Unit{{Name: "million ft", SI: 304800}, {Name: "thousand ft", SI: 304.8}, {Name: "ft", SI: 0.3048}}
	}
	return []model.Unit{{Name: "km", SI: 1000}, {Name: "m", SI: 1}}
}

// LongUnitOf is the largest of them in which a length, m, is not below 1 and its half width,
// NaN or 0 where there is none, has two digits within three decimals.
func LongUnitOf(length, half float64, sys model.System) model.Unit {
	list := longUnits(sys)
	for _, u := range list {
		if (length == 0 || u.From(length) >= 1) && !(half > 0 && twoDigits(u.From(half)) > 3) {
			return u
		}
	}
	return list[len(list)-1]
}

// Whole is a measure of four digits at least, without an exponent, to thousandths.
func Whole(x float64) string {
	if math.Abs(x) < 0.0005 {
		return "0"
	}
	return number(x, wholeDecimals(x))
}

func wholeDecimals(x float64) int { return min(3, max(0, 3-exponent(x, 4))) }

// WholePair are two measures and what the second is more than the first, to one place, so
// that they add up: that of Whole of the smaller, or of the second digit of what separates
// them, where the two have no more than mostDigits by it.
func WholePair(x, y float64) [3]string {
	least := min(math.Abs(x), math.Abs(y))
	if least < 0.0005 {
		least = max(math.Abs(x), math.Abs(y))
	}
	d, texts := wholeDecimals(least), [3]string{}
	if most := max(math.Abs(x), math.Abs(y)); most > 0 {
		if finer := withinDigits(most, min(3, twoDigits(y-x)), mostDigits); !isZero(fixed(y-x, finer)) {
			d = max(d, finer)
		}
	}
	for i, text := range aligned(d, x, y, y-x) {
		if texts[i] = text; isZero(text) {
			texts[i] = "0"
		}
	}
	if y > x && texts[2] != "0" {
		texts[2] = "+" + texts[2]
	}
	return texts
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
	ends := allParted(Plain(u.From(low)), Plain(u.From(high)))
	return strings.TrimRight(fmt.Sprintf("%s – %s %s", ends[0], ends[1], UnitText(u.Name)), " ")
}

// InputUnit is the unit in which people read an input of a savings case that is
// given in another, the largest of its figures with it.
func InputUnit(unit string, largest float64, sys model.System) model.Unit {
	if unit == "m" { // web of a year
		return LongUnitOf(largest, 0, sys)
	}
	if u := PriceUnit(unit, sys); u.Name != unit {
		return u
	}
	return ShownUnit(unit, largest, sys)
}

// PriceUnit is the unit in which people read a price, given by m2, kg or m in a currency:
// 1 EUR/m2 is 0.0929 EUR/ft2. What is no price of these stays as it is.
func PriceUnit(unit string, sys model.System) model.Unit {
	if sys == model.Imperial {
		for k, end := range [...]string{"/m2", "/kg", "/m"} {
			if currency := strings.TrimSuffix(unit, end); len(currency) < len(unit) {
				return model.Unit{Name: currency + [...]string{"/ft2", "/lb", "/ft"}[k], SI: [...]float64{1 / (foot * foot), 1 / pound, 1 / foot}[k]}
			}
		}
	}
	return model.Unit{Name: unit, SI: 1}
}

// In SI units, by definition.
const foot, pound = 0.3048, 0.45359237

// UnitText is a unit for people; a pure number has none.
func UnitText(u string) string {
	if u == "1" {
		return ""
	}
	return legible.Line(u)
}

// Plain is a measure of four digits.
func Plain(x float64) string {
	if math.Abs(x) >= 1e4 {
		return Money(x, 0)
	}
	return Short(x, 4)
}
