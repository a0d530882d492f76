package sim

// The words that the tests of logs are written in.

var eventWords = map[Event]string{
	ProcessSlows: "slows", ProcessSpeedsUp: "speeds up", ProcessAtSpeed: "at speed", ProcessAtRest: "at rest",
	StopsForChange: "stop for change", NextNotReady: "trigger: next not ready, runs on", CycleBegins: "cycle begins",
	ChangeBegins: "at rest: change is made", WaitsForNext: "at rest: waits for the next", ChangeFailed: "failed: made by hand",
	StationAtSpeed: "at its max speed", NextReady: "next ready", StationSpeedsUp: "ramps up", StorageFull: "storage at its run level: still slowing",
	StorageRefilled: "storage refilled", InterlockOff: "interlock off", InterlockTrips: "interlock trips", NewRoll: "new roll runs",
	RollFinished: "roll finished", RollRejected: "roll rejected", ChangeDone: "change done", SlowLevel: "storage passes slow level",
	StorageAtEnd: "storage at its end", WebBreaks: "web break", WebMended: "web break mended", StopBegins: "stop", StopEnds: "over",
	OrderEnds: "order done", OrderBegins: "new order", Called: "call", CalledAway: "called away", Arrives: "arrives", Stays: "stays",
	WorkDone: "done", BreakBegins: "break begins", BreakEnds: "break ends", CoverBegins: "covered break begins", CoverEnds: "covered break ends",
}

var causeWords = map[Cause]string{OfItself: "", RunOut: "run-out", SpliceParted: "splice parted", UnwindChangeFailed: "unwind change failed",
	RewindChangeFailed: "rewind change failed", UnwindStorageEmpty: "unwind storage empty", RewindStorageOver: "rewind storage over its capacity", WithNewOrder: "with the new order"}

var sourceWords = map[Source]string{OfProcess: "process", OfUnwind: "unwind", OfRewind: "rewind", OfWeb: "web", OfStop: "stop", OfJob: "job", OfCrew: "crew"}

// said is a record in words: "crew | call: load next roll".
func said(r *Record) string {
	s := eventWords[r.Event]
	switch {
	case r.Of == OfCrew && r.Event < BreakBegins:
		s += ": " + taskSources[r.Task]
		if r.Task == TaskStop {
			s += " " + r.Name
		} else if r.Task == TaskDuty {
			s = eventWords[r.Event] + ": " + r.Name
		}
	case r.Of == OfStop && r.Event == StopBegins:
		s = r.Name
	case r.Of == OfStop:
		s = r.Name + ": over"
	case causeWords[r.Cause] != "":
		s += ": " + causeWords[r.Cause]
	}
	return sourceWords[r.Of] + " | " + s
}
