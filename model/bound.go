package model

import (
	"cmp"
	"math"
	"slices"
)

// Ceiling is an upper bound on the web that a line can process in the long run,
// m/s, in closed form from means. Within a horizon only the cycles that its
// ends cut, and chance, can put a simulation above it.
//
// Each cause of a stop that a length L of web must bring costs at least the
// work T s at rest, the wait for an operator who is called when the ramp
// begins, and the ramps. To ramp down from v to rest and up again loses
//
//	(v/2) (1/decel + 1/accel)  s
//
// against running on; it is counted for the share of cycles that have room for
// both ramps. Less room loses less, so the others are counted without. Other
// stops within a cycle lose more, never less, since the least time over a
// length from rest to rest is concave in the length (TestRestToRest).
//
// Two causes may share one rest, so their losses do not add up in full. But no
// rest holds the same cause twice: a change by hand ten times an order is made
// nine times or more in rests without a changeover. With the causes in order of
// their rest T, each counts at T for as many as it comes more often than every
// cause before it. What adds up besides is the work of the operators: at rest N
// of them do at most N seconds of it a second, and so they do over the whole time. A station that changes out of
// storage takes, for one roll, at least its dwell and the roll at its top
// speed, and at least the preparation of the next roll and the dwell. The
// bound is the strictest of these. Web breaks and [[stop]]s are left out.
func Ceiling(l *Line) float64 {
	if l.Orders != nil { // it hangs on what is ordered
		return math.NaN()
	}
	b := ceiling{l: l, react: l.Crew.Reaction.Mean()}
	b.unwind()
	b.rewind()
	if j := l.Jobs; j != nil {
		b.stop(j.Length.Mean(), j.Length.SurvivalFrom(b.ramps()), j.Changeover.Mean(), 0)
	}
	p := &l.Process
	operators := float64(max(1, l.Crew.Operators))
	slowest := max(b.alone, b.rampLoss+max(b.rests(), b.restWork/operators))
	slowest = max(1/p.Speed+slowest, b.station)
	slowest = max(slowest, b.work*float64(max(1, l.Crew.Lines))/operators)
	return 1 / slowest
}

// ceiling gathers what a metre of web costs at least, s/m.
type ceiling struct {
	l        *Line
	react    float64 // s
	alone    float64 // the worst single cause of stops, its ramps and rest
	rampLoss float64 // the worst single cause, its ramps
	restWork float64 // operator time at rest, all causes
	work     float64 // operator time, all causes that the line cannot go on without
	station  float64 // the slowest station
	causes   []cause // of rests
}

// cause is one that the line rests for: so many times a metre, 1/m, at least so long, s.
type cause struct{ often, rest float64 }

// rests is the rest that the causes come to at least, s/m, where they share as many
// rests as they can.
func (b *ceiling) rests() float64 {
	slices.SortFunc(b.causes, func(x, y cause) int { return cmp.Compare(y.rest, x.rest) })
	sum, most := 0.0, 0.0
	for _, c := range b.causes {
		sum += c.rest * max(0, c.often-most)
		most = max(most, c.often)
	}
	return sum
}

// ramps is the length over which the line ramps up and down, m.
func (b *ceiling) ramps() float64 {
	p := &b.l.Process
	return StoppingLength(p.Speed, p.Decel) + StoppingLength(p.Speed, p.Accel)
}

// stop counts a cause of rests: one for each length m of web, of which the
// share full has room for both ramps; work of takes s, called ahead s before
// the ramp.
func (b *ceiling) stop(length, full, takes, ahead float64) {
	if !(length > 0) || math.IsInf(length, 0) {
		return
	}
	p := &b.l.Process
	ramp := rampLoss(p.Speed, p.Decel, p.Accel) * full
	wait := 0.0
	if ahead == 0 {
		wait = max(0, b.react-StoppingTime(p.Speed, p.Decel))
	}
	b.alone = max(b.alone, (ramp+wait+takes)/length)
	b.rampLoss = max(b.rampLoss, ramp/length)
	b.causes = append(b.causes, cause{1 / length, wait + takes})
	b.restWork += takes / length
	b.work += (b.react + takes) / length
}

// change counts a change out of storage or at speed: prepare s of work before
// it, dwell s of rest of the station, whose top speed is fastest (0: no matter).
func (b *ceiling) change(length, prepare, byHand, dwell, fastest float64) {
	if !(length > 0) || math.IsInf(length, 0) {
		return
	}
	b.station = max(b.station, (b.react+prepare+dwell)/length)
	if fastest > 0 {
		b.station = max(b.station, 1/fastest+dwell/length)
	}
	b.work += (b.react + prepare + byHand) / length
}

func (b *ceiling) unwind() {
	u, web := &b.l.Unwind, b.l.Web
	mean := u.Roll.Mean(web)
	if j := b.l.Jobs; j != nil && j.NewParentRoll { // a job changes a roll too, so up to one less in each
		if often := 1/mean - 1/j.Length.Mean(); u.Change == Manual && often > 0 {
			b.stop(1/often, 0, u.ChangeTime.Mean(), u.CallAhead)
		}
		return
	}
	switch u.Change {
	case Manual:
		// A run-out uses no more than the roll; E max(0, x) is at least max(0, E x).
		left := u.Residual + u.ResidualError.Mean()
		room, full := b.ramps()+left, 0.0
		if u.ResidualError.IsConst() {
			full = u.Roll.survivalFrom(room, web)
		} else {
			// One roll in a million leaves more than this; a run-out also
			// takes its stopping length from the next roll.
			room += u.ResidualError.Quantile(1-1e-6) - u.ResidualError.Mean() + StoppingLength(b.l.Process.Speed, b.l.Process.Decel)
			full = max(0, u.Roll.survivalFrom(room, web)-1e-6)
		}
		b.stop(mean-max(0, left), full, u.ChangeTime.Mean(), u.CallAhead)
	case ZeroSpeed:
		b.change(mean, u.Load.Mean()+u.Prepare.Mean(), (1-u.SpliceSuccess)*(b.react+u.Recover.Mean()), u.Dwell.Mean(), u.MaxSpeed)
	case Flying:
		b.change(mean, u.Load.Mean()+u.Prepare.Mean(), 0, 0, 0)
	}
}

func (b *ceiling) rewind() {
	w, web := &b.l.Rewind, b.l.Web
	if w.Change == None {
		return
	}
	mean := w.Roll.Mean(web)
	if w.Trigger == BySplice { // the unwind says how often
		if u := &b.l.Unwind; w.Change == Manual && u.SpliceBreaks == 0 && (b.l.Jobs == nil || !b.l.Jobs.NewParentRoll) {
			b.stop(u.Roll.Mean(web), 0, w.ChangeTime.Mean(), w.CallAhead)
		}
		return
	}
	switch w.Change {
	case Manual:
		full := 0.0 // a splice may end a roll that has no room for the ramps
		if w.Trigger == ByLength {
			full = w.Roll.survivalFrom(b.ramps(), web)
		}
		b.stop(mean, full, w.ChangeTime.Mean(), w.CallAhead)
	case ZeroSpeed:
		b.change(mean+w.Overrun, w.Doff.Mean()+w.LoadCore.Mean(), (1-w.TransferSuccess)*(b.react+w.Recover.Mean()), w.Dwell.Mean(), w.MaxSpeed)
	case Flying:
		b.change(mean+w.Overrun, w.Doff.Mean()+w.LoadCore.Mean(), 0, 0, 0)
	}
}
