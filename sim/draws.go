package sim

import "rollchange/model"

// Draws returns n values of d from the stream of the named source: the same
// for the same seed, name and place, whatever else is drawn.
func Draws(d model.Dist, seed uint64, name string, n int) []float64 {
	s := newSource(d, seed, 0, name)
	x := make([]float64, n)
	for i := range x {
		x[i] = s.draw()
	}
	return x
}
