package savings

import (
	"math"

	"rollchange/model/finance"
)

// mostYears is the longest life that a cash flow is laid out for.
const mostYears = 100

// Worth is what the yearly saving and the investment come to.
type Worth struct {
	Investment float64 // currency, within the life: that of the alternative less that of the first
	Salvage    float64
	Life       int     // years
	Rate       float64 // share a year
	Flow       []finance.Year
	NPV        float64
	PerYear    float64   // NPV as an even yearly sum over the life
	Rates      []float64 // every internal rate of return
	MIRR       float64   // outlays and returns at the discount rate; NaN: none
	Simple     float64   // years; +Inf: never within the life; NaN: nothing is invested
	Discounted float64   // years, as Simple
	SIR        float64   // savings to investment; NaN without an investment
}

// IRR is the internal rate of return when there is exactly one, else NaN.
func (w *Worth) IRR() float64 {
	if len(w.Rates) != 1 {
		return math.NaN()
	}
	return w.Rates[0]
}

// wholeYears rounds a life to whole years, 1 at least, because flows are at
// the ends of years.
func wholeYears(x float64) int { return int(min(mostYears, max(1, math.Round(x)))) }

// worthOf values the plan with the inputs v when a share of the saving is reached. Savings
// over investment counts what is sold at the end, after tax, against the investment
// (residual values belong to the investment-related costs: NIST Handbook 135, from
// memory), and so what starting up costs, so the ratio is above 1 when the net present
// value is above 0.
func (c *Case) worthOf(v *vector, a *account, share float64) Worth {
	p := c.planOf(v, a, share, &room{})
	w := Worth{Investment: p.Invested(), Life: p.Life, Rate: v[rate], Flow: p.CashFlow()}
	flows := make([]float64, p.Life+1)
	saved := make([]float64, p.Life+1)
	for i, y := range w.Flow {
		flows[i], saved[i] = y.Net, y.Operating
		w.Salvage += y.Salvage
	}
	w.value(flows, saved, p.Spends(), true)
	return w
}

// value fills the measures from the net flows and those of them that are savings; there is
// a payback where something is spent, and rates of return where they are asked for.
func (w *Worth) value(flows, saved []float64, spends, rates bool) {
	w.NPV = finance.NPV(w.Rate, flows)
	w.PerYear = finance.PerYear(w.NPV, w.Rate, w.Life)
	w.Rates, w.MIRR = nil, math.NaN()
	if rates {
		w.Rates, w.MIRR = finance.IRR(flows), finance.MIRR(flows, w.Rate, w.Rate)
	}
	w.Simple, w.Discounted = math.NaN(), math.NaN()
	if spends {
		w.Simple, w.Discounted = finance.Payback(flows), finance.DiscountedPayback(w.Rate, flows)
	}
	gain := finance.NPV(w.Rate, saved)
	w.SIR = finance.SIR(gain, gain-w.NPV)
}
