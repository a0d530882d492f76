package picture

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/out/words"
	"rollchange/sim/whatif"
)

// limitMark is a place on a line at which a limit begins to bind.
type limitMark struct {
	number      int
	line, point int
}

// stretch is a run of points at which a limit does not hold.
type stretch struct{ from, to int }

// binding finds where each limit binds, and says so in the key.
func (g *sweepGraph) binding(s *whatif.Sweep) {
	var simulated []int
	for i, p := range s.Points {
		if p.LeftOut == "" && p.Results != nil {
			simulated = append(simulated, i)
		}
	}
	for _, b := range boundsSeen(s, -1) {
		number := len(g.notes) + 1
		var says []string
		for k, l := range g.lines {
			runs := stretches(s, simulated, l.alternative, b)
			if len(runs) == 0 {
				continue
			}
			said := g.where(runs, simulated)
			if len(g.lines) > 1 {
				said = fmt.Sprintf(words.SweepNamed, words.Shorten(l.name, 50), said)
			}
			says = append(says, said)
			for _, r := range runs {
				at := simulated[r.from]
				if r.from == 0 && r.to < len(simulated)-1 {
					at = simulated[r.to]
				}
				g.marks = append(g.marks, limitMark{number, k, at})
			}
		}
		if len(says) == 0 {
			continue
		}
		t := strconv.Itoa(number)
		g.notes = append(g.notes, note{func(c draw.Canvas, at vg.Point) { badge(c, at, t) }, fmt.Sprintf(words.TitleOf, boundWords(b), strings.Join(says, "; "))})
	}
}

// boundsSeen lists the limits that do not hold somewhere, for one alternative
// or, with -1, for any.
func boundsSeen(s *whatif.Sweep, alternative int) []whatif.Bound {
	var seen []whatif.Bound
	for _, p := range s.Points {
		for a, list := range p.Binds {
			for _, b := range list {
				if (alternative < 0 || a == alternative) && !slices.Contains(seen, b) {
					seen = append(seen, b)
				}
			}
		}
	}
	order := s.Limits.Bounds()
	slices.SortStableFunc(seen, func(a, b whatif.Bound) int { return slices.Index(order, a) - slices.Index(order, b) })
	return seen
}

// boundWords says what has happened when a limit does not hold, and the limit.
func boundWords(b whatif.Bound) string {
	if b.Rate {
		u := words.ShownUnit("1/s", b.Most, "")
		return fmt.Sprintf(words.LimitAbove, words.BoundText(b), words.Short(u.From(b.Most), 3)+" "+u.Name)
	}
	if b.Most < 0.01 && b.Most > 0 {
		return fmt.Sprintf(words.LimitAbove, words.BoundText(b), words.OneIn(b.Most))
	}
	return fmt.Sprintf(words.LimitAbove, words.BoundText(b), words.Short(100*b.Most, 3)+" %")
}

// stretches are the runs, in places of the list of simulated points, at which
// a limit of an alternative does not hold.
func stretches(s *whatif.Sweep, simulated []int, alternative int, b whatif.Bound) []stretch {
	var runs []stretch
	for k, i := range simulated {
		p := &s.Points[i]
		if alternative >= len(p.Binds) || !slices.Contains(p.Binds[alternative], b) {
			continue
		}
		if n := len(runs); n > 0 && runs[n-1].to == k-1 {
			runs[n-1].to = k
		} else {
			runs = append(runs, stretch{k, k})
		}
	}
	return runs
}

// where says the stretches in words: "from 140 m/min".
func (g *sweepGraph) where(runs []stretch, simulated []int) string {
	value := func(k int) string { return words.AxisValue(g.axis.Values[simulated[k]], g.unit) }
	var said []string
	for _, r := range runs {
		switch last := len(simulated) - 1; {
		case r.from == 0 && r.to == last:
			said = append(said, words.EveryPoint)
		case r.from == 0:
			said = append(said, fmt.Sprintf(words.SweepUpTo, value(r.to)))
		case r.to == last:
			said = append(said, fmt.Sprintf(words.SweepFrom, value(r.from)))
		case r.from == r.to:
			said = append(said, fmt.Sprintf(words.SweepAt, value(r.from)))
		default:
			said = append(said, fmt.Sprintf(words.SweepFromTo, value(r.from), value(r.to)))
		}
	}
	if len(said) > 3 {
		said = append(said[:3], words.SweepMore)
	}
	return strings.Join(said, ", ")
}

// leftOutNotes says in the key what is left out and why, reasons that are the
// same together.
func (g *sweepGraph) leftOutNotes(s *whatif.Sweep) {
	var reasons []string
	at := map[string][]string{}
	for _, i := range g.leftOut {
		r := words.Keyless(s.Points[i].LeftOut)
		if at[r] == nil {
			reasons = append(reasons, r)
		}
		at[r] = append(at[r], words.AxisValue(g.axis.Values[i], g.unit))
	}
	for k, r := range reasons {
		if k == 3 && len(reasons) > 4 {
			g.notes = append(g.notes, note{nil, fmt.Sprintf(words.MoreReasons, len(reasons)-3)})
			break
		}
		list := at[r]
		if len(list) > 4 {
			list = []string{list[0], list[1], "…", list[len(list)-1]}
		}
		g.notes = append(g.notes, note{cross, fmt.Sprintf(words.PossibleNotAt, strings.Join(list, ", "), r)})
	}
}

func contains(list []int, x int) bool { return slices.Contains(list, x) }
