package fit

import (
	"cmp"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/model/portable"
)

// Options are what is known of a record beside its values.
type Options struct {
	From   float64 // SI; shorter values were not recorded; 0: all were
	Seed   uint64  // of the draws that a fit is judged by
	Draws  int     // of them, at most; 0: 199
	Refuse float64 // the chance below which a law is refused; 0: 0.05
	Values bool    // no law is asked for: the values themselves
}

func (o Options) refuse() float64 { return cmp.Or(o.Refuse, 0.05) }

// Result is what values say of their law.
type Result struct {
	N     int // values used
	Open  int // of them censored
	Below int // values left out: shorter than what was said to be recorded

	Answer model.Dist // the law to take; not given where no value had ended
	Why    Why        // it is that one
	Laws   []Fitted   // all that could be fitted, by AIC, the best first
	Taken  int        // the place in Laws of the one that was judged, -1 for none
	Judged Judgement  // of that one

	Heaping Heaping
	Order   Serial
}

// Observed is the number of values behind the answer.
func (r Result) Observed() int { return r.N - r.Open }

// Why says how an answer was found.
type Why string

// The ways.
const (
	Best    Why = "best"      // least AIC, by more than 2
	Tied    Why = "tied"      // others are as good (AIC within 2): the one with the larger 99.9 % point
	NoLaw   Why = "no law"    // the best law is refused: the values themselves
	TooFew  Why = "too few"   // fewer than five values: the values themselves
	Same    Why = "same"      // all values are one
	NoValue Why = "no values" // none has ended
	Unasked Why = "not asked" // Options.Values: the values themselves
)

// Fitted is a law that was fitted.
type Fitted struct {
	Dist       model.Dist
	Parameters int // fitted, a least value too
	LogLik     float64
	AIC        float64 // 2 Parameters - 2 LogLik (Akaike, IEEE Trans. Automat. Control 19 (1974) 716)
	Far        float64 // SI, the 99.9 % point
	Tied       bool    // AIC within 2 of the least
	A2         float64 // Anderson-Darling's distance of the values from it

	at point
}

const (
	fewest = 5 // values that a law is fitted to
	tie    = 2 // of AIC
)

// Of fits laws to recorded values, in the order of the record. Errors are values or
// options that are no numbers.
func Of(values []Value, o Options) (Result, error) {
	if err := check(values, o.From); err != nil {
		return Result{}, err
	}
	r := Result{Taken: -1, Heaping: heapingOf(values)}
	used := r.Heaping.widen(values)
	list, below := spans(used, o.From)
	r.N, r.Below = len(list), below
	var ended []span
	for _, s := range list {
		if math.IsInf(s.high, 1) {
			r.Open++
		} else {
			ended = append(ended, s)
		}
	}
	r.Order = serialOf(values)
	distinct := len(slices.Compact(slices.Clone(ended)))
	switch {
	case len(ended) == 0:
		r.Why = NoValue
		return r, nil
	case distinct == 1 && len(ended) >= fewest:
		r.Why, r.Answer = Same, model.Const(values[firstEnded(values, o.From)].X)
		return r, nil
	}
	r.Answer = empirical(values, o.From)
	if o.Values {
		r.Why = Unasked
		return r, nil
	}
	if len(ended) < fewest {
		r.Why = TooFew
		return r, nil
	}
	r.fit(list, o.From, distinct)
	if len(r.Laws) == 0 {
		r.Why = NoLaw
		return r, nil
	}
	r.Taken, r.Why = r.choose()
	best := r.Laws[r.Taken]
	r.Judged = judge(used, o, best)
	if r.Judged.P < o.refuse() {
		r.Why = NoLaw
		return r, nil
	}
	r.Answer = best.Dist
	return r, nil
}

// fit fits every law that the values can tell of.
func (r *Result) fit(list []span, from float64, distinct int) {
	plain := newSample(list, from, 0)
	later, least := laterSample(list, from)
	for _, law := range families {
		if free(law) == 2 && distinct < 3 {
			continue // two values fix no spread
		}
		for _, s := range []*sample{plain, later} {
			if s == nil {
				continue
			}
			f, ok := s.fitted(law)
			if !ok {
				continue
			}
			if s == later {
				f.Dist = curveAt(law, f.at).dist(least)
				f.Parameters++
			}
			f.AIC = 2*float64(f.Parameters) - 2*f.LogLik
			f.Far = model.UpperQuantile(f.Dist, 1e-3)
			if usable(f.Dist) {
				f.A2 = s.distance(curveAt(law, f.at))
				r.Laws = append(r.Laws, f)
			}
		}
	}
	slices.SortStableFunc(r.Laws, func(a, b Fitted) int { return cmp.Compare(a.AIC, b.AIC) })
	for i := range r.Laws {
		r.Laws[i].Tied = len(r.Laws) > 1 && r.Laws[i].AIC <= r.Laws[0].AIC+tie
	}
	if len(r.Laws) > 1 && !r.Laws[1].Tied {
		r.Laws[0].Tied = false
	}
}

// choose is the place of the law to take, and why.
func (r *Result) choose() (int, Why) {
	taken, why := 0, Best
	for i, f := range r.Laws {
		if i > 0 && f.Tied {
			why = Tied
			if f.Far > r.Laws[taken].Far {
				taken = i
			}
		}
	}
	return taken, why
}

// fitted is the greatest likelihood of a law.
func (s *sample) fitted(law model.Law) (Fitted, bool) {
	p, best, ok := s.maximum(law, s.start(law))
	if !ok {
		return Fitted{}, false
	}
	c := curveAt(law, p)
	if s.from > 0 && c.logUpper(s.from) < portable.Log(leastSeen) {
		return Fitted{}, false
	}
	return Fitted{Dist: c.dist(0), Parameters: free(law), LogLik: best, at: p}, true
}

// leastSeen is the share of values that a law may say were recorded: of one that says
// fewer, the values tell the far tail alone. Our choice.
const leastSeen = 0.01

// usable says that a scenario takes the law (scenarios: a sd of at most 100 times and
// at least a millionth of the mean).
func usable(d model.Dist) bool {
	mean, sd := d.Mean(), d.SD()
	return d.Validate() == nil && sd <= 100*mean && sd >= 1e-6*mean
}

// laterSample is the values above the least one that there can be: half a rounding
// step below the smallest. It is nil where that one is exact, for which the
// likelihood has no bound, where it is 0, and where shorter ones were not recorded.
func laterSample(list []span, from float64) (*sample, float64) {
	i := slices.IndexFunc(list, func(s span) bool { return !math.IsInf(s.high, 1) })
	least := list[i].low
	if least <= from || slices.ContainsFunc(list, func(s span) bool { return s.low == s.high && s.low <= least }) {
		return nil, 0
	}
	return newSample(list, from, least), least
}

func firstEnded(values []Value, from float64) int {
	return slices.IndexFunc(values, func(v Value) bool { return isUsed(v, from) })
}

// isUsed says that a value has ended and may have been recorded.
func isUsed(v Value, from float64) bool {
	return !v.Open && v.high() >= from && (v.high() > from || v.low() == from)
}

// empirical is the values that ended, as recorded.
func empirical(values []Value, from float64) model.Dist {
	d := model.Dist{Law: model.Empirical}
	for _, v := range values {
		if isUsed(v, from) {
			d.Values = append(d.Values, v.X)
		}
	}
	return d
}
