package estimate

import (
	"math"

	"rollchange/model/portable"
)

// An Interval is the ends of a confidence interval.
type Interval struct{ Low, High float64 }

// shareLimits is the modified Jeffreys interval of a chance of which k of n trials
// came true (Brown, Cai and DasGupta, Statistical Science 16 (2001) 101): quantiles
// of the Beta law of (k + 1/2, n - k + 1/2), with the exact limit where none or all
// came true, and 0 as the lower end where one did. k need not be whole: trials may
// come true in part. NaN where n is not above 0 or k not in 0..n.
func shareLimits(k, n, confidence float64) Interval {
	if !(n > 0) || !(k >= 0) || k > n {
		return Interval{math.NaN(), math.NaN()}
	}
	tail := (1 - confidence) / 2
	i := Interval{0, 1}
	law := func(p float64) float64 { return betaQuantile(k+0.5, n-k+0.5, p) }
	if k > 1 {
		i.Low = law(tail)
	}
	if n-k > 1 {
		i.High = law(1 - tail)
	}
	if k < 1 { // none seen: (1 - high)^n = tail
		i.High = max(i.High, -portable.Expm1(portable.Log(tail)/n))
		if n-k <= 1 {
			i.High = 1
		}
	}
	if n-k < 1 {
		i.Low = min(i.Low, portable.Exp(portable.Log(tail)/n))
		if k <= 1 {
			i.Low = 0
		}
	}
	return i
}

// countLimits is the same interval of a mean of which k events were seen, the
// Jeffreys one for a Poisson law: gamma quantiles of k + 1/2.
func countLimits(k, confidence float64) Interval {
	tail := (1 - confidence) / 2
	i := Interval{High: portable.GammaQuantile(k+0.5, 1-tail)}
	if k > 1 {
		i.Low = portable.GammaQuantile(k+0.5, tail)
	}
	if k < 1 {
		i.High = max(i.High, -portable.Log(tail))
	}
	return i
}

// few is how many events are few: above it the figures of the replications vary
// as a sum does, and the jackknife holds.
const few = 40

// dispersion is how much more the counts of replications vary than counts of
// trials that are independent would: late rolls come in clusters. It is at least 1.
func dispersion(figures []Figure, part func(Figure) float64) float64 {
	var all, trials float64
	for _, f := range figures {
		all += part(f)
		trials += f.Den
	}
	n := float64(len(figures))
	if n < 2 || !(all > 0) || !(trials > 0) {
		return 1
	}
	p, sum := all/trials, 0.0
	for _, f := range figures {
		d := part(f) - p*f.Den
		sum += d * d
	}
	return max(1, sum/(n-1)/(all/n*max(1e-9, 1-p)))
}

// Share estimates the chance of a trial from figures of replications. What was
// calculated of it (Num less Counted) has its jackknife limits. What was only counted
// has the limits of a share, with fewer trials where the counts of replications
// vary more than those of independent trials. The two are put together by the
// method of variance estimates recovery (Zou and Donner, Statistics in Medicine 27
// (2008) 1693). unseen is the largest that the chance of what is only counted can
// be, known without counting; 1 when nothing is known. n is the number of
// replications.
func Share(figures []Figure, n int, unseen, confidence float64) Estimate {
	e := Ratio(figures, n, confidence)
	if math.IsNaN(e.Mean) || e.Why == OneReplication {
		return e
	}
	var total Figure
	calculated := make([]Figure, len(figures))
	for i, f := range figures {
		total.Add(f)
		calculated[i] = Figure{Num: f.Num - f.Counted, Den: f.Den}
	}
	over := dispersion(figures, func(f Figure) float64 { return f.Counted })
	if total.Counted < 3 {
		over = max(over, dispersion(figures, func(f Figure) float64 { return f.Exposed }))
	}
	k, trials := total.Counted/over, total.Den/over
	e.Trials = total.Den
	if k >= few && e.Known() {
		return e
	}
	share := total.Counted / total.Den
	c := confidence
	if over > 1 { // the dispersion is known from so many replications only
		c = 2*normalBelow(StudentT(0.5+confidence/2, float64(len(figures)-1))) - 1
	}
	counted := shareLimits(min(k, trials), trials, c)
	counted.High = min(counted.High, max(unseen, share))
	counted.Low = min(counted.Low, share)
	none := 0.0
	if k < 1 {
		none = counted.High - share
	}
	r := ratio(PseudoOf(calculated), n, bounded, confidence)
	low, high := r.Low, r.High
	switch {
	case r.Mean == 0:
		low, high = 0, 0
	case !r.Known():
		r.Mean, r.Trials, r.Unseen = e.Mean, total.Den, none
		return r
	}
	s := between(e.Mean, e.SD, n,
		max(0, e.Mean-portable.Hypot(r.Mean-low, share-counted.Low)),
		min(1, e.Mean+portable.Hypot(high-r.Mean, counted.High-share)))
	s.Trials, s.Unseen = total.Den, none
	if s.Mean == 0 {
		s.Why, s.HalfWidth = NotSeen, math.NaN()
	}
	return s
}

