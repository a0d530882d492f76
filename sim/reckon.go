package sim

import (
	"math"

	"rollchange/model"
)

// Reckoning reckons the chance that a storage runs out from recorded cycles, at the
// capacity that they were recorded at and at others. At its own it is what the
// replication itself reckoned and counted. At another the motion of the process
// and of the crew is taken to be the same but for the trips of this storage: where
// it did not trip the way of the process is known, where it did the process is
// taken to go on as it was until something else would have stopped it.
type Reckoning struct {
	which   int
	d       float64 // m/s2, of the line
	path    float64 // m, from the splice point to the process
	success float64
	laws    laws
	longest float64 // s, a dwell: one that is longer has a chance below barely

	levels
	lastX, lastS float64 // a chance that was just reckoned, of most
	lastAfter    float64 // s, what was just left of a dwell; NaN: that decided nothing

	of []*Reckoning // of a line with orders, by product
}

// own is the same for another goroutine.
func (k *Reckoning) own() *Reckoning {
	x := *k
	x.of = nil
	for _, p := range k.of {
		x.of = append(x.of, p.own())
	}
	return &x
}

// product is the reckoning of the changes of a product.
func (k *Reckoning) product(i int) *Reckoning {
	if k.of == nil {
		return k
	}
	return k.of[i]
}

// levels are those of a storage, as margins.
type levels struct {
	run, reserve, slow float64 // m
	slows              bool
	slowSpeed          float64 // m/s
}

// levelsOf are those of the storage of a station.
func levelsOf(l *model.Line, which int) levels {
	x, run, slow := &l.Unwind.Storage, l.Unwind.Storage.RunLevel, l.Unwind.Storage.SlowLevel
	if which == 1 {
		x = &l.Rewind.Storage
		run, slow = x.Capacity-x.RunLevel, x.Capacity-x.SlowLevel
	}
	return levels{run, x.Reserve, slow, x.Slow, x.SlowSpeed}
}

// ReckoningOf prepares to reckon with cycles of the unwind, 0, or the rewind, 1, of a
// line; a Reckoning is for one goroutine.
func ReckoningOf(l *model.Line, which int) *Reckoning {
	k := &Reckoning{which: which, d: l.Process.Decel, path: l.Process.Path, success: l.Unwind.SpliceSuccess, levels: levelsOf(l, which), lastX: nan}
	k.laws = lawsAlone(l.Unwind.Dwell, l.Unwind.Recover)
	if which == 1 {
		k.success, k.laws = l.Rewind.TransferSuccess, lawsAlone(l.Rewind.Dwell, l.Rewind.Recover)
	}
	k.longest = model.UpperQuantile(k.laws.dwell, barely)
	for i := range l.Products {
		if l.Orders != nil {
			k.of = append(k.of, ReckoningOf(l.Products[i].Line, which))
			k.longest = max(k.longest, k.of[i].longest)
		}
	}
	return k
}

// barely is the chance of a dwell that is so long that the process after it is not
// looked at: far below any target.
const barely = 1e-30

// At is what the changes of a replication come to with the storage of a line that
// is the recorded one but for the levels of this storage: the figures of the
// metrics of all changes and of those that do not fail.
func (k *Reckoning) At(now *model.Line, lines []*Cycles) (whole, notFailed figure) {
	lv := levelsOf(now, k.which)
	room := lv.run - lv.reserve
	var sum, exposed parts
	for _, c := range lines {
		whole.Den += c.made
		e := c.exposed
		if c.none == nil {
			e = c.exposures()
		}
		exposed.failed += e.failed
		exposed.usual += e.usual
		for i := range c.list {
			if c.none != nil && room >= c.none[i] {
				continue
			}
			x := &c.list[i]
			of, path := k.product(x.product), c.path[x.first:x.first+x.turns]
			p := of.chance(x, path, &lv).plus(x.off)
			if c.none != nil && p == (parts{}) && x.off == p && !lv.slows && of.nothingMore(x, path) {
				c.none[i] = room
				continue
			}
			sum.failed += x.n * p.failed
			sum.usual += x.n * p.usual
			sum.countedFailed += x.n * p.countedFailed
			sum.counted += x.n * p.counted
		}
	}
	notFailed = figure{Num: sum.usual, Den: whole.Den, Counted: sum.counted, Exposed: exposed.usual}
	whole.Num, whole.Counted, whole.Exposed = sum.usual+sum.failed, sum.counted+sum.countedFailed, exposed.usual+exposed.failed
	return whole, notFailed
}

// nothingMore says of a change that just came to nothing that it does with more room too.
// That hangs on the room alone, and what is left of the dwell mostly grows with it. Where
// the process slows on the way, which may come before the trip or not, it falls at that
// place by no more than the ramps of process and station take.
func (k *Reckoning) nothingMore(x *cycleRecord, path []turn) bool {
	if x.is&(cycleReckoned|cycleEarly|cycleCounted) == 0 {
		return true
	}
	if x.motion.p <= 0 || x.motion.pa < 0 || x.is.has(cycleArrives) {
		return false
	}
	fastest, steepest, slows := x.motion.p, x.motion.pa, false
	for _, t := range path {
		fastest, steepest, slows = max(fastest, t.p), max(steepest, t.pa), slows || t.pa < 0
	}
	return !slows || k.lastAfter > k.longest+4*(1+steepest/k.d)*fastest/x.accel
}

