package metric

import "strings"

// The holds that every line may have: what the process stands still for. A metric of the
// families StoppedBy and BeginsBy ends with one; records of a run, and plans, name them
// as well.
const (
	HoldUnwindChange   = "unwind_change"
	HoldUnwindDepleted = "unwind_depleted"
	HoldRewindChange   = "rewind_change"
	HoldRewindFull     = "rewind_full"
	HoldWebBreak       = "web_break"
	HoldChangeover     = "changeover"
	HoldCrewBreak      = "crew_break"
	HoldNoOrder        = "no_order" // of a line with orders
)

const holdStop = "stop." // and the name of a stop

// HoldOfStop is the hold of the named stop.
func HoldOfStop(name string) string { return holdStop + name }

// StopOf is the name of the stop that a hold is of; for a hold of every line itself, and
// false.
func StopOf(hold string) (name string, ok bool) { return strings.CutPrefix(hold, holdStop) }
