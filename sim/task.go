package sim

import "rollchange/model"

// taskKind is what an operator is called for.
type taskKind uint8

const (
	taskUnwindChange taskKind = iota
	taskUnwindArm
	taskUnwindRecover
	taskUnwindJoin
	taskRewindChange
	taskRewindArm
	taskRewindRecover
	taskRewindJoin
	taskRunOut
	taskBreak
	taskChangeover
	taskPack
	taskStop // of a numbered [[stop]]
	taskDuty // of a numbered [[crew.duty]]
	taskKinds
)

var taskNames = [taskKinds]string{"unwind change", "load next roll", "splice by hand", "join roll by hand",
	"rewind change", "doff and load core", "transfer by hand", "join core by hand",
	"mend run-out", "mend web break", "changeover", "pack", "repair", "duty"}

// task is one call for an operator. Its times are drawn at the call.
type task struct {
	kind        taskKind
	line, which int // which stop or duty
	react, work float64
	next        int32 // free list
}

// needsRest says whether the work can start only with the web at rest and the
// hold of the task on.
func (k taskKind) needsRest() bool {
	switch k {
	case taskUnwindArm, taskUnwindRecover, taskRewindArm, taskRewindRecover, taskPack, taskDuty:
		return false
	}
	return true
}

// urgent says whether the line stands, or is about to stand, for the task: its
// own hold is on.
func (l *line) urgent(k taskKind, which int) bool {
	switch k {
	case taskUnwindChange, taskUnwindJoin:
		return l.holds.on(hUnwindChange)
	case taskRewindChange, taskRewindJoin:
		return l.holds.on(hRewindChange)
	case taskUnwindArm, taskRewindArm:
		st := &l.side[0]
		if k == taskRewindArm {
			st = &l.side[1]
		}
		switch {
		case st.mode == gone:
			return l.holds.on(hWebBreak)
		case st.kind == model.Flying:
			return l.holds.on(st.hChange)
		}
		return st.mode == rest && st.phase == waits && l.holds.on(st.hStore)
	case taskUnwindRecover:
		return l.holds.on(hUnwindDepleted)
	case taskRewindRecover:
		return l.holds.on(hRewindFull)
	case taskRunOut, taskBreak:
		return l.holds.on(hWebBreak)
	case taskStop:
		return l.holds.on(hFirstStop + hold(which))
	case taskChangeover:
		return l.holds.on(hChangeover(len(l.stops)))
	}
	return false
}

// recount finds whether the line waits for an operator: a task that it stands
// for, whose operator is not there yet. What is urgent may have changed: the
// crew looks again.
func (l *line) recount() {
	l.awaited = false
	if len(l.s.crew.queue) > 0 {
		l.s.crew.waiting = true
	}
	for _, i := range l.pending {
		t := &l.s.crew.tasks[i]
		if l.urgent(t.kind, t.which) {
			l.awaited = true
			return
		}
	}
}

// lateChange is the station at which whoever ends a task of the kind goes on and
// makes the change that the line stands for; nil when there is none.
func (l *line) lateChange(k taskKind) *station {
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
	case taskUnwindChange, taskUnwindJoin:
		l.side[0].changedByHand()
	case taskRewindChange, taskRewindJoin:
		l.side[1].changedByHand()
	case taskUnwindArm:
		l.side[0].armed()
	case taskRewindArm:
		l.side[1].armed()
	case taskUnwindRecover:
		l.side[0].changed()
	case taskRewindRecover:
		l.side[1].changed()
	case taskRunOut:
		l.side[0].runOutMended()
	case taskBreak:
		l.breakMended()
	case taskStop:
		l.stopOver(t.which)
	case taskChangeover:
		l.job.changedOver(l)
	}
}