// parts of a chance: by failed changes and by all else, and what of each only
// counting can tell of.
type parts struct{ failed, usual, countedFailed, counted float64 }

// beyondRounding is a chance without the parts of it that are no more than rounding.
func (p parts) beyondRounding() parts {
	beyond := func(x float64) float64 {
		if math.Abs(x) < 1e-9 {
			return 0
		}
		return x
	}
	return parts{beyond(p.failed), beyond(p.usual), beyond(p.countedFailed), beyond(p.counted)}
}

// plus is the chance with what is off added, within 0 to 1.
func (p parts) plus(off parts) parts {
	in := func(x float64) float64 { return max(0, min(1, x)) }
	return parts{in(p.failed + off.failed), in(p.usual + off.usual), in(p.countedFailed + off.countedFailed), in(p.counted + off.counted)}
}

// only is a chance that is not from the law of the dwell.
func only(p float64, fails bool) parts {
	if fails {
		return parts{failed: p, countedFailed: p}
	}
	return parts{usual: p, counted: p}
}

// dwells is the chance s that the dwell lasts so long, of changes of which a share q
// fails and then uses the storage up for sure; odd: more than the dwell decided it.
func dwells(q, s float64, odd bool) parts {
	p := parts{failed: q, usual: (1 - q) * s}
	if odd {
		p.counted = p.usual
	}
	return p
}

// chance is that of one change, as creditFrom has it.
func (k *Reckoning) chance(x *cycleRecord, path []turn, lv *levels) parts {
	k.lastAfter = nan
	if x.is&(cycleReckoned|cycleEarly|cycleCounted) == 0 {
		return parts{}
	}
	margin := x.margin + lv.run - k.run
	if v := x.motion.p; v > 0 && margin-lv.reserve-model.StoppingLength(v, k.d) <= 0 { // it trips before the reckoning begins
		return only(1, x.is.has(cycleFailed))
	}
	if x.is.has(cycleCounted) {
		return parts{}
	}
	r := k.foreseen(x, path, margin, lv)
	if x.is.has(cycleEarly) && r.end <= x.begun {
		return only(1, x.is.has(cycleFailed))
	}
	latest, _ := r.latest(k.d)
	after0 := latest - x.begun
	k.lastAfter = after0
	sure := !x.is.has(cycleByHand) && after0 <= k.laws.handLeast
	if x.is.has(cycleFailed) && !sure {
		h := k.laws.hand
		return only(after(h.SurvivalFrom(latest-x.hands), max(0, h.SurvivalFrom(max(0, -x.hands)))), true)
	}
	if after0 > k.longest && !sure {
		return parts{}
	}
	if !(math.Abs(k.lastX-after0) <= 1e-9) {
		k.lastX, k.lastS = after0, k.laws.lasts(after0)
	}
	s := k.lastS
	if e := -x.begun; e > 0 {
		s = after(s, k.laws.lasts(e))
	}
	if s < barely {
		s = 0
	}
	q := 0.0
	if sure {
		q = 1 - k.success
	}
	return dwells(q, s, x.is.has(cycleOdd))
}

// foreseen is what of a change the chance is reckoned from, with so much margin.
func (k *Reckoning) foreseen(x *cycleRecord, path []turn, margin float64, lv *levels) risk {
	r := risk{end: never, accel: x.accel, slowed: never, v: x.motion.p}
	at, M := x.motion, margin
	for i := 0; ; i++ {
		if lv.slows {
			seconds, v := lv.downAt(M, at.p, k.d)
			r.end, r.v = at.t+seconds, v
		} else {
			r.end, r.v, r.pa, r.level = k.falls(at, M, lv.reserve)
		}
		if i == len(path) || r.end <= path[i].t {
			path = path[i:]
			break
		}
		if lv.slows && path[i].pa < 0 {
			r.end = never // the process stops first
			return r
		}
		at, M = path[i], margin-path[i].way
	}
	if r.end > x.cut && r.end > x.stop {
		r.end = never
		return r
	}
	for _, t := range path {
		if t.pa < 0 {
			r.slowed = t.t
			break
		}
	}
	if x.cut < never {
		r.slowed = min(r.slowed, x.stop)
		if x.is.has(cycleArrives) && r.v > 0 {
			way := lv.reserve + k.path
			if x.is.has(cycleParts) {
				way += model.StoppingLength(r.v, k.d)
			}
			r.slowed = min(r.slowed, r.end+way/r.v)
		}
	}
	return r
}

// falls is when the interlock trips if the station stands on, with the process in
// this motion and so much margin, and the motion of the process then.
func (k *Reckoning) falls(at turn, M, reserve float64) (end, v, pa, level float64) {
	g := M - reserve - model.StoppingLength(at.p, k.d)
	var x float64
	if at.pa == 0 && at.p > 0 {
		x = max(0, g) / at.p
	} else {
		x = fallsTo(g, -at.p-at.p*at.pa/k.d, -at.pa/2-at.pa*at.pa/(2*k.d), -at.p, -at.pa)
	}
	end, v, level = at.t+x, at.p, at.t
	if at.pa > 0 && x < never {
		v, pa, level = at.p+at.pa*x, at.pa, at.level
	}
	return end, v, pa, level
}
