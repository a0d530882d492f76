package whatif

import (
	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// The kinds of question, as Answer.Kind has them.
const (
	Storage  = "storage"
	Speed    = "speed"
	Residual = "residual"
	Crew     = "crew"
	Roll     = "roll"
)

// Quantity is what an answer is a value of.
type Quantity int

// The quantities that can be sized.
const (
	UnwindStorage Quantity = iota
	RewindStorage
	LineSpeed
	ResidualSetPoint
	Operators
	Lines
	FinishedRoll
	Oscillation
)

// Answer is the value that meets a target: with its interval, what binds, what
// was simulated to find it and, where there is one, the closed form beside it. It
// says nothing in words: out/words does.
type Answer struct {
	Kind        string
	Of          Quantity
	Alternative string
	Group       string // crew: of which the operators are; "" for all
	Target      Target
	Met         bool            // false: the target cannot be met, Value is the best that can be had
	Value       float64         // SI
	Low, High   float64         // of its interval; equal to Value where nothing is random
	Dim         model.Dimension // what it measures
	Now         float64         // what the scenario has, SI; NaN when nothing
	Currency    string          // residual: of the costs in the notes; "" when the scenario names none
	ClosedForm  *ClosedForm
	LimitedBy   Constraint
	Why         []Note // when not met
	Evidence    []Trial
	Next        []Binding // speed: every limit and where it begins to bind
	Most        *Trial    // speed: where most good web is made
	Strands     []Strands // storage
	Notes       []Note
	Metric      string       // storage: the chance that the target is put on
	Flat        bool         // storage: the chance hardly falls with it, so no value is given
	Curve       []CurvePoint // storage: the chance of Metric against the capacity, in its order
	Again       []float64    // above Value, SI: where the target of a storage is missed, then met, anew; where every limit of a speed holds anew, then not
	Short       *Short       // too little was simulated to show the target
	Failed      *Failed      // storage: what changes that fail add, where they are not counted
}

// Target is what an answer has to meet; least cost for a residual, every limit for
// a speed.
type Target struct {
	Risk   Risk    // storage
	Lost   float64 // crew: share of the good web that may be lost for want of an operator
	Failed Counting
}

// Counting says whether changes that fail and are made by hand count in a target
// on depletion.
type Counting int

// Whether they count.
const (
	NoneFail Counting = iota // no change fails
	Counted
	NotCounted
)

// counting is how a target counts changes that fail, where some do.
func counting(fails, count bool) Counting {
	switch {
	case !fails:
		return NoneFail
	case count:
		return Counted
	}
	return NotCounted
}

// Failed is what changes that fail and are made by hand add to a chance of
// depletion, or overfill, at the storage of an answer.
type Failed struct {
	Fails     float64           // chance that a change fails
	Add       estimate.Estimate // share of the changes that fail and use the storage up
	Holds     bool              // the target holds with them too
	Value     float64           // m, the storage at which it does, in the mean; NaN: none up to Most, or it holds
	Low, High float64           // m, where the ends of the estimate meet the target
	Most      float64           // m, the largest that was looked at
	Flat      bool              // the chance hardly hangs on the storage there
}

// Formula is one of the closed forms that stand beside an answer.
type Formula int

// The closed forms, and where they are derived.
const (
	StorageOfASplice    Formula = iota // model.Cycle.LeastRoom
	SpeedOfASplice                     // model.Cycle.Fastest
	MachineInterference                // model.Interference
	ResidualByShort                    // model.ResidualCost, a cost for each metre short
	ResidualBySetPoint                 // model.ResidualCost, the web of the set point charged
	ResidualByRest                     // model.ResidualCost, the web that is left charged
	ResidualOfAnyLaw                   // model.ResidualCost, of an error that is not normal
	RollOfARidge                       // model.Build.LongestRoll
	OscillationOfARidge                // model.Build.LeastOscillation
)

// ClosedForm is what is known without simulation.
type ClosedForm struct {
	Value   float64 // SI; NaN when the formula has no answer
	Formula Formula
	Other   []Other // under other assumptions
	Share   float64 // storage: the share of the changes that the dwell may be longer in
}

// Other is the closed form under another assumption: for a storage another law of
// the dwell with the same mean and sd, for a speed one of two storages.
type Other struct {
	Dwell model.Law
	Of    Quantity
	Value float64
}

// Trial is one value that was simulated.
type Trial struct {
	X        float64 // SI
	Possible bool
	Why      string // when not possible: the scenario's error
	Metrics  replicate.Metrics
	Less     replicate.Metrics // paired differences from what it is held against; nil when nothing

	Replications int
	Events       int64 // of them all

	curve *curve // what its changes say of other capacities; nil: they were not recorded
}

// Binding is one limit and the value from which on it does not hold.
type Binding struct {
	Constraint
	Value, Low, High float64 // SI; NaN when it holds as far as the line is possible
	Never            bool    // it does not hold even at the lowest value that was tried, Value
}

// Strands is a storage in so many strands.
type Strands struct {
	Strands int
	Travel  float64 // m
	Speed   float64 // m/s, of the carriage, at most
	Tension float64 // N, added by roller drag; NaN when the drag is not given
}
