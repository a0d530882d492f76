package words

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/model/portable"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// ShownUnit is the unit in which people read an estimate of the given SI unit. One
// scale serves a row: it is chosen from the size of its largest figure.
func ShownUnit(unit string, largest float64, sys model.System) model.Unit {
	pick := func(d model.Dimension) model.Unit { return model.Display(d, sys) }
	switch unit {
	case "m/s":
		return pick(model.Speed)
	case "m2/s":
		return pick(model.AreaRate)
	case "kg/s":
		return pick(model.MassRate)
	case "m":
		return pick(model.Length)
	case "1":
		return pick(model.Share)
	case "s":
		return model.DisplayTime(largest)
	case "1/s":
		switch {
		case largest*3600 >= 0.5 || largest == 0:
			return model.Unit{Name: "/h", SI: 1. / 3600}
		case largest*86400 >= 0.5:
			return model.Unit{Name: "/day", SI: 1. / 86400}
		}
		return model.Unit{Name: "/year", SI: 1. / (365 * 86400)}
	}
	return model.Unit{Name: unit, SI: 1}
}

// mostDigits is how many digits a figure has at most, but for whole numbers: what is
// known better is known better than anybody reads.
const mostDigits = 5

// Decimals is the number of decimals that a figure deserves: two significant
// digits of its half width, three of the figure when there is none; no more than five
// digits of the figure itself. Below 0 the last digits in front of the point are rounded.
func Decimals(mean, half float64) int {
	if math.IsNaN(half) || half == 0 {
		if mean == 0 {
			return 1
		}
		return max(0, 2-exponent(mean, 3))
	}
	return withinDigits(mean, twoDigits(half), mostDigits)
}

// farNarrower is the share of the wider side of an interval below which the narrower says
// little of how many digits a figure deserves.
const farNarrower = 1. / 3

// decimalsBetween is Decimals of a figure whose limits do not lie alike: two digits of the
// narrower side, of half the interval where that is far narrower than the other.
func decimalsBetween(mean, low, high float64) int {
	narrow, wide := mean-low, high-mean
	if narrow > wide {
		narrow, wide = wide, narrow
	}
	if !Finite(wide) {
		low, high, wide = mean-narrow, mean+narrow, narrow
	}
	if !(wide > 0) || !Finite(wide) {
		return Decimals(mean, math.NaN())
	}
	if narrow < farNarrower*wide {
		narrow = (high - low) / 2
	}
	return withinDigits(mean, twoDigits(narrow), mostDigits)
}

// withinDigits is so many decimals, fewer where the figure had more than most digits.
func withinDigits(mean float64, d, most int) int {
	if mean == 0 || !Finite(mean) {
		return d
	}
	return min(d, max(0, most-1-exponent(mean, most)))
}

// twoDigits is the number of decimals that leaves two significant digits of x.
func twoDigits(x float64) int { return 1 - exponent(x, 2) }

// Figure is a mean with its half width in a unit: "412.3 ± 1.8", or with its limits
// where they do not lie alike: "0.71 (0.33–1.42)", all to one place. What was the same in
// every replication is "± 0", what one replication says is "± n/a", and what so few
// events carry that no interval holds is "± ?".
func Figure(e estimate.Estimate, u model.Unit) string {
	mean, half := u.From(e.Mean), u.From(e.HalfWidth)
	alone := func() string { return number(mean, Decimals(mean, math.NaN())) }
	switch e.Why {
	case estimate.TooFew:
		return alone() + " ± ?"
	case estimate.NotSeen:
		return "0"
	case estimate.Same:
		return alone()
	case estimate.Skewed:
		text, limits := between(mean, u.From(e.Low), u.From(e.High), "–")
		if limits == "" {
			return text
		}
		return text + " (" + limits + ")"
	}
	if half < 1e-10*math.Abs(mean) { // the same in every replication, to rounding
		half = 0
	}
	switch {
	case math.IsNaN(half) && mean == 0:
		return "0 ± n/a"
	case math.IsNaN(half):
		return alone() + " ± n/a"
	case half == 0 && mean == 0:
		return "0"
	case half == 0:
		return alone() + " ± 0"
	}
	return aligned(Decimals(mean, half), mean, half)[0] + " ± " + halfWidth(mean, half)
}

// halfWidth is the half width of a figure, to the place of the figure.
func halfWidth(mean, half float64) string {
	d := Decimals(mean, half)
	if text := aligned(d, mean, half)[1]; !isZero(text) {
		return text
	}
	return lessThan(mean, d)
}

