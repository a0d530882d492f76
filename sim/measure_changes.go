package sim

import (
	"rollchange/model"
	"rollchange/sim/metric"
)

// made is how many changes a station made, on all lines.
func (m *measured) made(which int) float64 {
	return m.changes(which, func(c *changes) float64 { return c.made })
}

// changes adds up a part of what the changes of a station came to.
func (m *measured) changes(which int, part func(c *changes) float64) float64 {
	return m.sum(func(t *tally, _ int) float64 { return part(&t.side[which]) })
}

// changeGauges measure what the roll changes came to.
func changeGauges(l *model.Line) []Gauge {
	var list gauges
	for which, change := range [2]model.ChangeKind{l.Unwind.Change, l.Rewind.Change} {
		if change == model.None {
			continue
		}
		unusual := unusualOf(l, which)
		side := func(splice, transfer string) string { return [2]string{splice, transfer}[which] }
		list.rate(side(metric.SpliceRate, metric.TransferRate), func(_ *measured, t *tally, _ int) float64 { return t.side[which].made })
		seen := func(name string, unseen float64, of func(c *changes) float64) {
			list = append(list, countedShare(name, which, unseen, of))
		}
		if change.Ahead() {
			seen(side(metric.SpliceNotReady, metric.TransferNotReady), unusual.Late, func(c *changes) float64 { return c.notReady })
			seen(side(metric.SpliceFailed, metric.TransferFailed), unusual.Fails, func(c *changes) float64 { return c.failed })
		}
		if which == 0 {
			seen(metric.RunOut, unusual.RunOut, func(c *changes) float64 { return c.runOut })
		}
		if which == 0 && splicing(l) {
			list.add(metric.SpliceLost, func(m *measured) figure {
				return figure{Num: m.sum(func(t *tally, i int) float64 { return t.residual.value + m.scrap[i][wSplice] }), Den: m.made(which)}
			})
		}
		if !change.Stores() {
			continue
		}
		seen(side(metric.SpliceNotRefilled, metric.TransferNotRefilled), unusual.Short, func(c *changes) float64 { return c.notRefilled })
		list = append(list, riskGauges(l, which, unusual)...)
		list.add(side(metric.UnwindEmpty, metric.RewindFull), func(m *measured) figure {
			return figure{Num: m.changes(which, func(c *changes) float64 { return c.emptied }), Den: m.span}
		})
		capacity := l.Rewind.Storage.Capacity
		list.add(side(metric.UnwindLowest, metric.RewindHighest), func(m *measured) figure {
			f := figure{Num: m.changes(which, func(c *changes) float64 { return c.extremeSum }), Den: m.changes(which, func(c *changes) float64 { return c.cycles })}
			if which == 1 {
				f.Num = capacity*f.Den - f.Num
			}
			return f
		})
	}
	return list
}

// unusualOf is what may happen at a change that only counting tells of, for any of the
// products.
func unusualOf(l *model.Line, which int) model.Unusual {
	of := func(l *model.Line) model.Unusual {
		if which == 1 {
			return model.UnusualTransfer(l)
		}
		return model.UnusualSplice(l)
	}
	if l.Orders == nil {
		x := of(l)
		if which == 1 && l.Rewind.LateSpeed > 0 { // nothing of it is calculated
			x.Late, x.Short = 1, 1
		}
		return x
	}
	var worst model.Unusual
	for i := range l.Products {
		x := of(l.Products[i].Line)
		worst.RunOut, worst.Fails = max(worst.RunOut, x.RunOut), max(worst.Fails, x.Fails)
	}
	worst.Late, worst.Short = 1, 1 // part rolls, and a crew that is busy with changeovers
	return worst
}

// splicing says whether the line, or one of its products, says how splices are made.
func splicing(l *model.Line) bool {
	for i := range l.Products {
		if l.Products[i].Line.Unwind.Splicing.Method != "" {
			return true
		}
	}
	return l.Unwind.Splicing.Method != ""
}

// countedShare is a share of the changes of a station that is counted.
func countedShare(name string, which int, unseen float64, of func(c *changes) float64) Gauge {
	return Gauge{Name: name, Unseen: unseen, of: func(m *measured) figure {
		n := m.changes(which, of)
		return figure{Num: n, Den: m.made(which), Counted: n, Exposed: n}
	}}
}
