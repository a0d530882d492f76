package fit

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"rollchange/model"
	"rollchange/model/portable"
)

// Judgement is how well a law fits: the chance that values drawn from it, recorded
// alike and fitted again, lie as far from their fit as the values do.
type Judgement struct {
	P     float64 // 1 where nothing could be drawn
	Draws int     // that it took
}

// Draws that a judgement rests on. With enough that lie farther the law is not in
// doubt, and the rest is saved (Besag and Clifford, Biometrika 78 (1991) 301); without
// any for long it is refused, and P is the most that it can be. The
// law of the distance hangs little on the number of values, so that of a part does.
const (
	usualDraws = 199
	enough     = 10
	mostJudged = 500  // values in a draw that judges
	mostDrawn  = 2000 // values in a draw that a law is fitted to anew
)

// judge draws values as a fitted law has them.
func judge(values []Value, o Options, f Fitted) Judgement {
	r := newDrawer(o.Seed, "fit")
	record := newRecord(values, o.From)
	c := curveAt(f.Dist.Law, f.at)
	shifted := f.Dist.Least > 0
	farther, all := 0, cmp.Or(o.Draws, usualDraws)
	for n := 1; n <= all; n++ {
		again := record.again(r, c, f.Dist.Least)
		if again == nil {
			return Judgement{P: 1}
		}
		list, _ := spans(again, o.From)
		s := newSample(list, o.From, 0)
		if shifted {
			if later, _ := laterSample(list, o.From); later != nil {
				s = later
			}
		}
		s.gain = nearly
		p, _, ok := s.maximum(f.Dist.Law, f.at)
		if !ok {
			p, _, _ = s.maximum(f.Dist.Law, s.start(f.Dist.Law))
		}
		if s.distance(curveAt(f.Dist.Law, p)) >= f.A2*(1-1e-9) {
			farther++
		}
		if farther == enough {
			return Judgement{P: float64(enough) / float64(n), Draws: n}
		}
		if farther == 0 && float64(n+1)*o.refuse() > 3 { // none in three times as many as would do
			return Judgement{P: 1 / float64(n+1), Draws: n}
		}
	}
	return Judgement{P: float64(farther+1) / float64(all+1), Draws: all}
}

// distance is Anderson-Darling's (Anderson and Darling, J. Am. Statist. Assoc. 49
// (1954) 765) of values from a curve,
//
//	A² = -N - 1/N sum (2i - 1) (ln u(i) + ln(1 - u(N+1-i)))
//
// with u the chance of at most each value. Those that are known between two ends are
// spread evenly over the chance of that, in values and draws alike.
func (s *sample) distance(c curve) float64 {
	type tails struct{ lower, upper float64 }
	list := make([]tails, 0, int(s.n))
	hidden, seen := 0.0, 1.0
	if s.from > 0 {
		hidden, seen = c.tails(s.from)
	}
	between := func(low, high, n float64) {
		l, u := c.tails(low)
		l2, u2 := l, u
		if high > low {
			l2, u2 = c.tails(high)
		}
		for i := range int(n) {
			share := (float64(i) + 0.5) / n
			list = append(list, tails{l + share*(l2-l), u - share*(u-u2)})
		}
	}
	for _, r := range s.exact {
		between(r.x-r.width/2, r.x+r.width/2, r.n)
	}
	for _, k := range s.cells {
		between(s.edges[k.low], s.edges[k.high], k.n)
	}
	slices.SortFunc(list, func(a, b tails) int {
		if d := cmp.Compare(a.lower, b.lower); d != 0 {
			return d
		}
		return cmp.Compare(b.upper, a.upper)
	})
	sum, n := 0.0, len(list)
	for i, t := range list {
		low, up := (t.lower-hidden)/seen, t.upper/seen
		sum += float64(2*i+1)*portable.Log(low) + float64(2*(n-i)-1)*portable.Log(up)
	}
	return -float64(n) - sum/float64(n)
}

// record is how values were recorded: to what step each, and when those that were
// seen might have been cut off.
type record struct {
	values []Value
	from   float64
	most   int   // values in a record that is drawn
	cuts   []cut // rising
}

// cut is a time at which values were cut off, and the chance of lasting beyond it
// without being cut, by Kaplan and Meier of what cuts.
type cut struct{ at, beyond float64 }

func newRecord(values []Value, from float64) *record {
	d := &record{from: from, most: mostJudged}
	for _, v := range values {
		if v.Open || isUsed(v, from) {
			d.values = append(d.values, v)
		}
	}
	var at []float64
	for _, v := range d.values {
		at = append(at, v.mid())
	}
	slices.Sort(at)
	beyond := 1.0
	open := map[float64]int{}
	for _, v := range d.values {
		if v.Open {
			open[v.X]++
		}
	}
	for _, x := range slices.Compact(slices.Clone(at)) {
		if n := open[x]; n > 0 {
			i, _ := slices.BinarySearch(at, x)
			beyond *= 1 - float64(n)/float64(len(at)-i)
			d.cuts = append(d.cuts, cut{x, beyond})
		}
	}
	return d
}

// again is the record of values drawn from a curve that begins at least: as many,
// each cut off and rounded like one of the record (Davison and Hinkley, Bootstrap
// Methods and their Application (1997), section 3.5). It is nil where hardly any
// would be recorded.
func (d *record) again(r *rand.Rand, c curve, least float64) []Value {
	n := min(len(d.values), d.most)
	all := make([]Value, 0, n)
	for i := range n {
		v := d.values[i]
		if n < len(d.values) {
			v = d.values[r.IntN(len(d.values))]
		}
		x, tries := 0.0, 0
		for x = least + c.draw(r); x < d.from; x = least + c.draw(r) {
			if tries++; tries > 10000 {
				return nil
			}
		}
		if off := d.cutFor(r, v); x > off {
			all = append(all, Value{X: off, Open: true})
			continue
		}
		if v.Step > 0 {
			x = math.Round(x/v.Step) * v.Step
			if x+v.Step/2 <= d.from { // it lies above within its step
				x += v.Step
			}
		}
		all = append(all, Value{X: x, Step: v.Step})
	}
	return all
}

// cutFor draws when a value like v would have been cut off: when it was, or some
// time after it ended.
func (d *record) cutFor(r *rand.Rand, v Value) float64 {
	if v.Open {
		return v.X
	}
	lasted := 1.0
	i := 0
	for ; i < len(d.cuts) && d.cuts[i].at <= v.mid(); i++ {
		lasted = d.cuts[i].beyond
	}
	u := lasted * r.Float64()
	for ; i < len(d.cuts); i++ {
		if d.cuts[i].beyond <= u {
			return d.cuts[i].at
		}
	}
	return math.Inf(1)
}

// draw is a value of the curve.
func (c curve) draw(r *rand.Rand) float64 {
	switch c.law {
	case model.Exponential:
		return c.a * r.ExpFloat64()
	case model.Weibull:
		return c.b * portable.Pow(r.ExpFloat64(), 1/c.a)
	case model.Lognormal:
		return portable.Exp(c.a + c.b*r.NormFloat64())
	}
	return c.b * gamma(r, c.a)
}
