package whatif

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// IsMoney says whether a metric is a figure of a savings case, so that it is
// asked of an alternative and the one that it is compared with.
func IsMoney(metric string) bool { return slices.Contains(savings.FigureNames, metric) }

// stakes are the figures of a savings case as it is.
type stakes struct {
	c       *savings.Case
	figures savings.Figures
	half    [3]float64
	was     map[int]savings.Figures // of the base, by its first so many replications
	opt     savings.Options         // of differences
	draws   savings.Draws           // of them
}

func newStakes(b *base, metrics []string) (*stakes, error) {
	if len(b.study.Alternatives) != 2 {
		return nil, fmt.Errorf("savings, npv and payback compare one alternative with the first")
	}
	opt := savings.Options{Draws: savings.DefaultDraws, NoPayback: !slices.Contains(metrics, "payback")}
	c, err := savings.Drawn(&b.study, b.results, 1, opt)
	if err != nil {
		return nil, err
	}
	s := &stakes{c: c, figures: c.Figures(), was: map[int]savings.Figures{}, opt: opt}
	if opt.NoPayback {
		s.opt.Draws = fewDraws
	}
	s.half = s.figures.HalfWidths(b.results, 1)
	return s, nil
}

// fewDraws are enough for a difference of means, with the same draws on both sides; a
// payback is a median and takes them all.
const fewDraws = 1000

// place is the place of a metric among the figures.
func place(metric string) int { return slices.Index(savings.FigureNames, metric) }

// of calculates the figures of what was changed, each the base and the difference from
// it in the same replications, and the half widths of the differences.
func (s *stakes) of(x *changed) (value, half [3]float64, err error) {
	still := stillOf(x.results)
	f, err := s.draws.FiguresOf(&x.study, still, 2, 3, s.opt)
	if errors.Is(err, savings.ErrNoWeb) { // as little as no line
		nan := math.NaN()
		return [3]float64{nan, nan, nan}, [3]float64{nan, nan, nan}, nil
	}
	if err != nil {
		return value, half, err
	}
	n := x.results.Run.Replications
	was, ok := s.was[n]
	if !ok {
		if was, err = s.draws.FiguresOf(&x.study, still, 0, 1, s.opt); err != nil {
			return value, half, err
		}
		s.was[n] = was
	}
	for k, v := range f.Value {
		value[k] = v
		if d := v - was.Value[k]; !math.IsNaN(d) && !math.IsInf(d, 0) && !math.IsInf(s.figures.Value[k], 0) {
			value[k] = s.figures.Value[k] + d
		}
	}
	return value, f.HalfWidthsFrom(&was, x.results, [2]int{2, 3}, [2]int{0, 1}), nil
}

// stillOf is the results as if their means were certain: what the simulation leaves
// open of a difference is in its half width, and a mean over draws of so few
// replications has hardly a spread of its own.
func stillOf(rs *replicate.Results) *replicate.Results {
	still := *rs
	if rs.Joint != nil {
		j := replicate.Joint{N: rs.Joint.N}
		for _, row := range rs.Joint.Cov {
			j.Cov = append(j.Cov, make([]float64, len(row)))
		}
		still.Joint = &j
	}
	return &still
}

// swings moves each economic input, which takes no simulation: all that it may
// be by the share.
func (s *stakes) swings(results *replicate.Results, share float64, metrics []string, add func(metric string, w Swing)) {
	for i, in := range s.c.AllInputs() {
		if !in.Given || in.Est.Unit != "" || in.Value == 0 {
			continue
		}
		var value, half [2][3]float64
		for k, f := range []float64{1 - share, 1 + share} {
			moved := s.c.Figures(savings.Moved{Index: i, Factor: f})
			value[k], half[k] = moved.Value, moved.HalfWidthsFrom(&s.figures, results, [2]int{0, 1}, [2]int{0, 1})
		}
		at := func(f float64) Setting {
			s := Setting{Amount: in.Value * f, Unit: in.Unit}
			if in.Varies() {
				s.How = Mean
			}
			return s
		}
		for _, m := range metrics {
			if !IsMoney(m) {
				continue
			}
			k := place(m)
			add(m, Swing{Key: in.Key, At: [3]Setting{at(1 - share), at(1), at(1 + share)}, Low: value[0][k], LowHalf: half[0][k],
				Base: s.figures.Value[k], BaseHalf: s.half[k], Up: value[1][k], UpHalf: half[1][k], Total: math.NaN()})
		}
	}
}
