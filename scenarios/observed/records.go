package observed

import (
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/scenarios/fit"
)

// Record is what stands behind a law of a study.
type Record struct {
	Key  string // that it is written under; a stop or duty has its name in brackets
	N    int    // values
	Said bool   // the scenario says how many; else it is a list of values

	item item
	name string
}

// Records are those of a study. It is a replicate.Records.
type Records struct {
	List  []Record
	study *model.Study
	place map[string]int // in List, by name
}

// Of lists the records of a study; nil where it has none.
func Of(study *model.Study) *Records {
	r := &Records{study: study, place: map[string]int{}}
	for i := range study.Alternatives {
		line := own(study.Alternatives[i].Line)
		visit(&line, func(x item) {
			n := x.values()
			if n == 0 {
				return
			}
			name := x.name()
			if _, known := r.place[name]; known {
				return
			}
			r.place[name] = len(r.List)
			r.List = append(r.List, Record{Key: x.key, N: n, Said: x.said(), item: x, name: name})
		})
	}
	if len(r.List) == 0 {
		return nil
	}
	return r
}

// Said reports whether the scenario says of any law how much was observed.
func (r *Records) Said() bool {
	if r == nil {
		return false
	}
	for _, x := range r.List {
		if x.Said {
			return true
		}
	}
	return false
}

// Records are the records for those who simulate the draws.
func (r *Records) Records() []model.Record {
	var list []model.Record
	for _, x := range r.List {
		list = append(list, model.Record{Key: x.Key, Observed: x.N})
	}
	return list
}

// values are those behind an item, 0 where nothing was recorded of it.
func (x *item) values() int {
	switch {
	case x.law == nil && math.IsInf(*x.x, 1):
		return 0
	case x.law == nil:
		return x.seen
	case !(x.law.SD() > 0):
		return 0
	case x.law.Observed > 0:
		return x.law.Observed
	case x.law.Law == model.Empirical && len(x.law.Values) > 1:
		return len(x.law.Values)
	}
	return 0
}

func (x *item) said() bool { return x.law == nil || x.law.Observed > 0 }

// name is the same for the same law of the same key, in whatever alternative, and
// another one where the law is another: that comes from a record of its own.
func (x *item) name() string {
	if x.law == nil {
		return fmt.Sprintf("%s %g %d", x.key, *x.x, x.seen)
	}
	return fmt.Sprintf("%s %v", x.key, *x.law)
}

// Draw is the alternatives as another record of each law would have given them: the
// draw of a number is always the same. moved is by how much each record has moved its
// law: its mean, in the standard deviation that the mean of so many values has; of an
// exponential law its rate, the other way round, since what one value leaves of the mean
// has no such spread.
func (r *Records) Draw(number int) (alternatives []model.Alternative, moved []float64) {
	moved = make([]float64, len(r.List))
	drawn := make([]item, len(r.List))
	for i, x := range r.List {
		drawn[i], moved[i] = x.draw(r.study.Run.Seed, number)
	}
	for _, a := range r.study.Alternatives {
		a.Line = own(a.Line)
		visit(&a.Line, func(x item) {
			if x.values() == 0 {
				return
			}
			switch to := drawn[r.place[x.name()]]; {
			case x.law != nil:
				*x.law = *to.law
			default:
				*x.x = *to.x
			}
		})
		alternatives = append(alternatives, a)
	}
	return alternatives, moved
}

// draw is a record drawn anew.
func (x Record) draw(seed uint64, number int) (item, float64) {
	name := fmt.Sprintf("records %d %s", number, x.name)
	to := x.item
	n := float64(x.N)
	rate := func(mean float64) (to, moved float64) {
		to = fit.RedrawMean(mean, x.N, seed, name)
		return to, (1 - mean/to) * math.Sqrt(n)
	}
	switch {
	case x.item.law != nil && x.item.law.Law == model.Exponential:
		d := *x.item.law
		above := d.A - d.Least
		above, moved := rate(above)
		d.A, to.law = d.Least+above, &d
		return to, moved
	case x.item.law != nil:
		d, _ := fit.Redraw(*x.item.law, x.N, seed, name)
		to.law = &d
		return to, (d.Mean() - x.item.law.Mean()) / (x.item.law.SD() / math.Sqrt(n))
	case x.item.mean:
		mean, moved := rate(*x.item.x)
		to.x = &mean
		return to, moved
	}
	p := fit.RedrawShare(*x.item.x, x.N, seed, name)
	to.x = &p
	middle := (n**x.item.x + 0.5) / (n + 1)
	return to, (p - *x.item.x) / math.Sqrt(middle*(1-middle)/(n+2))
}
