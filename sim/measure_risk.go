package sim

import "rollchange/model"

// riskMetrics tell how often the changes of a zero-speed station use up its
// storage: in all, counted, by what failed changes do and by everything else,
// each with its limits; then what that chance is made of, and what it were under
// other laws of the dwell.
func riskMetrics(l *model.Line, which int, unusual model.Unusual) []metric {
	name := [2]string{"splice.depletion", "transfer.overfill"}[which]
	reckoned := func(suffix string, unseen float64, all, odd, exposed func(c *changes) float64) metric {
		return metric{name: name + suffix, unit: "1", kind: asShare, unseen: unseen, of: func(m *measured) figure {
			return figure{Num: m.changes(which, all), Den: m.made(which), Counted: m.changes(which, odd), Exposed: m.changes(which, exposed)}
		}}
	}
	failed := func(c *changes) float64 { return c.chance.cause[byFailed] }
	usual := unusual
	usual.Fails = 0
	list := []metric{
		reckoned("", unusual.Any(), func(c *changes) float64 { return c.chance.all() },
			func(c *changes) float64 { return c.chance.odd + c.chance.oddFailed }, func(c *changes) float64 { return c.exposed + c.exposedFailed }),
		{name: name + "_interval", unit: "s", kind: asInterval, of: func(m *measured) figure {
			return figure{Num: m.span * float64(len(m.lines)), Den: m.made(which)}
		}},
		countedShare(name+"_counted", which, 1, func(c *changes) float64 { return c.starved }),
		reckoned(".not_failed", usual.Any(), func(c *changes) float64 { return c.chance.butFailed() },
			func(c *changes) float64 { return c.chance.odd }, func(c *changes) float64 { return c.exposed }),
		reckoned(".failed", unusual.Fails, failed,
			func(c *changes) float64 { return c.chance.oddFailed }, func(c *changes) float64 { return c.exposedFailed }),
	}
	part := func(suffix string, of func(c *changes) float64) {
		list = append(list, metric{name: name + suffix, unit: "1", kind: asRatio, of: func(m *measured) figure {
			return figure{Num: m.changes(which, of), Den: m.made(which)}
		}})
	}
	for k, cause := range causeNames {
		if k != byFailed {
			part("."+cause, func(c *changes) float64 { return c.chance.cause[k] })
		}
	}
	if dwell := [2]model.Dist{l.Unwind.Dwell, l.Rewind.Dwell}[which]; dwell.SD() > 0 {
		for k, law := range model.TailLaws {
			part(".if_"+string(law), func(c *changes) float64 { return c.chance.tail[k] })
		}
	}
	return list
}
