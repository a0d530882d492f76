package sim

// manual stops the line for each change.
func manual() changer {
	return changer{
		solve: func(st *station) {
			st.trip = never
			if !st.changing {
				left := st.target - st.S
				st.trip = st.l.foreseen(left)
				st.happens(st.trip, atTarget)
				if !st.called {
					st.happens(st.l.reaches(left-st.callDist), calls)
				}
			}
			st.solveRunOut()
		},
		reachesTarget: func(st *station) { st.stopForChange() },
		armed:         func(*station) {},
	}
}
