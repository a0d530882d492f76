package model

import (
	"math"
	"strings"

	"rollchange/model/legible"
	"rollchange/model/portable"
)

// crewLoad is an estimate of the share of their time that the operators are
// wanted, from the mean work of each cause. Work that the line stands for makes
// the line slower, other work does not: with t the time that a metre takes, its
// stops in it, and w the operator seconds that it asks for, the load is w/t over
// the operators. At or above 1 the crew cannot keep up.
func crewLoad(l *Line) float64 {
	if l.Crew.Operators == 0 {
		return 0
	}
	return workLoad(l, func(NamedWork) bool { return true }) / l.Crew.Present()
}

// groupLoad is crewLoad of one group: the work that no other group does over the
// time that its operators are on.
func groupLoad(l *Line, group int) float64 {
	g := &l.Crew.Groups[group]
	own := func(w NamedWork) bool {
		for i := range l.Crew.Groups {
			if l.Crew.Groups[i].Does(w.Work, w.Name) != (i == group) {
				return false
			}
		}
		return true
	}
	return workLoad(l, own) / (float64(g.Operators) * shareOfWeek(l.Crew.On(g)))
}

// workLoad is how many operators are wanted in the mean for some of the work.
func workLoad(l *Line, counts func(NamedWork) bool) float64 {
	p := &l.Process
	react := l.Crew.Reaction.Mean()
	var work, stops float64 // operator seconds a metre; seconds a metre that the line stands
	loss := rampLoss(p.Speed, p.Decel, p.Accel)
	add := func(w Work, name string, perMetre, takes float64, stands bool) {
		if counts(NamedWork{w, name}) {
			work += perMetre * (react + takes)
		}
		if stands {
			stops += perMetre * (react + takes + loss)
		}
	}
	u, w := &l.Unwind, &l.Rewind
	rolls := 1 / u.Roll.Mean(l.Web)
	if u.Change == Manual {
		add(UnwindChanges, "", rolls, u.ChangeTime.Mean(), true)
	} else {
		add(PreparingRolls, "", rolls, u.Load.Mean()+u.Prepare.Mean(), false)
		add(SplicesByHand, "", rolls*(1-u.SpliceSuccess), u.Recover.Mean(), false)
	}
	finished := 0.0 // rolls a metre
	if w.Change != None {
		if finished = 1 / w.Roll.Mean(l.Web); finished == 0 {
			finished = rolls
		}
		if w.Change == Manual {
			add(RewindChanges, "", finished, w.ChangeTime.Mean(), true)
		} else {
			add(PreparingCores, "", finished, w.Doff.Mean()+w.LoadCore.Mean(), false)
			add(TransfersByHand, "", finished*(1-w.TransferSuccess), w.Recover.Mean(), false)
		}
		if w.Pack.Given() {
			add(Packing, "", finished*float64(w.LaneCount()), w.Pack.Mean(), false)
		}
	}
	if b := l.WebBreaks; b != nil && b.MeanLength > 0 {
		add(MendingBreaks, "", portable.Pow(p.Speed/b.AtSpeed, b.Exponent)/b.MeanLength, b.Repair.Mean(), true)
	}
	if j := l.Jobs; j != nil && j.Length.Mean() > 0 {
		add(Changeovers, "", 1/j.Length.Mean(), j.Changeover.Mean(), true)
	}
	byTime := 0.0 // operator seconds a second
	for _, s := range l.Stops {
		switch every := s.Every.Mean(); {
		case every <= 0:
		case !s.NeedsOperator:
			stops += (s.Repair.Mean() + loss) / (every * p.Speed)
		case s.Calendar && !counts(NamedWork{Repairs, s.Name}):
		case s.Calendar:
			byTime += (react + s.Repair.Mean()) / every
		default:
			add(Repairs, s.Name, 1/(every*p.Speed), s.Repair.Mean(), true)
		}
	}
	lines := float64(max(1, l.Crew.Lines))
	shared := 0.0
	for _, d := range l.Crew.Duties {
		switch {
		case d.PerRoll > 0:
			add(Duties, d.Name, finished*float64(w.LaneCount())/float64(d.PerRoll), d.Takes.Mean(), false)
		case d.Every.Mean() > 0 && counts(NamedWork{Duties, d.Name}):
			shared += (react + d.Takes.Mean()) / d.Every.Mean()
		}
	}
	return (work/(1/p.Speed+stops)+byTime)*lines + shared
}

// groupCautions are what a person should know of the groups of a crew: work that a
// group has no time for, and work that a line stands for while nobody is there.
func groupCautions(l *Line, add func(caution)) {
	for i := range l.Crew.Groups {
		if load := groupLoad(l, i); load > 1 {
			name := legible.Line(l.Crew.Groups[i].Name)
			add(cautionOf(name, load, "%s has work that no other group does for about %.0f %% of its time: it cannot keep up", name, 100*load))
		}
	}
	var off []float64 // how long, each once
	waits := map[float64][]string{}
	for _, w := range TasksOf(l) {
		if t := l.Crew.LongestOff(w); len(l.Crew.Groups) > 0 && w.Stands() && t > 0 && !math.IsInf(t, 1) {
			if waits[t] == nil {
				off = append(off, t)
			}
			waits[t] = append(waits[t], legible.Line(w.String()))
		}
	}
	for _, t := range off {
		tasks := strings.Join(waits[t], " or ")
		add(cautionOf(tasks, t, "nobody who does %s is there for up to %.3g h at a stretch: a line can stand for it so long", tasks, t/3600))
	}
}
