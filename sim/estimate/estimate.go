package estimate

import (
	"math"

	"rollchange/model/portable"
)

// Estimate is one figure: the mean over replications and how far it can be
// trusted.
type Estimate struct {
	Unit      string  // SI: "m/s", "m2/s", "kg/s", "1/s", "1" (a share or a ratio), "m", "s"
	Mean      float64 //
	HalfWidth float64 // of the confidence interval; NaN where it is not symmetric, or there is none
	SD        float64 // between replications; NaN when there is one replication only
	N         int     // replications
	Low, High float64 // ends of the interval; NaN when there is none
	Why       Why     // there is no half width
	Needed    int     // replications that would do, with TooFew; 0: not known
	Trials    float64 // of a share: in how many trials it was looked for; else 0
	Left      float64 // half width that the records behind the laws leave open, alone; 0: not looked for, or nothing; NaN: not known
	Unseen    float64 // of a share: what High holds for causes that only counting can tell of and of which none was seen
}

// Why says for what reason an estimate has no half width.
type Why string

// The reasons.
const (
	Symmetric      Why = ""                // it has one
	OneReplication Why = "one replication" // nothing is known of the spread
	TooFew         Why = "too few"         // few events carry the figure: no interval of so few replications holds
	NotSeen        Why = "not seen"        // it was 0 in every replication; High, where known, is what that rules out
	Same           Why = "same"            // the difference was the same in every replication: no chance is in it
	Skewed         Why = "skewed"          // the interval is not symmetric: Low and High
)

// FarOff is how many standard errors from zero a figure is beyond doubt even where few
// events carry it. The hardest case is a single event in all replications: it is one
// standard error, and there may be as many as 5.6 for each one seen (the upper limit of
// a Poisson mean at 95 %). Ten leaves room for larger events than were seen: our estimate.
const FarOff = 10

// Shown says whether the interval excludes zero: for a difference, that a
// difference is shown. Where few events carry it there is no interval; it is
// shown if it lies FarOff standard errors from zero.
//
//go:noinline
func (e Estimate) Shown() bool {
	return e.Why == Same && e.Mean != 0 || e.Low > 0 || e.High < 0 ||
		e.Why == TooFew && e.SD > 0 && math.Abs(e.Mean) > FarOff*e.SD/math.Sqrt(float64(e.N))
}

// Known says whether the estimate has limits.
func (e Estimate) Known() bool { return !math.IsNaN(e.Low) && !math.IsNaN(e.High) }

// End is the mean, or an end of the interval: the low one for a side below 0, the
// high one above; the mean too where the estimate has no limits.
func (e Estimate) End(side float64) float64 {
	switch {
	case side < 0 && e.Known():
		return e.Low
	case side > 0 && e.Known():
		return e.High
	}
	return e.Mean
}

// Opposite is the estimate of the same with the other sign: sooner is less time.
func (e Estimate) Opposite() Estimate {
	e.Mean, e.Low, e.High = -e.Mean, -e.High, -e.Low
	return e
}

// Times is the estimate of the quantity times a positive factor.
func (e Estimate) Times(factor float64) Estimate {
	e.Mean *= factor
	e.HalfWidth *= factor
	e.SD *= factor
	e.Low *= factor
	e.High *= factor
	e.Unseen *= factor
	e.Left *= factor
	return e
}

// WithRecords is the estimate with what the records leave open: its limits are as far
// again as both together put them, as independent errors. Without limits it stays so.
func (e Estimate) WithRecords() Estimate {
	if e.Left == 0 {
		return e
	}
	if e.Unit == "s" { // a time between events: the errors are those of the rate
		r := Estimate{Mean: 1 / e.Mean, Low: 1 / e.High, High: 1 / e.Low, Left: e.Left / (e.Mean * e.Mean)}.WithRecords()
		e.Low, e.High, e.HalfWidth = 1/r.High, math.Inf(1), math.NaN()
		if r.Low > 0 {
			e.High = 1 / r.Low
		}
		return e
	}
	e.Low, e.High = e.Mean-portable.Hypot(e.Mean-e.Low, e.Left), e.Mean+portable.Hypot(e.High-e.Mean, e.Left)
	e.HalfWidth = portable.Hypot(e.HalfWidth, e.Left)
	if e.Why == Same && !math.IsNaN(e.Left) { // chance does not move it, the records do
		e.Why, e.HalfWidth, e.Low, e.High = Symmetric, e.Left, e.Mean-e.Left, e.Mean+e.Left
	}
	if e.Trials > 0 { // a share
		e.Low, e.High = max(0, e.Low), min(1, e.High)
	}
	return e
}

