package sim

// cycle is a change out of storage: from the moment that the station slows to the
// end of its refill.
type cycle struct {
	open    bool
	least   float64 // m, least margin in it
	starved bool    // the interlock tripped in it
	joined  bool    // its splice has been made
	counts  bool    // that was after the warm-up
	risk    risk
	trip    float64 // s, when a change at rest would stop the line, or a late core slow it, as the motion is
}

// beginCycle ramps the station down for a splice or transfer.
func (st *station) beginCycle() {
	st.endCycle()
	st.newRisk()
	st.open, st.least = true, st.M
	st.mode, st.capped, st.ramp = down, false, st.decelNow()
	st.slowDown()
	st.follow()
	st.l.log(st.of, CycleBegins)
}

func (st *station) endCycle() {
	if !st.open {
		return
	}
	c, least := st.changes(), max(0, st.least)
	c.extremeSum += least
	c.cycles++
	st.l.low[st.which].add(least)
	st.open, st.starved, st.joined = false, false, false
}
