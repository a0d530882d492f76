package sim

import "rollchange/model"

// made is how many changes a station made, on all lines.
func (m *measured) made(which int) float64 {
	return m.changes(which, func(c *changes) float64 { return c.made })
}

// changes adds up a part of what the changes of a station came to.
func (m *measured) changes(which int, part func(c *changes) float64) float64 {
	return m.sum(func(t *tally, _ int) float64 { return part(&t.side[which]) })
}

// changeMetrics is what the roll changes came to.
func changeMetrics(l *model.Line) []metric {
	var list []metric
	for which, change := range [2]model.ChangeKind{l.Unwind.Change, l.Rewind.Change} {
		if change == model.None {
			continue
		}
		unusual := model.UnusualSplice(l)
		if which == 1 {
			unusual = model.UnusualTransfer(l)
		}
		name := [2]string{"splice", "transfer"}[which]
		list = append(list, metric{name: name + "_rate", unit: "1/s", of: func(m *measured) figure {
			return m.rate(func(t *tally, _ int) float64 { return t.side[which].made })
		}})
		seen := func(suffix string, unseen float64, of func(c *changes) float64) {
			list = append(list, countedShare(name+suffix, which, unseen, of))
		}
		if change != model.Manual {
			seen(".not_ready", unusual.Late, func(c *changes) float64 { return c.notReady })
			seen(".failed", unusual.Fails, func(c *changes) float64 { return c.failed })
		}
		if which == 0 {
			seen(".run_out", unusual.RunOut, func(c *changes) float64 { return c.runOut })
		}
		if change != model.ZeroSpeed {
			continue
		}
		seen(".not_refilled", unusual.Short, func(c *changes) float64 { return c.notRefilled })
		list = append(list, riskMetrics(l, which, unusual)...)
		list = append(list, metric{name: [2]string{"unwind_storage.empty", "rewind_storage.full"}[which], unit: "1/s", kind: asCount, of: func(m *measured) figure {
			return figure{Num: m.changes(which, func(c *changes) float64 { return c.emptied }), Den: m.span}
		}})
		capacity := l.Rewind.Storage.Capacity
		list = append(list, metric{name: [2]string{"unwind_storage.lowest", "rewind_storage.highest"}[which], unit: "m", kind: asRatio,
			of: func(m *measured) figure {
				f := figure{Num: m.changes(which, func(c *changes) float64 { return c.extremeSum }), Den: m.changes(which, func(c *changes) float64 { return c.cycles })}
				if which == 1 {
					f.Num = capacity*f.Den - f.Num
				}
				return f
			}})
	}
	return list
}

// countedShare is a share of the changes of a station that is counted.
func countedShare(name string, which int, unseen float64, of func(c *changes) float64) metric {
	return metric{name: name, unit: "1", kind: asShare, unseen: unseen, of: func(m *measured) figure {
		n := m.changes(which, of)
		return figure{Num: n, Den: m.made(which), Counted: n, Exposed: n}
	}}
}
