package sim

import (
	"math"

	"rollchange/model"
)

// mostWaitingOff is how many calls that no line stands for may wait for one set of
// groups where a group is off at times: its work of a long weekend.
const mostWaitingOff = 1 << 15

// group is some of the operators of a crew, who do some of its tasks, and are off in
// some shifts.
type group struct {
	first, last int // of its people
	busy, away  int // with a task; on a break
	on          bool
	week        []model.Span // when it is on; nil: always
	moment      float64      // when it goes on or off next
	turn        int          // how often it has

	busyTime, warmBusy float64 // operator seconds
	thereTime, warmed  float64 // operator seconds on, and at work beyond that
}

// trade is the tasks that the same groups do: a set of them, a bit each. What no
// line ever stands for waits in the order of call, linked by the tasks.
type trade struct {
	groups      uint64
	front, back int32 // -1: nothing waits
	n           int
}

// groups is what a crew has more when its operators are in groups. Without groups
// every operator does every task, and there is none of it (nil).
type groups struct {
	list   []group
	of     []int32   // the group of each of the people
	trades []trade   // the sets of groups
	trade  [][]int32 // by kind of task, of stops and duties by which
	calls  []waiting // of each task
	serial int64     // of the next call
	before int64     // of the next task that goes back to the head of the queue
	most   int       // tasks that no line stands for and that may wait for a trade
}

// waiting is which groups may do a task, and its place in the order of call.
type waiting struct {
	trade  int32
	serial int64
}

// workOfTask is the work that a group does or does not do.
var workOfTask = [tasks]model.Work{TaskUnwindChange: model.UnwindChanges, TaskUnwindArm: model.PreparingRolls, TaskUnwindRecover: model.SplicesByHand,
	TaskUnwindJoin: model.SplicesByHand, TaskRewindChange: model.RewindChanges, TaskRewindArm: model.PreparingCores, TaskRewindRecover: model.TransfersByHand,
	TaskRewindJoin: model.TransfersByHand, TaskRunOut: model.MendingBreaks, TaskBreak: model.MendingBreaks, TaskChangeover: model.Changeovers,
	TaskPack: model.Packing, TaskStop: model.Repairs, TaskDuty: model.Duties}

// buildGroups makes the groups of a crew, as they are at t = 0.
func (c *crew) buildGroups() {
	spec := c.spec
	if len(spec.Groups) == 0 {
		return
	}
	g := &groups{most: mostWaiting}
	c.groups = g
	for i := range spec.Groups {
		x := group{first: len(g.of), last: len(g.of) + spec.Groups[i].Operators, on: true, moment: never}
		for range spec.Groups[i].Operators {
			g.of = append(g.of, int32(i))
		}
		if on := spec.On(&spec.Groups[i]); len(on) != 1 || on[0] != (model.Span{From: 0, Until: model.Week}) {
			x.week = on
			x.begin(spec.Begins)
			g.most = mostWaitingOff
		}
		g.list = append(g.list, x)
	}
	g.trade = make([][]int32, tasks)
	for k := range tasks {
		var names []string
		switch k {
		case TaskStop:
			for _, s := range c.run.spec.Stops {
				names = append(names, s.Name)
			}
		case TaskDuty:
			for _, d := range spec.Duties {
				names = append(names, d.Name)
			}
		default:
			names = []string{""}
		}
		for _, name := range names {
			set := uint64(0)
			for i := range spec.Groups {
				if spec.Groups[i].Does(workOfTask[k], name) {
					set |= 1 << i
				}
			}
			if set == 0 { // never asked for; better done by anybody than never
				set = 1<<len(spec.Groups) - 1
			}
			g.trade[k] = append(g.trade[k], g.tradeOf(set))
		}
	}
}

func (g *groups) tradeOf(set uint64) int32 {
	for i := range g.trades {
		if g.trades[i].groups == set {
			return int32(i)
		}
	}
	g.trades = append(g.trades, trade{groups: set, front: -1, back: -1})
	return int32(len(g.trades) - 1)
}

