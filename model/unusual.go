package model

import (
	"math"

	"rollchange/model/portable"
)

// Unusual holds upper bounds of the chance that a roll change is not a usual one,
// in closed form from the laws of the line: what a simulation has not seen is
// not therefore impossible, but it is no likelier than this. A bound of 1 says
// that nothing is known.
type Unusual struct {
	Late   float64 // the next roll or core is not ready in time
	Short  float64 // the change begins before the storage is at its run level
	RunOut float64 // the tail passes the splice point
	Fails  float64 // the change fails and is made by hand
}

// Any bounds the chance that a change is unusual in any way.
func (u Unusual) Any() float64 { return min(1, u.Late+u.Short+u.RunOut+u.Fails) }

// UnusualSplice bounds how a splice of the line can be unusual.
//
// A roll of at least c metres leaves the time c'/max, with c' what is left of it at
// the trigger, to prepare the next; so with an operator always free
//
//	P(late) <= P(roll < c) + P(reaction + load + prepare > c'/max),  any c
//
// and a sum of times is above t only if one of them is above its share of t.
// Likewise the storage is full again before the trigger when the web that the
// refill takes, after the longest dwell that does not trip the interlock, is no
// more than c'. The process may be slower than line speed: then there is more
// time, and the refill takes less web.
func UnusualSplice(l *Line) Unusual {
	u := &l.Unwind
	v := Unusual{Fails: 1 - u.SpliceSuccess}
	slack := u.Residual
	if e := u.ResidualError; e.Given() {
		slack += UpperQuantile(e, 1e-15)
		if least := -u.Residual - 1e-3; !(e.IsConst() && e.A >= least) {
			v.RunOut = min(1, 1-e.survival(least))
			if e.IsConst() {
				v.RunOut = 1
			}
		}
	}
	v.Late, v.Short = 1, 1
	switch {
	case u.Change == Manual:
		return Unusual{RunOut: v.RunOut}
	case l.Jobs != nil && l.Jobs.NewParentRoll || u.Storage.Slow || !freeHands(l):
		return v
	}
	fastest := l.Process.Speed
	refill := 0.0
	if u.Change == ZeroSpeed {
		fastest = u.MaxSpeed
		c := UnwindCycle(l)
		slack += StoppingLength(fastest, c.Decel)
		_, refill = c.refill(max(0, c.LongestDwell()))
	}
	times := []Dist{l.Crew.Reaction, u.Load, u.Prepare}
	v.Late, v.Short = rollBounds(u.Roll, l.Web, slack, fastest, refill, times)
	if u.Change != ZeroSpeed {
		v.Short = 0
	}
	return v
}

// UnusualTransfer bounds how a transfer can be unusual, as UnusualSplice does.
func UnusualTransfer(l *Line) Unusual {
	w := &l.Rewind
	v := Unusual{Fails: 1 - w.TransferSuccess, Late: 1, Short: 1}
	switch {
	case w.Change == Manual || w.Change == None:
		return Unusual{}
	case w.Trigger != ByLength || w.Storage.Slow || !freeHands(l):
		return v
	}
	fastest, slack, refill := l.Process.Speed, 0.0, 0.0
	if w.Change == ZeroSpeed {
		fastest = w.MaxSpeed
		c := RewindCycle(l)
		slack = StoppingLength(fastest, c.Decel)
		_, refill = c.refill(max(0, c.LongestDwell()))
	}
	v.Late, v.Short = rollBounds(w.Roll, l.Web, slack, fastest, refill, []Dist{l.Crew.Reaction, w.Doff, w.LoadCore})
	if w.Change != ZeroSpeed {
		v.Short = 0
	}
	return v
}

// rollBounds bounds the chances that preparing takes longer than a roll runs, and
// that a roll is shorter than the refill, both m past the slack at its end.
func rollBounds(size RollSize, web Web, slack, fastest, refill float64, times []Dist) (late, short float64) {
	late, short = 1, 1
	for k := 1; k <= 16; k++ {
		chance := portable.Pow(10, -float64(k))
		c := size.lowerQuantile(chance, web)
		if size.isConst() {
			chance = 0
		}
		left := c - slack
		if left <= 0 {
			continue
		}
		late = min(late, chance+sumAbove(times, left/fastest))
		if left >= refill {
			short = min(short, chance)
		}
	}
	return late, short
}

// sumAbove bounds the chance that a sum of times is above t: one of them must be
// above its share of t, here in proportion to what each exceeds once in 1e12.
func sumAbove(times []Dist, t float64) float64 {
	whole := 0.0
	for _, d := range times {
		whole += UpperQuantile(d, 1e-12)
	}
	if whole == 0 || math.IsInf(whole, 1) {
		return map[bool]float64{true: 0, false: 1}[whole == 0 && t >= 0]
	}
	p := 0.0
	for _, d := range times {
		if share := t * UpperQuantile(d, 1e-12) / whole; d.IsConst() {
			if d.Mean() > share {
				return 1
			}
		} else {
			p += d.SurvivalFrom(share)
		}
	}
	return min(1, p)
}

// freeHands says that an operator is always free for a task: there are as many as
// tasks that can be open at once, and nothing else to do.
func freeHands(l *Line) bool {
	tasks := 0
	if l.Unwind.ResidualError.Given() {
		tasks++
	}
	tasks++ // the unwind
	if l.Rewind.Change != None {
		tasks++
	}
	if l.WebBreaks != nil || l.Unwind.SpliceBreaks > 0 {
		tasks++
	}
	for _, s := range l.Stops {
		if s.NeedsOperator {
			tasks++
		}
	}
	if l.Jobs != nil {
		tasks++
	}
	crew := &l.Crew
	return len(crew.Duties) == 0 && len(crew.Breaks) == 0 && !l.Rewind.Pack.Given() && crew.Operators >= tasks*max(1, crew.Lines)
}
