package sim

import (
	"math/bits"

	"rollchange/model"
)

// Record is one line of the log of a replication: what happened, where and
// why, and the state of the line right after it.
type Record struct {
	Time          float64 // s
	Line          int     // 0-based, of the lines that share the crew
	Of            Source
	Event         Event
	Cause         Cause   // of WebBreaks and NewRoll
	Task          Task    // of what the crew does
	Name          string  // of the stop, duty or group that it is about; else empty
	U, P, W       float64 // m, unwound, processed, wound since the start
	SpeedU        float64 // m/s
	SpeedP        float64
	SpeedW        float64
	UnwindStorage float64  // m; NaN when there is none
	RewindStorage float64  // m; NaN when there is none
	Holds         []string // holds on, in the order of the list of holds
	OperatorsBusy int
	AccelU        float64 // m/s2, right after the event; with the speeds it draws the lines between records
	AccelP        float64
	AccelW        float64
}

// logNote puts what is noted on record, if the run keeps one.
func (l *line) logNote(n note) {
	if l.run.record == nil {
		return
	}
	for i := range l.side {
		l.side[i].sync()
	}
	u, w := &l.side[0], &l.side[1]
	r := Record{Time: l.now, Line: l.id, Of: n.of, Event: n.event, Cause: n.cause, Task: n.task,
		U: u.S, P: l.P, W: w.S, SpeedU: u.v, SpeedP: l.p, SpeedW: w.v,
		AccelU: u.va, AccelP: l.pa, AccelW: w.va,
		UnwindStorage: nan, RewindStorage: nan, OperatorsBusy: l.run.crew.busy}
	switch {
	case n.of == OfStop, n.of == OfCrew && n.task == TaskStop:
		r.Name = l.spec.Stops[n.which].Name
	case n.of == OfCrew && (n.event == ShiftBegins || n.event == ShiftEnds):
		r.Name = l.run.spec.Crew.Groups[n.which].Name
	case n.of == OfCrew && n.task == TaskDuty:
		r.Name = l.run.spec.Crew.Duties[n.which].Name
	}
	if u.zero() {
		r.UnwindStorage = u.M
	}
	switch w.kind {
	case model.ZeroSpeed:
		r.RewindStorage = l.spec.Rewind.Storage.Capacity - w.M
	case model.None:
		r.W, r.SpeedW, r.AccelW = nan, nan, nan
	}
	for set := l.holds.set; set != 0; set &= set - 1 {
		r.Holds = append(r.Holds, l.run.names[bits.TrailingZeros64(set)])
	}
	l.run.record(&r)
}

// log is logNote for an event that needs no more words.
func (l *line) log(of Source, event Event) {
	if l.run.record != nil {
		l.logNote(note{of: of, event: event})
	}
}

// log puts what an operator does on record.
func (c *crew) log(l *line, event Event, t *task) {
	if c.run.record != nil {
		l.logNote(note{of: OfCrew, event: event, task: t.kind, which: t.which})
	}
}