// between writes a figure and its limits with as many decimals each, "0.71" and
// "0.33–1.42"; with "to" in place of the dash before a limit below 0. Limits that the place
// of the figure does not show stand behind it: "232.27 ± <0.01".
func between(mean, low, high float64, dash string) (text, limits string) {
	if math.IsNaN(low) || math.IsNaN(high) {
		return number(mean, Decimals(mean, math.NaN())) + " ± ?", ""
	}
	d := decimalsBetween(mean, low, high)
	texts := aligned(d, mean, low, high)
	if texts[1] == texts[2] {
		if high > low {
			texts[0] += " ± " + lessThan(mean, d)
		}
		return texts[0], ""
	}
	if low < 0 && dash == "–" {
		dash = " to "
	}
	return texts[0], texts[1] + dash + texts[2]
}

// withLimits is a figure of so many digits at most in a sentence, with its unit and its
// limits: "0.71 % (0.62 to 0.80)"; without limits that it does not tell from itself.
func withLimits(mean, low, high float64, unit string, most int) string {
	texts := aligned(withinDigits(mean, decimalsBetween(mean, low, high), most), mean, low, high)
	if texts[1] == texts[2] {
		return texts[0] + unit
	}
	return fmt.Sprintf("%s%s (%s to %s)", texts[0], unit, texts[1], texts[2])
}

// lessThan is a half width that the last place of a figure with d decimals does not show.
func lessThan(mean float64, d int) string {
	return "<" + aligned(d, portable.Pow(10, float64(-d)), mean)[0]
}

// isZero says whether a number reads as 0.
func isZero(text string) bool { return strings.Trim(text, "−0.") == "" }

// Limits are the ends of an interval that is not symmetric, to the place of the figure
// between them: "0.33–1.42".
func Limits(e estimate.Estimate, u model.Unit) string {
	text, limits := between(u.From(e.Mean), u.From(e.Low), u.From(e.High), "–")
	if limits == "" {
		return text
	}
	return limits
}

// Head is the line that says how the figures were made.
func Head(r replicate.RunInfo) string { return HeadOfMany(r, r.Replications) }

// HeadOfMany is the head of figures that have the replications of a run at least, and so
// many at most.
func HeadOfMany(r replicate.RunInfo, most int) string {
	s := fmt.Sprintf("%s replications of %s", Grouped(float64(r.Replications)), Duration(r.Horizon))
	if most > r.Replications {
		s = fmt.Sprintf("%s to %s replications of %s", Grouped(float64(r.Replications)), Grouped(float64(most)), Duration(r.Horizon))
	} else if r.Replications == 1 {
		s = fmt.Sprintf("1 replication of %s", Duration(r.Horizon))
	}
	if r.Listed > 0 { // each ends with the list
		s = strings.Replace(s, " of "+Duration(r.Horizon), fmt.Sprintf(" of the list of %s, %s at most", Orders(r.Listed), Duration(r.Horizon)), 1)
	}
	if r.WarmUp > 0 {
		s += fmt.Sprintf(", the first %s not counted", Duration(r.WarmUp))
	}
	if r.WarmUpFound {
		s += map[bool]string{true: " (found by MSER-5)", false: ", no warm-up to cut (MSER-5)"}[r.WarmUp > 0]
	}
	if r.Replications < 2 {
		return s + fmt.Sprintf(", seed %d; ± n/a: one replication gives no half width", r.Seed)
	}
	return s + fmt.Sprintf(", seed %d; ± is the half width at %g %% confidence", r.Seed, 100*r.Confidence) + narrowed(r)
}

// narrowed says what the known means of the draws bring.
func narrowed(r replicate.RunInfo) string {
	from, to := math.Round(100*r.Narrowed[0]), math.Round(100*r.Narrowed[1])
	switch {
	case r.NoControls:
		return "; the known means of the draws are not used"
	case r.Narrowed[1] == 0 || to >= 100: // they bring nothing, or not everywhere
		return ""
	case from == to:
		return fmt.Sprintf("; the known means of the draws narrow that of good web to %.0f %% of its plain width", to)
	}
	return fmt.Sprintf("; the known means of the draws narrow that of good web to %.0f to %.0f %% of its plain width", from, to)
}

// Difference is a difference that is shown, with its sign.
func Difference(d estimate.Estimate, u model.Unit) string {
	switch {
	case d.Mean >= 0:
		return "+" + Figure(d, u)
	case d.Why == estimate.Skewed: // its ends have signs of their own
		return Figure(d, u)
	}
	return "−" + Figure(d.Opposite(), u)
}

// Reach is how far an estimate may be off, the longer way; NaN where that is not known.
func Reach(e estimate.Estimate) float64 {
	switch {
	case e.Why == estimate.Same:
		return 0
	case !e.Known():
		return math.NaN()
	}
	return max(e.High-e.Mean, e.Mean-e.Low)
}
