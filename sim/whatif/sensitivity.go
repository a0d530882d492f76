package whatif

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
)

// Swing is one input and what moving it does to one metric of an alternative.
type Swing struct {
	Key                       string
	Dim                       model.Dimension
	LowText, BaseText, High   string  // the input as it would be written
	Low, Base, Up             float64 // the metric with the input low, at its base, high; NaN where that is no possible line
	LowHalf, BaseHalf, UpHalf float64 // half widths of the paired difference from the base; BaseHalf of the metric itself
	Total                     float64 // total effect index, NaN when not asked for
}

// Size is how far the input moves the metric, the larger way.
func (s Swing) Size() float64 {
	size := 0.0
	for _, x := range []float64{s.Low, s.Up} {
		if d := math.Abs(x - s.Base); d > size {
			size = d
		}
	}
	return size
}

// SensitivityQuestion says over what inputs are moved.
type SensitivityQuestion struct {
	Metrics []string // that are looked at; those that the line lacks are left out
	Share   float64  // by which an input that does not vary is moved, each way
	Total   int      // base points for total effects, 0: none
	Inputs  int      // with Total: the inputs with the largest swing of the first metric
}

// Sensitivities is what each input does to each metric, largest first.
type Sensitivities struct {
	Alternative string
	Metrics     []string
	Swings      map[string][]Swing
	Skipped     []string // inputs that cannot be moved, and why
	Simulations int
}

// move is one end of the range of an input.
type move struct {
	text   string
	change scenarios.Override
}

// Sensitivity moves each input of the first alternative on its own: what is a
// distribution as a whole, by the factors of its 10 % and 90 % points to its
// mean; a whole number by one; a share above one half by the share that it
// falls short of 1; anything else by a share of itself. The base is simulated
// beside each on the same chance.
func Sensitivity(ctx context.Context, s *scenarios.Scenario, q SensitivityQuestion, opt Options) (*Sensitivities, error) {
	a := &s.Study.Alternatives[0]
	out := &Sensitivities{Alternative: a.Name, Swings: map[string][]Swing{}}
	base, err := newBase(ctx, s, opt)
	if err != nil {
		return nil, err
	}
	run := func(over ...scenarios.Override) (sim.Metrics, sim.Metrics, error) {
		res, err := base.beside(ctx, s, over...)
		if err != nil {
			return nil, nil, err
		}
		if out.Simulations++; opt.Progress != nil {
			opt.Progress(out.Simulations)
		}
		return res.Alternatives[1].Metrics, res.Differences[1], nil
	}
	type moved struct {
		input scenarios.Input
		ends  [2]move
	}
	var inputs []moved
	for _, in := range s.Inputs(0) {
		ends, why := rangeOf(in, q.Share)
		if why != "" {
			out.Skipped = append(out.Skipped, in.Key+": "+why)
			continue
		}
		inputs = append(inputs, moved{in, ends})
	}
	for _, in := range inputs {
		var found, less [2]sim.Metrics
		for k, m := range in.ends {
			x, d, err := run(m.change)
			if _, impossible := err.(*scenarios.Errors); impossible {
				continue
			}
			if err != nil {
				return nil, err
			}
			found[k], less[k] = x, d
		}
		if found[0] == nil && found[1] == nil {
			out.Skipped = append(out.Skipped, in.input.Key+": neither end of its range is a possible line")
			continue
		}
		for _, metric := range q.Metrics {
			e, ok := base.metrics[metric]
			if !ok {
				continue
			}
			w := Swing{Key: in.input.Key, Dim: in.input.Dim, LowText: in.ends[0].text, BaseText: in.input.Text, High: in.ends[1].text,
				Base: e.Mean, BaseHalf: e.HalfWidth, Total: math.NaN()}
			w.Low, w.LowHalf = of(found[0], less[0], metric)
			w.Up, w.UpHalf = of(found[1], less[1], metric)
			out.Swings[metric] = append(out.Swings[metric], w)
		}
	}
	for _, metric := range q.Metrics {
		if list := out.Swings[metric]; len(list) > 0 {
			out.Metrics = append(out.Metrics, metric)
			slices.SortStableFunc(list, func(x, y Swing) int {
				switch {
				case x.Size() > y.Size():
					return -1
				case x.Size() < y.Size():
					return 1
				}
				return 0
			})
		}
	}
	if q.Total > 0 && len(out.Metrics) > 0 {
		ranges := map[string][2]move{}
		for _, in := range inputs {
			ranges[in.input.Key] = in.ends
		}
		return out, out.total(ctx, s, q, opt, ranges)
	}
	return out, nil
}

