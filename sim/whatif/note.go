package whatif

import (
	"rollchange/model"
	"rollchange/sim/estimate"
)

// Note is something to know of an answer beside its value: what was found, with
// its figures, SI. out/words says it.
type Note interface{ note() }

// What is to know of a storage, or of any chance.
type (
	// DwellNeeds says that a long dwell alone needs less than the answer.
	DwellNeeds struct {
		Form float64 // m, closed form
		Rest Cause   // what the rest is for
	}
	// DwellBeyond says that a long dwell alone needs more than was looked at.
	DwellBeyond struct{ Form, Most float64 } // m
	// MoreGainsLittle says that more than X cuts the chance by less than a tenth.
	MoreGainsLittle struct{ X float64 } // m
	// EvenMost is the chance that the largest storage leaves.
	EvenMost struct {
		ChanceAt
		By Cause // of most of it
	}
	// NotTheStorage says that the chance is nearly the same at very different storages.
	NotTheStorage struct {
		By Cause
		At []ChanceAt // the smallest storage first; two or three
	}
	// Impossible says that the line is not possible at X.
	Impossible struct {
		X   float64
		Why string // the scenario's error
	}
	// OneReplication says that there are no confidence limits for want of a second one.
	OneReplication struct{}
	// FarTail says that the target lies beyond what data show of the dwell.
	FarTail struct{ Target float64 } // share of the changes
	// ByEstimate says that X is enough by the estimate alone, without its limits.
	ByEstimate struct{ X float64 }
	// TookMore says that a rare target took more replications than the scenario has.
	TookMore struct {
		Changes             float64 // that were simulated; 0: not told
		Replications, Usual int
	}
	// Unshown says that too little was simulated to show a target.
	Unshown struct {
		Bound // of a speed; of a storage none is named
		*Short
	}
)

// ChanceAt is a chance at a value, SI.
type ChanceAt struct {
	X      float64
	Chance estimate.Estimate
}

// Meeting says whether a target is met.
type Meeting int

// How far it is met.
const (
	NotMet        Meeting = iota
	MetByEstimate         // but not at the upper end of its interval
	Met
)

// Lever is a change of one key that helps against what stops a line from meeting a
// target.
type Lever struct {
	Key     string
	Dim     model.Dimension
	To, Now float64 // SI
	Group   string  // of the crew, that operators belong to; "": none
}

// Tried is what a lever comes to.
type Tried struct {
	Lever
	ChanceAt
	Meets Meeting
}

// What is to know of a speed.
type (
	// AtNoSpeed says that a limit holds at no speed that was tried.
	AtNoSpeed struct {
		Bound
		ChanceAt         // at the lowest
		Times    float64 // of a limit by time: how many times it
		Then     Note    // a Tried, a LargestWaste, or nil
	}
	// LargestWaste is the largest part of the waste.
	LargestWaste struct {
		Metric string
		Share  estimate.Estimate // of the web supplied
	}
	// OthersHold says up to where the other limits hold.
	OthersHold struct {
		X float64
		Constraint
	}
)

// What is to know of a crew.
type (
	// LostWith is the share of the good web that is lost with so many operators.
	LostWith struct {
		Operators       int
		Share           float64
		Low, High       float64 // its limits; NaN: not known
		AgainstManyMore bool    // the first of its kind: it names what it is compared with
	}
	// LinesEach is how many lines an operator has.
	LinesEach struct{ Lines float64 }
	// LoneLine is the share of the good web that one line alone loses.
	LoneLine struct {
		Share     float64
		Operators int
	}
)

// What is to know of a residual; costs are in the currency of the scenario.
type (
	// FreeBest is the best set point without the limit that binds.
	FreeBest struct{ X, Cost float64 }
	// ResidualCosts are what web and run-outs cost, and how that was found.
	ResidualCosts struct {
		Web         float64 // a metre left
		WebGiven    bool    // else from width, material, disposal and grammage
		Short       float64 // a metre short, as given; 0: run-outs cost by the piece
		RunOut      float64 // a run-out
		RunOutGiven bool    // else of the following
		Work        float64 // s, of an operator and the line
		Scrap       float64 // m
		Lost        float64 // output lost, in money
	}
	// RollCosts are what a roll costs at the answer and at present.
	RollCosts struct{ Best, Now RollCost }
	// NothingLeft says that no web is left to run on if the next roll is late.
	NothingLeft struct{}
)

// What is to know of a finished roll with a seam.
type (
	// SeamRidgeOf is the ridge on a roll of a length with the oscillation as it is.
	SeamRidgeOf struct{ Oscillation, Length, Ridge, Allowed float64 } // m
	// RollIs is the longest roll.
	RollIs struct {
		Diameter float64 // m
		Wraps    float64
		Mass     float64 // kg of web; 0: not known
	}
)

// RollCost is what a roll costs at a set point of the residual.
type RollCost struct {
	X      float64 // m
	Cost   float64
	RunOut float64 // chance that it runs out
}

func (DwellNeeds) note()      {}
func (DwellBeyond) note()     {}
func (MoreGainsLittle) note() {}
func (EvenMost) note()        {}
func (NotTheStorage) note()   {}
func (Impossible) note()      {}
func (OneReplication) note()  {}
func (FarTail) note()         {}
func (ByEstimate) note()      {}
func (TookMore) note()        {}
func (Unshown) note()         {}
func (Failed) note()          {}
func (Tried) note()           {}
func (AtNoSpeed) note()       {}
func (LargestWaste) note()    {}
func (OthersHold) note()      {}
func (LostWith) note()        {}
func (LinesEach) note()       {}
func (LoneLine) note()        {}
func (FreeBest) note()        {}
func (ResidualCosts) note()   {}
func (RollCosts) note()       {}
func (NothingLeft) note()     {}
func (SeamRidgeOf) note()     {}
func (RollIs) note()          {}
