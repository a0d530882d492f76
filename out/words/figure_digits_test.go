package words

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/estimate"
	"rollchange/sim/savings"
)

var one = model.Unit{SI: 1}

// Mean and limits end at one place: that of the second digit of the half width, of the
// narrower side where the limits do not lie alike; a figure has five digits at most.
func TestMeanAndLimitsEndAtOnePlace(t *testing.T) {
	nan := math.NaN()
	skewed := func(mean, low, high float64) estimate.Estimate {
		return estimate.Estimate{Mean: mean, Low: low, High: high, HalfWidth: nan, Why: estimate.Skewed}
	}
	for _, c := range []struct {
		e    estimate.Estimate
		want string
	}{
		{estimate.Estimate{Mean: 9999, HalfWidth: 12}, "9999 ± 12"}, {estimate.Estimate{Mean: 10000, HalfWidth: 12}, "10,000 ± 12"}, {estimate.Estimate{Mean: 12345, HalfWidth: 1234}, "12,300 ± 1,200"},
		{estimate.Estimate{Mean: 99.824, HalfWidth: 0.00029}, "99.824 ± <0.001"}, {estimate.Estimate{Mean: 99.824, HalfWidth: 0.0006}, "99.824 ± 0.001"}, {estimate.Estimate{Mean: 99.9997, HalfWidth: 0.0012}, "100.00 ± <0.01"},
		{estimate.Estimate{Mean: 221.64, HalfWidth: 0.061}, "221.64 ± 0.06"}, {estimate.Estimate{Mean: 1234567, HalfWidth: 0.3}, "1,234,567 ± <1"}, {estimate.Estimate{Mean: -5.25, HalfWidth: 0.61}, "−5.25 ± 0.61"},
		{estimate.Estimate{Mean: 42, HalfWidth: 0}, "42.0 ± 0"}, {estimate.Estimate{Mean: 42, HalfWidth: nan}, "42.0 ± n/a"}, {estimate.Estimate{Mean: 42, Why: estimate.TooFew}, "42.0 ± ?"}, {estimate.Estimate{Mean: 43200, HalfWidth: nan}, "43,200 ± n/a"},
		{estimate.Estimate{Mean: 2.5e-7, HalfWidth: 3.1e-8}, "2.50e-7 ± 0.31e-7"}, {estimate.Estimate{Mean: 4.2e9, HalfWidth: 3.1e7}, "4,200,000,000 ± 31,000,000"},
		{skewed(232.27, 232.201, 232.317), "232.27 (232.20–232.32)"}, {skewed(3.1112, 3.1068, 3.1806), "3.111 (3.107–3.181)"}, {skewed(30, 29.1, 32.6), "30.00 (29.10–32.60)"}, {skewed(30, 29.1, 32.8), "30.0 (29.1–32.8)"}, {skewed(0.0023, 0.00006, 0.0128), "0.0023 (0.0001–0.0128)"}, {skewed(0.00002, 0, 0.0128), "0.0000 (0.0000–0.0128)"}, {skewed(0.0712, 0, 0.1402), "0.071 (0.000–0.140)"},
		{skewed(0.5, 0.4999, 0.9), "0.50 (0.50–0.90)"}, {skewed(-3.981, -4.036, -3.894), "−3.981 (−4.036 to −3.894)"}, {skewed(27869.8, 27858.1, 27876.1), "27,870 (27,858–27,876)"},
		{skewed(99.824, 99.8239, 99.8242), "99.824 ± <0.001"}, {skewed(7, 7, 7), "7.00"}, {skewed(7, 7, 8.4), "7.00 (7.00–8.40)"}, {skewed(9990, 9890, 10120), "9,990 (9,890–10,120)"},
	} {
		assert.Equal(t, c.want, Figure(c.e, one), "%+v", c.e)
	}
	assert.Equal(t, "−3.981 (−4.036 to −3.894)", Difference(skewed(-3.981, -4.036, -3.894), one))
	assert.Equal(t, "+10.56 (10.33–10.70)", Difference(skewed(10.56, 10.33, 10.70), one))
}

// parsed is a printed number with its decimals and the unit of its last digit.
func parsed(t *rapid.T, s string) (x float64, decimals int, last float64) {
	plain := strings.NewReplacer(",", "", "−", "-").Replace(s)
	x, err := strconv.ParseFloat(plain, 64)
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	mantissa, power, _ := strings.Cut(plain, "e")
	e, _ := strconv.Atoi(power)
	_, after, _ := strings.Cut(mantissa, ".")
	return x, len(after), math.Pow(10, float64(e-len(after)))
}

