package sim

import "rollchange/model"

// mostWaiting is how many tasks may wait. A crew that cannot keep up falls
// further behind without end; calls beyond this are lost, which changes
// nothing that such a crew would have come to.
const mostWaiting = 512

// crew is the operators that the lines share, the tasks that wait for them,
// and their duties and breaks.
type crew struct {
	run    *run
	tasks  []task
	free   int32
	queue  []int32 // tasks without an operator, in order of call
	may    int     // how many of them a line may stand for; not kept with groups
	people []operator
	busy   int
	away   int // on a break
	spec   *model.Crew

	duties []dutyClock
	breaks []breakTime

	react        [][]source // by line, by kind (stops and duties after the kinds)
	busyTime     float64
	warmBusy     float64
	last         float64
	next         float64
	nextEvent    int
	planned      float64 // of the next duty, break or turn
	plannedEvent int     // which, as nextEvent; 0: has to be found anew
	stale        bool    // the next event has to be found anew
	waiting      bool    // tasks or operators have changed since operators were handed out
	groups       *groups // nil: every operator does every task
	turn         float64 // when a group next comes on or goes off
}

type operator struct {
	state  operatorState
	task   int32
	moment float64 // of his next event, never when he waits
}

type operatorState uint8

const (
	idle operatorState = iota
	coming
	there // waits at the station for the web to rest
	working
	sure // comes and works, and nothing can get in between: the moment is that of the end of his work
)

type dutyClock struct {
	every, takes source
	due          float64
	rolls        int
}

type breakTime struct {
	at, length float64
	cover, on  bool
	moment     float64
}

// call calls an operator for a task of a line.
func (c *crew) call(l *line, k Task, which int) {
	work := c.run.workOf(l, k, which)
	react := c.reaction(l.id, k, which).draw()
	if k.neverUrgent() && c.full(k, which) {
		return
	}
	i := c.free
	if i < 0 {
		i = int32(len(c.tasks))
		c.tasks = append(c.tasks, task{})
	} else {
		c.free = c.tasks[i].next
	}
	c.tasks[i] = task{kind: k, line: l.id, which: which, react: react, work: work, arrives: never}
	if c.groups != nil {
		c.groups.call(c, i)
	} else {
		c.queue = append(c.queue, i)
	}
	c.log(l, Called, &c.tasks[i])
	c.waiting = true
	if !k.neverUrgent() {
		c.may++
		l.pending = append(l.pending, i)
		l.recount()
	}
}

func (c *crew) reaction(line int, k Task, which int) *source {
	i := int(k)
	switch k {
	case TaskStop:
		i = int(tasks) + which
	case TaskDuty:
		i = int(tasks) + len(c.run.spec.Stops) + which
	}
	return &c.react[line][i]
}

// give gives a waiting task to an operator who is free.
func (c *crew) give(o int, i int32) {
	p, t := &c.people[o], &c.tasks[i]
	t.arrives = c.run.now + t.react
	p.state, p.task, p.moment = coming, i, t.arrives
	l := &c.run.lines[t.line]
	if from, known := l.workBegins(t); known && c.run.plans {
		p.state, p.moment = sure, from+t.work
	}
	c.busy++
	if l.waitsUntil > c.run.now {
		l.recount()
	}
}

// callAway frees an operator who was called ahead, when nothing else can ever
// free one: a line stands for a task, every operator waits at a station for a
// web to rest, and one of them waits at that line, for a hold that cannot go on
// while it stands. His task goes back to the head of the queue. Without it a
// crew that is called ahead could stand and wait for ever.
func (c *crew) callAway() bool {
	for i := range c.people {
		switch p := &c.people[i]; p.state {
		case coming, working, sure:
			return false
		case there: // begins as soon as the web rests
			if t := &c.tasks[p.task]; c.run.lines[t.line].urgent(t.kind, t.which) {
				return false
			}
		}
	}
	if c.busy == 0 {
		return false
	}
	for _, q := range c.queue {
		l := &c.run.lines[c.tasks[q].line]
		if !l.urgent(c.tasks[q].kind, c.tasks[q].which) {
			continue
		}
		for i := range c.people {
			p := &c.people[i]
			if p.state != there {
				continue
			}
			t := &c.tasks[p.task]
			if t.line != l.id || l.urgent(t.kind, t.which) {
				continue
			}
			c.sendBack(i)
			return true
		}
	}
	return false
}

// sendBack takes the task of an operator back to the head of the queue.
func (c *crew) sendBack(o int) {
	p := &c.people[o]
	t := &c.tasks[p.task]
	l := &c.run.lines[t.line]
	c.queue = append(c.queue, 0)
	copy(c.queue[1:], c.queue)
	c.queue[0] = p.task
	if t.arrives = never; !t.kind.neverUrgent() {
		c.may++
	}
	l.pending = append(l.pending, p.task)
	p.state, p.moment = idle, never
	c.busy--
	if g := c.groups; g != nil {
		g.before--
		g.calls[p.task].serial = g.before
		c.leaves(o)
	}
	c.log(l, CalledAway, t)
}

