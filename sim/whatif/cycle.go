package whatif

import (
	"context"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/sim"
)

// A roll change is shown with so much time before and after it, s.
const (
	cycleBefore = 8
	cycleAfter  = 12
	cycleRest   = 4          // after the end of what else has begun
	cycleLook   = 20 * 86400 // how far it is looked for
	cycleLong   = 3600       // a change that lasts longer is cut
)

// marks are the events between which a roll change lies.
type marks struct {
	station    sim.Source
	begin, end sim.Event
}

// marksOf are those of the station of a line whose change tells most: one at
// rest out of storage, then one by hand, then one at line speed.
func marksOf(l *model.Line) marks {
	switch {
	case l.Unwind.Change.Stores():
		return marks{sim.OfUnwind, sim.CycleBegins, sim.StorageRefilled}
	case l.Rewind.Change.Stores():
		return marks{sim.OfRewind, sim.CycleBegins, sim.StorageRefilled}
	case l.Unwind.Change == model.Manual:
		return marks{sim.OfUnwind, sim.StopsForChange, sim.ChangeDone}
	case l.Rewind.Change == model.Manual:
		return marks{sim.OfRewind, sim.StopsForChange, sim.ChangeDone}
	}
	return marks{sim.OfUnwind, sim.NewRoll, sim.NewRoll}
}

// Tells ranks how much a roll change of a line tells: 2 one at rest out of
// storage, 1 one by hand.
func Tells(l *model.Line) int {
	switch {
	case l.Unwind.Change.Stores() || l.Rewind.Change.Stores():
		return 2
	case l.Unwind.Change == model.Manual || l.Rewind.Change == model.Manual:
		return 1
	}
	return 0
}

// moved is the state that a record has come to at a later time, with nothing
// between; it tells of no event.
func moved(r sim.Record, t float64) sim.Record {
	dt := t - r.Time
	way := func(v, a float64) float64 { return v*dt + a*dt*dt/2 }
	u, p, w := way(r.SpeedU, r.AccelU), way(r.SpeedP, r.AccelP), way(r.SpeedW, r.AccelW)
	r.Time, r.U, r.P, r.W = t, r.U+u, r.P+p, r.W+w
	r.UnwindStorage, r.RewindStorage = r.UnwindStorage+u-p, r.RewindStorage+p-w
	r.SpeedU, r.SpeedP, r.SpeedW = r.SpeedU+r.AccelU*dt, r.SpeedP+r.AccelP*dt, r.SpeedW+r.AccelW*dt
	r.Of, r.Event, r.Name = sim.OfLine, sim.Moment, ""
	return r
}

// settled says whether the whole line moves at one speed: nothing speeds up or
// slows down, and no station changes its roll or refills its storage.
func settled(r *sim.Record) bool {
	const close = 1e-9
	for _, s := range [][2]float64{{r.SpeedU, r.AccelU}, {r.SpeedW, r.AccelW}} {
		if math.Abs(s[0]-r.SpeedP) > close || math.Abs(s[1]) > close { // false for NaN: the line has no such station
			return false
		}
	}
	return r.AccelP == 0
}

// RollChange is the log of one roll change of the first replication: the first
// in which nothing else happens to the process, else the first. It goes on until
// the line is settled, so that a change that has begun at the other station ends
// in it. It is empty when there is none.
func RollChange(ctx context.Context, l *model.Line, run model.Run) ([]sim.Record, error) {
	m := marksOf(l)
	var window, first, quiet []sim.Record
	begin, end := -1.0, -1.0
	done := func() {
		if first == nil {
			first = slices.Clone(window)
		}
		calm := true
		for _, r := range window {
			calm = calm && (r.Of != sim.OfProcess || m.begin == sim.StopsForChange) && r.Line == 0 && r.Of != sim.OfWeb
		}
		if calm && quiet == nil {
			quiet = slices.Clone(window)
		}
		begin, end = -1, -1
	}
	keep := func(r *sim.Record) {
		if quiet != nil || r.Line != 0 {
			return
		}
		if begin >= 0 && (end >= 0 && r.Time > end+cycleAfter && settled(&window[len(window)-1]) || r.Time > begin+cycleLong) {
			if last := window[len(window)-1]; settled(&last) { // a little of what follows
				window = append(window, moved(last, min(r.Time, max(end+cycleAfter, last.Time+cycleRest))))
			}
			done()
		}
		for begin < 0 && len(window) > 1 && window[1].Time < r.Time-cycleBefore {
			window = window[1:]
		}
		window = append(window, *r)
		if r.Of != m.station {
			return
		}
		if begin < 0 && r.Event == m.begin && r.Time >= run.WarmUp {
			begin = r.Time
			if from := begin - cycleBefore; window[0].Time < from {
				window[0] = moved(window[0], from)
			}
		}
		if begin >= 0 && end < 0 && r.Event == m.end {
			end = r.Time
		}
	}
	until := min(run.Horizon, run.WarmUp+cycleLook)
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	err := sim.Trace(ctx, l, run, 0, until, func(r *sim.Record) {
		if keep(r); quiet != nil {
			stop()
		}
	})
	if quiet != nil {
		return quiet, nil
	}
	if err != nil {
		return nil, err
	}
	if end >= 0 {
		done()
	}
	if quiet != nil {
		return quiet, nil
	}
	return first, nil
}
