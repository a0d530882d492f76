package whatif

import "rollchange/sim"

// Limits are what a line has to hold, each as a share; one that is NaN is not
// asked for.
type Limits struct {
	Risk        float64 // depletions a splice, overfills a transfer
	NotReady    float64 // changes whose next roll or core was not armed in time
	NotRefilled float64 // changes that begin before the storage is back at its run level
	Busy        float64 // crew.utilisation
	Waste       float64 // waste.total
}

// Usual are the limits that hold when none are stated: common practice, no source.
var Usual = Limits{Risk: 1e-3, NotReady: 0.01, NotRefilled: 0.01, Busy: 0.9, Waste: nan}

// Bound is one limit of a line: the metric that it is put on and the most that
// the metric may be.
type Bound struct {
	Metric string // "splice.depletion"
	Most   float64
	Words  string // what has happened when it does not hold: "storage depletion above the target"
}

// Bounds lists the limits in the order in which they are named.
func (l Limits) Bounds() []Bound {
	all := []Bound{
		{"splice.depletion", l.Risk, "storage depletes more often than the target"},
		{"transfer.overfill", l.Risk, "rewind storage fills more often than the target"},
		{"splice.not_ready", l.NotReady, "next parent roll not armed in time"},
		{"transfer.not_ready", l.NotReady, "next core not ready in time"},
		{"splice.not_refilled", l.NotRefilled, "storage not refilled before the next splice"},
		{"transfer.not_refilled", l.NotRefilled, "rewind storage not drawn down before the next transfer"},
		{"crew.utilisation", l.Busy, "crew too busy"},
		{"waste.total", l.Waste, "too much waste"},
	}
	var out []Bound
	for _, b := range all {
		if b.Most == b.Most {
			out = append(out, b)
		}
	}
	return out
}

// Broken lists the limits that the estimates of a line do not hold.
func (l Limits) Broken(m sim.Metrics) []Bound {
	var out []Bound
	for _, b := range l.Bounds() {
		if e, ok := m[b.Metric]; ok && e.Mean > b.Most {
			out = append(out, b)
		}
	}
	return out
}
