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

	since                float64 // s, the times below are up to then
	busyTime, warmBusy   float64 // operator seconds
	thereTime, warmThere float64 // operator seconds on, and at work beyond that
}

// trade is the tasks that the same groups do: a set of them, a bit each, so there may
// be 64 (a scenario has 40 at most). What no
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

// full says whether no more calls are taken for such a task, for which no line stands.
func (c *crew) full(k Task, which int) bool {
	g := c.groups
	if g == nil {
		return len(c.queue) >= mostWaiting
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
				x.sync(c.run.now)
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
	c.stale = true
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

// turns makes the first group that is due come on or go off. Who is at work stays
// until it is done.
func (c *crew) turns() {
	i := 0
	for c.groups.list[i].moment != c.turn {
		i++
	}
	x := &c.groups.list[i]
	x.sync(c.run.now)
	x.on = !x.on
	x.turn++
	x.moment = x.due() - c.spec.Begins
	c.nextTurn()
	c.waiting = true
	if c.run.record != nil {
		event := ShiftEnds
		if x.on {
			event = ShiftBegins
		}
		c.run.touch(0).logNote(note{of: OfCrew, event: event, which: i})
	}
}

// nextTurn finds when a group is next due.
func (c *crew) nextTurn() {
	c.turn = never
	for i := range c.groups.list {
		c.turn = min(c.turn, c.groups.list[i].moment)
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

// sync adds up the time that the operators of a group are there and at work, before
// that changes.
func (x *group) sync(now float64) {
	dt := now - x.since
	x.since = now
	x.busyTime += float64(x.busy) * dt
	if x.on {
		x.thereTime += float64(x.last-x.first) * dt
	} else {
		x.thereTime += float64(x.busy) * dt
	}
}

// leaves is the end of a task for an operator.
func (c *crew) leaves(o int) {
	x := &c.groups.list[c.groups.of[o]]
	x.sync(c.run.now)
	x.busy--
}

func (g *groups) cutWarmUp(now float64) {
	for i := range g.list {
		x := &g.list[i]
		x.sync(now)
		x.warmBusy, x.warmThere = x.busyTime, x.thereTime
	}
}
