package sim

import (
	"math"

	"rollchange/model"
)

// roll is the roll on a station, and the change that will end it.
type roll struct {
	from, end   float64 // in S; end is the true end of a parent roll
	target      float64 // in S, where it is to be changed
	lateBy      float64 // m, how much further while the next is not ready
	dwell       float64 // s, drawn with the roll, as are the next three
	success     float64
	scrapLength float64
	willPart    bool
	ready       bool // the next roll or core is armed
	late        bool // the trigger has passed and it was not
	counted     bool // this change has been counted as not ready
	changing    bool // a hold for the change is on, or a run-out is being mended
	called      bool // the operator for a manual change
	mended      bool // the run-out is mended, the next roll not armed yet
	ranOut      bool
	failed      bool
}

// newParentRoll replaces the roll on the unwind where its web is now.
func (st *station) newParentRoll() {
	l := st.l
	st.end = max(st.end, st.S) // a rest of less than -1 mm is a run-out; up to there the roll was just long enough
	l.tally.residual.add(st.end - st.S)
	l.tally.mounted.add(st.end - st.from)
	st.joinParentRoll(OfItself)
	if st.kind.Ahead() {
		l.run.crew.call(l, st.tArm, 0)
	}
}

// joinParentRoll begins the next roll and sends its splice on its way.
func (st *station) joinParentRoll(why Cause) {
	l := st.l
	at, parts, scrapLength := l.P+st.M+l.spec.Process.Path, st.willPart, st.scrapLength
	st.startParentRoll(st.S)
	if !st.zero() && st.M < 0 {
		// The tail ran into the line: the new web is threaded up to where it
		// stopped. A roll shorter than that is taken to be just long enough.
		st.moveTo(st.S - st.M)
		st.M = 0
		st.end = max(st.end, st.S)
	}
	l.newSplice(at, parts, scrapLength)
	l.logNote(note{of: OfUnwind, event: NewRoll, cause: why})
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
	length, part := st.l.partRoll()
	if !part {
		length = st.drawLength(&u.Roll)
	}
	st.from, st.end = at, at+length
	st.target = st.end - st.err.draw() - u.Residual
	st.lateBy = u.Residual - u.ResidualLeast
	if st.kind == model.Flying {
		st.lateBy = 0
	}
	st.willPart = st.partings.chance() < st.breakShare
	st.drawChange()
}

// returnRoll takes a part roll off at a changeover, back to stock, and joins a
// new one. The roll that is prepared for the next change stays as it is. The
// join is no splice.
func (st *station) returnRoll() {
	l := st.l
	st.sync()
	l.run.crew.cancel(l, st.tChange)
	l.run.crew.cancel(l, st.tJoin)
	st.end = max(st.end, st.S)
	l.tally.returned.add(st.end - st.S)
	l.tally.mounted.add(st.end - st.from)
	st.counted, st.failed, st.ranOut = false, false, false // of a splice that is not made
	ready := st.ready
	st.joinParentRoll(WithNewOrder)
	st.ready = ready
	st.touch()
}

// newFinishedRoll closes the roll on the rewind and starts the next.
func (st *station) newFinishedRoll() {
	l := st.l
	to := st.closeFinishedRoll(l.spec.Rewind.MinLength)
	l.scrap.claim(to, to+st.scrapLength, wTransfer)
	st.startFinishedRoll(st.S)
	if st.kind.Ahead() {
		l.run.crew.call(l, st.tArm, 0)
	}
	l.run.crew.setFinished(l)
}

// closeFinishedRoll ends the roll on the rewind where it is, and returns that place
// in processed length. A roll shorter than least is rejected.
func (st *station) closeFinishedRoll(least float64) float64 {
	l := st.l
	r := &l.spec.Rewind
	to := l.woundAt(st.S)
	l.retire()
	splices := l.closeRoll(to)
	l.tally.finishedLength.add(st.S - st.from)
	rejected := st.S-st.from < least-1e-6 || (r.MaxSplices >= 0 && splices > r.MaxSplices)
	l.scrap.endRoll(to, rejected)
	if rejected {
		l.log(OfRewind, RollRejected)
	} else {
		l.tally.finished++
		if splices == 0 {
			l.tally.unspliced++
		}
		l.log(OfRewind, RollFinished)
	}
	return to
}

// wind counts the splices that are wound up to the place on the web.
func (l *line) wind(to float64) {
	for ; l.atRewind < len(l.splices) && l.splices[l.atRewind].at <= to; l.atRewind++ {
		l.rollSplices++
	}
}

func (st *station) startFinishedRoll(at float64) {
	st.from = at
	r := &st.l.spec.Rewind
	st.end = at + st.drawLength(&r.Roll)
	st.lateBy = r.Overrun
	st.drawChange()
	st.aim()
}

// aim finds where the finished roll ends: at its length or at the next splice.
func (st *station) aim() {
	l := st.l
	trigger := l.spec.Rewind.Trigger
	st.target = st.end
	if trigger == model.ByLength {
		return
	}
	if trigger == model.BySplice {
		st.target = math.Inf(1)
	}
	if l.atRewind < len(l.splices) {
		// Where the web stood at the splice, as in a change by hand, it may lie just
		// there: the last digit is not to say whether the web has to move first. Half
		// of near, so that it is at the process (near) before the web rests.
		st.target = min(st.target, l.splices[l.atRewind].at+st.content0-near/2)
	}
	st.touch()
}

// spliceAhead aims anew when a splice is on its way, unless the change has begun.
func (st *station) spliceAhead() {
	if st.kind == model.None || st.l.spec.Rewind.Trigger == model.ByLength {
		return
	}
	if st.sync(); st.late || st.changing || st.mode == down || st.mode == rest {
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
	st.success = st.successes.chance()
	st.scrapLength = st.scraps.draw()
	st.touch()
}

// torqueLimit is the ramp in m/s2 at the surface that the spindle torque gives
// a roll with so much web left, +Inf where it does not limit the ramps of the line.
func (st *station) torqueLimit(left float64) float64 {
	spec := st.l.spec
	if st.which == 1 || spec.Unwind.SpindleTorque == 0 || left <= st.torqueFree {
		return math.Inf(1)
	}
	if left != st.torqueLeft { // a change asks several times
		st.torqueLeft, st.torqueRamp = left, model.RollOf(left, spec.Web, spec.Unwind.Roll.Core).RampLimit(spec.Unwind.SpindleTorque)
		if st.torqueRamp >= max(st.acc, st.dec) { // a smaller roll takes less torque
			st.torqueFree = left
		}
	}
	return st.torqueRamp
}
