package sim

import (
	"math/bits"

	"rollchange/model"
)

// log writes what just happened to the record of the run, if it keeps one.
func (l *line) log(station, event, detail string) {
	if l.s.record == nil {
		return
	}
	u, w := &l.side[0], &l.side[1]
	r := Record{Time: l.now, Line: l.id, Station: station, Event: event, Detail: detail,
		U: u.S, P: l.P, W: w.S, SpeedU: u.s, SpeedP: l.p, SpeedW: w.s,
		AccelU: u.sa, AccelP: l.pa, AccelW: w.sa,
		UnwindStorage: nan, RewindStorage: nan, OperatorsBusy: l.s.crew.busy}
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
		r.Holds = append(r.Holds, l.s.names[bits.TrailingZeros64(set)])
	}
	l.s.record(&r)
}

// log writes what an operator does to the record of the run.
func (c *crew) log(l *line, event string, t *task) {
	name := taskNames[t.kind]
	switch {
	case c.s.record == nil:
		return
	case t.kind == taskStop:
		name += " " + c.s.spec.Stops[t.which].Name
	case t.kind == taskDuty:
		name = c.s.spec.Crew.Duties[t.which].Name
	}
	l.log("crew", event, name)
}
