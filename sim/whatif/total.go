package whatif

import (
	"errors"
	"fmt"
	"math"

	"rollchange/scenarios"
)

// totalReplications is in how many replications a point of the surface is simulated.
// The same chance is at every point, so that few tell how the answer moves.
const totalReplications = 4

// total estimates total effects on the first metric over the inputs of the line
// with the largest swings, each uniform between the ends of its range: from a surface
// fitted to points of the Sobol' sequence. A point that is no possible line is left
// out.
func (e *evaluation) total(inputs []movedInput) error {
	metric := e.out.Metrics[0]
	byKey := map[string]movedInput{}
	for _, in := range inputs {
		byKey[in.key] = in
	}
	var keys []string
	for _, w := range e.out.Swings[metric] {
		_, line := byKey[w.Key]
		if line && len(keys) < min(e.q.Inputs, MostSobol/2) && !math.IsNaN(w.Low) && !math.IsNaN(w.Up) && w.Size() > 0 {
			keys = append(keys, w.Key)
		}
	}
	if len(keys) == 0 {
		return nil
	}
	var points [][]float64
	var values []float64
	var last *scenarios.Errors
	for n := range e.q.Total {
		e.meter.begin(totalStage, len(e.s.Study.Alternatives)*min(totalReplications, e.base.run.Replications)*(e.q.Total-n))
		x := sobol(uint32(n+1), len(keys))
		var over []scenarios.Override
		for i, key := range keys {
			over = append(over, byKey[key].between(x[i])...)
		}
		res, err := e.base.beside(e.ctx, e.s, totalReplications, over...)
		if errors.As(err, &last) {
			continue
		}
		if err != nil {
			return err
		}
		e.counted()
		y := res.metrics[metric].Mean
		if IsMoney(metric) {
			value, _, err := e.stakes.of(res)
			if err != nil {
				return err
			}
			y = value[place(metric)]
		}
		if !math.IsNaN(y) && !math.IsInf(y, 0) {
			points, values = append(points, x), append(values, y)
		}
	}
	s := fitSurface(points, values)
	switch {
	case s == nil && last != nil && len(points) < e.q.Total/2:
		return fmt.Errorf("total effects: most combinations of the ranges are not possible, such as: %s; take fewer inputs", reason(last))
	case s == nil:
		return fmt.Errorf("total effects: no surface can be fitted to %d points in %d inputs; take more points or fewer inputs", len(points), len(keys))
	}
	e.out.Missed = s.missed
	for i, x := range s.indices(len(keys)) {
		for k := range e.out.Swings[metric] {
			if e.out.Swings[metric][k].Key == keys[i] {
				e.out.Swings[metric][k].Total = x.Total
			}
		}
	}
	return nil
}
