package sim

import "rollchange/model"

// Task is what an operator is called for.
type Task uint8

// The tasks.
const (
	TaskUnwindChange Task = iota
	TaskUnwindArm
	TaskUnwindRecover
	TaskUnwindJoin
	TaskRewindChange
	TaskRewindArm
	TaskRewindRecover
	TaskRewindJoin
	TaskRunOut
	TaskBreak
	TaskChangeover
	TaskPack
	TaskStop // of a numbered [[stop]]
	TaskDuty // of a numbered [[crew.duty]]
	tasks
)

// taskSources are the names under which the tasks have their streams of chance.
// They stay as they are: a new name would be another chance.
var taskSources = [tasks]string{"unwind change", "load next roll", "splice by hand", "join roll by hand",
	"rewind change", "doff and load core", "transfer by hand", "join core by hand",
	"mend run-out", "mend web break", "changeover", "pack", "repair", "duty"}

// task is one call for an operator. Its times are drawn at the call.
type task struct {
	kind        Task
	line, which int // which stop or duty
	react, work float64
	arrives     float64 // s, once an operator has it
	next        int32   // free list
}

// needsRest says whether the work can start only with the web at rest and the
// hold of the task on.
func (k Task) needsRest() bool {
	switch k {
	case TaskUnwindArm, TaskUnwindRecover, TaskRewindArm, TaskRewindRecover, TaskPack, TaskDuty:
		return false
	}
	return true
}

// workBegins is when the work of a task begins whose operator has been given it,
// s, where nothing can change that any more: the work waits for nothing but him,
// or the line stands for it.
func (l *line) workBegins(t *task) (at float64, known bool) {
	switch t.kind {
	case TaskUnwindArm, TaskRewindArm, TaskPack, TaskDuty:
		return t.arrives, true
	}
	if !t.kind.needsRest() || !l.urgent(t.kind, t.which) {
		return 0, false
	}
	return t.arrives, l.resting
}

// neverUrgent says that no line ever stands for the task.
func (k Task) neverUrgent() bool { return k == TaskPack || k == TaskDuty }

// urgent says whether the line stands, or is about to stand, for the task: its
// own hold is on.
func (l *line) urgent(k Task, which int) bool {
	if l.holds.set == 0 {
		return false
	}
	switch k {
	case TaskUnwindChange, TaskUnwindJoin:
		return l.holds.on(hUnwindChange)
	case TaskRewindChange, TaskRewindJoin:
		return l.holds.on(hRewindChange)
	case TaskUnwindArm:
		return l.side[0].standsForNext()
	case TaskRewindArm:
		return l.side[1].standsForNext()
	case TaskUnwindRecover:
		return l.holds.on(hUnwindDepleted) || l.order.settles
	case TaskRewindRecover:
		return l.holds.on(hRewindFull) || l.order.settles
	case TaskRunOut, TaskBreak:
		return l.holds.on(hWebBreak)
	case TaskStop:
		return l.holds.on(hFirstStop + hold(which))
	case TaskChangeover:
		return l.holds.on(hChangeover(len(l.stops)))
	}
	return false
}

// standsForNext says whether the line stands because the next roll or core is not
// ready.
func (st *station) standsForNext() bool {
	holds := &st.l.holds
	switch {
	case st.mode == gone:
		return holds.on(hWebBreak)
	case st.kind == model.Flying:
		return holds.on(st.hChange)
	}
	return st.mode == rest && st.phase == waits && (holds.on(st.hStore) || st.l.order.settles)
}

// recount finds until when the line waits for an operator: a task that it stands
// for, whose operator is not there yet. What is urgent may have changed: the
// crew looks again.
func (l *line) recount() {
	l.waitsUntil = 0
	c := &l.run.crew
	if len(c.queue) > 0 {
		c.waiting = true
	}
	for k := 0; k < len(l.pending); k++ {
		i := l.pending[k]
		t := &c.tasks[i]
		if t.arrives <= l.now { // the operator is at work already
			l.pending = append(l.pending[:k], l.pending[k+1:]...)
			k--
			continue
		}
		if l.urgent(t.kind, t.which) {
			l.waitsUntil = max(l.waitsUntil, t.arrives)
		}
	}
}

// lateChange is the station at which whoever ends a task of the kind goes on and
// makes the change that the line stands for; nil when there is none.
func (l *line) lateChange(k Task) *station {
	for i := range l.side {
		if st := &l.side[i]; st.tArm == k && st.changesLate && st.changing && st.mode != gone {
			return st
		}
	}
	return nil
}

// done is the end of a task's work.
func (l *line) done(t *task) {
	switch t.kind {
	case TaskUnwindChange, TaskUnwindJoin:
		l.side[0].changedByHand()
	case TaskRewindChange, TaskRewindJoin:
		l.side[1].changedByHand()
	case TaskUnwindArm:
		l.side[0].nextReady()
	case TaskRewindArm:
		l.side[1].nextReady()
	case TaskUnwindRecover:
		l.side[0].sync()
		l.side[0].changed()
	case TaskRewindRecover:
		l.side[1].sync()
		l.side[1].changed()
	case TaskRunOut:
		l.side[0].runOutMended()
	case TaskBreak:
		l.breakMended()
	case TaskStop:
		l.stopOver(t.which)
	case TaskChangeover:
		if l.order.on {
			l.order.changedOver(l)
		} else {
			l.job.changedOver(l)
		}
	}
}
