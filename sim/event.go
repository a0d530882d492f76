package sim

// Event is what happens at one moment of a simulation. Package out has the words
// for it.
type Event uint8

// The events. Those of an unwind and of a rewind are one: Of tells which it is.
const (
	ProcessSlows Event = iota
	ProcessSpeedsUp
	ProcessAtSpeed
	ProcessAtRest

	StopsForChange  // a hold goes on for a change at rest
	NextNotReady    // the trigger, and the next roll or core is not ready: the roll runs on
	CycleBegins     // the station slows for a change out of storage
	ChangeBegins    // it is at rest, and the splice or transfer is made
	WaitsForNext    // it is at rest, and waits for the next roll or core
	ChangeFailed    // and is made by hand
	StationAtSpeed  // at its top speed
	NextReady       // the next roll is armed, the next core ready
	StationSpeedsUp // the new roll or core is in
	StorageFull     // at its run level while the station still slows
	StorageRefilled // at its run level: the end of a cycle
	InterlockOff
	InterlockTrips
	NewRoll      // a parent roll begins to run
	RollFinished // a finished roll ends
	RollRejected // and is waste
	ChangeDone   // a change at rest is done
	SlowLevel    // the storage passes the level at which the process slows
	StorageAtEnd // an unwind storage empty, a rewind storage over its capacity, with a break being mended

	WebBreaks
	WebMended
	StopBegins
	StopEnds
	OrderEnds
	OrderBegins
	WaitsForOrder // no order may be begun yet

	Called
	CalledAway
	Arrives
	Stays // whoever armed a roll makes the change too
	WorkDone
	BreakBegins // of the crew
	BreakEnds
	CoverBegins // of a break that one operator takes
	CoverEnds
	ShiftBegins // of a group
	ShiftEnds

	Moment // nothing happens: the state between two events
)

// Source is what an event belongs to.
type Source uint8

// The sources of events.
const (
	OfProcess Source = iota
	OfUnwind
	OfRewind
	OfWeb
	OfStop
	OfJob
	OfCrew
	OfLine
)

// Cause is why the web breaks, or a new roll runs.
type Cause uint8

// The causes.
const (
	OfItself Cause = iota
	RunOut
	SpliceParted
	UnwindChangeFailed
	RewindChangeFailed
	UnwindStorageEmpty
	RewindStorageOver
	WithNewOrder // a new roll with a new order
)

// note is an event with what it is about, before it is put on record.
type note struct {
	of    Source
	event Event
	cause Cause
	task  Task
	which int // of the stops, duties or groups
}
