package sim

// State is a line right after an event, for tests that look at every one.
type State struct {
	Alternative, Replication, Line int
	Time                           float64    // s
	U, P, W                        float64    // m, unwound, processed, wound since the start
	Speed, Accel                   [3]float64 // m/s and m/s2 of unwind, process, rewind, from here on
	Storage                        [2]float64 // m in the storage of unwind and rewind; NaN where there is none
	Broken                         [2]bool    // the web broke at the storage of unwind, of rewind, and is not mended
	Busy                           int        // operators with a task
	Held                           int        // spans of scrap and splices that the line remembers
	Events                         int64      // of the replication so far
}

// state is the line as it is now.
func (l *line) state() State {
	u, w := &l.side[0], &l.side[1]
	u.sync()
	w.sync()
	x := State{Line: l.id, Time: l.now, U: u.S, P: l.P, W: w.S, Speed: [3]float64{u.v, l.p, w.v}, Accel: [3]float64{u.va, l.pa, w.va},
		Storage: [2]float64{nan, nan}, Broken: [2]bool{u.cut, w.cut}, Busy: l.run.crew.busy, Held: len(l.scrap.spans) + len(l.splices), Events: l.run.events}
	if u.zero() {
		x.Storage[0] = u.M
	}
	if w.kind.Stores() {
		x.Storage[1] = l.spec.Rewind.Storage.Capacity - w.M
	}
	return x
}