// schedule finds the next event of the crew.
func (c *crew) schedule() {
	next, event := never, -1
	for i := range c.people {
		if t := c.people[i].moment; t < next {
			next, event = t, i
		}
	}
	if c.plannedEvent == 0 {
		c.schedulePlan()
	}
	if c.planned < next {
		next, event = c.planned, c.plannedEvent
	}
	c.next, c.nextEvent, c.stale = next, event, false
}

// schedulePlan finds the next of what no operator brings about: duties, breaks and groups
// that come on or go off. It is far off most of the time.
func (c *crew) schedulePlan() {
	next, event := never, -1
	for i := range c.duties {
		if t := c.duties[i].due; t < next {
			next, event = t, len(c.people)+i
		}
	}
	for i := range c.breaks {
		if t := c.breaks[i].moment; t < next {
			next, event = t, len(c.people)+len(c.duties)+i
		}
	}
	if c.turn < next {
		next, event = c.turn, len(c.people)+len(c.duties)+len(c.breaks)
	}
	c.planned, c.plannedEvent = next, event
}

// advance adds up the time that operators are at work.
func (c *crew) advance(t float64) {
	c.busyTime += float64(c.busy) * (t - c.last)
	c.last = t
}

// fire makes the next event of the crew happen.
func (c *crew) fire() {
	i := c.nextEvent
	if i >= len(c.people) {
		c.plannedEvent = 0
	}
	switch {
	case i < len(c.people):
		c.step(i)
	case i < len(c.people)+len(c.duties):
		k := i - len(c.people)
		d := &c.duties[k]
		d.due += d.every.draw()
		c.call(c.run.touch(0), TaskDuty, k)
	case i < len(c.people)+len(c.duties)+len(c.breaks):
		c.breakChanges(&c.breaks[i-len(c.people)-len(c.duties)])
	default:
		c.turns()
	}
	c.stale = true
}

// step moves an operator on: he arrives, or his work is done.
func (c *crew) step(o int) {
	p := &c.people[o]
	t := c.tasks[p.task]
	l := c.run.touch(t.line)
	if p.state == coming {
		p.state, p.moment = there, never
		l.forget(p.task)
		c.log(l, Arrives, &t)
		c.start(o)
		return
	}
	if p.state == sure && !t.kind.neverUrgent() {
		l.drop(p.task)
	}
	c.log(l, WorkDone, &t)
	if st := l.lateChange(t.kind); st != nil {
		c.stay(o, st)
	} else {
		c.release(o)
	}
	l.done(&t)
}

// stay turns the task of an operator who has armed a roll or core that a line
// stands for into the change itself: he is there, and nobody is called.
func (c *crew) stay(o int, st *station) {
	p := &c.people[o]
	c.tasks[p.task] = task{kind: st.tJoin, line: st.l.id, work: st.lateChange.draw(), arrives: c.run.now}
	p.state, p.moment = there, never
	c.log(st.l, Stays, &c.tasks[p.task])
	c.start(o)
}

// start begins the work of an operator who is there, if it can begin.
func (c *crew) start(o int) {
	p := &c.people[o]
	t := &c.tasks[p.task]
	l := &c.run.lines[t.line]
	if t.kind.needsRest() && !(l.resting && l.urgent(t.kind, t.which)) {
		return
	}
	p.state, p.moment = working, c.run.now+t.work
	switch t.kind {
	case TaskUnwindRecover:
		l.side[0].risk.hands = c.run.now
	case TaskRewindRecover:
		l.side[1].risk.hands = c.run.now
	}
}

// rested starts the work that waited for the web of a line to rest.
func (c *crew) rested(l *line) {
	for o := range c.people {
		if p := &c.people[o]; p.state == there && c.tasks[p.task].line == l.id {
			c.start(o)
		}
	}
	c.stale = true
}

func (c *crew) release(o int) {
	p := &c.people[o]
	c.tasks[p.task].next = c.free
	c.free = p.task
	p.state, p.moment = idle, never
	c.busy--
	if c.groups != nil {
		c.leaves(o)
	}
	c.waiting = true
}

// forget takes a task from those that the line may wait for, and drop one whose
// operator came a while ago.
func (l *line) forget(i int32) {
	l.drop(i)
	l.recount()
}

func (l *line) drop(i int32) {
	for k, x := range l.pending {
		if x == i {
			l.pending = append(l.pending[:k], l.pending[k+1:]...)
			return
		}
	}
}
