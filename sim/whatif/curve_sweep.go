package whatif

import (
	"context"
	"math"

	"rollchange/scenarios"
	"rollchange/sim/replicate"
)

// agree is how far, relative, two simulated capacities may differ in what their
// recorded changes say of one between them.
const agree = 0.05

// SweepStorage gives every point of a sweep of one alternative over the capacity of
// its storage the chance that the storage runs out, with few simulations: those of
// the ends, of the capacity nearest to the present one, and of any in between on
// which the recorded changes of its neighbours do not agree. The other points are
// reckoned from the records of the nearest, and their other metrics are its.
func SweepStorage(ctx context.Context, s *scenarios.Scenario, w *Sweep, opt Options) error {
	key := w.Axes[0].Key
	run, err := replicate.Prepare(ctx, &s.Study)
	if err != nil {
		return err
	}
	y := &storageSweep{w: w, run: run, name: s.Study.Alternatives[0].Name, search: newSearch(ctx, s, opt, key, "m"), of: map[int]*Trial{}}
	y.records = &curved{}
	if key == "rewind.storage.capacity" {
		y.records.which = 1
	}
	texts := map[float64]string{}
	for i, x := range w.Axes[0].Values {
		texts[x] = w.Axes[0].Texts[i]
	}
	plain := y.text
	y.text = func(x float64) string {
		if t, ok := texts[x]; ok {
			return t
		}
		return plain(x)
	}
	var places []int
	for k, x := range w.Axes[0].Values {
		if ok, why := y.possible(x); ok {
			places = append(places, k)
		} else {
			w.Points[k].LeftOut = why
		}
	}
	if len(places) == 0 {
		return nil
	}
	now := places[0]
	if at, ok := w.Axes[0].Now[0]; ok {
		for _, k := range places {
			if math.Abs(w.Axes[0].Values[k]-at) < math.Abs(w.Axes[0].Values[now]-at) {
				now = k
			}
		}
	}
	for _, ends := range [][2]int{{places[0], now}, {now, places[len(places)-1]}} {
		if err := y.between(ends[0], ends[1]); err != nil {
			return err
		}
	}
	return ctx.Err() // as in SizeStorage
}

// storageSweep is a sweep on its way.
type storageSweep struct {
	*search
	w    *Sweep
	run  replicate.RunInfo
	name string
	of   map[int]*Trial // that were simulated
}

// simulated is a point, simulated.
func (y *storageSweep) simulated(k int) (*Trial, error) {
	if t := y.of[k]; t != nil {
		return t, nil
	}
	t, err := y.at(y.w.Axes[0].Values[k])
	if err != nil {
		return nil, err
	}
	y.of[k] = t
	y.set(k, t, false)
	return t, nil
}

// set gives a point what is known of it.
func (y *storageSweep) set(k int, t *Trial, reckoned bool) {
	y.w.Set(k, &replicate.Results{Run: y.run, Alternatives: []replicate.Result{{Alternative: y.name, Metrics: t.Metrics}}, Differences: []replicate.Metrics{nil}})
	y.w.Points[k].Reckoned = reckoned
}

// between fills the points from i to j.
func (y *storageSweep) between(i, j int) error {
	a, err := y.simulated(i)
	if err != nil {
		return err
	}
	b, err := y.simulated(j)
	if err != nil || j <= i+1 {
		return err
	}
	x := y.w.Axes[0].Values
	for k := i + 1; k < j; k++ {
		if !alike(a.curve.at(x[k]), b.curve.at(x[k]), a.curve.names[0]) {
			mid := (i + j) / 2
			if err := y.between(i, mid); err != nil {
				return err
			}
			return y.between(mid, j)
		}
	}
	for k := i + 1; k < j; k++ {
		near := a
		if x[k]/x[i] > x[j]/x[k] {
			near = b
		}
		y.set(k, near.curve.at(x[k]), true)
	}
	return nil
}

// alike says that two estimates of a chance are.
func alike(a, b *Trial, metric string) bool {
	p, q := a.Metrics[metric].Mean, b.Metrics[metric].Mean
	return math.Abs(p-q) <= agree*max(p, q) || max(p, q) < 1e-12
}
