package sim

import (
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/model/portable"
)

// newRun builds one replication in the state of t = 0: the web runs at line
// speed, a new parent roll and an empty core have just begun, each storage is at
// its run level, every operator is free, the next roll and core are called for.
func newRun(spec *model.Line, seed uint64, replication int, horizon, warmUp float64, record func(*Record)) *run {
	return newRunOf(spec, streams{seed: seed, replication: replication}, horizon, warmUp, record)
}

// newRunOf is newRun with chance from where it is told.
func newRunOf(spec *model.Line, from streams, horizon, warmUp float64, record func(*Record)) *run {
	return prepare(spec).newRun(from, horizon, warmUp, record)
}

func (p *Prepared) newRun(from streams, horizon, warmUp float64, record func(*Record)) *run {
	spec := p.spec
	s := &run{spec: spec, prepared: p, horizon: horizon, warmUp: warmUp, record: record, names: holdNames(spec)}
	lines := max(1, spec.Crew.Lines)
	s.buildCrew(from)
	s.lines = make([]line, lines)
	s.next = make([]float64, lines)
	for i := range s.lines {
		l := &s.lines[i]
		l.run, l.spec, l.id = s, spec, i
		l.build(func(d model.Dist, name string) source {
			if d.IsConst() { // without a stream, which its name is for
				return from.source(d, name)
			}
			return from.source(d, sourceName(name, i))
		})
	}
	if o := spec.Orders; o != nil {
		s.stocks, s.stock = stocksOf(spec.Products)
		if len(o.List) > 0 {
			s.book = newOrderBook(o, lines, from)
		}
		for i := range s.lines {
			s.lines[i].takesOrders(from)
		}
	}
	for i := range s.lines {
		s.lines[i].begin()
		s.touch(i)
	}
	s.crew.stale = true
	return s
}

// sourceName is the name of a source of chance; lines after the first have a
// number, so that adding a line leaves the others as they were. A name from a
// scenario holds no tab, so what stands behind one is ours.
func sourceName(name string, line int) string {
	if line == 0 {
		return name
	}
	return fmt.Sprintf("%s\tline %d", name, line+1)
}

func (s *run) buildCrew(from streams) {
	c := &s.crew
	spec := &s.spec.Crew
	*c = crew{run: s, spec: spec, free: -1, next: never, turn: never}
	c.people = make([]operator, spec.Operators)
	for i := range c.people {
		c.people[i].moment = never
	}
	c.buildGroups()
	names := dutyNames(spec.Duties)
	for i, d := range spec.Duties {
		clock := dutyClock{due: never, takes: from.source(d.Takes, "takes "+names[i])}
		if d.PerRoll == 0 {
			clock.every = from.source(d.Every, "every "+names[i])
			clock.due = clock.every.draw()
		}
		c.duties = append(c.duties, clock)
	}
	for _, b := range spec.Breaks {
		c.breaks = append(c.breaks, breakTime{at: b.At, length: b.For, cover: b.Cover, moment: b.At})
	}
	sources := taskSources[:]
	for _, st := range s.spec.Stops {
		sources = append(sources[:len(sources):len(sources)], "stop "+st.Name)
	}
	sources = append(sources[:len(sources):len(sources)], names...)
	for line := range max(1, spec.Lines) {
		react := make([]source, len(sources))
		for k, name := range sources {
			react[k] = from.source(spec.Reaction, sourceName("reaction "+name, line))
		}
		c.react = append(c.react, react)
	}
}

// dutyNames are the names of the sources of each duty. Duties may have the same
// name: the second of them is "duty NAME 2", which none of another name can be
// mistaken for, since the number stands behind a tab.
func dutyNames(duties []model.Duty) []string {
	seen := map[string]int{}
	var names []string
	for _, d := range duties {
		name := "duty " + d.Name
		if seen[d.Name]++; seen[d.Name] > 1 {
			name = fmt.Sprintf("%s\t%d", name, seen[d.Name])
		}
		names = append(names, name)
	}
	return names
}

