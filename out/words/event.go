package words

import (
	"rollchange/sim"
)

// sourceWords is what an event belongs to, for people.
var sourceWords = map[sim.Source]string{
	sim.OfProcess: "process", sim.OfUnwind: "unwind", sim.OfRewind: "rewind",
	sim.OfWeb: "web", sim.OfStop: "stop", sim.OfJob: "job", sim.OfCrew: "crew", sim.OfLine: "line",
}

// sayEvent is an event and more of it: at an unwind, at a rewind where the words
// differ.
type sayEvent struct{ unwind, rewind, more, moreRewind string }

var eventWords = map[sim.Event]sayEvent{
	sim.ProcessSlows:    {unwind: "slows"},
	sim.ProcessSpeedsUp: {unwind: "speeds up"},
	sim.ProcessAtSpeed:  {unwind: "at speed"},
	sim.ProcessAtRest:   {unwind: "at rest"},
	sim.StopsForChange:  {unwind: "stop for change"},
	sim.NextNotReady:    {unwind: "trigger", more: "next not ready, runs on"},
	sim.CycleBegins:     {unwind: "splice cycle begins", rewind: "transfer cycle begins"},
	sim.ChangeBegins:    {unwind: "at rest", more: "splice is made", moreRewind: "transfer is made"},
	sim.WaitsForNext:    {unwind: "at rest", more: "waits for the next"},
	sim.ChangeFailed:    {unwind: "splice failed", rewind: "transfer failed", more: "made by hand"},
	sim.StationAtSpeed:  {unwind: "at its top speed"},
	sim.NextReady:       {unwind: "next roll armed", rewind: "next core ready"},
	sim.StationSpeedsUp: {unwind: "ramps up"},
	sim.StorageFull:     {unwind: "storage at its run level", more: "still slowing"},
	sim.StorageRefilled: {unwind: "storage refilled", rewind: "storage drawn down"},
	sim.InterlockOff:    {unwind: "interlock off"},
	sim.InterlockTrips:  {unwind: "storage depleted", rewind: "storage full", more: "interlock"},
	sim.NewRoll:         {unwind: "new roll runs"},
	sim.RollFinished:    {unwind: "roll finished"},
	sim.RollRejected:    {unwind: "roll rejected"},
	sim.ChangeDone:      {unwind: "change done"},
	sim.SlowLevel:       {unwind: "storage passes slow level"},
	sim.StorageAtEnd:    {unwind: "storage empty", rewind: "storage over its capacity", more: "web breaks"},
	sim.WebBreaks:       {unwind: "web break"},
	sim.WebMended:       {unwind: "web break mended"},
	sim.OrderEnds:       {unwind: "order done"},
	sim.OrderBegins:     {unwind: "new order"},
	sim.Called:          {unwind: "call"},
	sim.CalledAway:      {unwind: "called away from"},
	sim.Arrives:         {unwind: "arrives"},
	sim.Stays:           {unwind: "stays"},
	sim.WorkDone:        {unwind: "done"},
	sim.BreakBegins:     {unwind: "break", more: "begins"},
	sim.BreakEnds:       {unwind: "break", more: "ends"},
	sim.CoverBegins:     {unwind: "break, covered", more: "begins"},
	sim.CoverEnds:       {unwind: "break, covered", more: "ends"},
	sim.ShiftBegins:     {unwind: "shift begins"},
	sim.ShiftEnds:       {unwind: "shift ends"},
}

// causeWords is why the web broke, or a roll runs.
var causeWords = map[sim.Cause]string{
	sim.RunOut: "run-out", sim.SpliceParted: "splice parted", sim.UnwindChangeFailed: "unwind change failed", sim.RewindChangeFailed: "rewind change failed",
	sim.UnwindStorageEmpty: "unwind storage empty", sim.RewindStorageOver: "rewind storage over its capacity", sim.WithNewOrder: "with the new order",
}

// taskWords is what an operator is called for; a duty by its own name.
var taskWords = map[sim.Task]string{
	sim.TaskUnwindChange: "unwind change", sim.TaskUnwindArm: "load next roll", sim.TaskUnwindRecover: "splice by hand", sim.TaskUnwindJoin: "join roll by hand",
	sim.TaskRewindChange: "rewind change", sim.TaskRewindArm: "doff and load core", sim.TaskRewindRecover: "transfer by hand", sim.TaskRewindJoin: "join core by hand",
	sim.TaskRunOut: "mend run-out", sim.TaskBreak: "mend web break", sim.TaskChangeover: "changeover", sim.TaskPack: "pack", sim.TaskStop: "repair", sim.TaskDuty: "",
}

// EventWords are an event and more of it, in words: "at rest", "splice is made".
func EventWords(r *sim.Record) (event, more string) {
	w := eventWords[r.Event]
	event, more = w.unwind, w.more
	if r.Of == sim.OfRewind {
		if w.rewind != "" {
			event = w.rewind
		}
		if w.moreRewind != "" {
			more = w.moreRewind
		}
	}
	switch {
	case r.Event == sim.StopBegins:
		return r.Name, ""
	case r.Event == sim.StopEnds:
		return r.Name, "over"
	case r.Event == sim.ShiftBegins || r.Event == sim.ShiftEnds:
		more = r.Name
	case r.Event == sim.WebBreaks || r.Event == sim.NewRoll:
		more = causeWords[r.Cause]
	case r.Of == sim.OfCrew && more == "":
		more = taskWords[r.Task]
		if r.Name != "" && more != "" {
			more += " "
		}
		more += r.Name
	}
	return event, more
}

// SourceWord is what an event belongs to, in a word: "unwind".
func SourceWord(of sim.Source) string { return sourceWords[of] }
