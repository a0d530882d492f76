package replicate

import "math"

// surely is how large Student's t of a record is, squared, that is taken to move a
// figure: some ten are tried at each step, of which one is as large by chance in 30.
const surely = 10

// leastFree is how many draws are left at least to judge the records by.
const leastFree = 8

// partsOf splits the variance that records leave of a figure by record: the regression
// of what the draws came to on what each record was moved by (Song and Nelson, IIE
// Trans. 47 (2015) 893), records taken in one after the other, the one that explains
// most first, while one is surely of use. means are those of the draws, sd what they
// leave; the parts of all add up to 1 at most.
func partsOf(means []float64, moved [][]float64, sd float64) []float64 {
	if len(moved) == 0 {
		return nil
	}
	parts := make([]float64, len(moved[0]))
	if len(means) != len(moved) || !(sd > 0) {
		return parts
	}
	columns := make([][]float64, len(parts))
	for j := range columns {
		columns[j] = make([]float64, len(moved))
		for p := range moved {
			columns[j][p] = moved[p][j]
		}
		columns[j] = centred(columns[j])
	}
	taken, basis := takenIn(means, columns)
	all := 0.0
	for i, slope := range slopes(centred(means), columns, taken, basis) { // what a record moves has a standard deviation of 1
		parts[taken[i]] = slope * slope
		all += parts[taken[i]]
	}
	whole := max(all, sd*sd)
	for j := range parts {
		parts[j] /= whole
	}
	return parts
}

// takenIn are the columns that are taken in, in their order, and an orthonormal basis of
// them.
func takenIn(means []float64, columns [][]float64) (taken []int, basis [][]float64) {
	rest := centred(means)
	left := make([][]float64, len(columns))
	for j := range left {
		left[j] = append([]float64(nil), columns[j]...)
	}
	for len(means)-len(taken)-2 > leastFree {
		best, explained := mostTelling(rest, left, columns)
		if best < 0 {
			break
		}
		free := float64(len(means) - len(taken) - 2)
		if after := dot(rest, rest) - explained; explained < surely*after/free {
			break
		}
		unit := scaledTo1(left[best])
		basis, taken = append(basis, unit), append(taken, best)
		takeOff(rest, unit)
		for j := range left {
			takeOff(left[j], unit)
		}
		left[best] = make([]float64, len(means))
	}
	return taken, basis
}

// mostTelling is the column of those left that explains most of the rest, and how much;
// -1 where none does. A column that those taken in make up but for rounding is passed over.
func mostTelling(rest []float64, left, columns [][]float64) (best int, explained float64) {
	best = -1
	for j, x := range left {
		if n := norm(x); n > 1e-6*norm(columns[j]) {
			if r := dot(x, rest) / n; r*r > explained {
				best, explained = j, r*r
			}
		}
	}
	return best, explained
}

// slopes are those of the columns taken in, by back substitution: each column is known in
// the basis.
func slopes(y []float64, columns [][]float64, taken []int, basis [][]float64) []float64 {
	slope := make([]float64, len(taken))
	for i := len(taken) - 1; i >= 0; i-- {
		s := dot(basis[i], y)
		for j := i + 1; j < len(taken); j++ {
			s -= dot(basis[i], columns[taken[j]]) * slope[j]
		}
		slope[i] = s / dot(basis[i], columns[taken[i]])
	}
	return slope
}

func centred(x []float64) []float64 {
	mean := 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	y := make([]float64, len(x))
	for i, v := range x {
		y[i] = v - mean
	}
	return y
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

func norm(x []float64) float64 { return math.Sqrt(dot(x, x)) }

func scaledTo1(x []float64) []float64 {
	n := norm(x)
	y := make([]float64, len(x))
	for i := range x {
		y[i] = x[i] / n
	}
	return y
}

// takeOff takes off x what it has of a direction of length 1.
func takeOff(x, unit []float64) {
	d := dot(x, unit)
	for i := range x {
		x[i] -= d * unit[i]
	}
}
