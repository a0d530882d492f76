package whatif

import (
	"math"

	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Limits are what a line has to hold, each as a share; one that is NaN is not
// asked for.
type Limits struct {
	Risk        Risk    // of storage depletion at a splice, overfill at a transfer
	ButFailed   bool    // splices and transfers that fail and are made by hand do not count in it
	NotReady    float64 // changes whose next roll or core was not armed in time
	NotRefilled float64 // changes that begin before the storage is back at its run level
	Busy        float64 // crew.utilisation
	Waste       float64 // waste.total
}

// Usual are the limits that hold when none are stated: common practice, no source.
func Usual() Limits {
	return Limits{Risk: Risk{Share: 1e-3, Text: "0.1 %"}, NotReady: 0.01, NotRefilled: 0.01, Busy: 0.9, Waste: math.NaN()}
}

// Bound is one limit of a line: the metric that it is put on and the most that
// the metric may be. With Rate the metric is a share of the changes and the limit
// is on their number by time, 1/s.
type Bound struct {
	Metric string // "splice.depletion"
	Most   float64
	Rate   bool
	Asked  string // a limit by time as it was asked for: "1 per year"
}

// Bounds lists the limits in the order in which they are named.
func (l Limits) Bounds() []Bound {
	risk := l.Risk.Share
	rate, asked := l.Risk.Rate > 0, ""
	if rate {
		risk, asked = l.Risk.Rate, l.Risk.Text
	} else if risk == 0 {
		risk = math.NaN()
	}
	part := map[bool]string{true: notFailed}[l.ButFailed]
	all := []Bound{
		{metric.Depletion + part, risk, rate, asked},
		{metric.Overfill + part, risk, rate, asked},
		{Metric: metric.SpliceNotReady, Most: l.NotReady},
		{Metric: metric.TransferNotReady, Most: l.NotReady},
		{Metric: metric.SpliceNotRefilled, Most: l.NotRefilled},
		{Metric: metric.TransferNotRefilled, Most: l.NotRefilled},
		{Metric: metric.CrewBusy, Most: l.Busy},
		{Metric: metric.Waste, Most: l.Waste},
	}
	var out []Bound
	for _, b := range all {
		if !math.IsNaN(b.Most) {
			out = append(out, b)
		}
	}
	return out
}

// Of is what a line's metrics say of the limit: the estimate to hold against
// Most. It is false when the limit does not apply to the line.
func (b Bound) Of(m replicate.Metrics) (estimate.Estimate, bool) {
	e, ok := m[b.Metric]
	if !ok || !b.Rate {
		return e, ok
	}
	e.Unit = "1/s"
	return e.Times(b.changes(m)), true
}

// end is the estimate of a trial that is held against Most, or an end of its interval.
func (b Bound) end(t *Trial, side float64) float64 {
	e, _ := b.Of(t.Metrics)
	return e.End(side)
}

// changes is the number of changes by time, 1/s. It is known far better than a chance.
func (b Bound) changes(m replicate.Metrics) float64 {
	return m[metric.ChangesOf(b.Metric)].Mean
}

// share is the most that a share of the changes may be.
func (b Bound) share(m replicate.Metrics) float64 {
	if b.Rate {
		return b.Most / b.changes(m)
	}
	return b.Most
}

// Broken lists the limits that the estimates of a line do not hold.
func (l Limits) Broken(m replicate.Metrics) []Bound {
	var out []Bound
	for _, b := range l.Bounds() {
		if e, ok := b.Of(m); ok && e.Mean > b.Most {
			out = append(out, b)
		}
	}
	return out
}