// build prepares the parts of a line; src makes a source of its own for each
// quantity that varies.
func (l *line) build(src func(model.Dist, string) source) {
	spec := l.spec
	l.slots = make([]float64, slotStops+2*len(spec.Stops)+1, slotStops+2*len(spec.Stops)+2)
	for i := range l.slots {
		l.slots[i] = never
	}
	l.p, l.target = spec.Process.Speed, spec.Process.Speed
	l.restScrap = src(spec.Process.StopScrap, "line.stop_scrap")
	l.startScrap = src(spec.Process.RestartScrap, "line.restart_scrap")
	l.scrap.spans = make([]span, 0, 64)
	l.stopReach = spec.Process.StopScrap.Max()
	if math.IsInf(l.stopReach, 1) {
		l.stopReach = spec.Process.StopScrap.Quantile(1 - 1e-9)
	}
	l.moved, l.stale = true, true

	u, w := &spec.Unwind, &spec.Rewind
	l.side[0].buildUnwind(l, src)
	l.side[1].buildRewind(l, src)
	l.works[TaskUnwindChange] = src(u.ChangeTime, "unwind.change_time")
	l.works[TaskUnwindArm] = src(u.Load, "unwind.load")
	l.prepare = src(u.Prepare, "unwind.prepare")
	l.works[TaskUnwindRecover] = src(u.Recover, "unwind.recover")
	l.works[TaskUnwindJoin] = src(u.Recover, "unwind.recover joining")
	l.works[TaskRewindChange] = src(w.ChangeTime, "rewind.change_time")
	l.works[TaskRewindArm] = src(w.LoadCore, "rewind.load_core")
	l.doff = src(w.Doff, "rewind.doff")
	l.works[TaskRewindRecover] = src(w.Recover, "rewind.recover")
	l.works[TaskRewindJoin] = src(w.Recover, "rewind.recover joining")
	l.works[TaskPack] = src(w.Pack, "rewind.pack")
	l.works[TaskRunOut] = src(u.Recover, "unwind.recover run-out")
	if b := spec.WebBreaks; b != nil {
		if u.Change == model.Manual && b.Repair.Given() || !u.Recover.Given() {
			l.works[TaskRunOut] = src(b.Repair, "unwind.recover run-out")
		}
		l.breaks = breakClock{n: b.Exponent, scale: b.MeanLength,
			every: src(model.Dist{Law: model.Exponential, A: 1}, "web_breaks"), repair: src(b.Repair, "web_breaks.repair"), scrap: src(b.Scrap, "web_breaks.scrap")}
		if b.MeanLength > 0 && !math.IsInf(b.MeanLength, 1) {
			l.breaks.on = true
			if b.Exponent != 0 {
				l.breaks.scale *= portable.Pow(b.AtSpeed, b.Exponent)
			}
			l.breaks.full = portable.Pow(l.p, b.Exponent+1) / l.breaks.scale
			l.breaks.speed, l.breaks.power = l.p, portable.Pow(l.p, b.Exponent+2)
			l.breaks.left = l.breaks.every.draw()
		}
	}
	l.holds.off = offOf(spec)
	for i, st := range spec.Stops {
		c := stopClock{calendar: st.Calendar, needsOperator: st.NeedsOperator,
			every: src(st.Every, "stop.every "+st.Name), repair: src(st.Repair, "stop.repair "+st.Name), scrap: src(st.Scrap, "stop.scrap "+st.Name)}
		l.slots[slotStops+2*i] = c.every.draw()
		l.stops = append(l.stops, c)
	}
	if j := spec.Jobs; j != nil {
		l.job = jobClock{on: true, length: src(j.Length, "jobs.length"), changeover: src(j.Changeover, "jobs.changeover"), scrap: src(j.Scrap, "jobs.scrap")}
		l.job.end = l.job.length.draw()
	}
}

func share(name string) (model.Dist, string) { return model.Dist{Law: model.Uniform, A: 0, B: 1}, name }

