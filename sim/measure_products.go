package sim

import "rollchange/model"

// valuesOf is a value of each product, or of a line without orders its own; nil when
// it is 0 for one of them.
func valuesOf(l *model.Line, of func(*model.Line) float64) []float64 {
	var list []float64
	for i := range l.Products {
		list = append(list, of(l.Products[i].Line))
	}
	if l.Orders == nil {
		list = []float64{of(l)}
	}
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
