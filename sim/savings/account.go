package savings

import (
	"rollchange/model"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Cause is a reason for which money is saved, or lost.
type Cause int

// The causes, in the order in which they are told.
const (
	Contribution Cause = iota // extra good output that is sold
	Material                  // web that is not wasted
	Disposal                  // waste that is not thrown away
	WasteIncome               // waste that is not sold
	CrewHours
	LineHours
	Tape
	Maintenance
	Causes // how many there are
)

// Key is its name for programs.
func (c Cause) Key() string {
	return [...]string{"contribution", "waste_material", "waste_disposal", "waste_income", "crew_hours", "line_hours", "tape", "maintenance"}[c]
}

// Fixed is what of an alternative does not vary.
type Fixed struct {
	Operators, Lines float64 // those who are there in the mean
	Width, Grammage  float64 // m, kg/m2
	Tape             float64 // m a splice
	Trim             float64 // m of the width
}

// GoodWidth is the width that is sold, m.
func (s *Fixed) GoodWidth() float64 { return s.Width - s.Trim }

// sold is the share of the width that is.
func (s *Fixed) sold() float64 {
	if s.Trim == 0 {
		return 1
	}
	return 1 - s.Trim/s.Width
}

// sideOf is that of an alternative. With orders of products of several widths it has
// the mean ones of its good web, and the tape of its mean splice: what is wasted has the
// mix of what is good.
func sideOf(l *model.Line, m replicate.Metrics) Fixed {
	f := Fixed{l.Crew.Present(), float64(max(1, l.Crew.Lines)), l.Web.Width, l.Web.Grammage, l.Unwind.TapePerSplice, l.Rewind.Trim}
	if l.Orders == nil {
		return f
	}
	per := func(x, y string) float64 {
		if m[y].Mean > 0 {
			return m[x].Mean / m[y].Mean
		}
		return 0
	}
	f.Trim = 0
	for i := range l.Products {
		f.Trim += l.Products[i].Line.Rewind.Trim * per(metric.ProductGood+l.Products[i].Name, metric.GoodRate)
	}
	f.Width, f.Grammage, f.Tape = f.Trim+per(metric.GoodAreaRate, metric.GoodRate), per(metric.GoodMassRate, metric.GoodAreaRate), 0
	for i := range l.Products {
		f.Tape += per(metric.ProductTape+l.Products[i].Name, metric.SpliceRate)
	}
	return f
}

// Trimmed says that an alternative trims the web at its edges: a part of the width is
// waste, and the rest is sold.
func (c *Case) Trimmed() bool { return c.side[0].Trim > 0 || c.side[1].Trim > 0 }

// Year is what one alternative does in a year.
type Year struct {
	Good          float64 // m of good web, all lines
	Hours         float64 // s, planned time that it takes
	Waste         float64 // m of web of full width; trim counts by its share of the width
	WasteArea     float64 // m2
	WasteMass     float64 // kg
	OperatorHours float64 // s
	LineHours     float64 // s
	Tape          float64 // m
}

// yearOf calculates the year of one alternative. It makes good web at the rate g,
// loses the share w of what is supplied, and may run up to H:
//
//	capacity = g H      good = min(demand, capacity)      hours = good / g
//	waste = good s w / (1 - w)
//
// with s the share of the width that is sold, 1 without trim. The web supplied is
// good s / (1 - w) but for what is still in the line, at most a storage's content in
// a whole horizon.
func yearOf(s *Fixed, g, w, splices, h, demand float64) Year {
	y := Year{Hours: h, Good: g * h}
	if demand < y.Good {
		y.Good, y.Hours = demand, demand/g
	}
	y.Waste = y.Good * s.sold() * w / (1 - w)
	y.WasteArea = y.Waste * s.Width
	y.WasteMass = y.WasteArea * s.Grammage
	y.OperatorHours = s.Operators * y.Hours
	y.LineHours = s.Lines * y.Hours
	y.Tape = s.Tape * splices * y.Hours
	return y
}

// account is one year of both alternatives and what separates them in money.
// Each cause is what the alternative has more of, or less to pay for:
// contribution for output beyond that of the first, hours for time that it does
// not need. A metre that is sold is not an hour that is saved, so nothing
// counts twice, and with the demand moving across a capacity nothing jumps.
type account struct {
	year   [2]Year
	save   [Causes]float64 // currency a year
	before [Causes]float64 // what the first of the two saves against the line of today, where that is asked for
	lost   lost            // while it is installed
}

const hour = 3600.

func (c *Case) account(v *vector) account {
	a := account{year: [2]Year{
		yearOf(&c.side[0], v[good0], v[waste0], v[splice0], v[hours0], v[demand]),
		yearOf(&c.side[1], v[good1], v[waste1], v[splice1], v[hours1], v[demand])}}
	x, y := &a.year[0], &a.year[1]
	a.save = saved(v, &c.side[0], &c.side[1], x, y)
	if c.leave {
		a.save[CrewHours] = v[crew] / hour * c.left(v, x, y)
	}
	if c.ahead != nil {
		a.before = c.ahead.saved(c, v, x)
	}
	if c.stands {
		a.lost = c.lostWhile(v)
	}
	return a
}

// saved is what separates a year y of one line from x of another in money, by cause.
func saved(v *vector, sx, sy *Fixed, x, y *Year) [Causes]float64 {
	return [Causes]float64{
		Contribution: v[price] * (sy.GoodWidth()*y.Good - sx.GoodWidth()*x.Good),
		Material:     v[material] * (x.WasteArea - y.WasteArea),
		Disposal:     v[disposal] * (x.WasteMass - y.WasteMass),
		WasteIncome:  v[income] * (y.WasteMass - x.WasteMass),
		CrewHours:    v[crew] / hour * (x.OperatorHours - y.OperatorHours),
		LineHours:    v[line] / hour * (x.LineHours - y.LineHours),
		Tape:         v[tape] * (x.Tape - y.Tape),
		Maintenance:  v[maintenance0] - v[maintenance1],
	}
}

// total adds the causes in their order.
func (a *account) total() float64 {
	sum := 0.0
	for _, x := range a.save {
		sum += x
	}
	return sum
}
