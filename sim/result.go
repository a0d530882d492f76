package sim

import "rollchange/sim/estimate"

// Estimate is one metric of one alternative.
type Estimate = estimate.Estimate

// Metrics is a flat map of metric name to estimate. A metric that does not
// apply to the line is absent. Names gives the order for people.
type Metrics map[string]Estimate

// RunInfo is how the figures were made; with the scenario it makes them again.
type RunInfo struct {
	Seed         uint64
	Replications int
	Confidence   float64
	Horizon      float64 // s
	WarmUp       float64 // s
	WarmUpFound  bool    // it was found from the output, by MSER-5
}

// Balance is how far the two books were out in the worst replication: metres
// supplied against metres accounted for, m, and seconds of the horizon against
// seconds accounted for, s.
type Balance struct {
	Metres, Seconds float64
	length          float64 // m, that went through
}

// Histogram counts the cycles by the lowest (unwind) or highest (rewind)
// storage content in them, in equal bins from Min to Max. Content outside is
// in the first or last bin. A quantile read from it is right to one bin.
type Histogram struct {
	Min, Max float64 // m
	Count    []int64
}

// Result is what one alternative came to.
type Result struct {
	Alternative string
	Names       []string // of the metrics, in the order for people
	Metrics     Metrics
	Balance     Balance
	Lowest      *Histogram // unwind storage, nil when there is none
	Highest     *Histogram // rewind storage, nil when there is none
	Events      int64      // events simulated, all replications
}

// Results is what a study came to. Differences[i] is alternative i less the
// first, paired by replication under common random numbers; Differences[0] is nil.
type Results struct {
	Run          RunInfo
	Alternatives []Result
	Differences  []Metrics
	Joint        *Joint // how output, waste and splices vary together; nil: not known
}
