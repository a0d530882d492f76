package model

import (
	"math"

	"rollchange/model/legible"
)

// Fact is something that is known of a line before any simulation.
type Fact struct {
	Group string // station or subject
	Label string
	Dim   Dimension // what Value measures, in SI; Number for a plain figure, "power" for W
	Value float64
	Note  string
}

// Power is the dimension of a Fact in W.
const Power Dimension = "power"

// FactsOf is what is known of a line in closed form: rolls, storage, times,
// crew, and the ceiling on output. Means stand for what varies.
func FactsOf(l *Line) []Fact {
	var facts []Fact
	add := func(group, label string, dim Dimension, value float64, note string) {
		if !math.IsNaN(value) && !math.IsInf(value, 0) {
			facts = append(facts, Fact{group, label, dim, value, note})
		}
	}
	if l.Orders != nil {
		orderFacts(l, add)
		return facts
	}
	v := l.Process.Speed
	add("line", "stopping length at line speed", Length, StoppingLength(v, l.Process.Decel), "")
	add("line", "ceiling on web processed", Speed, Ceiling(l)*float64(max(1, l.Crew.Lines)), "closed form: roll changes and orders alone, nothing by chance")
	unwindFacts(l, add)
	rewindFacts(l, add)
	if l.Crew.Operators > 0 {
		add("crew", "estimated load", Share, crewLoad(l), "mean work over the operators' time, no waiting")
		for i := range l.Crew.Groups {
			if load := groupLoad(l, i); load > 0 {
				add("crew", "estimated load of "+legible.Line(l.Crew.Groups[i].Name), Share, load, "by what no other group does")
			}
		}
	}
	return facts
}

// runDown is the time at line speed of the web that the ramp of a splice takes, s.
func runDown(u *Unwind, v float64) float64 {
	if u.Change != ZeroSpeed {
		return 0
	}
	return StoppingLength(v, u.Decel) / v
}

type adder func(group, label string, dim Dimension, value float64, note string)

func rollFacts(group, what string, size RollSize, web Web, add adder) (mean float64) {
	mean = size.Mean(web)
	add(group, what+", length", Length, mean, "")
	r := RollOf(mean, web, size.Core)
	if r.R > 0 {
		add(group, what+", diameter", Thickness, 2*r.R, "")
	}
	if r.Mass > 0 {
		add(group, what+", mass of web", Mass, r.Mass, "core not counted")
	}
	return mean
}

func unwindFacts(l *Line, add adder) {
	u := &l.Unwind
	v := l.Process.Speed
	mean := rollFacts("unwind", "parent roll", u.Roll, l.Web, add)
	between := runOutTime(mean, u.Residual, v)
	add("unwind", "between roll changes at line speed", Time, between, "")
	spliceFacts(l, add)
	if u.Change != Manual {
		add("unwind", "time to arm the next roll", Time, l.Crew.Reaction.Mean()+u.Load.Mean()+u.Prepare.Mean(), "mean, an operator free")
		add("unwind", "time available to arm it", Time, max(0, between-runDown(u, v)), "to the trigger")
	}
	if u.Change != ZeroSpeed {
		return
	}
	cycleFacts("unwind", "splice", UnwindCycle(l), u.Dwell, u.Residual, add)
	storageFacts("unwind", &u.Storage, v, u.MaxSpeed, add)
	full := RollOf(mean, l.Web, u.Roll.Core)
	if full.Relevant {
		add("unwind", "torque to accelerate a full roll", Torque, full.rampTorque(u.Accel), "at the spindle, for the acceleration of the unwind; without tension and friction")
		add("unwind", "power for that at top speed", Power, full.rampPower(u.Accel, u.MaxSpeed), "")
		if u.SpindleTorque > 0 {
			add("unwind", "ramp that the spindle torque allows", Acceleration, min(u.Accel, full.RampLimit(u.SpindleTorque)), "full roll")
		}
		add("unwind", "torque to stop a full roll at the line's ramp", Torque, full.rampTorque(l.Process.Decel), "brake")
	}
}

func rewindFacts(l *Line, add adder) {
	w := &l.Rewind
	if w.Change == None {
		return
	}
	v := l.Process.Speed
	mean := w.Roll.Mean(l.Web)
	if !math.IsInf(mean, 0) {
		if w.Lanes > 1 || w.Trim > 0 {
			add("rewind", "width of a finished roll", Thickness, l.LaneWeb().Width, "(web width - trim) / lanes")
		}
		rollFacts("rewind", "finished roll", w.Roll, l.LaneWeb(), add)
		add("rewind", "between roll changes at line speed", Time, mean/v, "")
	}
	buildFacts(l, add)
	if w.Change != Manual {
		add("rewind", "time to doff and load a core", Time, l.Crew.Reaction.Mean()+w.Doff.Mean()+w.LoadCore.Mean(), "mean, an operator free")
		add("rewind", "time available for it", Time, mean/v, "")
		shortest, limit := keepsUp(l)
		add("rewind", "shortest roll it keeps up with", Length, shortest, "line at speed, one operator for it alone; limited by "+limit)
	}
	if w.Change == ZeroSpeed {
		cycleFacts("rewind", "transfer", RewindCycle(l), w.Dwell, 0, add)
		storageFacts("rewind", &w.Storage, v, w.MaxSpeed, add)
	}
}

func cycleFacts(end, what string, c Cycle, dwell Dist, residual float64, add adder) {
	mean := dwell.Mean()
	verb := map[string]string{"splice": "drawn", "transfer": "taken up"}[what]
	add(end, "storage "+verb+" by one "+what, Length, c.drawn(mean), "mean dwell, undisturbed")
	add(end, "margin to the interlock", Length, c.margin(mean), "mean dwell")
	add(end, "longest dwell that does not trip it", Time, c.LongestDwell(), "from the run level, line at speed")
	if c.LongestDwell() > 0 || !dwell.IsConst() {
		add(end, "chance that a dwell is longer", Share, dwell.SurvivalFrom(max(0, c.LongestDwell())), "only as good as the tail of the dwell distribution given")
	}
	seconds, _ := c.refill(mean)
	add(end, map[string]string{"splice": "refill of the storage", "transfer": "drawing the storage down"}[what], Time, seconds, "after a mean dwell")
	add(end, "shortest roll that allows it", Length, c.shortestRoll(mean, residual), "")
}

func storageFacts(end string, s *Storage, v, fastest float64, add adder) {
	if s.Strands == 0 {
		return
	}
	add(end, "carriage speed while the station stands", Speed, CarriageSpeed(v, 0, s.Strands), "line speed over strands")
	add(end, "carriage speed at the station's top speed", Speed, CarriageSpeed(fastest, v, s.Strands), "line at speed")
	if s.Travel > 0 {
		add(end, "carriage travel", Length, s.Travel, "")
	}
	if s.RollerDrag > 0 {
		add(end, "tension added by roller drag", Force, DragTension(s.Strands, s.RollerDrag), "one idler per strand")
	}
}
