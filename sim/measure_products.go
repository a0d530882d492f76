package sim

import (
	"slices"

	"rollchange/model"
	"rollchange/sim/metric"
)

// valuesOf is a value of each product, or of a line without orders its own; nil when
// it is 0 for one of them.
func valuesOf(l *model.Line, of func(*model.Line) float64) []float64 {
	list := eachProduct(l, of)
	for _, x := range list {
		if !(x > 0) {
			return nil
		}
	}
	return list
}

// goodTimes is the good web of a line, each metre times the value of its product.
func (m *measured) goodTimes(values []float64, i int) float64 {
	if m.products == nil || same(values) {
		return values[0] * m.good[i]
	}
	sum := 0.0
	for k, p := range m.products[i] {
		sum += values[k] * p.good
	}
	return sum
}

// trimsOf are the shares of the width that are trimmed, of each product, and whether
// any is.
func trimsOf(l *model.Line) (shares []float64, any bool) {
	shares = eachProduct(l, (*model.Line).TrimShare)
	return shares, slices.ContainsFunc(shares, func(x float64) bool { return x > 0 })
}

// eachProduct is a value of each product, or of a line without orders its own.
func eachProduct(l *model.Line, of func(*model.Line) float64) []float64 {
	if l.Orders == nil {
		return []float64{of(l)}
	}
	var list []float64
	for i := range l.Products {
		list = append(list, of(l.Products[i].Line))
	}
	return list
}

// rolls are the finished rolls of a line, of all its lanes.
func (m *measured) rolls(lanes []float64, t *tally, i int) float64 {
	if m.products == nil || same(lanes) {
		return lanes[0] * t.finished
	}
	sum := 0.0
	for k, p := range m.products[i] {
		sum += lanes[k] * p.finished
	}
	return sum
}

// ofSupply is a part of the web supplied: in the mean of lines that are alike, and of all
// web where each makes what orders it gets.
func (m *measured) ofSupply(part func(t *tally, i int) float64) figure {
	if m.products == nil {
		return m.mean(func(t *tally, i int) float64 { return per(part(t, i), m.supply[i]) })
	}
	supply := 0.0
	for _, x := range m.supply {
		supply += x
	}
	return figure{Num: per(m.sum(part), supply), Den: 1}
}

// itemTime is the time that a metre takes at rated speed, in the mean of the products
// that the line made.
func (m *measured) itemTime(times []float64, i int) float64 {
	if m.products == nil || same(times) {
		return times[0]
	}
	metres, seconds := 0.0, 0.0
	for k, p := range m.products[i] {
		metres += p.processed
		seconds += p.processed * times[k]
	}
	if metres == 0 {
		return times[0]
	}
	return seconds / metres
}

func same(values []float64) bool {
	for _, x := range values {
		if x != values[0] {
			return false
		}
	}
	return true
}

// productGauges measure what a line with orders makes of each product: rates are of
// all its hours, not of those of the product.
func productGauges(l *model.Line) []Gauge {
	if l.Orders == nil {
		return nil
	}
	var list gauges
	list.rate(metric.PartRolls, func(_ *measured, t *tally, _ int) float64 { return t.returns })
	list.rate(metric.PartsReused, func(_ *measured, t *tally, _ int) float64 { return t.reused })
	list.rate(metric.PartWeb, func(_ *measured, t *tally, _ int) float64 { return t.returned.value })
	for k := range l.Products {
		p := &l.Products[k]
		add := func(family string, of func(m *measured, p *produced) float64) {
			list.add(family+p.Name, func(m *measured) figure {
				sum := 0.0
				for i := range m.products {
					sum += of(m, &m.products[i][k])
				}
				return figure{Num: sum, Den: 1}
			})
		}
		lines := float64(max(1, l.Crew.Lines))
		add(metric.ProductGood, func(m *measured, p *produced) float64 { return p.good / m.span })
		add(metric.ProductTime, func(m *measured, p *produced) float64 { return p.time / m.span / lines })
		if l.Rewind.Change != model.None {
			sets := float64(p.Line.Rewind.LaneCount())
			add(metric.ProductRolls, func(m *measured, p *produced) float64 { return sets * p.finished / m.span })
		}
		add(metric.ProductSplices, func(m *measured, p *produced) float64 { return p.rolls / m.span })
		if tape := p.Line.Unwind.TapePerSplice; tape > 0 {
			add(metric.ProductTape, func(m *measured, p *produced) float64 { return tape * p.rolls / m.span })
		}
		trim := p.Line.TrimShare()
		list.add(metric.ProductWaste+p.Name, func(m *measured) figure {
			lost, supplied := 0.0, 0.0
			for i := range m.products {
				x := &m.products[i][k]
				lost += x.scrap + x.residual + trim*x.good
				supplied += x.processed + x.residual
			}
			return figure{Num: per(lost, supplied), Den: 1}
		})
	}
	return list
}
