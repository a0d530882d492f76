package workbook

import (
	"math"

	"rollchange/model/finance"
	"rollchange/sim/savings"
)

// mostYears is the longest life that the sheets have rows for.
const mostYears = 100

// line is a row of the cash flow, as the formulas of the sheet reckon it: currency, the
// alternative less the first.
type line struct {
	invested, once, saved, depreciation, salvage, tax, net float64
	cumulative, factor, present, cumulativePresent         float64
	simple, discounted                                     float64 // NaN: not in this year
	outlay, returned, operating                            float64
	charge, charged                                        float64 // what the part of this year is written off by a year; the sum of those so far
	reached                                                float64 // of what is saved that which is learned
	sign, flips, spends                                    float64
}

// ledger is the cash flow with all inputs at their means, for a share of the saving.
type ledger struct {
	life    int
	rows    [mostYears + 1]line
	book    float64
	outlook []float64 // net flows of the life
}

// ledgerOf reckons the cash flow of a case.
func ledgerOf(c *savings.Case, share float64) *ledger {
	w := c.Worth
	l := &ledger{life: w.Life}
	sum, present, charged := 0.0, 0.0, 0.0
	keep := 1 - c.TaxRate()
	for t := range l.rows {
		r := &l.rows[t]
		if t > 0 {
			r.sign, r.spends = l.rows[t-1].sign, l.rows[t-1].spends
		}
		r.factor = finance.SPV(w.Rate, float64(t))
		r.simple, r.discounted = math.NaN(), math.NaN()
		if t <= l.life {
			y := w.Flow[t]
			r.invested, r.once, r.saved, r.depreciation, r.salvage, r.tax, r.net = y.Investment, y.Expense, y.Savings, y.Depreciation, y.Salvage, y.Tax, y.Net
			r.reached = y.Savings - c.Upkeep(t)
			if share < 1 {
				r.net -= (1 - share) * keep * r.reached
			}
			r.operating = r.saved*keep + c.TaxRate()*r.depreciation
			r.charge = c.WrittenOff(t)
			l.outlook = append(l.outlook, r.net)
			l.book -= y.Investment + y.Depreciation
		}
		charged += r.charge
		r.charged = charged
		before, presentBefore := sum, present
		r.present = r.net * r.factor
		sum, present = sum+r.net, present+r.present
		r.cumulative, r.cumulativePresent = sum, present
		if before < 0 && sum >= 0 {
			r.simple = float64(t-1) - before/r.net
		}
		if presentBefore < 0 && present >= 0 {
			r.discounted = float64(t-1) - presentBefore/r.present
		}
		r.outlay = max(0, -r.present)
		r.returned = max(0, r.net*math.Pow(1+w.Rate, float64(l.life-t)))
		if now := sign(r.net); now != 0 {
			if t > 0 && now*r.sign < 0 {
				r.flips = 1
			}
			r.sign = now
		}
		if r.spends == 0 {
			r.spends = sign(-r.invested - r.once)
		}
	}
	return l
}

func sign(x float64) float64 {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// changes is how often the sign of the net flow changes.
func (l *ledger) changes() float64 {
	n := 0.0
	for i := range l.rows {
		n += l.rows[i].flips
	}
	return n
}
