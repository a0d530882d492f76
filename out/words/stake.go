package words

import (
	"math"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/sim/estimate"
	"rollchange/sim/whatif"
)

// StakeSpread is a standard deviation of a metric of a sensitivity.
func StakeSpread(s *whatif.Sensitivities, metric string, sd float64, sys model.System) string {
	return StakeReading(s, metric, sd, sys).Spread(sd)
}

// StakeLabel is how a metric of a sensitivity is called.
func StakeLabel(s *whatif.Sensitivities, metric string) string {
	return StakeReading(s, metric, 0, model.Metric).Label
}

// Spread is a standard deviation of the metric.
func (r Stake) Spread(sd float64) string {
	if r.Money {
		return Money(sd, sd/10) + " " + r.apart
	}
	return strings.TrimSpace(Short(r.Unit.From(sd), 3) + " " + r.apart)
}

// NotShown stands for a move that is not shown.
const NotShown = "~"

// Stake is how a metric of a sensitivity reads: one of a line, or of money.
type Stake struct {
	Label string
	Unit  model.Unit
	apart string // the unit of a difference: shares differ by points
	Money bool   // an amount
	years bool   // a payback, which may never come
}

// StakeReading is how a metric reads, of about a size.
func StakeReading(s *whatif.Sensitivities, metric string, size float64, sys model.System) Stake {
	tax := "before tax"
	if s.Taxed {
		tax = "after tax"
	}
	cur := Shorten(legible.Line(s.Currency), 12)
	switch metric {
	case "savings":
		return Stake{Label: "saved a year before tax", Unit: model.Unit{Name: cur, SI: 1}, apart: cur, Money: true}
	case "npv":
		return Stake{Label: "net present value " + tax, Unit: model.Unit{Name: cur, SI: 1}, apart: cur, Money: true}
	case "payback":
		return Stake{Label: "payback " + tax, Unit: model.Unit{Name: "years", SI: 1}, apart: "years", years: true}
	}
	r := Stake{Label: strings.TrimSpace(LabelOf(metric).Text), Unit: ShownUnit(UnitOf(metric), math.Abs(size), sys)}
	if r.apart = r.Unit.Name; UnitOf(metric) == "1" {
		r.apart = "points"
	}
	return r
}

// Level is the metric itself with its half width.
func (r Stake) Level(x, half float64) string {
	if half < 1e-9*math.Abs(x) { // rounding
		half = 0
	}
	switch {
	case r.Money && half > 0 && !math.IsInf(half, 1):
		return Money(x, half) + " ± " + Money(half, half) + " " + r.Unit.Name
	case r.Money:
		return Money(x, 0) + " " + r.Unit.Name
	case r.years && math.IsInf(x, 1):
		return "never"
	}
	e := estimate.Estimate{Mean: x, HalfWidth: half}
	if math.IsInf(half, 1) {
		e.Why = estimate.TooFew
	}
	return strings.TrimSpace(Figure(e, r.Unit) + " " + r.Unit.Name)
}

// Moves is the difference that an end makes.
func (r Stake) Moves(x whatif.Swing, end int) string {
	at := [2]float64{x.Low, x.Up}[end]
	switch {
	case math.IsNaN(at):
		return "not possible"
	case !x.Shown(end):
		return NotShown
	case math.IsInf(at, 1):
		return "never"
	case math.IsInf(x.Base, 1):
		return Payback(at) + " years"
	}
	d := r.Unit.From(at - x.Base)
	return r.move(d, max(math.Abs(d), r.otherMove(x, end)))
}

// otherMove is the size of the difference that the other end makes; 0 where none is shown.
func (r Stake) otherMove(x whatif.Swing, end int) float64 {
	at := [2]float64{x.Up, x.Low}[end]
	if !Finite(at) || !Finite(x.Base) || !x.Shown(1-end) {
		return 0
	}
	return math.Abs(r.Unit.From(at - x.Base))
}

// AboutNothing is a move beside one so much larger that its digits do not show it.
const AboutNothing = "about 0"

// move writes a difference, to three digits, with the decimals of the larger of the two
// that an input makes. What is less than half of the third digit of that is AboutNothing.
func (r Stake) move(d, larger float64) string {
	place := 2 - exponent(larger, 3)
	if r.Money {
		place = min(2, place)
	}
	if isZero(fixed(d, place)) {
		return AboutNothing
	}
	if place < 0 {
		place = min(0, 2-exponent(d, 3))
	}
	sign, text := "+", number(math.Abs(d), place)
	if d < 0 {
		sign = "−"
	}
	if r.Money {
		text = amount(math.Abs(d), place)
	}
	return strings.TrimSpace(sign + text + " " + r.apart)
}
