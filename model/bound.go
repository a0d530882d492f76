package model

import "math"

// Ceiling is an upper bound on the web that a line can process, m/s, in closed
// form: no stop but those that every roll or order must cost, no waiting for an
// operator who can be there in time, no chance. A simulation can only stay
// below it, but for the one part of a cycle that its horizon cuts.
//
// A roll change at rest costs, for the web L of a roll,
//
//	L/v + (v/2)(1/decel + 1/accel) + change time
//
// since the ramps lose v²/(2 a) each. Changes of unwind and rewind, and
// changeovers, may fall together; the bound takes the largest of the losses,
// each alone, not their sum.
func Ceiling(l *Line) float64 {
	p := &l.Process
	loss := p.Speed / 2 * (1/p.Decel + 1/p.Accel)
	best := p.Speed
	alone := func(length, stop float64) {
		if length > 0 && !math.IsInf(length, 0) && stop >= 0 {
			best = min(best, length/(length/p.Speed+loss+stop))
		}
	}
	// Rolls shorter than the ramps do not reach line speed: the loss is then smaller,
	// and the bound is left at line speed.
	ramps := StoppingLength(p.Speed, p.Decel) + StoppingLength(p.Speed, p.Accel)
	if l.Unwind.Change == Manual && (l.Jobs == nil || !l.Jobs.NewParentRoll) {
		if L := l.Unwind.Roll.Mean(l.Web) - l.Unwind.Residual; l.Unwind.Roll.least(l.Web)-l.Unwind.Residual > ramps && l.Unwind.ResidualError.IsConst() {
			alone(L-l.Unwind.ResidualError.Mean(), l.Unwind.ChangeTime.Mean())
		}
	}
	if w := &l.Rewind; w.Change == Manual && w.Trigger == ByLength && w.Roll.least(l.Web) > ramps {
		alone(w.Roll.Mean(l.Web), w.ChangeTime.Mean())
	}
	if j := l.Jobs; j != nil && j.Length.Min() > ramps {
		alone(j.Length.Mean(), j.Changeover.Mean())
	}
	return best
}

// least is the shortest roll of a size.
func (s RollSize) least(web Web) float64 {
	if s.ByDiameter {
		return RollLength(max(s.Core, s.Diameter.Min()), s.Core, web.Caliper)
	}
	return s.Length.Min()
}

// CrewLoad is an estimate of the share of their time that the operators are
// wanted, from the mean work of each cause at line speed. Above 1 the crew
// cannot keep up.
func CrewLoad(l *Line) float64 {
	p := &l.Process
	if l.Crew.Operators == 0 {
		return 0
	}
	react := l.Crew.Reaction.Mean()
	each := 0.0 // operator seconds a metre
	if m := l.Unwind.Roll.Mean(l.Web); m > 0 {
		u := &l.Unwind
		switch u.Change {
		case Manual:
			each += (react + u.ChangeTime.Mean()) / m
		default:
			each += (react + u.Load.Mean() + u.Prepare.Mean() + (1-u.SpliceSuccess)*(react+u.Recover.Mean())) / m
		}
	}
	finished := 0.0 // rolls a metre
	if w := &l.Rewind; w.Change != None {
		m := w.Roll.Mean(l.Web)
		if math.IsInf(m, 0) || m <= 0 {
			m = l.Unwind.Roll.Mean(l.Web)
		}
		finished = 1 / m
		if w.Change == Manual {
			each += (react + w.ChangeTime.Mean()) * finished
		} else {
			each += (react + w.Doff.Mean() + w.LoadCore.Mean() + (1-w.TransferSuccess)*(react+w.Recover.Mean())) * finished
		}
		if w.Pack.Given() {
			each += (react + w.Pack.Mean()) * finished
		}
	}
	if b := l.WebBreaks; b != nil && b.MeanLength > 0 && !math.IsInf(b.MeanLength, 0) {
		each += math.Pow(p.Speed/b.AtSpeed, b.Exponent) / b.MeanLength * (react + b.Repair.Mean())
	}
	if j := l.Jobs; j != nil && j.Length.Mean() > 0 {
		each += (react + j.Changeover.Mean()) / j.Length.Mean()
	}
	out := Ceiling(l)
	perSecond := each * out
	for _, s := range l.Stops {
		if s.NeedsOperator && s.Every.Mean() > 0 {
			perSecond += (react + s.Repair.Mean()) / s.Every.Mean()
		}
	}
	perSecond *= float64(max(1, l.Crew.Lines))
	for _, d := range l.Crew.Duties {
		switch {
		case d.PerRoll > 0:
			perSecond += (react + d.Takes.Mean()) * finished * out / float64(d.PerRoll) * float64(max(1, l.Crew.Lines))
		case d.Every.Mean() > 0:
			perSecond += (react + d.Takes.Mean()) / d.Every.Mean()
		}
	}
	return perSecond / float64(l.Crew.Operators)
}
