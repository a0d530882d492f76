package main

import "rollchange/sim"

// around are the words of --around, and which events they mean.
var around = map[string]func(r *sim.Record) bool{
	"depletion":  at(sim.OfUnwind, sim.InterlockTrips),
	"overfill":   at(sim.OfRewind, sim.InterlockTrips),
	"break":      at(sim.OfWeb, sim.WebBreaks),
	"run-out":    func(r *sim.Record) bool { return r.Event == sim.WebBreaks && r.Cause == sim.RunOut },
	"splice":     at(sim.OfUnwind, sim.CycleBegins),
	"transfer":   at(sim.OfRewind, sim.CycleBegins),
	"change":     func(r *sim.Record) bool { return r.Event == sim.StopsForChange },
	"not-ready":  func(r *sim.Record) bool { return r.Event == sim.NextNotReady || r.Event == sim.WaitsForNext },
	"changeover": func(r *sim.Record) bool { return r.Event == sim.OrderEnds },
	"failure": func(r *sim.Record) bool {
		return r.Event == sim.ChangeFailed || r.Event == sim.WebBreaks && (r.Cause == sim.UnwindChangeFailed || r.Cause == sim.RewindChangeFailed)
	},
}

func at(of sim.Source, event sim.Event) func(*sim.Record) bool {
	return func(r *sim.Record) bool { return r.Of == of && r.Event == event }
}

// --around shows so much time before and after the event, s, and at most so much
// until the line runs again.
const (
	before  = 120
	after   = 300
	longest = 24 * 3600
)

// vicinity keeps the log around the first event that is wanted: from some time
// before it until some time after it, or until what happened is over.
type vicinity struct {
	wanted  func(*sim.Record) bool
	from    float64 // the event is looked for from here on, s
	records []sim.Record
	found   bool
	at      float64 // of the event
	drawn   int     // the line that it happened on
	over    bool    // that line has run at speed since, no hold on
}

// see takes the next record of the log.
func (v *vicinity) see(r *sim.Record) {
	if !v.found {
		for len(v.records) > 0 && v.records[0].Time < r.Time-before {
			v.records = v.records[1:]
		}
		v.records = append(v.records, *r)
		if v.wanted(r) && r.Time >= v.from {
			v.found, v.at, v.drawn = true, r.Time, r.Line
		}
		return
	}
	if r.Time <= v.at+after || !v.over && r.Time <= v.at+longest {
		v.records = append(v.records, *r)
	}
	v.over = v.over || r.Time > v.at && r.Line == v.drawn && len(r.Holds) == 0 && r.SpeedP > 0 && r.AccelP == 0
}
