package sim

import "rollchange/model"

// flying pastes the next roll, or cuts to the next core, at line speed.
func flying() changer {
	return changer{
		solve: func(st *station) {
			pasted := !st.late && !st.changing
			st.trip = never
			if !st.changing {
				left := st.target - st.S
				if !st.late {
					st.happens(st.l.reaches(left), pastes)
				}
				if !st.ready {
					st.trip = st.l.foreseen(left + st.lateBy)
					st.happens(st.trip, atTarget)
				}
				if st.willSlow() {
					st.trip = min(st.trip, st.l.reaches(left))
				}
			}
			// A roll that is pasted, or stopped, within 1 mm of its end does not run out.
			if !(pasted && st.target <= st.end+model.LeastLength) {
				st.solveRunOut()
			}
		},
		reachesTarget: func(st *station) {
			st.notReady()
			st.stopForChange()
		},
		armed: func(st *station) {
			switch {
			case !st.late:
			case !st.changing:
				st.changeFlying()
			case !st.changesLate: // else whoever armed it goes on
				st.l.run.crew.call(st.l, st.tJoin, 0)
			}
		},
	}
}

// reachesPaste is the point at which a flying change is made.
func (st *station) reachesPaste() {
	if !st.ready {
		st.runsOn()
		return
	}
	st.changeFlying()
}

// changeFlying makes a change at line speed.
func (st *station) changeFlying() {
	fails := st.success >= st.successShare
	st.failed = fails
	st.changed()
	if fails {
		st.l.breakBy([2]Cause{UnwindChangeFailed, RewindChangeFailed}[st.which])
	}
}
