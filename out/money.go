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
	if s.Low == s.High {
		return yearsText(s.Low)
	}
	return yearsText(s.Low) + " – " + yearsText(s.High)
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

// CaseKind says which case holds, and why.
func CaseKind(c *savings.Case, sys model.System) string {
	u := long(sys)
	l := func(x float64) string { return whole(u.From(x)) + " " + u.Name }
	can := fmt.Sprintf("the %s that %s can make in a year and the %s of %s", l(c.Capacity[0]), alternativeName(c.Against), l(c.Capacity[1]), alternativeName(c.Alternative))
	switch {
	case math.IsInf(c.Demand, 1):
		return fmt.Sprintf("Capacity-limited, because no demand is given: all good web that is made counts as sold, %s.", can)
	case c.Kind == savings.CapacityLimited:
		return fmt.Sprintf("Capacity-limited: the demand of %s a year is above %s, so both sell all that they make.", l(c.Demand), can)
	case c.Kind == savings.Between:
		return fmt.Sprintf("Between the cases: the demand of %s a year lies between %s; one sells all that it makes, the other meets the demand in less than its hours.", l(c.Demand), can)
	case c.Capacity[1] < c.Capacity[0]:
		return fmt.Sprintf("Demand-limited: the demand of %s a year is within %s, so the same good web is made, in more hours.", l(c.Demand), can)
	}
	return fmt.Sprintf("Demand-limited: the demand of %s a year is within %s, so the same good web is made in fewer hours and no more is sold.", l(c.Demand), can)
}

// CaseSentences is the answer of a savings case: what is saved, why that case
// holds, what it is worth and how sure that is.
func CaseSentences(c *savings.Case, sys model.System) []string {
	verb, amount := "saves", c.Total.Value
	if amount < 0 {
		verb, amount = "costs", -amount
	}
	half := ""
	if h := c.Total.HalfWidth; h > 0 {
		half = " ± " + money(h, h)
	}
	first := fmt.Sprintf("%s %s %s%s %s a year against %s", alternativeName(c.Alternative), verb, money(amount, c.Total.HalfWidth), half, currency(c), alternativeName(c.Against))
	if c.Random.Total.Low < c.Random.Total.High {
		first += fmt.Sprintf("; with all that is not certain %s at %g %%", span(c.Random.Total), 100*c.Run.Confidence)
	}
	return []string{first + ".", CaseKind(c, sys), worthSentence(c)}
}

func worthSentence(c *savings.Case) string {
	w, cur := &c.Worth, currency(c)
	value := fmt.Sprintf("the net present value over %d years at %s %% is %s %s", w.Life, strconv.FormatFloat(100*w.Rate, 'g', 4, 64), money(w.NPV, quarter(c.Random.NPV)), cur)
	if c.Random.NPV.Low < c.Random.NPV.High {
		value += fmt.Sprintf(" (%s)", span(c.Random.NPV))
	}
	switch {
	case w.Investment <= 0:
		return fmt.Sprintf("Nothing more is invested, so there is nothing to pay back; %s, above 0 in %s.", value, ofDraws(c.Random.Gains, c.Random.Draws))
	case math.IsInf(w.Discounted, 1):
		return fmt.Sprintf("The investment of %s %s is not paid back within the life at the means of all inputs; %s; paid back at present value in %s.",
			money(w.Investment, 0), cur, value, ofDraws(c.Random.PaysBack.Discounted, c.Random.Draws))
	}
	return fmt.Sprintf("The investment of %s %s is paid back in %s years, %s at present value, within the life in %s; %s.",
		money(w.Investment, 0), cur, yearsText(w.Simple), yearsText(w.Discounted), ofDraws(c.Random.PaysBack.Discounted, c.Random.Draws), value)
}

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
