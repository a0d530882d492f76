package sim

import (
	"math"

	"rollchange/model"
)

// newParentRoll replaces the roll on the unwind where its web is now.
func (st *station) newParentRoll() {
	l := st.l
	st.rollEnd = max(st.rollEnd, st.S) // a rest of less than -1 mm is a run-out; up to there the roll was just long enough
	l.tally.residual.add(st.rollEnd - st.S)
	l.tally.mounted.add(st.rollEnd - st.rollStart)
	st.joinParentRoll("")
	if st.kind != model.Manual {
		l.s.crew.call(l, st.tArm, 0)
	}
}

// joinParentRoll begins the next roll and sends its splice on its way.
func (st *station) joinParentRoll(detail string) {
	l := st.l
	at, parts, scrapLength := l.P+st.M+l.spec.Process.Path, st.parts, st.scrapLength
	st.startParentRoll(st.S)
	if !st.zero() && st.M < 0 {
		// The tail ran into the line: the new web is threaded up to where it
		// stopped. A roll shorter than that is taken to be just long enough.
		st.moveTo(st.S - st.M)
		st.M = 0
		st.rollEnd = max(st.rollEnd, st.S)
	}
	l.newSplice(at, parts, scrapLength)
	l.log("unwind", "new roll runs", detail)
}

// drawLength draws the length of the next roll of a size, m.
func (st *station) drawLength(size *model.RollSize) float64 {
	x := st.length.draw()
	if size.ByDiameter {
		return model.RollLength(x, size.Core, st.l.spec.Web.Caliper)
	}
	return x
}

// startParentRoll begins a roll at S. All that chance says of the roll and of
// the change that ends it is drawn here.
func (st *station) startParentRoll(at float64) {
	u := &st.l.spec.Unwind
	st.rollStart, st.rollEnd = at, at+st.drawLength(&u.Roll)
	st.target = st.rollEnd - st.err.draw() - u.Residual
	st.lateBy = u.Residual - u.ResidualLeast
	if st.kind == model.Flying {
		st.lateBy = 0
	}
	st.parts = st.partings.draw() < st.breakShare
	st.drawChange()
}

// returnRoll takes a part roll off at a changeover, back to stock, and joins a
// new one. The roll that is prepared for the next change stays as it is.
func (st *station) returnRoll() {
	l := st.l
	l.s.crew.cancel(l, st.tChange)
	l.s.crew.cancel(l, st.tJoin)
	st.rollEnd = max(st.rollEnd, st.S)
	l.tally.returned.add(st.rollEnd - st.S)
	l.tally.mounted.add(st.rollEnd - st.rollStart)
	st.counted, st.failed, st.runOut = false, false, false // of a splice that is not made
	ready := st.ready
	st.joinParentRoll("with the new order")
	st.ready = ready
	st.touch()
}

// newFinishedRoll closes the roll on the rewind and starts the next.
func (st *station) newFinishedRoll() {
	l := st.l
	r := &l.spec.Rewind
	to := l.woundAt(st.S)
	l.wind(to + 1e-3)
	splices := l.rollSplices
	l.rollSplices = 0
	l.tally.finishedLength.add(st.S - st.rollStart)
	rejected := st.S-st.rollStart < r.MinLength-1e-6 || (r.MaxSplices >= 0 && splices > r.MaxSplices)
	l.scrap.endRoll(to, rejected)
	if rejected {
		l.log("rewind", "roll rejected", "")
	} else {
		l.tally.finished++
		l.log("rewind", "roll finished", "")
	}
	l.scrap.claim(to, to+st.scrapLength, wTransfer)
	st.startFinishedRoll(st.S)
	if st.kind != model.Manual {
		l.s.crew.call(l, st.tArm, 0)
	}
	l.s.crew.rollFinished(l)
}

// wind counts the splices that are wound up to the place on the web.
func (l *line) wind(to float64) {
	for ; l.atRewind < len(l.splices) && l.splices[l.atRewind].at <= to; l.atRewind++ {
		l.rollSplices++
	}
}

func (st *station) startFinishedRoll(at float64) {
	st.rollStart = at
	r := &st.l.spec.Rewind
	st.rollEnd = at + st.drawLength(&r.Roll)
	st.lateBy = r.Overrun
	st.drawChange()
	st.aim()
}

// aim finds where the finished roll ends: at its length or at the next splice.
func (st *station) aim() {
	l := st.l
	trigger := l.spec.Rewind.Trigger
	st.target = st.rollEnd
	if trigger == model.ByLength {
		return
	}
	if trigger == model.BySplice {
		st.target = math.Inf(1)
	}
	if l.atRewind < len(l.splices) {
		st.target = min(st.target, l.splices[l.atRewind].at+st.start)
	}
	st.touch()
}

// spliceAhead aims anew when a splice is on its way, unless the change has begun.
func (st *station) spliceAhead() {
	if st.kind == model.None || st.late || st.changing || st.mode == down || st.mode == rest {
		return
	}
	st.aim()
}

// drawChange draws what chance says of the change that will end the roll.
func (st *station) drawChange() {
	st.ready, st.late, st.changing, st.called, st.mended = false, false, false, false, false
	if st.mode == gone {
		st.mode = locked
		st.follow()
	}
	st.dwell = st.dwells.draw()
	st.success = st.successes.draw()
	st.scrapLength = st.scraps.draw()
	st.touch()
}

// decelNow and accelNow are the ramps of the station, limited by the torque of
// the spindle for the roll as it is now.
func (st *station) decelNow() float64 { return min(st.dec, st.torqueLimit(st.rollEnd-st.S)) }
func (st *station) accelNow() float64 { return min(st.acc, st.torqueLimit(st.rollEnd-st.S)) }

// torqueLimit is the ramp in m/s2 at the surface that the spindle torque gives
// a roll with so much web left, +Inf when nothing limits it.
func (st *station) torqueLimit(left float64) float64 {
	spec := st.l.spec
	if st.which == 1 || spec.Unwind.SpindleTorque == 0 || left <= 0 {
		return math.Inf(1)
	}
	return model.RollOf(left, spec.Web, spec.Unwind.Roll.Core).RampLimit(spec.Unwind.SpindleTorque)
}