func of(m, less sim.Metrics, metric string) (value, half float64) {
	if m == nil {
		return math.NaN(), math.NaN()
	}
	e, ok := m[metric]
	if !ok {
		return math.NaN(), math.NaN()
	}
	return e.Mean, less[metric].HalfWidth
}

// rangeOf is the two ends between which an input is moved, or why it is not.
func rangeOf(in scenarios.Input, share float64) ([2]move, string) {
	var ends [2]move
	mean := in.Dist.Mean()
	factor := func(k int, f float64) {
		ends[k] = move{"x " + strconv.FormatFloat(f, 'g', 3, 64), scenarios.Override{Key: in.Key, Factor: f}}
	}
	write := func(k int, x float64) {
		text := strconv.FormatFloat(x, 'g', 6, 64)
		ends[k] = move{text, scenarios.Override{Key: in.Key, Value: text}}
	}
	switch {
	case in.Whole:
		if mean <= in.Bounds[0] {
			return ends, "it is at its least already"
		}
		write(0, mean-1)
		write(1, mean+1)
	case !in.Dist.IsConst() && mean > 0 && !in.Dist.Signed:
		factor(0, max(0.01, in.Dist.Quantile(0.1)/mean))
		factor(1, in.Dist.Quantile(0.9)/mean)
	case in.Dim == model.Share && !in.Share && mean > 0.5:
		for k, f := range []float64{1 + share, 1 - share} {
			text := strconv.FormatFloat(100*(1-(1-mean)*f), 'g', 8, 64) + " %"
			ends[k] = move{text, scenarios.Override{Key: in.Key, Value: text}}
		}
		if mean == 1 {
			return ends, "it is 100 %"
		}
	case in.Dist.IsConst() && mean == 0:
		return ends, "it is 0"
	default:
		factor(0, 1-share)
		factor(1, 1+share)
		if in.Dist.IsConst() {
			for k, f := range []float64{1 - share, 1 + share} {
				ends[k].text = scaledText(in.Text, f)
			}
		}
	}
	return ends, ""
}

// scaledText is a quantity times a factor, as it would be written.
func scaledText(text string, f float64) string {
	x, unit, ok := scenarios.SplitQuantity(text)
	if !ok {
		return fmt.Sprintf("x %.3g", f)
	}
	return strings.TrimSpace(strconv.FormatFloat(x*f, 'g', 5, 64) + " " + unit)
}

// total estimates total effects on the first metric over the inputs with the
// largest swings, each uniform between the ends of its range.
func (out *Sensitivities) total(ctx context.Context, s *scenarios.Scenario, q SensitivityQuestion, opt Options, ranges map[string][2]move) error {
	metric := out.Metrics[0]
	var keys []string
	for _, w := range out.Swings[metric] {
		if len(keys) < min(q.Inputs, MostSobol/2) && !math.IsNaN(w.Low) && !math.IsNaN(w.Up) && w.Size() > 0 {
			keys = append(keys, w.Key)
		}
	}
	if len(keys) == 0 {
		return nil
	}
	indices, err := VarianceShares(q.Total, len(keys), func(x []float64) (float64, error) {
		var over []scenarios.Override
		for i, key := range keys {
			over = append(over, between(ranges[key], x[i]))
		}
		res, err := simulate(ctx, s, sim.Options{Workers: opt.Workers}, over...)
		if err != nil {
			return 0, err
		}
		if out.Simulations++; opt.Progress != nil {
			opt.Progress(out.Simulations)
		}
		return res.Alternatives[0].Metrics[metric].Mean, nil
	})
	if _, impossible := err.(*scenarios.Errors); impossible {
		return fmt.Errorf("total effects: a mixture of the ranges is no possible line: %s; take fewer inputs", reason(err.(*scenarios.Errors)))
	}
	if err != nil {
		return err
	}
	for i, key := range keys {
		for k := range out.Swings[metric] {
			if out.Swings[metric][k].Key == key {
				out.Swings[metric][k].Total = indices[i].Total
			}
		}
	}
	return nil
}

// between is the change of an input at x of the way from its low to its high end.
func between(ends [2]move, x float64) scenarios.Override {
	low, high := ends[0].change, ends[1].change
	if low.Factor > 0 {
		return scenarios.Override{Key: low.Key, Factor: low.Factor + x*(high.Factor-low.Factor)}
	}
	a, unit, _ := scenarios.SplitQuantity(low.Value)
	b, _, _ := scenarios.SplitQuantity(high.Value)
	if unit == "" { // a whole number
		return scenarios.Override{Key: low.Key, Value: strconv.Itoa(int(a) + min(int(3*x), int(b-a)))}
	}
	return scenarios.Override{Key: low.Key, Value: strings.TrimSpace(strconv.FormatFloat(a+x*(b-a), 'g', 10, 64) + " " + unit)}
}
