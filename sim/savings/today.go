package savings

import (
	"rollchange/model"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// today is the line as it is: the first of the study. A case against another
// alternative needs it for what is counted from today: hours that are freed, what has
// been learned, and what is not made while something is installed. There it is taken at
// the means of what was simulated.
type today struct {
	side                Fixed
	good, waste, splice float64 // m/s, share, 1/s
	hours               float64 // s a year; 0: those of the first of the two
}

// todayOf is nil where a case is against the first of the study.
func todayOf(study *model.Study, rs *replicate.Results, from int) *today {
	if from == 0 {
		return nil
	}
	l, m := &study.Alternatives[0].Line, rs.Alternatives[0].Metrics
	d := &today{side: sideOf(l, m), good: m[metric.GoodRate].Mean, waste: m[metric.Waste].Mean, splice: m[metric.SpliceRate].Mean}
	if h := l.Economics.HoursPerYear; !sameDist(h, study.Alternatives[from].Line.Economics.HoursPerYear) {
		d.hours = h.Mean()
	}
	return d
}

// now is a year of the line as it is, of so much less planned time as it stands (s).
func (c *Case) now(v *vector, stands float64) Year {
	d := c.today
	if d == nil {
		return yearOf(&c.side[0], v[good0], v[waste0], v[splice0], max(0, v[hours0]-stands), v[demand])
	}
	h := d.hours
	if h == 0 {
		h = v[hours0]
	}
	return yearOf(&d.side, d.good, d.waste, d.splice, max(0, h-stands), v[demand])
}

// nowSide is what of the line as it is does not vary.
func (c *Case) nowSide() *Fixed {
	if c.today == nil {
		return &c.side[0]
	}
	return &c.today.side
}

// saved is what the first of the two, whose year is x, saves against the line as it is.
func (d *today) saved(c *Case, v *vector, x *Year) [Causes]float64 {
	now := c.now(v, 0)
	s := saved(v, &d.side, &c.side[0], &now, x)
	if c.leave {
		s[CrewHours] = v[crew] / hour * leaving(v[leaves0], now.OperatorHours-x.OperatorHours)
	}
	return s
}

// left is the operator hours (s) that are no longer paid in a year y and are in x: of
// what is freed against today the share that leaves; what is needed more is paid in full.
func (c *Case) left(v *vector, x, y *Year) float64 {
	if c.today == nil {
		return leaving(v[leaves1], x.OperatorHours-y.OperatorHours)
	}
	now := c.now(v, 0).OperatorHours
	return leaving(v[leaves1], now-y.OperatorHours) - leaving(v[leaves0], now-x.OperatorHours)
}

func leaving(share, freed float64) float64 {
	if freed > 0 {
		return min(1, max(0, share)) * freed
	}
	return freed
}

// lost is what is not made in year 0 while the line stands to be changed.
type lost struct {
	good  float64 // m of good web, of the alternative
	money float64 // currency, that of the alternative less that of the first
}

// lostWhile is what installing costs: the contribution of the good web that is not made,
// less the web, disposal, tape and line hours that it would have taken. The operators are
// paid. Where the year has time enough for the demand, nothing is lost.
func (c *Case) lostWhile(v *vector) lost {
	full := c.now(v, 0)
	of := func(stands float64) lost {
		if stands <= 0 {
			return lost{}
		}
		cut := c.now(v, stands)
		s := saved(v, c.nowSide(), c.nowSide(), &full, &cut)
		return lost{full.Good - cut.Good, -(s[Contribution] + s[Material] + s[Disposal] + s[WasteIncome] + s[LineHours] + s[Tape])}
	}
	l := of(v[installation1])
	l.money -= of(v[installation0]).money
	return l
}

// Standing is what is not made in year 0 while one of the two is installed, at the means
// of all inputs.
type Standing struct {
	Left  float64 // s of planned time that is left of the year
	Good  float64 // m of good web that is not made
	Money float64 // currency, before tax
}

// StandingOf is that of the first (0) or the alternative (1).
func (c *Case) StandingOf(side int) Standing {
	v := c.mean
	stands := v[installation0]
	if side == 1 {
		stands = v[installation1]
	}
	v[installation0], v[installation1] = 0, stands
	hours := v[hours0]
	if c.today != nil && c.today.hours > 0 {
		hours = c.today.hours
	}
	l := c.lostWhile(&v)
	return Standing{max(0, hours-stands), l.good, l.money}
}

// Simulated is the mean of a simulated figure of the first (0) or the alternative (1), in
// the order of replicate.JointMetrics.
func (c *Case) Simulated(side, k int) float64 { return c.in[side*len(replicate.JointMetrics)+k].Value }
