package finance

// Plan is what an investment takes and brings over its life, before tax.
// Amounts are currency; years are whole.
type Plan struct {
	Investment   float64 // at year 0
	Savings      float64 // at the end of each year of the life
	Salvage      float64 // at the end of the life
	Life         int     // years, at least 1
	TaxRate      float64 // share of the taxable profit; 0: no tax
	Depreciation int     // years of straight-line depreciation; 0: over the life

	// Where years differ; the year is the index, and what lies beyond the end of a list is
	// 0, what lies beyond the life is neither spent nor saved.
	Parts   []Part    // in the place of Investment and Salvage
	Saved   []float64 // in the place of Savings; that of year 0 does not count
	Expense []float64 // spent and not depreciated
}

// Part is what is invested in one year.
type Part struct {
	Amount  float64 // currency, at the end of the year
	Salvage float64 // what it is sold for at the end of the life
}

// Year is one year of a cash flow.
type Year struct {
	Year         int
	Investment   float64 // spent (negative)
	Expense      float64 // spent and not depreciated (negative)
	Savings      float64
	Depreciation float64 // charge against taxable profit; no flow of cash
	Salvage      float64 // last year only
	Tax          float64 // paid (negative) or spared
	Net          float64 // Investment + Expense + Savings + Salvage + Tax
	Operating    float64 // Net of what is saved: Savings and the tax on them less their depreciation
}

// CashFlow lays a plan out by year, 0 to its life. Straight-line depreciation:
//
//	charge = (Investment - Salvage) / years, in the years 1 to min(years, life)
//	tax    = -rate (Savings - charge), and in the last year -rate (Salvage - book value)
//
// with book value = Investment less the charges so far. A part that is invested in a
// later year is written off from the year after it: over as many years, or the rest of
// the life. An expense counts against the profit of its year. A taxable loss spares
// tax on the firm's other profits. (Straight-line to the salvage value is the
// textbook form, from memory: Park, Contemporary Engineering Economics, ch. 9.)
func (p Plan) CashFlow() []Year {
	years := make([]Year, p.Life+1)
	p.Lay(func(y Year) { years[y.Year] = y })
	return years
}

// Flows is the net flow of each year, into flows when it is large enough.
func (p Plan) Flows(flows []float64) []float64 {
	if cap(flows) < p.Life+1 {
		flows = make([]float64, p.Life+1)
	}
	flows = flows[:p.Life+1]
	if p.differs() {
		p.layYears(func(y Year) { flows[y.Year] = y.Net })
		return flows
	}
	n, charge := p.writtenOff()
	flows[0] = -p.Investment
	for t := 1; t <= p.Life; t++ { // they are alike but where one begins
		if flows[t] = flows[t-1]; t == 1 || t == n+1 || t == p.Life {
			flows[t] = p.year(t, n, charge).Net
		}
	}
	return flows
}

// differs says that years of the plan are given one by one.
func (p *Plan) differs() bool { return p.Parts != nil || p.Saved != nil || p.Expense != nil }

// writtenOff is over how many years the investment of a plan is written off whose years do
// not differ, and by what in each, currency.
func (p *Plan) writtenOff() (years int, charge float64) {
	years = p.Depreciation
	if years == 0 {
		years = p.Life
	}
	if p.TaxRate > 0 {
		charge = (p.Investment - p.Salvage) / float64(years)
	}
	return years, charge
}

// Lay hands each year of CashFlow to put, in order.
func (p Plan) Lay(put func(y Year)) {
	if p.differs() {
		p.layYears(put)
		return
	}
	n, charge := p.writtenOff()
	put(Year{Investment: -p.Investment, Net: -p.Investment})
	for t := 1; t <= p.Life; t++ {
		put(p.year(t, n, charge))
	}
}

// year is a year after 0 of a plan whose years do not differ, that is written off by a
// charge in each of n years.
func (p *Plan) year(t, n int, charge float64) Year {
	y := Year{Year: t, Savings: p.Savings}
	if t <= n {
		y.Depreciation = charge
	}
	y.Tax = -p.TaxRate * (y.Savings - y.Depreciation)
	y.Operating = y.Savings + y.Tax
	if t == p.Life {
		book := p.Investment - charge*float64(min(n, t))
		y.Salvage = p.Salvage
		y.Tax -= p.TaxRate * (p.Salvage - book)
	}
	y.Net = y.Investment + y.Savings + y.Salvage + y.Tax
	return y
}

// Invested is what is invested within the life, currency.
func (p *Plan) Invested() float64 {
	if p.Parts == nil {
		return p.Investment
	}
	sum := 0.0
	for t := range min(len(p.Parts), p.Life+1) {
		sum += p.Parts[t].Amount
	}
	return sum
}

// Spends says whether there is something to pay back: whether the first thing that is
// invested or spent is paid, and not received.
func (p *Plan) Spends() bool {
	for t := 0; t <= p.Life; t++ {
		if x := p.part(t).Amount + at(p.Expense, t); x != 0 {
			return x > 0
		}
	}
	return false
}

// at is the value of a year, 0 beyond the end.
func at(list []float64, t int) float64 {
	if t < len(list) {
		return list[t]
	}
	return 0
}

// part is what is invested in a year.
func (p *Plan) part(t int) Part {
	switch {
	case p.Parts == nil && t == 0:
		return Part{p.Investment, p.Salvage}
	case t < len(p.Parts):
		return p.Parts[t]
	}
	return Part{}
}
