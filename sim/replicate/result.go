package replicate

import (
	"rollchange/sim"
	"rollchange/sim/estimate"
)

// Metrics is a flat map of metric name to estimate. A metric that does not
// apply to the line is absent. Names gives the order for people.
type Metrics map[string]estimate.Estimate

// RunInfo is how the figures were made; with the scenario it makes them again.
type RunInfo struct {
	Seed         uint64
	Replications int
	Confidence   float64
	Horizon      float64 // s
	WarmUp       float64 // s
	WarmUpFound  bool    // it was found from the output, by MSER-5

	Listed     int  // orders of the list that ends a replication; 0: none does
	NoControls bool // the known means of the draws are not used

	// Narrowed is the half width of the good web over that without controls, the least
	// and the most of the alternatives that have controls; 0: none has.
	Narrowed [2]float64 `json:"-"`

	weights []*sim.Weights // of the controls, by alternative; nil: none
}

// Result is what one alternative came to.
type Result struct {
	Alternative string
	Names       []string // of the metrics, in the order for people
	Metrics     Metrics
	Balance     sim.Balance
	Lowest      *sim.Histogram // unwind storage, nil when there is none
	Highest     *sim.Histogram // rewind storage, nil when there is none
	Events      int64          // events simulated, all replications
	Narrowed    float64        // half width of its good web over that without controls; NaN: none were used
}

// Results is what a study came to. Differences[i] is alternative i less the
// first, paired by replication under common random numbers; Differences[0] is nil.
type Results struct {
	Run          RunInfo
	Alternatives []Result
	Differences  []Metrics
	Joint        *Joint // how output, waste and splices vary together; nil: not known
	Open         *Open  // what the records leave open; nil: not looked for
}
