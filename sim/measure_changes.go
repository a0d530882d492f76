package sim

import (
	"rollchange/model"
	"rollchange/sim/metric"
)

// changeGauges measure what the roll changes came to.
func changeGauges(l *model.Line) []gauge {
	var list []gauge
	for which, change := range [2]model.ChangeKind{l.Unwind.Change, l.Rewind.Change} {
		if change == model.None {
			continue
		}
		unusual := model.UnusualSplice(l)
		if which == 1 {
			unusual = model.UnusualTransfer(l)
		}
		side := func(splice, transfer string) string { return [2]string{splice, transfer}[which] }
		add := func(name string, of func(m *measured) figure) { list = append(list, gauge{name: name, of: of}) }
		add(side(metric.SpliceRate, metric.TransferRate), func(m *measured) figure {
			return m.rate(func(t *tally, _ int) float64 { return t.side[which].made })
		})
		made := func(m *measured) float64 {
			return m.sum(func(t *tally, _ int) float64 { return t.side[which].made })
		}
		total := func(m *measured, part func(c *changes) float64) float64 {
			return m.sum(func(t *tally, _ int) float64 { return part(&t.side[which]) })
		}
		// seen is a share of the changes that is counted; part of one that is reckoned.
		seen := func(name string, unseen float64, of func(c *changes) float64) {
			list = append(list, gauge{name: name, unseen: unseen, of: func(m *measured) figure {
				n := total(m, of)
				return figure{Num: n, Den: made(m), Counted: n, Exposed: n}
			}})
		}
		part := func(name string, of func(c *changes) float64) {
			add(name, func(m *measured) figure { return figure{Num: total(m, of), Den: made(m)} })
		}
		if change != model.Manual {
			seen(side(metric.SpliceNotReady, metric.TransferNotReady), unusual.Late, func(c *changes) float64 { return c.notReady })
			seen(side(metric.SpliceFailed, metric.TransferFailed), unusual.Fails, func(c *changes) float64 { return c.failed })
		}
		if which == 0 {
			seen(metric.RunOut, unusual.RunOut, func(c *changes) float64 { return c.runOut })
		}
		if change != model.ZeroSpeed {
			continue
		}
		seen(side(metric.SpliceNotRefilled, metric.TransferNotRefilled), unusual.Short, func(c *changes) float64 { return c.notRefilled })
		list = append(list, gauge{name: side(metric.Depletion, metric.Overfill), unseen: unusual.Any(), of: func(m *measured) figure {
			return figure{Num: total(m, func(c *changes) float64 { return c.chance.all() }), Den: made(m),
				Counted: total(m, func(c *changes) float64 { return c.chance.odd }), Exposed: total(m, func(c *changes) float64 { return c.exposed })}
		}})
		add(side(metric.DepletionInterval, metric.OverfillInterval), func(m *measured) figure {
			return figure{Num: m.span * float64(len(m.lines)), Den: made(m)}
		})
		seen(side(metric.DepletionCounted, metric.OverfillCounted), 1, func(c *changes) float64 { return c.starved })
		by := side(metric.DepletionBy, metric.OverfillBy)
		for k, cause := range causeNames {
			part(by+cause, func(c *changes) float64 { return c.chance.cause[k] })
		}
		if dwell := [2]model.Dist{l.Unwind.Dwell, l.Rewind.Dwell}[which]; dwell.SD() > 0 {
			for k, law := range model.TailLaws {
				part(by+"if_"+string(law), func(c *changes) float64 { return c.chance.tail[k] })
			}
		}
		add(side(metric.UnwindEmpty, metric.RewindFull), func(m *measured) figure {
			return figure{Num: total(m, func(c *changes) float64 { return c.emptied }), Den: m.span}
		})
		capacity := l.Rewind.Storage.Capacity
		add(side(metric.UnwindLowest, metric.RewindHighest), func(m *measured) figure {
			f := figure{Num: total(m, func(c *changes) float64 { return c.extremeSum }), Den: total(m, func(c *changes) float64 { return c.cycles })}
			if which == 1 {
				f.Num = capacity*f.Den - f.Num
			}
			return f
		})
	}
	return list
}
