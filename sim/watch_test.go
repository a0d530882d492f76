package sim_test

import (
	"fmt"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/scenarios/random"
	"rollchange/sim"
)

// watcher looks at every state of a simulation: what each line has moved since
// its last, and what its storages hold, in between too.
type watcher struct {
	study  *model.Study
	events int64 // more than a line of its size can have
	last   map[[3]int]sim.State
}

// asRun are the lines that a line runs as: of each product one.
func asRun(l *model.Line) []*model.Line {
	list := []*model.Line{l}
	for i := range l.Products {
		list = append(list, l.Products[i].Line)
	}
	return list
}

// topSpeed is the speed of the fastest, m/s.
func topSpeed(l *model.Line) float64 {
	top := l.Process.Speed
	for i := range l.Products {
		if v := l.Products[i].Line.Process.Speed; v > top {
			top = v
		}
	}
	return top
}

func newWatcher(study *model.Study) *watcher {
	return &watcher{study: study, events: mostEvents(study), last: map[[3]int]sim.State{}}
}

// mostEvents is more events than a replication of a study can have.
func mostEvents(study *model.Study) int64 {
	return int64(20*random.Events(study)/float64(study.Run.Replications)) + 20000
}

func (w *watcher) look(x sim.State) error {
	l := &w.study.Alternatives[x.Alternative].Line
	key := [3]int{x.Alternative, x.Replication, x.Line}
	last, seen := w.last[key]
	w.last[key] = x
	switch {
	case x.Events > w.events+hunting(l, x.P):
		return breaks("events without end", "%d events by %g s of %g s", x.Events, x.Time, w.study.Run.Horizon)
	case x.Busy < 0 || x.Busy > l.Crew.Operators:
		return breaks("more operators than there are", "%d of %d busy at %g s", x.Busy, l.Crew.Operators, x.Time)
	case !(x.Speed[1] >= 0 && x.Speed[1] <= topSpeed(l)*(1+1e-12)):
		return breaks("speed of the process out of range", "%g m/s at %g s", x.Speed[1], x.Time)
	}
	for i, s := range [2]*model.Storage{&l.Unwind.Storage, &l.Rewind.Storage} {
		if math.IsNaN(x.Storage[i]) {
			continue
		}
		if err := inside(l, i, x.Storage[i], s.Capacity, x); err != nil {
			return err
		}
		if over := (x.Storage[i] - s.RunLevel) * [2]float64{1, -1}[i]; over > near(s.Capacity, x.P)+clock(l, x.Time) {
			return breaks(fmt.Sprintf("the %s storage passes its run level", ends[i]), "%g m by %g s", over, x.Time)
		}
	}
	if !seen {
		return nil
	}
	return w.moved(l, &last, &x)
}

// hunting is how many events a line may have beside those of its rolls and stops
// because a storage stops it again and again: each start uses up what the restart
// level let gather.
func hunting(l *model.Line, processed float64) int64 {
	most := int64(0)
	for _, p := range asRun(l) {
		most = max(most, huntingOf(p, processed))
	}
	return most
}

func huntingOf(l *model.Line, processed float64) int64 {
	stop := model.StoppingLength(l.Process.Speed, l.Process.Decel)
	n := 0.0
	for i, s := range [2]*model.Storage{&l.Unwind.Storage, &l.Rewind.Storage} {
		if [2]model.ChangeKind{l.Unwind.Change, l.Rewind.Change}[i] != model.ZeroSpeed {
			continue
		}
		restart, room := s.RestartLevel, s.RunLevel
		if i == 1 {
			restart, room = s.Capacity-restart, s.Capacity-room
		}
		// The restart is that far above the level of the interlock at least.
		n += processed / max(1e-3, 1e-3*room, restart-s.Reserve-stop)
	}
	return int64(20 * n)
}

// moved says whether the lengths changed as the speeds since the last state say.
//
// Honest exceptions: where there is no storage at the unwind, a roll that ran out
// into the line is threaded up to where the line stopped; its web then jumps. And
// where the web broke at a storage that was at its end, the process runs on
// without it, and the web is threaded when it is mended.
func (w *watcher) moved(l *model.Line, last, x *sim.State) error {
	dt := x.Time - last.Time
	if dt < 0 {
		return breaks("time runs back", "from %g s to %g s", last.Time, x.Time)
	}
	go_ := func(i int) float64 { return (last.Speed[i] + last.Accel[i]*dt/2) * dt }
	near := near(x.P, x.U, l.Unwind.Storage.Capacity, l.Rewind.Storage.Capacity) + clock(l, x.Time)
	if d := x.P - last.P - go_(1); math.Abs(d) > near {
		return breaks("the web jumps at the process", "by %g m at %g s", d, x.Time)
	}
	if l.Unwind.Change == model.ZeroSpeed && !last.Broken[0] {
		if d := x.U - last.U - go_(0); math.Abs(d) > near {
			return breaks("the web jumps at the unwind", "by %g m at %g s", d, x.Time)
		}
	}
	if l.Rewind.Change != model.None && !last.Broken[1] {
		if d := x.W - last.W - go_(2); math.Abs(d) > near {
			return breaks("the web jumps at the rewind", "by %g m at %g s", d, x.Time)
		}
	}
	for i, s := range [2]*model.Storage{&l.Unwind.Storage, &l.Rewind.Storage} {
		if math.IsNaN(x.Storage[i]) || last.Broken[i] {
			continue
		}
		// content c(t) = c0 + v t + a t²/2 since the last state
		v, a := last.Speed[i]-last.Speed[i+1], last.Accel[i]-last.Accel[i+1]
		if d := x.Storage[i] - last.Storage[i] - go_(i) + go_(i+1); math.Abs(d) > near {
			return breaks(fmt.Sprintf("the content of the %s storage jumps", ends[i]), "by %g m at %g s", d, x.Time)
		}
		if turn := -v / a; turn > 0 && turn < dt {
			if err := inside(l, i, last.Storage[i]+v*turn/2, s.Capacity, *x); err != nil {
				return err
			}
		}
	}
	return nil
}

var ends = [2]string{"unwind", "rewind"}

// near is how exactly lengths are known when so much has gone by, m.
func near(lengths ...float64) float64 { return 1e-6 + 1e-12*slices.Max(lengths) }

// clock is how exactly lengths are known for the clock: it is right to its last
// digit, and so much passes, or is needed to stop, in a few of those, m.
func clock(l *model.Line, t float64) float64 {
	most := 0.0
	for _, p := range asRun(l) {
		most = max(most, p.Unwind.MaxSpeed+p.Rewind.MaxSpeed+p.Process.Speed*(1+p.Process.Accel/p.Process.Decel))
	}
	return 2e-15 * t * most
}

func inside(l *model.Line, i int, content, capacity float64, x sim.State) error {
	switch near := near(capacity, x.P) + clock(l, x.Time); {
	case !(content >= -near):
		return breaks(fmt.Sprintf("the %s storage holds less than nothing", ends[i]), "%g m by %g s", content, x.Time)
	case !(content <= capacity+near):
		return breaks(fmt.Sprintf("the %s storage holds more than it can", ends[i]), "%g m of %g m by %g s", content, capacity, x.Time)
	}
	return nil
}
