package sim

import "rollchange/model"

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
	c.nextTurn()
	c.buildTrades()
}

// buildTrades finds which groups do each task.
func (c *crew) buildTrades() {
	g, spec := c.groups, c.spec
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
