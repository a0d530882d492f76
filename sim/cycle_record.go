package sim

import (
	"math"
)

// Cycles are the changes of one station out of its storage, of all lines of a
// replication, with what the chance of each that the storage runs out is reckoned
// from (risk.go). They are kept only where they are asked for, Replication.Cycles.
// The length of the dwell, and so the capacity, changes nothing in the speed of the
// process until the interlock trips; so the same cycles tell the chance at another
// capacity (Reckoning).
//
// Changes that are alike to a nanosecond and a micrometre are kept once.
type Cycles struct {
	made float64
	list []cycleRecord
	path []turn

	// Of condensed ones, which are for one goroutine:
	none    []float64 // m, of each: with so much room and more it adds nothing, as far as one looked
	exposed parts     // how many changes are exposed
}

// cycleRecord is a change, or several alike. Times are counted from where the
// reckoning began.
type cycleRecord struct {
	n       float64 // changes
	begun   float64 // s, the dwell had begun: 0 or before, or after a trip in the wait
	hands   float64 // s, the work by hand began; +Inf: never
	margin  float64 // m, of the storage
	accel   float64 // m/s2, of the ramp after the change
	cut     float64 // s, from then on the motion is the doing of this storage; +Inf: never
	stop    float64 // s, something else would slow the process after that; +Inf: not foreseen
	off     parts   // what the replication added less what is reckoned from the above: 0 but for rounding in most
	motion  turn    // of the process, as the reckoning begins
	first   int     // its turns in path
	turns   int
	product int // that the line made
	is      cycleKind
	exposed bool // more than the dwell decided it
}

// cycleKind is what a change was like.
type cycleKind uint8

const (
	cycleReckoned cycleKind = 1 << iota // from the law of the dwell
	cycleEarly                          // the interlock tripped before the dwell began
	cycleFailed                         // the change failed
	cycleByHand                         // reckoned from within the work by hand
	cycleOdd                            // waited, begun before the refill, or set back to the count
	cycleArrives                        // the splice stops the process when it gets there
	cycleParts                          // it parts there
	cycleCounted                        // only counted, and the interlock did not trip: margin is the least there was
)

func (k cycleKind) has(x cycleKind) bool { return k&x != 0 }

// turn is the motion of the process from some time on.
type turn struct {
	t, way float64 // s and m, from where the reckoning began
	p, pa  float64 // m/s, m/s2
	level  float64 // s, the ramp ends then
}

// recorder keeps the cycles of a station.
type recorder struct {
	to    *Cycles
	now   cycleRecord
	began bool    // the reckoning has
	dwelt bool    // the dwell has begun
	trip  bool    // the interlock has tripped
	made  bool    // the change was made, and it counts
	from  float64 // s
	P     float64 // m, of the process then
	reach float64 // m, further than this the way of the process is not kept
	last  float64 // s, a dwell that began with the reckoning is over by then
	plain int     // place of the last change without turns, plus 1; 0: there is none

	product int // that the line makes

	added parts // what the replication has added for the change
	own   *Reckoning
}

// recordedReach is how many times the room of the storage the way of the process is
// kept beyond its margin: a capacity four times as large still finds it.
const recordedReach = 3

// recordCycles asks for the changes of all stations with a storage.
func (s *run) recordCycles() {
	for i := range s.lines {
		for k := range s.lines[i].side {
			if st := &s.lines[i].side[k]; st.zero() {
				own := s.prepared.reckoning(k)
				most := s.prepared.kept[k].Load()
				st.record = &recorder{to: &Cycles{list: make([]cycleRecord, 0, most+most/8)}, own: own, last: own.longest + 2*st.longestRamps(), product: st.l.order.at.product}
				st.record.open()
			}
		}
	}
}

// longestRamps is how long the station takes to speed up and the line to stop, s: the
// change is made before the interlock trips.
func (st *station) longestRamps() float64 {
	p := &st.l.spec.Process
	most := p.Speed/st.acc + p.Speed/p.Decel
	for i := range st.l.wardrobe.outfits {
		o := &st.l.wardrobe.outfits[i]
		most = max(most, o.spec.Process.Speed/o.side[st.which].acc+o.spec.Process.Speed/o.spec.Process.Decel)
	}
	return most
}

// cycles are the changes of a run at its horizon, by line.
func (s *run) cycles() (c [2][]*Cycles) {
	for i := range s.lines {
		for k := range s.lines[i].side {
			if st := &s.lines[i].side[k]; st.record != nil {
				st.record.close(st)
				s.prepared.kept[k].Store(int64(len(st.record.to.list)))
				c[k] = append(c[k], st.record.to)
			}
		}
	}
	return c
}

// open begins the record of a change.
func (x *recorder) open() {
	first := x.now.first
	x.to.path = x.to.path[:first]
	x.began, x.dwelt, x.trip, x.made, x.added = false, false, false, false, parts{}
	x.now = cycleRecord{n: 1, product: x.product, first: first, hands: never, cut: never, stop: never}
}

