package scenarios

import (
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/model/portable"
)

// mostEvents is how many events a study may have; more would take hours.
const mostEvents = 2e10

// study checks how long and how often the line is simulated.
func (c *checker) study(l *model.Line) {
	r := &c.t.study.Run
	if r.Horizon > 0 && r.WarmUp >= r.Horizon {
		c.bad("run.warm_up", "must be shorter than the horizon", "")
	}
	p := &l.Process
	roll := meanRoll(&l.Unwind.Roll, l.Web)
	if p.Speed <= 0 || roll <= 0 || r.Horizon <= 0 {
		return
	}
	if roll/p.Speed > r.Horizon {
		c.bad("run.horizon", fmt.Sprintf("can never finish a roll: a parent roll of %.4g m runs %.4g h, longer than the horizon", roll, roll/p.Speed/3600), `horizon = "30 d"`)
	}
	if f := meanRoll(&l.Rewind.Roll, l.Web); l.Rewind.Change != model.None && f > 0 && !math.IsInf(f, 0) && f/p.Speed > r.Horizon {
		c.bad("run.horizon", fmt.Sprintf("can never finish a roll: a finished roll of %.4g m winds for %.4g h, longer than the horizon", f, f/p.Speed/3600), `horizon = "30 d"`)
	}
	c.events(l, roll)
	c.period(l, roll)
}

// mostPeriods is how many periods as long as the recorded one are simulated.
const mostPeriods = 200

// period refuses a recorded period that would never end.
func (c *checker) period(l *model.Line, roll float64) {
	rate := 0.0
	for _, s := range c.sources(l, roll) {
		rate += s.rate
	}
	all := rate * c.t.study.Recorded.Hours * mostPeriods * float64(max(1, l.Crew.Lines))
	if all > mostEvents {
		c.bad("records.hours", fmt.Sprintf("is too long: the model makes about %s events in %d such periods, at most %s are allowed", about(all), mostPeriods, about(mostEvents)), `hours = "500 h"`)
	}
}

// source is what makes events: a key, and how many it makes a second.
type source struct {
	key  string
	rate float64
}

// sources are what makes the events of a line, estimated from means.
func (c *checker) sources(l *model.Line, roll float64) []source {
	p := &l.Process
	var list []source
	add := func(key string, n, every float64) { // n events each so many s
		if every > 0 && !math.IsInf(every, 0) {
			list = append(list, source{key, n / every})
		}
	}
	size := func(end string) string {
		if c.t.given[end+".roll_diameter"] {
			return end + ".roll_diameter"
		}
		return end + ".roll_length"
	}
	add(size("unwind"), 20, roll/p.Speed)
	if f := meanRoll(&l.Rewind.Roll, l.Web); l.Rewind.Change != model.None {
		add(size("rewind"), 20, f/p.Speed)
	}
	if b := l.WebBreaks; b != nil && b.MeanLength > 0 && b.AtSpeed > 0 {
		add("web_breaks.mean_length", 6, b.MeanLength/p.Speed/portable.Pow(p.Speed/b.AtSpeed, b.Exponent))
	}
	for i, s := range l.Stops {
		add(fmt.Sprintf("stop[%d].every", i), 6, s.Every.Mean())
	}
	for i, d := range l.Crew.Duties {
		if d.PerRoll == 0 {
			add(fmt.Sprintf("crew.duty[%d].every", i), 3, d.Every.Mean())
		}
	}
	add("crew.shift", 3*float64(len(l.Crew.Breaks)), l.Crew.Shift)
	if l.Jobs != nil && l.Jobs.Length.Given() {
		add("jobs.length", 6, l.Jobs.Length.Mean()/p.Speed)
	}
	return list
}

// events refuses a study that would never end, and says what is too much: a cause
// that comes more often than anything on a line, the horizon, or the replications.
func (c *checker) events(l *model.Line, roll float64) {
	r := &c.t.study.Run
	var worst source
	rate := 0.0
	for _, s := range c.sources(l, roll) {
		rate += s.rate
		if s.rate > worst.rate {
			worst = s
		}
	}
	all := rate * r.Horizon * float64(r.Replications) * float64(max(1, l.Crew.Lines))
	const often, long = 100, 1000 * 86400 // a second; s
	switch {
	case all <= mostEvents:
	case worst.rate > often:
		c.bad(worst.key, fmt.Sprintf("makes about %s events a second, %s in all; at most %s are allowed", about(worst.rate), about(all), about(mostEvents)), "")
	case r.Horizon > long:
		c.bad("run.horizon", fmt.Sprintf("is too long: about %s events in all, at most %s are allowed; shorten it or take fewer replications", about(all), about(mostEvents)), `horizon = "30 d"`)
	default:
		c.bad("run.replications", fmt.Sprintf("are too many: about %s events in all, at most %s are allowed; take fewer or shorten the horizon", about(all), about(mostEvents)), "replications = 20")
	}
}

// about is a large number for people: "3e11".
func about(x float64) string { return plainPower.Replace(fmt.Sprintf("%.1g", x)) }