// begin finds where in its week a group is at t = 0, begins s after the week began.
// Its turns are counted from the start of that week.
func (x *group) begin(begins float64) {
	if x.on = x.around(); x.on {
		x.turn = 1 // it came on before the week began
	}
	for x.due() <= begins {
		x.on = !x.on
		x.turn++
	}
	x.moment = x.due() - begins
}

// around says whether the group is on over the end of the week: there it does not turn.
func (x *group) around() bool {
	return x.week[0].From == 0 && x.week[len(x.week)-1].Until == model.Week
}

// due is when the group turns next, s from the start of the first week.
func (x *group) due() float64 {
	n := len(x.week)
	if x.around() { // turns of a week: off, on, … on
		turns := 2*n - 2
		week, k := (x.turn-1)/turns, (x.turn-1)%turns
		at := x.week[k/2].Until
		if k%2 == 1 {
			at = x.week[k/2+1].From
		}
		return float64(week)*model.Week + at
	}
	week, k := x.turn/(2*n), x.turn%(2*n)
	at := x.week[k/2].From
	if k%2 == 1 {
		at = x.week[k/2].Until
	}
	return float64(week)*model.Week + at
}

// free says whether the group can take a task.
func (x *group) free() bool { return x.on && x.busy+x.away < x.last-x.first }

// call puts a task into the order of call, for its trade.
func (g *groups) call(c *crew, i int32) {
	t := &c.tasks[i]
	for len(g.calls) <= int(i) {
		g.calls = append(g.calls, waiting{})
	}
	trade := g.trade[t.kind][t.which]
	g.calls[i] = waiting{trade, g.serial}
	g.serial++
	if !t.kind.neverUrgent() {
		c.queue = append(c.queue, i)
		return
	}
	x := &g.trades[trade]
	t.next = -1
	if x.front < 0 {
		x.front = i
	} else {
		c.tasks[x.back].next = i
	}
	x.back = i
	x.n++
}

// full says whether no more calls for such a task are taken.
func (g *groups) full(c *crew, k Task, which int) bool {
	if !k.neverUrgent() {
		return false
	}
	trade := g.trade[k][which]
	n := g.trades[trade].n
	for _, i := range c.queue {
		if g.calls[i].trade == trade {
			n++
		}
	}
	return n >= g.most
}

// handOutByGroup is handOut where the operators are in groups: of what a group that
// has a free operator does, what a line stands for first, then in order of call. The
// first group of the scenario that can take a task does.
func (c *crew) handOutByGroup() {
	g := c.groups
	for {
		free := uint64(0)
		for i := range g.list {
			if g.list[i].free() {
				free |= 1 << i
			}
		}
		if free == 0 {
			break
		}
		i := g.take(c, free)
		if i < 0 {
			break
		}
		for k := range g.list {
			if x := &g.list[k]; g.trades[g.calls[i].trade].groups&(1<<k) != 0 && x.free() {
				o := x.first
				for c.people[o].state != idle {
					o++
				}
				x.busy++
				c.give(o, i)
				break
			}
		}
	}
	if len(c.queue) > 0 && c.callAwayByGroup() {
		c.handOutByGroup()
		return
	}
	c.schedule()
}

