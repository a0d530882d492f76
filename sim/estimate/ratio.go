package estimate

import "math"

// Figure is a ratio as one replication has it. For a share of trials (splices
// that fail) Num is how many came true and Den how many there were.
type Figure struct {
	Num, Den float64
	Counted  float64 // the part of Num that was only counted, trial by trial, each between 0 and 1
	Exposed  float64 // how many trials could only be counted
}

// Add adds a figure, as for totals.
func (f *Figure) Add(x Figure) {
	f.Num += x.Num
	f.Den += x.Den
	f.Counted += x.Counted
	f.Exposed += x.Exposed
}

// Pseudo is a ratio of totals with its pseudo-values: what each replication, or
// group of them, adds to it (Efron and Tibshirani, An Introduction to the
// Bootstrap, 1993, ch. 11).
type Pseudo struct {
	All    float64   // NaN when there is nothing to divide by
	Values []float64 // n All - (n-1) of the ratio without the group
}

// PseudoOf are the pseudo-values of the ratio of the totals of figures.
func PseudoOf(figures []Figure) Pseudo {
	var num, den float64
	for _, x := range figures {
		num += x.Num
		den += x.Den
	}
	n := float64(len(figures))
	p := Pseudo{All: num / den}
	for _, x := range figures {
		p.Values = append(p.Values, n*p.All-(n-1)*(num-x.Num)/(den-x.Den))
	}
	return p
}

// Minus is the difference of two ratios, group by group.
func (p Pseudo) Minus(q Pseudo) Pseudo {
	d := Pseudo{All: p.All - q.All}
	for i := range p.Values {
		d.Values = append(d.Values, p.Values[i]-q.Values[i])
	}
	return d
}

// moments are those of the pseudo-values, about All.
func (p Pseudo) moments() *Moments {
	var m Moments
	for _, x := range p.Values {
		m.Add(x)
	}
	m.mean = p.All
	return &m
}

// Ratio estimates a ratio of totals, sum of Num over sum of Den with one figure
// for each replication or group of them, by the delete-one jackknife: the variance of the ratio is
// (n-1)/n times the sum of squares of the leave-one-out ratios about their mean. n is
// the number of replications, for SD. Mean is NaN when nothing was there to divide by.
func Ratio(figures []Figure, n int, confidence float64) Estimate {
	return ratio(PseudoOf(figures), n, Mean, confidence)
}

// RatioDifference is the estimate of the difference of two ratios, paired.
func RatioDifference(p, q Pseudo, n int, confidence float64) Estimate {
	return ratio(p.Minus(q), n, Difference, confidence)
}

func ratio(p Pseudo, n int, of func(*Moments, float64) Estimate, confidence float64) Estimate {
	if math.IsNaN(p.All) || math.IsInf(p.All, 0) {
		return none(p.All, n, NotSeen)
	}
	if len(p.Values) < 2 {
		return none(p.All, n, OneReplication)
	}
	for _, x := range p.Values {
		if math.IsNaN(x) || math.IsInf(x, 0) { // all of it in one group
			return none(p.All, n, TooFew)
		}
	}
	m := p.moments()
	e := of(m, confidence)
	e.SD = m.SD() * math.Sqrt(float64(n)/float64(len(p.Values)))
	e.N = n
	return e
}