func (st *station) buildUnwind(l *line, src func(model.Dist, string) source) {
	u := &l.spec.Unwind
	*st = station{l: l, which: 0, of: OfUnwind, kind: u.Change, do: changerOf(u.Change),
		motion:    motion{dec: u.Decel, acc: u.Accel, max: u.MaxSpeed},
		callAhead: u.CallAhead, hChange: hUnwindChange, hStore: hUnwindDepleted,
		tChange: TaskUnwindChange, tArm: TaskUnwindArm, tRecover: TaskUnwindRecover, tJoin: TaskUnwindJoin,
		successShare: u.SpliceSuccess, breakShare: u.SpliceBreaks}
	st.length = src(u.Roll.Length, "unwind.roll_length")
	if u.Roll.ByDiameter {
		st.length = src(u.Roll.Diameter, "unwind.roll_diameter")
	}
	st.err = src(u.ResidualError, "unwind.residual_error")
	st.dwells = src(u.Dwell, "unwind.dwell")
	st.successes = src(share("unwind.splice_success"))
	st.partings = src(share("unwind.splice_breaks"))
	st.partings.happensWith(u.SpliceBreaks)
	st.successes.happensWith(u.SpliceSuccess)
	st.scraps = src(u.SpliceScrap, "unwind.splice_scrap")
	st.lateChange = src(u.LateChange, "unwind.late_change")
	st.changesLate = st.kind == model.Flying && u.LateChange.Given()
	if st.zero() {
		st.laws = l.run.prepared.lawsOf(u.Dwell, u.Recover)
		st.store(&u.Storage, u.Storage.RunLevel, u.Storage.RestartLevel, u.Storage.SlowLevel)
		st.decTarget = model.UnwindCycle(l.spec).Decel
	}
	st.finish()
}

func (st *station) buildRewind(l *line, src func(model.Dist, string) source) {
	w := &l.spec.Rewind
	*st = station{l: l, which: 1, of: OfRewind, kind: w.Change, do: changerOf(w.Change),
		motion:    motion{dec: w.Decel, acc: w.Accel, max: w.MaxSpeed, decTarget: w.Decel},
		callAhead: w.CallAhead, hChange: hRewindChange, hStore: hRewindFull,
		tChange: TaskRewindChange, tArm: TaskRewindArm, tRecover: TaskRewindRecover, tJoin: TaskRewindJoin,
		successShare: w.TransferSuccess}
	st.length = src(w.Roll.Length, "rewind.roll_length")
	if w.Roll.ByDiameter {
		st.length = src(w.Roll.Diameter, "rewind.roll_diameter")
	}
	st.dwells = src(w.Dwell, "rewind.dwell")
	st.successes = src(share("rewind.transfer_success"))
	st.successes.happensWith(w.TransferSuccess)
	st.scraps = src(w.TransferScrap, "rewind.transfer_scrap")
	st.lateChange = src(w.LateChange, "rewind.late_change")
	st.changesLate = st.kind == model.Flying && w.LateChange.Given()
	st.lateSpeed = w.LateSpeed
	if st.zero() {
		top := w.Storage.Capacity
		st.laws = l.run.prepared.lawsOf(w.Dwell, w.Recover)
		st.content0 = w.Storage.RunLevel
		st.store(&w.Storage, top-w.Storage.RunLevel, top-w.Storage.RestartLevel, top-w.Storage.SlowLevel)
	}
	st.finish()
}

func (st *station) finish() {
	pr := &st.l.spec.Process
	st.ends, st.next, st.trip = never, never, never
	st.derives()
	st.callDist = model.StoppingLength(pr.Speed, pr.Decel) + pr.Speed*st.callAhead
	st.follow()
	st.touch()
}

// begin puts the first rolls on and makes the first calls.
func (l *line) begin() {
	for k, x := range [2]*model.Storage{&l.spec.Unwind.Storage, &l.spec.Rewind.Storage} {
		if l.side[k].zero() {
			l.low[k] = NewHistogram(x.Capacity)
		}
	}
	l.side[0].startParentRoll(0)
	if l.side[1].kind != model.None {
		l.side[1].startFinishedRoll(0)
	}
	if l.side[0].kind.Ahead() {
		l.run.crew.call(l, TaskUnwindArm, 0)
	}
	if l.side[1].kind.Ahead() {
		l.run.crew.call(l, TaskRewindArm, 0)
	}
}