// begin is where the reckoning begins: in the dwell, in the work by hand, or at
// a trip before them.
func (x *recorder) begin(st *station, margin float64) {
	l := st.l
	x.began, x.from, x.P, x.reach = true, st.at, st.P, margin+recordedReach*st.runM
	x.to.path = x.to.path[:x.now.first]
	x.now.turns, x.now.margin, x.now.cut, x.now.stop = 0, margin, never, never
	x.now.motion = l.turned(x.from)
	x.now.motion.t = 0 // the process may be looked at later, in the same motion
}

// turned is the motion of the process from now on, the time counted from some time.
func (l *line) turned(from float64) turn {
	t := turn{t: l.now - from, p: l.p, pa: l.pa}
	if l.pa != 0 {
		t.level = l.slots[slotRamp] - from
	}
	return t
}

// turns is a change of the motion of the process.
func (x *recorder) turns(st *station) {
	if !x.began || x.now.cut < never || !st.risk.fails && st.l.now-x.from > x.last {
		return
	}
	l := st.l
	way := l.P - x.P
	if way > x.reach {
		return
	}
	t := l.turned(x.from)
	t.way = way
	x.to.path = append(x.to.path, t)
	x.now.turns++
}

// cuts says that the motion from now on is the doing of this storage.
func (x *recorder) cuts(st *station) {
	if x.began && x.now.cut == never {
		x.now.cut, x.now.stop = st.at-x.from, st.l.slowedBy(1-st.which)-x.from
	}
}

// trips is the interlock, the first time in a cycle.
func (x *recorder) trips(st *station) {
	x.trip = true
	if !x.began && !x.dwelt && !st.joined {
		x.begin(st, st.M)
		x.now.is |= cycleEarly
	}
	x.cuts(st)
}

// makes is the moment of the change. A roll that runs out in a cycle that is still
// open makes a second change in it.
func (x *recorder) makes(st *station) {
	if x.made {
		x.close(st)
		x.open()
	}
	r := &st.risk
	x.made = r.counts
	x.now.exposed, x.now.accel = r.odd() || !r.live, st.accelNow()
	if r.live {
		x.now.is |= cycleReckoned
	}
}

// adds is what the replication adds for the change.
func (x *recorder) adds(p parts) {
	x.added.failed += p.failed
	x.added.usual += p.usual
	x.added.countedFailed += p.countedFailed
	x.added.counted += p.counted
}

// close keeps the change that was made, if it counts.
func (x *recorder) close(st *station) {
	if !x.made {
		return
	}
	x.to.made++
	c := &x.now
	x.tells(st, c)
	if c.is&(cycleReckoned|cycleEarly) == 0 {
		c.turns, x.to.path = 0, x.to.path[:c.first]
		if !x.trip {
			c.is |= cycleCounted
			c.margin, c.motion = st.least, turn{p: st.l.spec.Process.Speed}
		}
	}
	own := x.own.product(c.product)
	if m := &st.laws.memo[0]; m.known { // most have just been reckoned
		own.lastX, own.lastS = m.x, m.dwell
	}
	p := own.chance(c, x.to.path[c.first:], &own.levels)
	c.off = parts{x.added.failed - p.failed, x.added.usual - p.usual, x.added.countedFailed - p.countedFailed, x.added.counted - p.counted}.beyondRounding()
	if x.plain > 0 && c.like(&x.to.list[x.plain-1]) {
		x.to.list[x.plain-1].n++
		return
	}
	x.to.list = append(x.to.list, *c)
	if c.turns == 0 {
		x.plain = len(x.to.list)
	}
	c.first, c.turns = len(x.to.path), 0
}

// tells puts down what the chance of the change is reckoned from.
func (x *recorder) tells(st *station, c *cycleRecord) {
	r := &st.risk
	if !x.began || !x.dwelt {
		c.is &^= cycleReckoned | cycleEarly
	}
	if r.fails {
		c.is |= cycleFailed
	}
	if c.is&(cycleReckoned|cycleEarly) == 0 {
		return
	}
	c.begun = r.begun - x.from
	if r.fails {
		c.hands = r.hands - x.from
	}
	if r.hand {
		c.is |= cycleByHand
	}
	if r.odds() {
		c.is |= cycleOdd
	}
	if st.arrives() {
		c.is |= cycleArrives
	}
	if r.parts {
		c.is |= cycleParts
	}
}

// like says that two changes have the same chance at every capacity.
func (c *cycleRecord) like(d *cycleRecord) bool {
	near := func(a, b, by float64) bool { return a == b || math.Abs(a-b) < by }
	return c.turns == 0 && d.turns == 0 && c.product == d.product && c.is == d.is && c.exposed == d.exposed && c.off == d.off &&
		near(c.begun, d.begun, 1e-9) && near(c.hands, d.hands, 1e-9) && near(c.margin, d.margin, 1e-6) && near(c.accel, d.accel, 1e-9) &&
		near(c.cut, d.cut, 1e-9) && near(c.stop, d.stop, 1e-9) && c.motion == d.motion
}
