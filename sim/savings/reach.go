package savings

import (
	"math"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// Reached is what a case reaches: by how much it is better than a target, on a scale
// that does not jump, and the measure itself.
type Reached struct {
	Excess float64 // above 0: better than the target; currency
	Value  float64 // of the measure; of a payback +Inf: never, NaN: nothing is invested
}

// ReachedOf is what alternative i reaches.
func ReachedOf(study *model.Study, rs *replicate.Results, i int, opt Options, t Target) (Reached, error) {
	c, err := Drawn(study, rs, i, opt)
	if err != nil {
		return Reached{}, err
	}
	return Reached{c.excess(t, nil), c.measured(t, nil)}, nil
}

// excess is by how much the case is better than a target, every draw changed first.
//
// A rate of return is above r where the net present value at r is above 0, and a payback
// shorter than n years where the sum of the flows is above 0 after n years; unlike the
// rate and the payback these exist in every draw and do not jump. The medians are above 0
// together, but for draws that an even number of them has in the middle.
func (c *Case) excess(t Target, change func(*vector)) float64 {
	var list []float64
	switch t.Measure {
	case OfNPV:
		return c.meanNPV(c.drawn.n, change) - t.Value
	case OfIRR:
		for i := range c.drawn.n {
			v := c.drawn.row(&c.mean, i)
			if change != nil {
				change(&v)
			}
			v[rate] = t.Value
			a := c.account(&v)
			list = append(list, c.npvAt(i, &v, &a))
		}
	default:
		c.flowsOf(change, func(p *finance.Plan, v *vector, flows []float64) {
			if p.Spends() {
				list = append(list, recovered(flows, t.rate(v), t.Value))
			}
		})
	}
	if len(list) == 0 {
		return 1 // nothing to pay back: no payback is shorter
	}
	return median(list)
}

// measured is the measure of the case, every draw changed first.
func (c *Case) measured(t Target, change func(*vector)) float64 {
	var list []float64
	switch t.Measure {
	case OfNPV:
		return c.meanNPV(c.drawn.n, change)
	case OfIRR:
		c.flowsOf(change, func(_ *finance.Plan, _ *vector, flows []float64) {
			if rates := finance.IRR(flows); len(rates) == 1 {
				list = append(list, rates[0])
			}
		})
	default:
		c.flowsOf(change, func(p *finance.Plan, v *vector, flows []float64) {
			if p.Spends() {
				list = append(list, finance.DiscountedPayback(t.rate(v), flows))
			}
		})
	}
	if len(list) == 0 {
		return math.NaN()
	}
	return median(list)
}

// rate is the rate at which a payback counts its flows.
func (t Target) rate(v *vector) float64 {
	if t.Measure == OfDiscounted {
		return v[rate]
	}
	return 0
}

// flowsOf hands the flows of each draw to take, every draw changed first.
func (c *Case) flowsOf(change func(*vector), take func(p *finance.Plan, v *vector, flows []float64)) {
	var flows []float64
	r := &room{}
	for i := range c.drawn.n {
		v := c.drawn.row(&c.mean, i)
		if change != nil {
			change(&v)
		}
		a := c.account(&v)
		p := c.planOf(&v, &a, 1, r)
		flows = p.Flows(flows)
		take(&p, &v, flows)
	}
}

// recovered is the largest sum of the flows, at present value, from the first outlay to
// the end of so many years; within a year a flow counts as even.
func recovered(flows []float64, rate, years float64) float64 {
	sum, factor, most, out := 0.0, 1.0, math.Inf(-1), false
	for t, f := range flows {
		if part := years - float64(t-1); t > 0 && part < 1 {
			if part > 0 {
				most = max(most, sum+part*f*factor)
			}
			break
		}
		sum += f * factor
		factor /= 1 + rate
		if out = out || sum < 0; out && t > 0 {
			most = max(most, sum)
		}
	}
	if math.IsInf(most, -1) {
		return sum
	}
	return most
}

// median of values without NaN. It changes their order.
func median(x []float64) float64 {
	i := (len(x) - 1) / 2
	place(x, []int{i, min(i+1, len(x)-1)})
	return estimate.Quantile(x, 0.5)
}
