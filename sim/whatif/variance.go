package whatif

// Indices are the shares of the variance of an answer that an input accounts
// for: alone (first order) and with all its interactions (total).
type Indices struct{ First, Total float64 }

// varianceShares estimates the Sobol' indices of f over the unit cube of k
// dimensions from n base points of the Sobol' sequence: total effects by
// Jansen's estimator, first order by Saltelli's,
//
//	T_i = sum (f(A) - f(AB_i))² / (2 n V)      S_i = sum f(B) (f(AB_i) - f(A)) / (n V)
//
// with AB_i the points A whose coordinate i is taken from B (A. Saltelli and
// others, Comput. Phys. Commun. 181 (2010) 259-270, table 2). f is called
// n (k+2) times; its error ends the estimate. 2 k must not be above MostSobol.
func varianceShares(n, k int, f func(x []float64) (float64, error)) ([]Indices, error) {
	fa, fb := make([]float64, n), make([]float64, n)
	fab := make([][]float64, k)
	points := make([][]float64, n)
	mean, err := 0.0, error(nil)
	for j := range n {
		points[j] = sobol(uint32(j+1), 2*k)
		if fa[j], err = f(points[j][:k]); err != nil {
			return nil, err
		}
		if fb[j], err = f(points[j][k:]); err != nil {
			return nil, err
		}
		mean += (fa[j] + fb[j]) / float64(2*n)
	}
	v := 0.0
	for j := range n {
		v += ((fa[j]-mean)*(fa[j]-mean) + (fb[j]-mean)*(fb[j]-mean)) / float64(2*n)
	}
	out := make([]Indices, k)
	for i := range k {
		fab[i] = make([]float64, n)
		for j := range n {
			x := append([]float64(nil), points[j][:k]...)
			x[i] = points[j][k+i]
			if fab[i][j], err = f(x); err != nil {
				return nil, err
			}
			d := fa[j] - fab[i][j]
			out[i].Total += d * d / (2 * float64(n))
			out[i].First += (fb[j] - mean) * -d / float64(n)
		}
		if v > 0 {
			out[i].Total /= v
			out[i].First /= v
		}
	}
	return out, nil
}
