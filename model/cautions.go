package model

import (
	"fmt"
	"math"
	"strings"
)

// Safety is the caution that goes with every load, nip, carriage, torque and
// operator's task that the tool speaks of.
const Safety = "An estimate for planning. In-running nips, stored energy in carriages and spinning rolls, knives, and roll weight can injure: " +
	"guarding, lockout, lifting and control reliability follow the local code and a licensed or competent person."

// caution is one as it is made.
type caution struct {
	form   form
	figure float64 // of two of one form that with the larger is worse
	text   string
}

// form is what cautions of several products have in common where their figures alone
// differ: the sentence, and what it is of, as an end of the line or the name of a stop.
type form struct{ says, of string }

// cautionOf makes a caution; says formats a.
func cautionOf(of string, figure float64, says string, a ...any) caution {
	return caution{form{says, of}, figure, fmt.Sprintf(says, a...)}
}

// CautionsOf is what a person should know of a line before trusting figures
// of it, in the units of the reader.
func CautionsOf(l *Line, sys System) []string {
	var list []string
	if l.Orders == nil {
		for _, c := range cautionsOf(l, sys, false) {
			list = append(list, c.text)
		}
		return list
	}
	// Of each form the worst stands for all products, as that of the heaviest roll, with
	// the names of those that it is true of.
	var forms []form
	worst, said := map[form]caution{}, map[string][]string{}
	for i := range l.Products {
		for _, c := range cautionsOf(l.Products[i].Line, sys, true) {
			w, known := worst[c.form]
			if !known {
				forms = append(forms, c.form)
			}
			if !known || c.figure > w.figure {
				worst[c.form] = c
			}
			said[c.text] = append(said[c.text], l.Products[i].Name)
		}
	}
	for _, f := range forms {
		text := worst[f].text
		if names := said[text]; len(names) < len(l.Products) {
			text = strings.Join(names, ", ") + ": " + text
		}
		list = append(list, text)
	}
	return list
}

// cautionsOf are those of a line, or of one product of a line with orders.
func cautionsOf(l *Line, sys System, ordered bool) []caution {
	var list []caution
	add := func(c caution) { list = append(list, c) }
	for _, x := range []struct {
		what string
		size RollSize
		web  Web
		is   bool
	}{{"parent", l.Unwind.Roll, l.Web, true}, {"finished", l.Rewind.Roll, l.LaneWeb(), l.Rewind.Change != None}} {
		m := RollOf(x.size.Mean(l.Web), x.web, x.size.Core).Mass
		if x.is && m > nioshLoad && !math.IsInf(m, 0) {
			u := Display(Mass, sys)
			loads := [...]string{"23 kg", "25 kg"}
			if sys == Imperial {
				loads = [...]string{"51 lb", "55 lb"}
			}
			joined := ", ISO 11228-1 reference mass "
			if m <= isoMass {
				joined = "; ISO 11228-1 reference mass is "
			}
			add(cautionOf(x.what, m, "a %s roll holds about %.0f %s of web: too heavy for one person to lift (NIOSH load constant %s%s%s); plan for a hoist, a lift table or a roll cart",
				x.what, u.From(m), u.Name, loads[0], joined, loads[1]))
		}
	}
	if l.WebBreaks == nil && len(l.Stops) == 0 && l.Jobs == nil && !ordered {
		add(cautionOf("", 0, "no web breaks, stops or jobs are given: a line that stops for nothing else makes automatic changes look better than they are"))
	}
	stationCautions(l, sys, add)
	buildCautions(l, sys, add)
	if load := crewLoad(l); load > 1 {
		add(cautionOf("", load, "the crew has work for about %.0f %% of its time: it cannot keep up", 100*load))
	}
	groupCautions(l, add)
	for _, x := range varying(l) {
		if s := x.d.cutShift(); s > 0.01 {
			if math.IsInf(s, 0) {
				add(cautionOf(x.name, 0, "%s: a normal distribution with mean 0 is redrawn below 0, so its mean is above the one given; a lognormal or gamma may fit better", x.name))
				continue
			}
			add(cautionOf(x.name, s, "%s: a normal distribution redrawn below 0 has a mean %.1f %% above the one given; a lognormal or gamma may fit better", x.name, 100*s))
		}
	}
	return list
}

// Caution is one caution and the alternatives that it holds for.
type Caution struct {
	Text string
	Of   []string // names of alternatives; nil when it holds for all
}

