package table

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/metric"
	"rollchange/sim/plan"
)

// Plan writes when the orders of a list are made: the list in all by alternative, then
// for each alternative when each order is made, and what it takes.
func Plan(w io.Writer, about words.About, a *plan.Answer, proposals []*plan.Proposal, sys model.System, to Screen) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n\n", to.title(legible.Line(about.Title)), to.made(about, words.PlanHead(a)))
	clock := words.ClockOf(a)
	planInAll(&b, a, clock, to)
	for _, s := range words.PlanSentences(a) {
		fmt.Fprintln(&b, "\n"+to.prose(s))
	}
	for _, p := range proposals {
		for _, s := range words.ProposalSentences(a, p) {
			fmt.Fprintln(&b, "\n"+to.prose(s))
		}
	}
	for i := range a.Alternatives {
		x := &a.Alternatives[i]
		fmt.Fprintf(&b, "\n%s\n", to.title(legible.Line(x.Name)))
		planTimes(&b, a, x, clock, sys, to)
		fmt.Fprintf(&b, "\n%s\n", to.indented(words.HeadTakes, 2))
		planTakes(&b, a, x, sys, to)
	}
	fmt.Fprintln(&b, "\n"+to.prose(words.PlanNote))
	tooFewShown(&b, to)
	_, err := io.WriteString(w, b.String())
	return err
}

// planInAll is the whole list, a column for each alternative and below it the
// difference from the first.
func planInAll(b *strings.Builder, a *plan.Answer, clock words.PlanClock, to Screen) {
	g := &grid{}
	var rows [5][]string
	spans := false
	for i := range a.Alternatives {
		x := &a.Alternatives[i]
		g.heads = append(g.heads, legible.Line(x.Name))
		spans = spans || x.Done.High > x.Done.Low
		rows[4] = append(rows[4], clock.Span(x.Done))
		for k, s := range words.PlanInAll(x) {
			rows[k] = append(rows[k], s)
		}
		rows[0][i] = clock.Text(x.Done.Mean)
	}
	g.add(words.HeadListDone, rows[0]...)
	if spans {
		g.add(words.HeadDoneSpan, rows[4]...)
	}
	if due := words.Due(a); due > 0 {
		g.add(fmt.Sprintf(words.PlanOnTimeOf, due), rows[1]...)
		g.add(words.HeadLateHours, rows[2]...)
	}
	g.add(words.HeadChange, rows[3]...)
	g.write(b, to)
}

// orderLabel is an order and its product.
func orderLabel(a *plan.Answer, k int) string {
	o := &a.Orders[k]
	return legible.Line(o.Name) + " " + legible.Line(a.Products[o.Product])
}

// planTimes is when each order is made.
func planTimes(b *strings.Builder, a *plan.Answer, x *plan.Alternative, clock words.PlanClock, sys model.System, to Screen) {
	g := &grid{label: words.HeadOrder, heads: []string{words.HeadBegins, words.HeadEndsLow, words.HeadEnds, words.HeadEndsHigh}}
	due := words.Due(a) > 0
	if due {
		g.heads = append(g.heads, words.HeadDue, words.HeadLate)
	}
	for k := range x.Orders {
		o := &x.Orders[k]
		cells := []string{clock.Text(o.Begin.Mean), clock.Text(o.End.Low), clock.Text(o.End.Mean), clock.Text(o.End.High)}
		if due {
			cells = append(cells, clock.Text(a.Orders[k].Due), words.LateText(o.Late))
		}
		g.add(orderLabel(a, k), cells...)
	}
	g.write(b, to)
}

// planTakes is what each order takes.
func planTakes(b *strings.Builder, a *plan.Answer, x *plan.Alternative, sys model.System, to Screen) {
	length := words.ShownUnit("m", 0, sys)
	g := &grid{label: words.HeadOrder, heads: []string{words.HeadAllHours, words.HeadRunning, words.HeadChanging, words.HeadRolls, words.HeadOther,
		words.HeadGood + ", " + length.Name, words.HeadWasted + ", " + length.Name, words.HeadSplices}}
	tape, waits, finished := false, false, false
	idle := slices.Index(x.Causes, metric.HoldNoOrder)
	for k := range x.Orders {
		tape, finished = tape || x.Orders[k].Tape > 0, finished || x.Orders[k].FinishedRolls > 0
		waits = waits || idle >= 0 && x.Orders[k].Stopped[idle] > 0
	}
	if finished {
		g.heads = append(g.heads, words.HeadFinished)
	}
	if waits {
		g.heads = append(g.heads, words.HeadWaits)
	}
	if tape {
		g.heads = append(g.heads, words.HeadTape+", "+length.Name)
	}
	h := func(s float64) string { return words.Fixed(s/3600, 2) }
	m := func(metres float64) string { return words.Fixed(length.From(metres), 0) }
	for k := range x.Orders {
		o := &x.Orders[k]
		if o.Ended == 0 {
			g.add(orderLabel(a, k))
			continue
		}
		change, rolls, other := 0.0, 0.0, 0.0
		for c, t := range o.Stopped {
			switch x.Causes[c] {
			case metric.HoldChangeover:
				change += t
			case metric.HoldUnwindChange, metric.HoldRewindChange:
				rolls += t
			case metric.HoldNoOrder:
			default:
				other += t
			}
		}
		running := o.Running + o.Ramping + o.Slowed
		cells := []string{h(running + change + rolls + other), h(running), h(change), h(rolls), h(other),
			m(o.Good), m(o.Scrap + o.Residual), words.Fixed(o.RollChanges, 1)}
		if finished {
			cells = append(cells, words.Fixed(o.FinishedRolls, 1))
		}
		if waits {
			cells = append(cells, h(o.Stopped[idle]))
		}
		if tape {
			cells = append(cells, words.Fixed(length.From(o.Tape), 1))
		}
		g.add(orderLabel(a, k), cells...)
	}
	g.write(b, to)
}