// TrialsFor is about how many trials would bring the upper limit of a share below
// the target: those there were where it is already there, +Inf where the mean is
// not below it or no share has limits. What was not seen falls as one over their
// number, 3.7 in n at 95 %; what was seen as one over its root.
func (e Estimate) TrialsFor(target float64) float64 {
	switch {
	case e.Known() && e.High <= target:
		return e.Trials
	case e.Mean >= target || e.Trials == 0:
		return math.Inf(1)
	case e.Unseen > target:
		return e.Trials * e.Unseen / target
	case !e.Known():
		if e.Needed == 0 || e.N == 0 {
			return math.Inf(1)
		}
		return e.Trials * float64(e.Needed) / float64(e.N)
	}
	off := (e.High - e.Mean) / (target - e.Mean)
	return e.Trials * off * off
}

// none is an estimate without limits.
//
//go:noinline
func none(mean float64, n int, why Why) Estimate {
	nan := math.NaN()
	return Estimate{Mean: mean, HalfWidth: nan, SD: nan, N: n, Low: nan, High: nan, Why: why}
}

// between is the estimate with the given limits, which has a half width where
// they lie as good as symmetric about the mean.
func between(mean, sd float64, n int, low, high float64) Estimate {
	e := Estimate{Mean: mean, HalfWidth: (high - low) / 2, SD: sd, N: n, Low: low, High: high}
	if math.Abs(high+low-2*mean) > 0.1*(high-low) {
		e.HalfWidth, e.Why = math.NaN(), Skewed
	}
	return e
}

// How skewed replications may be. The coverage of a t interval is off by an
// amount that grows with the skewness over the root of the number of
// replications; Hall's transformation takes out the first order of it, and beyond
// the second limit nothing does.
const (
	skewed   = 0.15
	hopeless = 0.38
)

// Mean is the estimate of a mean over replications that are independent, by
// Student's t, or by Hall's transformed t where they are skewed (Hall, J. R.
// Statist. Soc. B 54 (1992) 221). Where so few events carry the figure that no
// interval holds it says so, and how many replications would do.
func Mean(m *Moments, confidence float64) Estimate {
	e := limits(m, confidence, 3)
	if e.Why == Same && e.Mean != 0 {
		// No chance is in it: it is known.
		e.Why, e.HalfWidth, e.Low, e.High = Symmetric, 0, e.Mean, e.Mean
	}
	return e
}

// Difference is the estimate of a mean of paired differences. Where all are 0 no
// difference was seen, which is not to say that there is none.
func Difference(m *Moments, confidence float64) Estimate { return limits(m, confidence, 2) }

// limits takes skewness for real that is more than so many times what chance shows
// in replications that are not skewed, sqrt(6/n).
func limits(m *Moments, confidence, certain float64) Estimate {
	n := float64(m.n)
	switch {
	case m.n < 2:
		return none(m.Mean(), m.n, OneReplication)
	case m.SD() <= 1e-13*math.Abs(m.mean): // to rounding
		e := none(m.Mean(), m.n, Same)
		e.SD = 0
		if m.mean == 0 {
			e.Why = NotSeen
		}
		return e
	}
	skew := m.skew()
	t := StudentT(0.5+confidence/2, n-1)
	switch off := math.Abs(skew) / math.Sqrt(n); {
	case off > hopeless && m.n > 3:
		e := none(m.Mean(), m.n, TooFew)
		e.SD = m.SD()
		e.Needed = int(math.Ceil(skew * skew / (skewed * skewed)))
		return e
	case off > skewed && math.Abs(skew) > certain*math.Sqrt(6/n):
		low, high := m.mean-m.SD()*hall(t/math.Sqrt(n), skew, n), m.mean-m.SD()*hall(-t/math.Sqrt(n), skew, n)
		return between(m.mean, m.SD(), m.n, low, high)
	}
	return student(m, confidence)
}

// student is the estimate of a mean by Student's t.
func student(m *Moments, confidence float64) Estimate {
	h := m.HalfWidth(confidence)
	return Estimate{Mean: m.mean, HalfWidth: h, SD: m.SD(), N: m.n, Low: m.mean - h, High: m.mean + h}
}

// hall is the inverse of Hall's transformation of the studentised mean w,
//
//	y = w + g w²/3 + g² w³/27 + g/(6 n),  g the skewness,
//
// which takes the skewness out of it:
//
//	w = 3/g ((1 + g (y - g/(6 n)))^(1/3) - 1)
func hall(y, g, n float64) float64 {
	return 3 / g * (portable.Cbrt(1+g*(y-g/(6*n))) - 1)
}