// Count estimates the mean number of events in a replication from those seen in
// each, by Student's t, or by the limits of a count where few were seen.
func Count(m *Moments, confidence float64) Estimate {
	e := Mean(m, confidence)
	if m.n < 2 {
		return e
	}
	n := float64(m.n)
	over := 1.0
	if m.mean > 0 {
		over = max(1, m.SD()*m.SD()/m.mean)
	}
	k := n * m.mean / over
	if k >= few && e.Known() {
		return e
	}
	c := confidence
	if over > 1 {
		c = 2*normalBelow(StudentT(0.5+confidence/2, n-1)) - 1
	}
	i := countLimits(k, c)
	s := between(m.mean, m.SD(), m.n, min(m.mean, i.Low*over/n), i.High*over/n)
	if m.mean == 0 {
		s.Why, s.HalfWidth = NotSeen, math.NaN()
	}
	return s
}

// ShareDifference is the estimate of the difference of two shares from their own
// limits, for where too few events carry the paired difference (MOVER, as in
// Share). It takes the two for independent; under common random numbers they go
// together, so it is on the wide side.
func ShareDifference(p, q Estimate) Estimate {
	e := none(p.Mean-q.Mean, p.N, TooFew)
	if !p.Known() || !q.Known() || e.Mean == 0 {
		if e.Mean == 0 {
			e.Why = NotSeen
		}
		return e
	}
	return between(e.Mean, math.NaN(), p.N, e.Mean-portable.Hypot(p.Mean-p.Low, q.High-q.Mean), e.Mean+portable.Hypot(p.High-p.Mean, q.Mean-q.Low))
}

// bounded is the estimate of a mean of chances that are at most those of a usual
// trial: where some are far below it, skewed to the left, Student's t is wide enough.
func bounded(m *Moments, confidence float64) Estimate {
	if m.n > 1 && m.skew() < 0 && m.SD() > 0 {
		return student(m, confidence)
	}
	return Mean(m, confidence)
}

// Between is the estimate of the mean time between trials that come true, from
// figures of so many seconds (Num) for so many trials (Den) and the estimate of
// the share that comes true. Its mean is +Inf where none did, and its low end is
// then what the limit of the share rules out.
func Between(figures []Figure, of Estimate) Estimate {
	var total Figure
	for _, f := range figures {
		total.Add(f)
	}
	e := none(total.Num/(of.Mean*total.Den), of.N, of.Why)
	if of.Known() && of.High > 0 {
		e.Low, e.High = total.Num/(of.High*total.Den), total.Num/(max(0, of.Low)*total.Den)
	}
	if of.Mean == 0 {
		e.Why = NotSeen
	} else if e.Known() {
		e.Why = Skewed
	}
	return e
}
