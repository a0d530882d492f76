package whatif

import "math/bits"

// sobolDimensions are the primitive polynomials (degree s, coefficients a) and
// initial direction numbers of the Sobol' sequence after the first dimension
// (S. Joe and F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635-2654, table
// new-joe-kuo-6.21201, its first rows, from memory; that every dimension and
// every pair of them is spread as it should be is tested).
var sobolDimensions = []struct {
	s, a uint
	m    []uint32
}{
	{1, 0, []uint32{1}}, {2, 1, []uint32{1, 3}}, {3, 1, []uint32{1, 3, 1}}, {3, 2, []uint32{1, 1, 1}},
	{4, 1, []uint32{1, 1, 3, 3}}, {4, 4, []uint32{1, 3, 5, 13}}, {5, 2, []uint32{1, 1, 5, 5, 17}}, {5, 4, []uint32{1, 1, 5, 5, 5}},
	{5, 7, []uint32{1, 1, 7, 11, 19}}, {5, 11, []uint32{1, 1, 5, 1, 1}}, {5, 13, []uint32{1, 1, 1, 3, 11}}, {5, 14, []uint32{1, 3, 5, 5, 31}},
	{6, 1, []uint32{1, 3, 3, 9, 7, 49}}, {6, 13, []uint32{1, 1, 1, 15, 21, 21}}, {6, 16, []uint32{1, 3, 1, 13, 27, 49}},
	{6, 19, []uint32{1, 1, 1, 15, 7, 5}}, {6, 22, []uint32{1, 3, 1, 15, 13, 25}}, {6, 25, []uint32{1, 1, 5, 5, 19, 61}},
	{7, 1, []uint32{1, 3, 7, 11, 23, 15, 103}},
}

// MostSobol is the most dimensions of sobol.
const MostSobol = 20

// sobol returns the n-th point, from 0, of the Sobol' sequence in so many
// dimensions (at most MostSobol), each coordinate in [0, 1). The sequence is in
// the order of Gray codes.
func sobol(n uint32, dimensions int) []float64 {
	x := make([]float64, dimensions)
	gray := n ^ n>>1
	for d := range x {
		var v uint32
		for g := gray; g != 0; g &= g - 1 {
			v ^= direction(d, uint(bits.TrailingZeros32(g)))
		}
		x[d] = float64(v) / (1 << 32)
	}
	return x
}

// direction is direction number i, from 0, of a dimension, as a 32-bit fraction.
func direction(dimension int, i uint) uint32 {
	if dimension == 0 {
		return 1 << (31 - i)
	}
	p := sobolDimensions[dimension-1]
	var v [32]uint32
	for k := uint(0); k <= i; k++ {
		if k < p.s {
			v[k] = p.m[k] << (31 - k)
			continue
		}
		v[k] = v[k-p.s] ^ v[k-p.s]>>p.s
		for j := uint(1); j < p.s; j++ {
			if p.a>>(p.s-1-j)&1 == 1 {
				v[k] ^= v[k-j]
			}
		}
	}
	return v[i]
}