// CautionsOfAll are the cautions of several alternatives, each once.
func CautionsOfAll(alternatives []Alternative, sys System) []Caution {
	var list []Caution
	at := map[string]int{}
	for i := range alternatives {
		for _, text := range CautionsOf(&alternatives[i].Line, sys) {
			k, seen := at[text]
			if !seen {
				k = len(list)
				at[text] = k
				list = append(list, Caution{Text: text})
			}
			list[k].Of = append(list[k].Of, alternatives[i].Name)
		}
	}
	for k := range list {
		if len(list[k].Of) == len(alternatives) {
			list[k].Of = nil
		}
	}
	return list
}

func stationCautions(l *Line, sys System, add func(caution)) {
	p, u := &l.Process, Display(Length, sys)
	for _, x := range []struct {
		end, what  string
		change     ChangeKind
		c          Cycle
		arm, there float64
		s          *Storage
	}{
		{"unwind", "splice", l.Unwind.Change, UnwindCycle(l),
			l.Crew.Reaction.Mean() + l.Unwind.Load.Mean() + l.Unwind.Prepare.Mean(), l.Unwind.Roll.Mean(l.Web) / p.Speed, &l.Unwind.Storage},
		{"rewind", "transfer", l.Rewind.Change, RewindCycle(l),
			l.Crew.Reaction.Mean() + l.Rewind.Doff.Mean() + l.Rewind.LoadCore.Mean(), l.Rewind.Roll.Mean(l.Web) / p.Speed, &l.Rewind.Storage},
	} {
		if x.change != ZeroSpeed && x.change != Flying {
			continue
		}
		if x.arm > x.there {
			add(cautionOf(x.end, x.arm-x.there, "preparing the next change of the %s takes longer (%.3g min) than a roll runs (%.3g min)", x.end, x.arm/60, x.there/60))
		}
		if x.change == Flying {
			continue
		}
		if above := x.s.Capacity - x.c.Room; above > 0 && x.c.LineDecel > x.c.Decel {
			add(cautionOf(x.end, above, "the line slows faster than the %s: when both slow, the storage is held at its run level and the %s slows with the line, as if the %.3g %s beyond that level were not there", x.end, x.end, u.From(above), u.Name))
		}
		if m := x.c.margin(x.c.Dwell.Mean()); m <= 0 {
			add(cautionOf(x.end, -m, "a mean %s trips the interlock: the storage is %.3g %s too small", x.what, u.From(-m), u.Name))
		}
		if c, is := beyondData(x.c, x.what); is {
			add(c)
		}
		least := x.c.Interlock()
		restart := x.s.RestartLevel
		if x.end == "rewind" {
			restart = x.s.Capacity - restart
		}
		if restart < least {
			add(cautionOf(x.end, least, "the restart level of the %s storage lets the line start with less than it needs to stop from full speed (%.3g %s): a change due before the refill is over can take the storage to its end, where the web breaks", x.end, u.From(least), u.Name))
		}
		if r := x.c.shortestRoll(x.c.Dwell.Mean(), 0); map[string]RollSize{"unwind": l.Unwind.Roll, "rewind": l.Rewind.Roll}[x.end].Mean(l.Web) < r {
			add(cautionOf(x.end, r, "rolls at the %s are shorter than the %.3g %s that it takes to bring the storage back: changes begin from a storage that is not at its run level", x.end, u.From(r), u.Name))
		}
	}
}

type named struct {
	name string
	d    Dist
}

// varying lists the quantities of a line that may vary.
func varying(l *Line) []named {
	u, w := &l.Unwind, &l.Rewind
	list := []named{{"length of a parent roll", u.Roll.Length}, {"diameter of a parent roll", u.Roll.Diameter}, {"time of a roll change at the unwind", u.ChangeTime},
		{"time to load the next roll", u.Load}, {"time to prepare the splice", u.Prepare}, {"splice dwell", u.Dwell}, {"time to splice by hand", u.Recover},
		{"length of a finished roll", w.Roll.Length}, {"time of a roll change at the rewind", w.ChangeTime}, {"time to doff", w.Doff}, {"time to load a core", w.LoadCore},
		{"transfer dwell", w.Dwell}, {"time to transfer by hand", w.Recover}, {"time to pack a roll", w.Pack}, {"reaction time of the crew", l.Crew.Reaction}}
	for _, s := range l.Stops {
		list = append(list, named{s.Name + ", time between stops", s.Every}, named{s.Name + ", length of the stop", s.Repair})
	}
	if l.WebBreaks != nil {
		list = append(list, named{"time to mend a web break", l.WebBreaks.Repair})
	}
	if l.Jobs != nil {
		list = append(list, named{"length of an order", l.Jobs.Length}, named{"changeover time", l.Jobs.Changeover})
	}
	return list
}
