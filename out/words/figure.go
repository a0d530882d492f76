package words

import (
	"fmt"
	"math"
	"strconv"
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

// Decimals is the number of decimals that a figure deserves: two significant
// digits of its half width, three of the figure when there is none; no more than five
// digits of the figure itself. Below 0 the last digits in front of the point are rounded.
func Decimals(mean, half float64) int {
	if size := math.Abs(mean); math.IsNaN(half) || half == 0 {
		if size == 0 {
			return 1
		}
		return clampDecimals(2 - math.Floor(portable.Log10(size)))
	}
	d := twoDigits(half)
	if m := math.Abs(mean); m > 0 {
		d = min(d, max(0, 4-int(math.Floor(portable.Log10(m)))))
	}
	return min(d, 6)
}

// twoDigits is the number of decimals that leaves two significant digits of x.
func twoDigits(x float64) int {
	_, exponent, _ := strings.Cut(strconv.FormatFloat(math.Abs(x), 'e', 1, 64), "e") // 9.96 has the digits of 10
	e, _ := strconv.Atoi(exponent)
	return 1 - e
}

func clampDecimals(d float64) int { return int(max(0, min(6, d))) }

// Figure is a mean with its half width in a unit: "412.3 ± 1.8", or with its limits
// where they do not lie alike: "0.7 (0.3–1.4)". What was the same in every
// replication is "± 0", what one replication says is "± n/a", and what so few
// events carry that no interval holds is "± ?".
func Figure(e estimate.Estimate, u model.Unit) string {
	mean, half := u.From(e.Mean), u.From(e.HalfWidth)
	switch e.Why {
	case estimate.TooFew:
		return number(mean, Decimals(mean, math.NaN())) + " ± ?"
	case estimate.NotSeen:
		return "0"
	case estimate.Same:
		return number(mean, Decimals(mean, math.NaN()))
	case estimate.Skewed:
		half := u.From(e.High-e.Low) / 2
		return number(mean, Decimals(mean, half)) + " (" + Limits(e, u) + ")"
	}
	if half < 1e-10*math.Abs(mean) { // the same in every replication, to rounding
		half = 0
	}
	d := Decimals(mean, half)
	switch {
	case math.IsNaN(half) && mean == 0:
		return "0 ± n/a"
	case math.IsNaN(half):
		return number(mean, d) + " ± n/a"
	case half == 0 && mean == 0:
		return "0"
	case half == 0:
		return number(mean, d) + " ± 0"
	}
	return number(mean, d) + " ± " + number(half, d)
}

// Limits are the ends of an interval that is not symmetric, to two significant
// digits of half its width: "0.3–1.4".
func Limits(e estimate.Estimate, u model.Unit) string {
	low, high := u.From(e.Low), u.From(e.High)
	d := min(6, twoDigits((high-low)/2))
	between := "–"
	if low < 0 {
		between = " to "
	}
	return number(low, d) + between + number(high, d)
}

// number writes x with d decimals, below 0 to tens, hundreds…; a figure too small for
// them keeps two digits.
func number(x float64, d int) string {
	if d < 0 {
		place := portable.Pow(10, float64(-d))
		if math.Abs(x) >= place/2 {
			x = math.Round(x/place) * place
		}
		d = 0
	}
	if x != 0 && math.Abs(x) < 0.5*portable.Pow(10, -float64(d)) {
		return strconv.FormatFloat(x, 'g', 2, 64)
	}
	s := strconv.FormatFloat(x, 'f', d, 64)
	if s == "-"+strconv.FormatFloat(0, 'f', d, 64) {
		s = s[1:]
	}
	return s
}

// Head is the line that says how the figures were made.
func Head(r replicate.RunInfo) string { return HeadOfMany(r, r.Replications) }

// HeadOfMany is the head of figures that have the replications of a run at least, and so
// many at most.
func HeadOfMany(r replicate.RunInfo, most int) string {
	s := fmt.Sprintf("%d replications of %s", r.Replications, Duration(r.Horizon))
	if most > r.Replications {
		s = fmt.Sprintf("%d to %d replications of %s", r.Replications, most, Duration(r.Horizon))
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
		return fmt.Sprintf("; the known means of the draws narrow that of good web to %.0f %%", to)
	}
	return fmt.Sprintf("; the known means of the draws narrow that of good web to %.0f to %.0f %%", from, to)
}

// Difference is a difference that is shown, with its sign.
func Difference(d estimate.Estimate, u model.Unit) string {
	sign := "+"
	if d.Mean < 0 {
		if d.Why == estimate.Skewed { // its ends have signs of their own
			figure := strings.ReplaceAll(" "+Figure(d, u), " -", " −")
			return strings.TrimPrefix(strings.ReplaceAll(figure, "(-", "(−"), " ")
		}
		sign, d = "−", d.Opposite()
	}
	return sign + Figure(d, u)
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
