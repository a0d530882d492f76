package picture

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// inside is the value in the cell i, j at shares f and g of its sides. Where all
// four corners are known it is cubic along each side with the slope of monotone
// interpolation at the corners: contours of a quantity that falls by factors run
// smooth from cell to cell, where a bilinear one would scallop, and no value
// lies beyond those of the points around.
func (l *lattice) inside(i, j int, c [4]float64, missing int, f, g float64) float64 {
	if missing >= 0 {
		return within(c, missing, f, g)
	}
	var at [4]float64 // on the four lines across, at the share f
	for k := range at {
		at[k] = math.NaN()
		if row := j - 1 + k; row >= 0 && row < len(l.y) {
			at[k] = monotone(l.x, i, f, func(n int) float64 { return l.z[n][row] })
		}
	}
	return monotone(l.y, j, g, func(n int) float64 { return at[n-j+1] })
}

// monotone interpolates between the points i and i+1 at the share f of the way.
// The slope at a point is the weighted harmonic mean of those to either side, and
// 0 at a turn; source: Fritsch and Butland 1984, "A method for constructing local
// monotone piecewise cubic interpolants", SIAM J. Sci. Stat. Comput. 5, from
// memory. At the end of what is known it is that of the piece.
func monotone(x []vg.Length, i int, f float64, z func(int) float64) float64 {
	a, b := z(i), z(i+1)
	h := float64(x[i+1] - x[i])
	d := (b - a) / h
	slope := func(n, beyond int) float64 { // at n, with a neighbour beyond it
		if beyond < 0 || beyond >= len(x) || math.IsNaN(z(beyond)) {
			return d
		}
		k := math.Abs(float64(x[beyond] - x[n]))
		e := (z(beyond) - z(n)) / float64(x[beyond]-x[n])
		if d*e <= 0 {
			return 0
		}
		w1, w2 := 2*k+h, k+2*h // of the piece of the cell, of its neighbour
		return (w1 + w2) / (w1/d + w2/e)
	}
	s, t := slope(i, i-1), slope(i+1, i+2)
	u := 1 - f
	return u*u*(1+2*f)*a + f*f*(1+2*u)*b + h*f*u*(u*s-f*t)
}