// near says that a printed number is its value to half a unit of its last place; rounded
// before the point, to half a unit of that place.
func near(x, value, place float64) bool {
	return math.Abs(x-value) <= 0.5*place*(1+1e-9)+1e-12*math.Abs(value)
}

// sized draws a number of any size that figures have.
func sized(t *rapid.T, name string) float64 {
	return rapid.Float64Range(1, 10).Draw(t, name) * math.Pow(10, float64(rapid.IntRange(-9, 9).Draw(t, name+" power")))
}

// significant is how many digits of a printed number are not zeros in front.
func significant(s string) int {
	s, _, _ = strings.Cut(s, "e")
	return len(strings.TrimLeft(strings.NewReplacer(",", "", "−", "", ".", "").Replace(s), "0"))
}

// For any mean and half width: what is printed gives both back to half a unit of the last
// place, with as many decimals; the half width has two digits, or the figure has five.
func TestPrintedFiguresAreTheirValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mean, half := sized(t, "mean"), sized(t, "half")
		if rapid.Bool().Draw(t, "negative") {
			mean = -mean
		}
		if half < 1e-10*math.Abs(mean) {
			t.Skip("a half width of rounding")
		}
		text := Figure(estimate.Estimate{Mean: mean, HalfWidth: half}, one)
		a, b, ok := strings.Cut(text, " ± ")
		if !ok {
			t.Fatalf("%q has no half width", text)
		}
		bound := strings.HasPrefix(b, "<")
		x, decimals, place := parsed(t, a)
		h, others, _ := parsed(t, strings.TrimPrefix(b, "<"))
		if d := Decimals(mean, half); d < 0 {
			place = math.Pow(10, float64(-d))
		}
		if decimals != others {
			t.Fatalf("%q: %d and %d decimals", text, decimals, others)
		}
		if !near(x, mean, place) || !bound && !near(h, half, place) || bound && !(half <= h/2*(1+1e-9)) {
			t.Fatalf("%q is not %g ± %g", text, mean, half)
		}
		if digits := math.Round(h / place); bound || digits < 10 {
			if n := significant(a); n < mostDigits {
				t.Fatalf("%q: the half width has fewer than two digits, the figure %d", text, n)
			}
		} else if digits > 99 {
			t.Fatalf("%q: the half width has more than two digits", text)
		}
		if (strings.Contains(a, ",") || strings.Contains(b, ",")) != (math.Max(math.Abs(x), h) >= 1e4) {
			t.Fatalf("%q: commas are from 10,000 on", text)
		}
	})
}

// For any limits: mean and limits have as many decimals, each is its value to half a unit
// of the last place, and the mean lies within the limits, as printed.
func TestPrintedLimitsHoldThePrintedMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		below, above := sized(t, "below"), sized(t, "above")
		mean := sized(t, "mean")
		low := mean - below
		if rapid.Bool().Draw(t, "touches 0") {
			low = 0
		}
		high := mean + above
		if !(high > mean) || !(low < mean) {
			t.Skip("no width")
		}
		text, limits := between(mean, low, high, " … ")
		if limits == "" { // narrower than the place of the mean
			a, b, _ := strings.Cut(text, " ± <")
			x, _, _ := parsed(t, a)
			h, _, _ := parsed(t, b)
			if high-low > h*(1+1e-9) || !near(x, mean, h) {
				t.Fatalf("%q of %g, %g to %g", text, mean, low, high)
			}
			return
		}
		a, b, _ := strings.Cut(limits, " … ")
		x, dx, place := parsed(t, text)
		l, dl, _ := parsed(t, a)
		h, dh, _ := parsed(t, b)
		if d := decimalsBetween(mean, low, high); d < 0 {
			place = math.Pow(10, float64(-d))
		}
		side := min(mean-low, high-mean) // the one whose two digits are shown
		if wide := max(mean-low, high-mean); side < farNarrower*wide {
			side = (high - low) / 2
		}
		if n := side / place; n >= 99.5 || n < 9.9 && significant(text) < mostDigits {
			t.Fatalf("%q (%q): %g has not two digits", text, limits, side)
		}
		switch {
		case dx != dl || dx != dh:
			t.Fatalf("%q, %q: %d, %d and %d decimals", text, limits, dx, dl, dh)
		case l > x || x > h:
			t.Fatalf("%q is not within %q", text, limits)
		case !near(x, mean, place) || !near(l, low, place) || !near(h, high, place):
			t.Fatalf("%q (%q) is not %g (%g to %g)", text, limits, mean, low, high)
		}
	})
}

