package sim

import "math"

// zeroSpeed changes at rest, while a storage feeds the process or takes its web.
func zeroSpeed() changer {
	return changer{
		solve: func(st *station) {
			if st.foresees() {
				return
			}
			st.happens(st.ends, motionEnds)
			if st.mode == locked || st.mode == up || st.mode == fast {
				left := st.target - st.S
				if st.late {
					left += st.lateBy
				}
				if !math.IsInf(left, 1) {
					d := st.decTarget
					st.happens(st.l.now+firstBelow(left-st.v*st.v/(2*d), -st.v-st.v*st.va/d, -st.va/2-st.va*st.va/(2*d)), atTarget)
				}
			}
			st.solveRunOut()
			st.solveStorage()
		},
		reachesTarget: func(st *station) {
			if st.ready || st.late {
				st.beginCycle()
				return
			}
			st.runsOn()
		},
		armed: func(st *station) {
			switch {
			case st.mode == rest && st.phase == waits:
				st.beginDwell()
			case !st.late || st.mode == down || st.mode == rest:
			case st.early():
				st.late = false
				st.touch()
			default:
				st.beginCycle()
			}
		},
	}
}
