package model

// keepsUp is the shortest finished roll, m, that a turret keeps up with while the line
// runs at its speed v, from means, with one operator who does nothing else; and what
// limits it. Of a period L/v from change to change
//
//	the next core takes    reaction + doff + load_core, and out of storage
//	                       v/decel + dwell, in which the winder slows and stands
//	the operator works     reaction + doff + load_core, and for each lane reaction + pack
//	the storage takes      what draws it down to its run level, and the ramp down from
//	                       the speed s of the winder then, s²/(2 decel)
//
// and L is the longest of these. 0 where the rewind is no turret.
func keepsUp(l *Line) (length float64, limit string) {
	w, v := &l.Rewind, l.Process.Speed
	if !w.Change.Ahead() {
		return 0, ""
	}
	react := l.Crew.Reaction.Mean()
	core := react + w.Doff.Mean() + w.LoadCore.Mean()
	ready := core
	if w.Change.Stores() {
		ready += StoppingTime(v, w.Decel) + w.Dwell.Mean()
	}
	length, limit = v*ready, "the next core: reaction, doffing and loading a core"
	if w.Change.Stores() {
		limit += ", ramp and dwell"
		seconds, metres := RewindCycle(l).refill(w.Dwell.Mean())
		if x := metres + StoppingLength(min(w.MaxSpeed, w.Accel*seconds), w.Decel); x > length {
			length, limit = x, "the storage, which has to be drawn down"
		}
	}
	if w.Pack.Given() {
		if x := v * (core + float64(w.LaneCount())*(react+w.Pack.Mean())); x > length {
			length, limit = x, "the operator: doffing, loading a core and packing"
		}
	}
	return length, limit
}