// take takes the task that is next for one of the groups out of those that wait; -1
// where there is none.
func (g *groups) take(c *crew, free uint64) int32 {
	next := -1 // in the queue
	for q, i := range c.queue {
		if g.trades[g.calls[i].trade].groups&free == 0 {
			continue
		}
		if t := &c.tasks[i]; c.run.lines[t.line].urgent(t.kind, t.which) {
			next = q
			break
		}
		if next < 0 {
			next = q
		}
	}
	serial, from := int64(math.MaxInt64), -1
	if next >= 0 {
		i := c.queue[next]
		if t := &c.tasks[i]; c.run.lines[t.line].urgent(t.kind, t.which) {
			c.queue = append(c.queue[:next], c.queue[next+1:]...)
			return i
		}
		serial = g.calls[i].serial
	}
	for k := range g.trades {
		if x := &g.trades[k]; x.front >= 0 && x.groups&free != 0 && g.calls[x.front].serial < serial {
			serial, from = g.calls[x.front].serial, k
		}
	}
	switch {
	case from >= 0:
		x := &g.trades[from]
		i := x.front
		x.front = c.tasks[i].next
		x.n--
		return i
	case next >= 0:
		i := c.queue[next]
		c.queue = append(c.queue[:next], c.queue[next+1:]...)
		return i
	}
	return -1
}

// callAwayByGroup is callAway where the operators are in groups: it looks at those
// who are on and may do what a line stands for. Where none of them waits at that
// line, one is called away who waits at another that stands, for what nobody does
// either: two lines may each hold the operator that the other stands for.
func (c *crew) callAwayByGroup() bool {
	for _, elsewhere := range [2]bool{false, true} {
		for _, q := range c.queue {
			t := &c.tasks[q]
			l := &c.run.lines[t.line]
			if !l.urgent(t.kind, t.which) {
				continue
			}
			may := c.groups.trades[c.groups.calls[q].trade].groups
			if o := c.stuck(may, l, elsewhere); o >= 0 {
				c.sendBack(o)
				return true
			}
		}
	}
	return false
}

// stuck is an operator of some groups who waits for a hold that cannot go on while
// line l stands, or another line does; -1 where there is none, or one of these groups
// will be free without it.
func (c *crew) stuck(may uint64, l *line, elsewhere bool) int {
	found := -1
	for k := range c.groups.list {
		x := &c.groups.list[k]
		if may&(1<<k) == 0 || !x.on {
			continue
		}
		for o := x.first; o < x.last; o++ {
			p := &c.people[o]
			switch p.state {
			case coming, working, sure:
				return -1
			case there:
				t := &c.tasks[p.task]
				at := &c.run.lines[t.line]
				switch {
				case at.urgent(t.kind, t.which):
					return -1 // begins as soon as the web rests
				case found < 0 && (at == l || elsewhere && c.untaken(at)):
					found = o
				}
			}
		}
	}
	return found
}

// untaken says whether a line stands for a task that waits.
func (c *crew) untaken(l *line) bool {
	for _, q := range c.queue {
		if t := &c.tasks[q]; t.line == l.id && l.urgent(t.kind, t.which) {
			return true
		}
	}
	return false
}

// turns makes a group come on or go off. Who is at work stays until it is done.
func (c *crew) turns(i int) {
	x := &c.groups.list[i]
	x.on = !x.on
	x.turn++
	x.moment = x.due() - c.spec.Begins
	c.waiting = true
	if c.run.record != nil {
		event := ShiftEnds
		if x.on {
			event = ShiftBegins
		}
		c.run.touch(0).logNote(note{of: OfCrew, event: event, which: i})
	}
}

// breakChanges begins or ends a break: all of each group, or one of each that is
// covered.
func (g *groups) breakChanges(b *breakTime) {
	for i := range g.list {
		x := &g.list[i]
		n := x.last - x.first
		if b.cover {
			n = 1
		}
		if !b.on {
			n = -n
		}
		x.away += n
	}
}

// advance adds up the time that the operators of each group are there and at work.
func (g *groups) advance(dt float64) {
	for i := range g.list {
		x := &g.list[i]
		x.busyTime += float64(x.busy) * dt
		if x.on {
			x.thereTime += float64(x.last-x.first) * dt
		} else {
			x.thereTime += float64(x.busy) * dt
		}
	}
}

func (g *groups) cutWarmUp() {
	for i := range g.list {
		x := &g.list[i]
		x.warmBusy, x.warmed = x.busyTime, x.thereTime
	}
}
