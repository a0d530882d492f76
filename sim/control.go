package sim

import "rollchange/model"

// A role is what the draws of a source do to the web that a line makes.
type role uint8

const (
	standing role = iota // s for which the line stands
	between              // how long it is to the next time that something begins
	scrapped             // m of scrap
	happens              // whether something begins
	leftOver             // m left on a core, by which the roll changes earlier
)

// part is a source in its role: scale is by how much a draw that is one larger is
// more of it (of between, in shares of its mean), onset what begins.
type part struct {
	src   *source
	role  role
	scale float64
	onset onset
}

// onset is something that begins and costs time and web: a hold, or a change of a
// station.
type onset struct {
	hold   hold
	change int // 1 the unwind, 2 the rewind; 0: it is a hold
	failed bool
}

// visit hands over every source that has a role, line by line, each with its place
// in a list that is the same for every line.
func (s *run) visit(f func(place int, p part)) {
	for i := range s.lines {
		place := 0
		s.lines[i].visit(func(p part) {
			f(place, p)
			place++
		})
	}
}

func (l *line) visit(f func(part)) {
	crew := &l.run.crew
	stands := func(work *source, k Task, which int, called bool) {
		f(part{src: work, role: standing, scale: 1})
		if called {
			f(part{src: crew.reaction(l.id, k, which), role: standing, scale: 1})
		}
	}
	for i := range l.side {
		if st := &l.side[i]; st.kind != model.None {
			st.visit(f, stands)
		}
	}
	b := &l.breaks
	f(part{src: &b.every, role: between, scale: 1, onset: onset{hold: hWebBreak}})
	f(part{src: &b.scrap, role: scrapped, scale: 1})
	stands(&b.repair, TaskBreak, 0, true)
	stands(&l.works[TaskRunOut], TaskRunOut, 0, true)
	for i := range l.stops {
		c := &l.stops[i]
		f(part{src: &c.every, role: between, scale: per(1, c.every.mean), onset: onset{hold: hFirstStop + hold(i)}})
		f(part{src: &c.scrap, role: scrapped, scale: 1})
		stands(&c.repair, TaskStop, i, c.needsOperator)
	}
	if j := &l.job; j.on {
		f(part{src: &j.length, role: between, scale: per(1, j.length.mean), onset: onset{hold: hChangeover(len(l.stops))}})
		f(part{src: &j.scrap, role: scrapped, scale: 1})
		stands(&j.changeover, TaskChangeover, 0, true)
	}
	f(part{src: &l.restScrap, role: scrapped, scale: 1})
	f(part{src: &l.startScrap, role: scrapped, scale: 1})
}

// visit hands over the sources of a station.
func (st *station) visit(f func(part), stands func(*source, Task, int, bool)) {
	l := st.l
	change := onset{change: st.which + 1}
	longer, mean := st.lengthening()
	f(part{src: &st.length, role: between, scale: per(longer, mean), onset: change})
	f(part{src: &st.scraps, role: scrapped, scale: 1})
	if st.which == 0 {
		f(part{src: &st.err, role: leftOver, scale: per(1, mean), onset: change})
		f(part{src: &st.partings, role: happens, scale: 1, onset: onset{hold: hWebBreak}})
	}
	if st.kind.Stops() {
		stands(&l.works[st.tChange], st.tChange, 0, true)
	}
	if st.kind == model.Manual {
		return
	}
	failed := onset{change: st.which + 1, failed: true}
	f(part{src: &st.successes, role: happens, scale: -1, onset: failed})
	if st.kind.Stores() {
		scale := 1.0
		if l.failedFor(st) == 0 {
			scale = 0 // the storage lasts until it is mended
		}
		f(part{src: &l.works[st.tRecover], role: standing, scale: scale})
		f(part{src: l.run.crew.reaction(l.id, st.tRecover, 0), role: standing, scale: scale})
	}
	stands(&l.works[st.tJoin], st.tJoin, 0, true)
	f(part{src: &st.lateChange, role: standing, scale: 1})
}

// lengthening is by how much longer the web of a roll is, m, when its draw is one
// larger, and the mean web of a roll from change to change, m.
func (st *station) lengthening() (longer, mean float64) {
	spec := st.l.spec
	size := &spec.Unwind.Roll
	if st.which == 1 {
		size = &spec.Rewind.Roll
	}
	x := st.length.mean
	longer, mean = 1, x
	if size.ByDiameter {
		mean = model.RollLength(x, size.Core, spec.Web.Caliper)
		const step = 1e-4
		longer = (model.RollLength(x*(1+step), size.Core, spec.Web.Caliper) - mean) / (step * x)
	}
	if st.which == 0 {
		mean -= spec.Unwind.Residual + st.err.mean
	} else if spec.Rewind.Trigger == model.BySplice {
		return 0, mean
	}
	return longer, max(mean, model.LeastLength)
}

// failedFor is how long the line stands for a change that fails, s, in the mean.
func (l *line) failedFor(st *station) float64 {
	if !st.kind.Stores() {
		return 0
	}
	return max(0, l.works[st.tRecover].mean+l.run.crew.reaction(l.id, st.tRecover, 0).mean-st.runM/l.spec.Process.Speed)
}

// excess is what a source of a role drew beyond its mean, over all lines, and the
// variance that so many draws have.
type excess struct{ beyond, variance float64 }

