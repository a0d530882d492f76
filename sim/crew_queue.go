package sim

// handOut gives waiting tasks to free operators: those that a line stands for
// first, then in order of call. It comes after everything else of an instant,
// so that what is urgent is judged by the state of the lines after it.
func (c *crew) handOut() {
	c.waiting = false
	if c.groups != nil {
		c.handOutByGroup()
		return
	}
	for len(c.queue) > 0 && c.busy+c.away < len(c.people) {
		i := c.dequeue(c.first())
		for o := range c.people {
			if c.people[o].state == idle {
				c.give(o, i)
				break
			}
		}
	}
	if len(c.queue) > 0 && c.callAway() {
		c.handOut()
		return
	}
	c.stale = true
}

// first is the place in the queue of the task that is handed out next. A crew that cannot
// keep up has hundreds of duties in its queue: those are passed over, from the end, where
// what a line stands for has just been called.
func (c *crew) first() int {
	first := 0
	for q, left := len(c.queue)-1, c.may; left > 0; q-- {
		t := &c.tasks[c.queue[q]]
		if t.kind.neverUrgent() {
			continue
		}
		if left--; c.run.lines[t.line].urgent(t.kind, t.which) {
			first = q
		}
	}
	return first
}

// dequeue takes a task out of the queue.
func (c *crew) dequeue(q int) int32 {
	i := c.queue[q]
	c.queue = append(c.queue[:q], c.queue[q+1:]...)
	if !c.tasks[i].kind.neverUrgent() {
		c.may--
	}
	return i
}

// cancel takes back the calls for a task of a line that is no longer needed.
func (c *crew) cancel(l *line, k Task) {
	for q := 0; q < len(c.queue); q++ {
		if i := c.queue[q]; c.tasks[i].kind == k && c.tasks[i].line == l.id {
			c.dequeue(q)
			c.tasks[i].next = c.free
			c.free = i
			l.forget(i)
			q--
		}
	}
	for o := range c.people {
		if p := &c.people[o]; p.state != idle && c.tasks[p.task].kind == k && c.tasks[p.task].line == l.id {
			l.forget(p.task)
			c.release(o)
		}
	}
	c.stale = true
}
