package sim

import (
	"context"
	"slices"

	"rollchange/model"
)

// Weights are by how many metres of good web and of waste one replication has more
// than the mean for each that its sources drew beyond theirs: from theory, with
// rates and times of one replication outside the sample. They make two sums of mean
// 0 that nearly all of the chance of a line's output is in (Lavenberg and Welch,
// Management Science 27 (1981) 322).
type Weights struct {
	good, waste []float64
	scale       []float64 // of the parts, in the line of the replication
	names       []string  // of the sources
	spread      []float64 // variance of what each draws beyond its mean in a replication
}

// Share is what a source of chance (SourcesOf) brings to the two sums of a replication.
type Share struct {
	Source      string
	Good, Waste float64 // m for each that it draws beyond its mean

	place int
}

// Shares are those of all sources that vary.
func (w *Weights) Shares() []Share {
	var list []Share
	for i, v := range w.spread {
		if v > 0 {
			list = append(list, Share{w.names[i], w.good[i], w.waste[i], i})
		}
	}
	return list
}

// Drawn is what the source drew beyond its mean in a replication, and the variance that
// so many draws have; 0 in a sample that was read from a file.
func (s *Share) Drawn(x *Sample) (beyond, variance float64) {
	if s.place >= len(x.excess) {
		return 0, 0
	}
	e := x.excess[s.place]
	return e.beyond, e.variance
}

// fewDraws is how often the source that weighs most has to draw in a replication for
// its sum to be near enough to normal.
const fewDraws = 10

// Weigh finds the weights of a line by a replication of its own, which should not
// be one of the sample. They are nil where the draws are too few to tell anything.
func Weigh(ctx context.Context, spec *model.Line, r Replication) (*Weights, error) {
	if spec.Orders != nil { // which laws draw hangs on the product
		return nil, nil
	}
	s := newRunOf(spec, streams{seed: r.Seed, replication: r.Number}, r.Horizon, r.WarmUp, nil)
	if err := s.simulate(ctx); err != nil {
		return nil, err
	}
	c := s.costs()
	w := &Weights{}
	var drawn []int
	s.visit(func(place int, p part) {
		if place == len(w.good) {
			good, waste := c.of(p)
			w.good, w.waste = append(w.good, good), append(w.waste, waste+spec.TrimShare()*good)
			w.scale = append(w.scale, p.scale)
			w.names, w.spread, drawn = append(w.names, sourceKey(p.src.name)), append(w.spread, 0), append(drawn, 0)
		}
		w.spread[place] += p.src.spread * p.src.spread * float64(p.src.n)
		drawn[place] += p.src.n
	})
	most, by := 0.0, -1
	for i, x := range w.spread {
		if v := w.good[i] * w.good[i] * x; v > most {
			most, by = v, i
		}
	}
	if by < 0 || drawn[by] < fewDraws {
		return nil, nil
	}
	return w, nil
}

// For are the weights for a line whose laws have other parameters: what comes half as
// often for each second that is drawn beyond the mean weighs half. They are nil for a
// line with other sources.
func (w *Weights) For(spec *model.Line) *Weights {
	if w == nil {
		return nil
	}
	v := *w
	v.good, v.waste = slices.Clone(w.good), slices.Clone(w.waste)
	places := 0
	newRunOf(spec, streams{}, 1, 0, nil).visit(func(place int, p part) {
		places = max(places, place+1)
		if place < len(v.scale) && v.scale[place] > 0 && p.scale > 0 {
			v.good[place] = w.good[place] * p.scale / v.scale[place]
			v.waste[place] = w.waste[place] * p.scale / v.scale[place]
		}
	})
	if places != len(v.good) {
		return nil
	}
	return &v
}

// Controls are the two sums of a sample, m: of good web and of waste.
func (w *Weights) Controls(x *Sample) *[2]float64 {
	if w == nil || len(x.excess) != len(w.good) {
		return nil
	}
	var sum [2]float64
	for i, c := range x.excess {
		sum[0] += w.good[i] * c.beyond
		sum[1] += w.waste[i] * c.beyond
	}
	return &sum
}