// For any amounts: both ends of a span have as many decimals and are their values to the
// place shown, which is that of the second digit of half the span, or finer.
func TestPrintedAmountsAreTheirValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-1e8, 1e8).Draw(t, "low")
		high := low + math.Pow(10, rapid.Float64Range(-1, 8).Draw(t, "width"))
		s := savings.Spread{Low: low, High: high, Mean: (low + high) / 2}
		a, b, _ := strings.Cut(MoneySpan(s), " – ")
		l, dl, _ := parsed(t, a)
		h, dh, _ := parsed(t, b)
		largest := math.Max(math.Abs(low), math.Abs(high))
		place := math.Pow(10, -float64(moneyPlace(largest, largest, HalfOf(s))))
		if dl != dh && low != 0 && high != 0 {
			t.Fatalf("%q and %q: %d and %d decimals", a, b, dl, dh)
		}
		if !near(l, low, place) || !near(h, high, place) || l > h {
			t.Fatalf("%q – %q is not %g – %g", a, b, low, high)
		}
	})
}

// The unit of web of a year is the largest in which half of the range has two digits
// within three decimals, and no figure is below 1: "0.20 (0.20 – 0.20) million ft" said
// nothing.
func TestUnitOfAYearShowsTheRange(t *testing.T) {
	const ft = 0.3048
	narrow := savings.Spread{Mean: 198700 * ft, Low: 198350 * ft, High: 199060 * ft}
	wide := savings.Spread{Mean: 83.61e6 * ft, Low: 83.44e6 * ft, High: 83.79e6 * ft}
	for _, c := range []struct {
		list []savings.Spread
		sys  model.System
		text string
	}{
		{[]savings.Spread{narrow}, model.Imperial, "198.70 (198.35 – 199.06) thousand ft"},
		{[]savings.Spread{wide}, model.Imperial, "83.61 (83.44 – 83.79) million ft"},
		{[]savings.Spread{wide, narrow}, model.Imperial, "83,610 (83,440 – 83,790) thousand ft"},
		{[]savings.Spread{{Mean: 900 * ft, Low: 850 * ft, High: 950 * ft}}, model.Imperial, "900 (850 – 950) ft"},
		{[]savings.Spread{{Mean: 60.6e3, Low: 60.4e3, High: 60.9e3}}, model.Metric, "60.60 (60.40 – 60.90) km"},
		{[]savings.Spread{{Mean: 60.6e3, Low: 60.58e3, High: 60.63e3}}, model.Metric, "60.600 (60.580 – 60.630) km"},
		{[]savings.Spread{{Mean: 60.6e3, Low: 60.599e3, High: 60.602e3}}, model.Metric, "60,600 (60,599 – 60,602) m"},
		{[]savings.Spread{{Mean: 5e6, Low: 5e6, High: 5e6}}, model.Metric, "5000 km"},
		{[]savings.Spread{{}}, model.Metric, "0 km"},
	} {
		u := UnitOverDraws(c.list, c.sys)
		text, span := OverDraws(c.list[0], u)
		if span != "" {
			text += " (" + span + ")"
		}
		assert.Equal(t, c.text, text+" "+u.Name)
	}
	for _, c := range []struct {
		x, y float64
		want [3]string
	}{
		{1327.4, 430.5, [3]string{"1327.4", "430.5", "−896.9"}}, {31617, 35728, [3]string{"31,617", "35,728", "+4,111"}}, {185.2, 186.0247, [3]string{"185.20", "186.02", "+0.82"}}, {5684.21, 5684.03, [3]string{"5684.2", "5684.0", "−0.2"}}, {5684.21, 5684.2, [3]string{"5684", "5684", "0"}}, {4701, 3753, [3]string{"4701", "3753", "−948"}},
		{6000, 6000, [3]string{"6000", "6000", "0"}}, {0, 12.345, [3]string{"0", "12.35", "+12.35"}}, {9999, 10000, [3]string{"9,999", "10,000", "+1"}}, {203.06, 174.63, [3]string{"203.1", "174.6", "−28.4"}},
	} {
		assert.Equal(t, c.want, WholePair(c.x, c.y))
	}
	assert.Equal(t, "million ft", LongUnitOf(1e6*ft*1.0000001, 0, model.Imperial).Name)
	assert.Equal(t, "thousand ft", LongUnitOf(0.999999e6*ft, 0, model.Imperial).Name)
	c, _ := invented.Valued(t, nil)
	assert.NotContains(t, CaseKind(c, model.Imperial), "0 thousand ft")
}
