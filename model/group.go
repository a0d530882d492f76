package model

import (
	"cmp"
	"math"
	"slices"
)

// Work is a kind of task that a group of a crew may do.
type Work uint8

// The kinds of work, in the order of the words that a scenario has for them.
const (
	UnwindChanges Work = iota // by hand, at rest; a run-out of a manual unwind is mended as a web break
	PreparingRolls
	SplicesByHand
	RewindChanges
	PreparingCores // and doffing
	TransfersByHand
	MendingBreaks // of the web, and run-outs
	Repairs       // of [[stop]]s that need an operator
	Changeovers
	Packing
	Duties
	works
)

// workWords are the words for them.
var workWords = [works]string{"unwind changes", "preparing rolls", "splices by hand", "rewind changes", "preparing cores", "transfers by hand",
	"web breaks", "stops", "changeovers", "packing", "duties"}

// String is the word for the work, as crew.group.tasks has it.
func (w Work) String() string { return workWords[w] }

// WorkWords are the words for all kinds of work, in their order.
func WorkWords() []string { return slices.Clone(workWords[:]) }

// Stands says whether a line can stand for the work.
func (w Work) Stands() bool { return w != Packing && w != Duties }

// Named is what stands before the name of one stop or duty in crew.group.tasks;
// "" for other work.
func (w Work) Named() string {
	switch w {
	case Repairs:
		return "stop "
	case Duties:
		return "duty "
	}
	return ""
}

// Group is some of the operators of a crew, who do some of its tasks, in some
// shifts of the week.
type Group struct {
	Name      string
	Operators int
	Tasks     []string // words for work, "stop NAME" or "duty NAME"; nil: all
	Shifts    []int    // of the day, from 1; nil: all
	Days      []int    // of the week, Monday 0; nil: all
}

// Does says whether the group does the work; name is that of the stop or the duty.
func (g *Group) Does(w Work, name string) bool {
	return g.Tasks == nil || slices.Contains(g.Tasks, w.String()) || w.Named() != "" && slices.Contains(g.Tasks, w.Named()+name)
}

// NamedWork is some work that a line may ask for; Name is that of a stop or a duty.
type NamedWork struct {
	Work
	Name string
}

// String is the task as crew.group.tasks has it.
func (t NamedWork) String() string {
	if t.Named() != "" {
		return t.Named() + t.Name
	}
	return t.Work.String()
}

// TasksOf are the tasks that a line may ask its crew for, each once.
func TasksOf(l *Line) []NamedWork {
	var list []NamedWork
	add := func(asks bool, w Work) {
		if asks {
			list = append(list, NamedWork{Work: w})
		}
	}
	u, w := &l.Unwind, &l.Rewind
	late := func(change ChangeKind, late Dist) bool { return change == Flying && !late.Given() }
	add(u.Change == Manual, UnwindChanges)
	add(u.Change.Ahead(), PreparingRolls)
	add(u.Change == ZeroSpeed && (u.SpliceSuccess < 1 || u.SuccessObserved > 0) || late(u.Change, u.LateChange), SplicesByHand)
	add(w.Change == Manual, RewindChanges)
	add(w.Change.Ahead(), PreparingCores)
	add(w.Change == ZeroSpeed && (w.TransferSuccess < 1 || w.SuccessObserved > 0) || late(w.Change, w.LateChange), TransfersByHand)
	add(l.canBreak(), MendingBreaks)
	for _, s := range l.Stops {
		if s.NeedsOperator {
			list = append(list, NamedWork{Repairs, s.Name})
		}
	}
	add(l.Jobs != nil || l.Orders != nil && l.Changeover.Given(), Changeovers)
	add(w.Change != None && w.Pack.Given(), Packing)
	for _, d := range l.Crew.Duties {
		if t := (NamedWork{Duties, d.Name}); !slices.Contains(list, t) {
			list = append(list, t)
		}
	}
	return list
}

