package sim

import "rollchange/model"

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
		made := func(m *measured) float64 {
			return m.sum(func(t *tally, _ int) float64 { return t.side[which].made })
		}
		total := func(m *measured, part func(c *changes) float64) float64 {
			return m.sum(func(t *tally, _ int) float64 { return part(&t.side[which]) })
		}
		// seen is a share of the changes that is counted; part of one that is reckoned.
		seen := func(suffix string, unseen float64, of func(c *changes) float64) {
			list = append(list, metric{name: name + suffix, unit: "1", kind: asShare, unseen: unseen, of: func(m *measured) figure {
				n := total(m, of)
				return figure{Num: n, Den: made(m), Counted: n, Exposed: n}
			}})
		}
		part := func(suffix string, of func(c *changes) float64) {
			list = append(list, metric{name: name + suffix, unit: "1", kind: asRatio, of: func(m *measured) figure {
				return figure{Num: total(m, of), Den: made(m)}
			}})
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
		rare := [2]string{".depletion", ".overfill"}[which]
		list = append(list, metric{name: name + rare, unit: "1", kind: asShare, unseen: unusual.Any(), of: func(m *measured) figure {
			return figure{Num: total(m, func(c *changes) float64 { return c.chance.all() }), Den: made(m),
				Counted: total(m, func(c *changes) float64 { return c.chance.odd }), Exposed: total(m, func(c *changes) float64 { return c.exposed })}
		}}, metric{name: name + rare + "_interval", unit: "s", kind: asInterval, of: func(m *measured) figure {
			return figure{Num: m.span * float64(len(m.lines)), Den: made(m)}
		}})
		seen(rare+"_counted", 1, func(c *changes) float64 { return c.starved })
		for k, cause := range causeNames {
			part(rare+"."+cause, func(c *changes) float64 { return c.chance.cause[k] })
		}
		if dwell := [2]model.Dist{l.Unwind.Dwell, l.Rewind.Dwell}[which]; dwell.SD() > 0 {
			for k, law := range model.TailLaws {
				part(rare+".if_"+string(law), func(c *changes) float64 { return c.chance.tail[k] })
			}
		}
		list = append(list, metric{name: [2]string{"unwind_storage.empty", "rewind_storage.full"}[which], unit: "1/s", kind: asCount, of: func(m *measured) figure {
			return figure{Num: total(m, func(c *changes) float64 { return c.emptied }), Den: m.span}
		}})
		capacity := l.Rewind.Storage.Capacity
		list = append(list, metric{name: [2]string{"unwind_storage.lowest", "rewind_storage.highest"}[which], unit: "m", kind: asRatio,
			of: func(m *measured) figure {
				f := figure{Num: total(m, func(c *changes) float64 { return c.extremeSum }), Den: total(m, func(c *changes) float64 { return c.cycles })}
				if which == 1 {
					f.Num = capacity*f.Den - f.Num
				}
				return f
			}})
	}
	return list
}
