package sim

import (
	"math"

	"rollchange/model"
)

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
					st.happens(st.l.now+st.begins(left), atTarget)
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

// begins is how long it is until the station has to slow so that it comes to rest after
// the distance, s. At a trigger from which the line slows for a late core the web that it
// needs is just what there is; where the line slows more steeply than the station it needs
// less from then on, and the last digit is not to say whether the change begins there.
func (st *station) begins(distance float64) float64 {
	d := st.decTarget
	c0, c1, c2 := distance-st.v*st.v/(2*d), -st.v-st.v*st.va/d, -st.va/2-st.va*st.va/(2*d)
	if st.lateSlow && st.va < -d && c0 > -model.LeastLength {
		return firstFall(c0, c1, c2)
	}
	return firstBelow(c0, c1, c2)
}
