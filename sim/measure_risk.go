package sim

import (
	"rollchange/model"
	"rollchange/sim/metric"
)

// riskGauges tell how often the changes of a zero-speed station use up its
// storage: in all, counted, by what failed changes do and by everything else,
// each with its limits; then what that chance is made of, and what it were under
// other laws of the dwell.
func riskGauges(l *model.Line, which int, unusual model.Unusual) []Gauge {
	side := func(splice, transfer string) string { return [2]string{splice, transfer}[which] }
	calculated := func(name string, unseen float64, all, odd, exposed func(c *changes) float64) Gauge {
		return Gauge{Name: name, Unseen: unseen, of: func(m *measured) figure {
			return figure{Num: m.changes(which, all), Den: m.made(which), Counted: m.changes(which, odd), Exposed: m.changes(which, exposed)}
		}}
	}
	failed := func(c *changes) float64 { return c.chance.cause[byFailed] }
	usual := unusual
	usual.Fails = 0
	list := []Gauge{
		calculated(side(metric.Depletion, metric.Overfill), unusual.Any(), func(c *changes) float64 { return c.chance.all() },
			func(c *changes) float64 { return c.chance.odd + c.chance.oddFailed }, func(c *changes) float64 { return c.exposed + c.exposedFailed }),
		{Name: side(metric.DepletionInterval, metric.OverfillInterval), of: func(m *measured) figure {
			return figure{Num: m.span * float64(len(m.lines)), Den: m.made(which)}
		}},
		countedShare(side(metric.DepletionCounted, metric.OverfillCounted), which, 1, func(c *changes) float64 { return c.starved }),
		calculated(side(metric.DepletionNotFailed, metric.OverfillNotFailed), usual.Any(), func(c *changes) float64 { return c.chance.butFailed() },
			func(c *changes) float64 { return c.chance.odd }, func(c *changes) float64 { return c.exposed }),
		calculated(side(metric.DepletionFailed, metric.OverfillFailed), unusual.Fails, failed,
			func(c *changes) float64 { return c.chance.oddFailed }, func(c *changes) float64 { return c.exposedFailed }),
	}
	part := func(of string, by func(c *changes) float64) {
		name := side(metric.DepletionBy, metric.OverfillBy) + of
		list = append(list, Gauge{Name: name, of: func(m *measured) figure {
			return figure{Num: m.changes(which, by), Den: m.made(which)}
		}})
	}
	for k, cause := range causeNames {
		if k != byFailed {
			part(cause, func(c *changes) float64 { return c.chance.cause[k] })
		}
	}
	if dwell := [2]model.Dist{l.Unwind.Dwell, l.Rewind.Dwell}[which]; dwell.SD() > 0 {
		for k, law := range model.TailLaws {
			part("if_"+string(law), func(c *changes) float64 { return c.chance.tail[k] })
		}
	}
	return list
}
