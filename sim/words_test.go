package sim_test

import "rollchange/sim"

// The words that the tests of logs are written in.

var eventWords = map[sim.Event]string{
	sim.ProcessSlows: "slows", sim.ProcessSpeedsUp: "speeds up", sim.ProcessAtSpeed: "at speed", sim.ProcessAtRest: "at rest",
	sim.StopsForChange: "stop for change", sim.NextNotReady: "trigger: next not ready, runs on", sim.CycleBegins: "cycle begins",
	sim.ChangeBegins: "at rest: change is made", sim.WaitsForNext: "at rest: waits for the next", sim.ChangeFailed: "failed: made by hand",
	sim.StationAtSpeed: "at its top speed", sim.NextReady: "next ready", sim.StationSpeedsUp: "ramps up", sim.StorageFull: "storage at its run level: still slowing",
	sim.StorageRefilled: "storage refilled", sim.InterlockOff: "interlock off", sim.InterlockTrips: "interlock trips", sim.NewRoll: "new roll runs",
	sim.RollFinished: "roll finished", sim.RollRejected: "roll rejected", sim.ChangeDone: "change done", sim.SlowLevel: "storage passes slow level",
	sim.StorageAtEnd: "storage at its end", sim.WebBreaks: "web break", sim.WebMended: "web break mended", sim.StopBegins: "stop", sim.StopEnds: "over",
	sim.OrderEnds: "order done", sim.OrderBegins: "new order", sim.Called: "call", sim.CalledAway: "called away", sim.Arrives: "arrives", sim.Stays: "stays",
	sim.WorkDone: "done", sim.BreakBegins: "break begins", sim.BreakEnds: "break ends", sim.CoverBegins: "covered break begins", sim.CoverEnds: "covered break ends", sim.ShiftBegins: "shift begins", sim.ShiftEnds: "shift ends",
}

var causeWords = map[sim.Cause]string{sim.OfItself: "", sim.RunOut: "run-out", sim.SpliceParted: "splice parted", sim.UnwindChangeFailed: "unwind change failed",
	sim.RewindChangeFailed: "rewind change failed", sim.UnwindStorageEmpty: "unwind storage empty", sim.RewindStorageOver: "rewind storage over its capacity", sim.WithNewOrder: "with the new order"}

var sourceWords = map[sim.Source]string{sim.OfProcess: "process", sim.OfUnwind: "unwind", sim.OfRewind: "rewind", sim.OfWeb: "web", sim.OfStop: "stop", sim.OfJob: "job", sim.OfCrew: "crew"}

// said is a record in words: "crew | call: load next roll".
func said(r *sim.Record) string {
	s := eventWords[r.Event]
	switch {
	case r.Of == sim.OfCrew && r.Event < sim.BreakBegins:
		s += ": " + sim.TaskSources[r.Task]
		if r.Task == sim.TaskStop {
			s += " " + r.Name
		} else if r.Task == sim.TaskDuty {
			s = eventWords[r.Event] + ": " + r.Name
		}
	case r.Event == sim.ShiftBegins || r.Event == sim.ShiftEnds:
		s += ": " + r.Name
	case r.Of == sim.OfStop && r.Event == sim.StopBegins:
		s = r.Name
	case r.Of == sim.OfStop:
		s = r.Name + ": over"
	case causeWords[r.Cause] != "":
		s += ": " + causeWords[r.Cause]
	}
	return sourceWords[r.Of] + " | " + s
}