// canBreak says whether the web can break, or a roll run out.
func (l *Line) canBreak() bool {
	u, w := &l.Unwind, &l.Rewind
	flies := func(change ChangeKind, success float64, observed int) bool {
		return change == Flying && (success < 1 || observed > 0)
	}
	starts := func(change ChangeKind, c Cycle, restart float64) bool {
		return change == ZeroSpeed && restart < c.Interlock()
	}
	return l.WebBreaks != nil || u.SpliceBreaks > 0 || u.BreaksObserved > 0 || u.CanRunOut() ||
		flies(u.Change, u.SpliceSuccess, u.SuccessObserved) || flies(w.Change, w.TransferSuccess, w.SuccessObserved) ||
		starts(u.Change, UnwindCycle(l), u.Storage.RestartLevel) || starts(w.Change, RewindCycle(l), w.Storage.Capacity-w.Storage.RestartLevel)
}

// CanRunOut says whether a roll can end before the control believes that it does.
func (u *Unwind) CanRunOut() bool {
	return u.ResidualError.Given() && !(u.ResidualError.IsConst() && u.ResidualError.A >= -u.Residual)
}

// A day and a week, s.
const (
	Day  = 86400.0
	Week = 7 * Day
)

// DayNames are the days of a week.
var DayNames = []string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"}

// ShiftsOfDay is how many shifts of the crew a day has; 0 where a day is not a
// whole number of them.
func (c *Crew) ShiftsOfDay() int {
	n := Day / c.Shift
	k := int(n + 0.5)
	if k < 1 || k > mostShifts || n-float64(k) > 1e-9*n || float64(k)-n > 1e-9*n {
		return 0
	}
	return k
}

// mostShifts is the most shifts of a day: a minute each.
const mostShifts = 1440

// Always says whether the group is on in every shift of the week.
func (g *Group) Always() bool { return g.Shifts == nil && g.Days == nil }

// Span is a part of a week, s from the start of the first shift of Monday.
type Span struct{ From, Until float64 }

// On is when a group is on in a week, in order; spans that meet are one. A shift
// belongs to the day that it is counted in, also where it ends after midnight.
func (c *Crew) On(g *Group) []Span {
	if g.Always() {
		return []Span{{0, Week}}
	}
	shifts := 1
	if g.Shifts != nil {
		shifts = max(1, c.ShiftsOfDay())
	}
	var list []Span
	for day := range 7 {
		if g.Days != nil && !slices.Contains(g.Days, day) {
			continue
		}
		for s := range shifts {
			if g.Shifts != nil && !slices.Contains(g.Shifts, s+1) {
				continue
			}
			from, until := Day*float64(day*shifts+s)/float64(shifts), Day*float64(day*shifts+s+1)/float64(shifts)
			if n := len(list); n > 0 && list[n-1].Until == from {
				list[n-1].Until = until
			} else {
				list = append(list, Span{from, until})
			}
		}
	}
	return list
}

// Present is how many operators are on, in the mean over a week.
func (c *Crew) Present() float64 {
	if c.Groups == nil {
		return float64(c.Operators)
	}
	sum := 0.0
	for i := range c.Groups {
		sum += float64(c.Groups[i].Operators) * shareOfWeek(c.On(&c.Groups[i]))
	}
	return sum
}

// shareOfWeek is the share of the week that some of its parts are.
func shareOfWeek(spans []Span) float64 {
	on := 0.0
	for _, s := range spans {
		on += s.Until - s.From
	}
	return on / Week
}

// LongestOff is the longest time at a stretch in which none of the groups that do
// a task is on, s: 0 where one always is, +Inf where none ever does it.
func (c *Crew) LongestOff(t NamedWork) float64 {
	var on []Span
	for i := range c.Groups {
		if g := &c.Groups[i]; g.Does(t.Work, t.Name) {
			on = append(on, c.On(g)...)
		}
	}
	if len(on) == 0 {
		return math.Inf(1)
	}
	slices.SortFunc(on, func(a, b Span) int { return cmp.Compare(a.From, b.From) })
	longest, end := 0.0, on[0].Until
	for _, s := range on[1:] {
		longest, end = max(longest, s.From-end), max(end, s.Until)
	}
	return max(longest, on[0].From+Week-end)
}
