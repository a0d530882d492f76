package finance

// charge is what part k is written off by in year t.
func (p *Plan) charge(k, t int) float64 {
	n := p.writtenOver(k)
	if p.TaxRate <= 0 || t <= k || t > k+n {
		return 0
	}
	x := p.part(k)
	return (x.Amount - x.Salvage) / float64(n)
}

// Charge is by what a year is written off that is invested in year k; 0 in the last year
// of the life.
func (p *Plan) Charge(k int) float64 {
	if k >= p.Life {
		return 0
	}
	return p.charge(k, k+1)
}

// writtenOver is over how many years part k is written off.
func (p *Plan) writtenOver(k int) int {
	if p.Depreciation > 0 {
		return p.Depreciation
	}
	return max(1, p.Life-k)
}

// layYears is Lay where years differ.
func (p *Plan) layYears(put func(y Year)) {
	parts := max(1, len(p.Parts))
	for t := 0; t <= p.Life; t++ {
		x := p.part(t)
		y := Year{Year: t, Investment: -x.Amount, Expense: -at(p.Expense, t)}
		if t > 0 {
			y.Savings = p.Savings
			if p.Saved != nil {
				y.Savings = at(p.Saved, t)
			}
		}
		for k := range min(parts, t) {
			y.Depreciation += p.charge(k, t)
		}
		tax := -p.TaxRate * (y.Savings - y.Depreciation)
		y.Operating = y.Savings + tax
		y.Tax = tax - p.TaxRate*y.Expense
		if t == p.Life {
			book, sold := 0.0, 0.0
			for k := range min(parts, t+1) {
				x := p.part(k)
				book += x.Amount - p.charge(k, k+1)*float64(min(p.writtenOver(k), t-k))
				sold += x.Salvage
			}
			y.Salvage = sold
			y.Tax -= p.TaxRate * (sold - book)
		}
		y.Net = y.Investment + y.Expense + y.Savings + y.Salvage + y.Tax
		put(y)
	}
}
