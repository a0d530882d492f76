package plan

import (
	"math"
	"slices"

	"rollchange/sim/estimate"
)

// result makes means of sums.
func (g *gather) result(name string, confidence float64) Alternative {
	a := Alternative{Name: name, Causes: g.causes, Orders: make([]Order, len(g.orders))}
	n := float64(len(g.done))
	for i := range g.orders {
		s := &g.orders[i]
		o := s.Order
		m := float64(len(s.ends))
		o.Ended = m / n
		o.Begin, o.End = timesOf(s.begins), timesOf(s.ends)
		if !math.IsInf(g.line.Orders.List[i].Due, 1) {
			o.Late = chance(s.lates+n-m, n, confidence) // one that the horizon cut off is late, or would be
		}
		if m > 0 {
			for _, x := range []*float64{&o.LateBy, &o.Running, &o.Ramping, &o.Slowed, &o.Good, &o.Scrap, &o.Residual, &o.FinishedRolls, &o.RollChanges, &o.Tape} {
				*x /= m
			}
			for h := range o.Stopped {
				o.Stopped[h] /= m
			}
		}
		a.Orders[i] = o
	}
	var done []float64
	for _, t := range g.done {
		if !math.IsNaN(t) {
			done = append(done, t)
		}
	}
	a.Done, a.Unended = timesOf(done), 1-float64(len(done))/n
	a.OnTime, a.Late, a.Change = mean(g.timely, confidence), mean(g.late, confidence), mean(g.change, confidence)
	return a
}

// compare finds what an alternative changes against the first, replication by
// replication.
func compare(a *Alternative, g, first *gather, confidence float64) {
	difference := func(x, y []float64) estimate.Estimate {
		var m estimate.Moments
		for i := range x {
			if d := x[i] - y[i]; !math.IsNaN(d) {
				m.Add(d)
			}
		}
		return estimate.Difference(&m, confidence)
	}
	a.SoonerBy, a.MoreTimed, a.LessLate = difference(first.done, g.done), difference(g.timely, first.timely), difference(first.late, g.late)
}

func mean(x []float64, confidence float64) estimate.Estimate {
	var m estimate.Moments
	for _, v := range x {
		m.Add(v)
	}
	return estimate.Mean(&m, confidence)
}

// chance is that of which k of n replications came true.
func chance(k, n, confidence float64) estimate.Estimate {
	figures := make([]estimate.Figure, int(n))
	for i := range figures {
		figures[i].Den = 1
		if float64(i) < k {
			figures[i].Num, figures[i].Counted, figures[i].Exposed = 1, 1, 1
		}
	}
	return estimate.Share(figures, len(figures), 1, confidence)
}

// timesOf is the mean and two quantiles of times, NaN of none.
func timesOf(x []float64) Times {
	if len(x) == 0 {
		nan := math.NaN()
		return Times{nan, nan, nan}
	}
	sorted := slices.Sorted(slices.Values(x))
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return Times{sum / float64(len(x)), estimate.Quantile(sorted, 0.05), estimate.Quantile(sorted, 0.95)}
}
