package words

import (
	"math"
	"strconv"
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
	return strings.TrimSpace(strconv.FormatFloat(r.Unit.From(sd), 'g', 3, 64) + " " + r.apart)
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
	sign := "+"
	if d < 0 {
		sign = "−"
	}
	if d = math.Abs(d); r.Money {
		return sign + Money(d, d/10) + " " + r.apart
	}
	return strings.TrimSpace(sign + strconv.FormatFloat(d, 'g', 3, 64) + " " + r.apart)
}
