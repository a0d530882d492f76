package whatif

import (
	"math"
	"strconv"

	"rollchange/model"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// CurveSweep is the curve of an answer on a storage as a sweep over the capacity, its
// target as the limit: of a number in a time, that chance at the answer. Points that
// were not simulated are marked as reckoned. run is how it was simulated. It is nil
// without a curve.
func (a *Answer) CurveSweep(run replicate.RunInfo, sys model.System) *Sweep {
	if len(a.Curve) < 2 {
		return nil
	}
	u := model.Display(a.Dim, sys)
	key := map[Quantity]string{UnwindStorage: "unwind.storage.capacity", RewindStorage: "rewind.storage.capacity"}[a.Of]
	axis := Axis{Key: key, Dim: a.Dim}
	if !math.IsNaN(a.Now) {
		axis.Now = map[int]float64{0: a.Now}
	}
	limits := Limits{Risk: Risk{Share: a.mostShare()}, ButFailed: a.Target.Failed == NotCounted, NotReady: math.NaN(), NotRefilled: math.NaN(), Busy: math.NaN(), Waste: math.NaN()}
	w := &Sweep{Alternatives: []string{a.Alternative}, Limits: limits}
	for _, p := range a.Curve {
		if math.Abs(p.X-a.Value) > 1.5*curveReach*a.Value { // an end of the search
			continue
		}
		i := len(axis.Values)
		axis.Values = append(axis.Values, p.X)
		axis.Texts = append(axis.Texts, strconv.FormatFloat(u.From(p.X), 'g', 5, 64)+" "+u.Name)
		m := replicate.Metrics{a.Metric: p.Chance}
		w.Points = append(w.Points, Point{At: []int{i}, Reckoned: !p.Simulated, Binds: [][]Bound{limits.Broken(m)},
			Results: &replicate.Results{Run: run, Alternatives: []replicate.Result{{Alternative: a.Alternative, Metrics: m}}}})
	}
	if len(axis.Values) < 2 {
		return nil
	}
	w.Axes = []Axis{axis}
	return w
}

// mostShare is the target as a share of the changes; 0 when that is not known.
func (a *Answer) mostShare() float64 {
	if a.Target.Risk.Rate == 0 {
		return a.Target.Risk.Share
	}
	best, off := 0.0, math.Inf(1)
	for _, e := range a.Evidence {
		if d := math.Abs(e.X - a.Value); e.Possible && d < off {
			if changes := e.Metrics[metric.ChangesOf(a.Metric)].Mean; changes > 0 {
				best, off = a.Target.Risk.Rate/changes, d
			}
		}
	}
	return best
}
