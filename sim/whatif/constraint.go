package whatif

import "rollchange/sim/replicate"

// notFailed is the part of a chance of depletion, or overfill, that is not by
// changes that failed: the end of the metric's name.
const notFailed = ".not_failed"

// Cause is what an answer is limited by.
type Cause int

// The causes. The first four are what a chance of depletion, or overfill, is made
// of.
const (
	Nothing      Cause = iota
	LongDwell          // of the splice or the transfer
	NotReady           // the next roll or core not armed in time
	FailedByHand       // changes that fail and are made by hand
	NotRefilled        // changes that begin before the storage is back at its run level
	Waiting            // the line waits for an operator
	RunOutCost         // what a run-out costs against web left on every core
	ALimit             // a limit of the line: Constraint.Bound
	NotPossible        // no possible line: Constraint.Why
	FastestTried       // the end of the range that is searched, three times the present speed
	SeamRidge          // the ridge of a seam on a finished roll
)

// Constraint is what keeps an answer from being better.
type Constraint struct {
	By Cause
	Bound
	Why string // the scenario's error, where the line is not possible
}

// parts are the causes of a chance by the end of its metric's name.
var parts = map[Cause]string{LongDwell: ".dwell", NotReady: ".not_ready", FailedByHand: ".failed", NotRefilled: ".refill"}

// mainCause is what most of a chance of depletion is made of, with or without
// what failed changes add.
func mainCause(m replicate.Metrics, whole string, countFailed bool) Cause {
	best, by := 0.0, LongDwell
	for _, c := range []Cause{LongDwell, NotReady, FailedByHand, NotRefilled} {
		if x := m[whole+parts[c]].Mean; x > best && (c != FailedByHand || countFailed) {
			best, by = x, c
		}
	}
	return by
}
