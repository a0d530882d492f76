package fit

import (
	"cmp"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/model/portable"
)

// Shape is what a picture of a fit shows: how recorded values are distributed beside the
// law that was judged, and where records of that law would lie. All in SI; where
// shorter values were not recorded, chances are those of values that were.
type Shape struct {
	X         []float64 // rising
	Seen, Law []float64 // chance of at most X: of the values, of the law
	Low, High []float64 // at each X, 95 % of records of the law lie between
	At        []Quantile
	Log       bool // values spread over more than a decade: X rises by factors
	Refused   bool // the law is not the answer
	Dist      model.Dist
}

// Quantile is one of the law and of the values, of the same chance.
type Quantile struct {
	Chance    float64 // of at most that
	Law, Seen float64
	Low, High float64 // 95 % of records of the law have theirs between
}

const (
	shapeDraws  = 199
	shapeOut    = 5   // of them at either side: 2.5 % of 199 + 1
	mostInShape = 500 // values in a draw; a band of more is narrowed by the root of their number
	gridPoints  = 81
	mostAt      = 60 // quantiles that are compared
	logFrom     = 10 // factor between middle values from which X rises by factors
)

// ShapeOf is the shape of a fit of the values; false where no law was fitted.
func ShapeOf(values []Value, o Options, r Result) (Shape, bool) {
	if r.Taken < 0 {
		return Shape{}, false
	}
	f := r.Laws[r.Taken]
	used := r.Heaping.widen(values)
	seen := observedOf(used, o.From)
	if seen == nil {
		return Shape{}, false
	}
	s := Shape{Refused: r.Why == NoLaw, Dist: f.Dist}
	low, high := seen.at(0.5/float64(r.Observed())), seen.at(1)
	s.Log = low > 0 && seen.at(0.95) > logFrom*seen.at(0.05)
	s.grid(low, high)
	c := curveAt(f.Dist.Law, f.at)
	_, over := c.tails(o.From - f.Dist.Least)
	for _, x := range s.X {
		_, upper := c.tails(x - f.Dist.Least)
		s.Seen, s.Law = append(s.Seen, seen.below(x)), append(s.Law, max(0, 1-upper/over))
	}
	n := min(r.Observed(), mostAt)
	var chances []float64
	for i := range n {
		p := (float64(i) + 0.5) / float64(n)
		if p > seen.all() {
			break // beyond what was cut off
		}
		chances = append(chances, p)
		s.At = append(s.At, Quantile{Chance: p, Law: model.UpperQuantile(f.Dist, (1-p)*over), Seen: seen.at(p)})
	}
	s.bands(used, o, f, chances)
	return s, true
}

// grid spreads X over what was seen and a little more.
func (s *Shape) grid(low, high float64) {
	if s.Log {
		low, high = low/1.3, high*1.3
	} else {
		low, high = 0, high*1.08
	}
	for i := range gridPoints {
		share := float64(i) / (gridPoints - 1)
		x := low + share*(high-low)
		if s.Log {
			x = low * portable.Pow(high/low, share)
		}
		s.X = append(s.X, x)
	}
}

// bands draws records of the law and takes what the middle 95 % of them hold at
// each point.
func (s *Shape) bands(values []Value, o Options, f Fitted, chances []float64) {
	r := newDrawer(o.Seed, "shape")
	record := newRecord(values, o.From)
	record.most = mostInShape
	narrow := 1.0
	if n := len(record.values); n > mostInShape {
		narrow = math.Sqrt(mostInShape / float64(n))
	}
	below, at := make([][]float64, len(s.X)), make([][]float64, len(chances))
	for range shapeDraws {
		again := observedOf(record.again(r, curveAt(f.Dist.Law, f.at), f.Dist.Least), o.From)
		if again == nil {
			continue
		}
		for i, x := range s.X {
			below[i] = append(below[i], again.below(x))
		}
		for i, p := range chances {
			at[i] = append(at[i], again.at(min(p, again.all())))
		}
	}
	ends := func(list []float64, mid float64) (low, high float64) {
		if len(list) < shapeDraws {
			return mid, mid
		}
		slices.Sort(list)
		return mid + narrow*(list[shapeOut-1]-mid), mid + narrow*(list[len(list)-shapeOut]-mid)
	}
	for i := range s.X {
		l, h := ends(below[i], s.Law[i])
		s.Low, s.High = append(s.Low, l), append(s.High, h)
	}
	for i := range s.At {
		s.At[i].Low, s.At[i].High = ends(at[i], s.At[i].Law)
	}
}

// observed is the distribution of recorded values: each that ended has its share of
// the chance, by Kaplan and Meier (J. Am. Statist. Assoc. 53 (1958) 457) where others
// had not ended, spread evenly over what it may have been. It is a line through its
// knots.
type observed struct{ x, chance []float64 }

// observedOf is nil where no value ended.
func observedOf(values []Value, from float64) *observed {
	list, _ := spans(values, from)
	slices.SortFunc(list, func(a, b span) int { return cmp.Or(cmp.Compare(a.mid(), b.mid()), cmp.Compare(a.high, b.high)) })
	type change struct{ x, jump, slope float64 }
	var changes []change
	left := 1.0
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && list[j] == list[i] {
			j++
		}
		if s := list[i]; !math.IsInf(s.high, 1) {
			share := left * float64(j-i) / float64(len(list)-i)
			left -= share
			if s.low == s.high {
				changes = append(changes, change{x: s.low, jump: share})
			} else {
				slope := share / (s.high - s.low)
				changes = append(changes, change{x: s.low, slope: slope}, change{x: s.high, slope: -slope})
			}
		}
		i = j
	}
	if len(changes) == 0 {
		return nil
	}
	slices.SortFunc(changes, func(a, b change) int { return cmp.Compare(a.x, b.x) })
	d := &observed{}
	sum, slope := 0.0, 0.0
	for i, k := range changes {
		if i > 0 {
			sum += slope * (k.x - changes[i-1].x)
		}
		d.x, d.chance = append(d.x, k.x), append(d.chance, sum)
		slope += k.slope
		if k.jump > 0 {
			sum += k.jump
			d.x, d.chance = append(d.x, k.x), append(d.chance, sum)
		}
	}
	d.chance[len(d.chance)-1] = 1 - left // without what rounding adds
	return d
}

func (s span) mid() float64 {
	if math.IsInf(s.high, 1) {
		return s.low
	}
	return (s.low + s.high) / 2
}

// all is the chance of what was seen to end.
func (d *observed) all() float64 { return d.chance[len(d.chance)-1] }

// below is the chance of at most x.
func (d *observed) below(x float64) float64 {
	i, _ := slices.BinarySearchFunc(d.x, x, func(a, b float64) int {
		if a <= b {
			return -1
		}
		return 1
	})
	switch {
	case i == 0:
		return 0
	case i == len(d.x):
		return d.all()
	}
	return between(x, d.x[i-1], d.x[i], d.chance[i-1], d.chance[i])
}

// at is the value that so many lie below; the largest that ended where so many did not.
func (d *observed) at(chance float64) float64 {
	i, _ := slices.BinarySearch(d.chance, chance)
	switch {
	case i == 0:
		return d.x[0]
	case i == len(d.chance):
		return d.x[i-1]
	}
	return between(chance, d.chance[i-1], d.chance[i], d.x[i-1], d.x[i])
}

func between(v, a, b, from, to float64) float64 {
	if b <= a {
		return to
	}
	return from + (v-a)/(b-a)*(to-from)
}