// excess lists that of every source.
func (s *run) excess() []excess {
	var list []excess
	s.visit(func(place int, p part) {
		if place == len(list) {
			list = append(list, excess{})
		}
		list[place].beyond += p.src.sum
		list[place].variance += p.src.spread * p.src.spread * float64(p.src.n)
	})
	return list
}

// costs is what a line loses by what: from a run that is over.
type costs struct {
	l           *line
	good, waste float64 // m a planned second
	ramps       float64 // s lost in a stop and a start
	scrap       float64 // m of a stop and a start
	hold        [maxHolds]float64
	change      [2]float64 // s for each change
	stops       [2]float64 // for each change
}

func (s *run) costs() *costs {
	m := s.measure()
	l := &s.lines[0]
	pr := &s.spec.Process
	c := &costs{l: l, ramps: pr.Speed/(2*pr.Decel) + pr.Speed/(2*pr.Accel), scrap: l.restScrap.mean + l.startScrap.mean}
	var all tally
	planned := 0.0
	for i := range m.lines {
		t := &m.lines[i]
		planned += t.planned()
		c.good += m.good[i]
		c.waste += t.residual.value
		for _, x := range m.scrap[i] {
			c.waste += x
		}
		for h := range all.stoppedBy {
			all.stoppedBy[h] += t.stoppedBy[h]
			all.onsets[h] += t.onsets[h]
		}
		for k := range all.side {
			all.side[k].made += t.side[k].made
		}
	}
	c.good, c.waste = per(c.good, planned), per(c.waste, planned)
	for h := range all.onsets {
		c.hold[h] = all.stoppedBy[h] / max(1, all.onsets[h])
		if all.onsets[h] < 20 { // too few to tell: as if nothing else stood in the way
			c.hold[h] = l.stoodFor(hold(h))
		}
	}
	for k := range all.side {
		st := &l.side[k]
		n := all.side[k].made
		c.change[k] = per(all.stoppedBy[st.hChange]+all.stoppedBy[st.hStore], n)
		c.stops[k] = per(all.onsets[st.hChange]+all.onsets[st.hStore], n)
	}
	return c
}

// stoodFor is the mean of the time that a hold stands for the line's own work, s.
func (l *line) stoodFor(h hold) float64 {
	crew := &l.run.crew
	stops := len(l.stops)
	switch i := int(h - hFirstStop); {
	case h == hWebBreak:
		return l.breaks.repair.mean + crew.reaction(l.id, TaskBreak, 0).mean
	case i >= 0 && i < stops:
		x := l.stops[i].repair.mean
		if l.stops[i].needsOperator {
			x += crew.reaction(l.id, TaskStop, i).mean
		}
		return x
	case h == hChangeover(stops) && l.job.on:
		return l.job.changeover.mean + crew.reaction(l.id, TaskChangeover, 0).mean
	}
	return 0
}

// once is what it costs that something begins once: s of standing, m of scrap, and
// m left on a core.
func (c *costs) once(o onset) (stood, scrap, left float64) {
	l := c.l
	if o.change > 0 && !(o.failed && l.side[o.change-1].kind == model.Flying) {
		st := &l.side[o.change-1]
		if o.failed {
			if stood = l.failedFor(st); stood > 0 {
				stood, scrap = stood+c.ramps, c.scrap
			}
			return stood, scrap, 0
		}
		stood = c.change[st.which] + c.ramps*c.stops[st.which]
		scrap = st.scraps.mean + c.scrap*c.stops[st.which]
		if st.which == 0 {
			left = l.spec.Unwind.Residual + st.err.mean
		}
		return stood, scrap, left
	}
	h := o.hold
	if o.change > 0 { // a flying change that fails breaks the web
		h = hWebBreak
	}
	own := 0.0
	stops := len(l.stops)
	switch i := int(h - hFirstStop); {
	case h == hWebBreak:
		own = l.breaks.scrap.mean
	case i >= 0 && i < stops:
		own = l.stops[i].scrap.mean
	case h == hChangeover(stops) && l.job.on: // from the place where the web rests, as is that of the start
		return c.hold[h] + c.ramps, l.restScrap.mean + max(l.job.scrap.mean, l.startScrap.mean), 0
	}
	// The scrap of the cause begins where the line begins to stop.
	rest := model.StoppingLength(l.spec.Process.Speed, l.spec.Process.Decel)
	from, to := rest-l.restScrap.mean, rest+l.startScrap.mean
	scrap = own + (to - from) - max(0, min(own, to)-max(0, from))
	return c.hold[h] + c.ramps, scrap, 0
}

// of is the weight of one that a source draws more than its mean: in good web and in
// waste, m.
func (c *costs) of(p part) (good, waste float64) {
	switch p.role {
	case standing:
		good, waste = -c.good, -c.waste
	case scrapped:
		good, waste = -1, 1
	case between:
		stood, scrap, left := c.once(p.onset)
		good, waste = stood*c.good+scrap, stood*c.waste-scrap-left
	case happens:
		stood, scrap, left := c.once(p.onset)
		good, waste = -stood*c.good-scrap, scrap+left-stood*c.waste
	case leftOver:
		stood, scrap, left := c.once(p.onset)
		return -p.scale * (stood*c.good + scrap), 1 - p.scale*(stood*c.waste-scrap-left)
	}
	return p.scale * good, p.scale * waste
}
