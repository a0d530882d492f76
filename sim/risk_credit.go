package sim

// creditAll adds what is still being calculated: the chance that the station
// stands past the moment from which its ramp just saves the storage.
func (st *station) creditAll() {
	r := &st.risk
	if r.live && r.made {
		latest, _ := st.latest()
		st.creditFrom(latest)
	}
}

// newRisk ends what is calculated of the last cycle and begins the next.
func (st *station) newRisk() {
	st.creditAll()
	if st.record != nil {
		st.record.close(st)
		st.record.open()
	}
	st.risk = risk{hands: never, slowed: never, parts: st.willPart, short: st.M < st.runM-1e-3}
}

// creditFrom adds the chance that the station still stands at the time latest.
func (st *station) creditFrom(latest float64) {
	r := &st.risk
	x, e := latest-r.begun, r.from-r.begun
	sure := !r.hand && x <= st.laws.handLeast // a change by hand trips the interlock
	if r.fails && !sure {
		h := st.laws.hand
		st.credit(after(h.SurvivalFrom(latest-r.hands), max(0, h.SurvivalFrom(max(0, r.from-r.hands)))))
		return
	}
	at := st.laws.at(x, 0)
	s, tails := at.dwell, at.tails
	if e > 0 {
		s = after(s, st.laws.lasts(e))
		for i := range tails {
			tails[i] = after(tails[i], st.laws.tails[i](e))
		}
	}
	q := 0.0
	if sure {
		q = 1 - st.successShare
	}
	r.live, r.done = false, true
	if r.counts != (st.l.now >= st.l.run.warmUp) {
		return
	}
	if st.record != nil {
		st.record.adds(dwells(q, s, r.odds()))
	}
	c := &st.changes().chance
	c.cause[byFailed] += q
	st.addCause(c, (1-q)*s)
	if r.odds() {
		c.odd += (1 - q) * s
	}
	for i := range tails {
		c.tail[i] += q + (1-q)*tails[i]
	}
}

// credit adds a chance that does not come from the law of the dwell.
func (st *station) credit(p float64) {
	r := &st.risk
	r.live, r.done = false, true
	if r.counts != (st.l.now >= st.l.run.warmUp) {
		return
	}
	if st.record != nil {
		st.record.adds(only(p, r.fails))
	}
	c := &st.changes().chance
	for i := range c.tail {
		c.tail[i] += p
	}
	if r.fails {
		c.cause[byFailed] += p
		c.oddFailed += p
		return
	}
	c.odd += p
	st.addCause(c, p)
}

// addCause splits a chance into what a full storage and a ready roll would have
// had too, and what their want adds.
func (st *station) addCause(c *chance, p float64) {
	r := &st.risk
	if !r.waited && !r.short {
		c.cause[byDwell] += p
		return
	}
	v := st.l.spec.Process.Speed
	t, w := st.downAt(st.runM-v*v/(2*st.decTarget), v)
	least := min(p, st.laws.at(t-w/(2*st.acc), 1).dwell)
	c.cause[byDwell] += least
	if r.waited {
		c.cause[byNotReady] += p - least
	} else {
		c.cause[byRefill] += p - least
	}
}
