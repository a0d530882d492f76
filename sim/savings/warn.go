package savings

import (
	"math"

	"rollchange/model"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Doubt is what makes an answer look better, or surer, than it is.
type Doubt int

// The doubts, in the order in which they are told.
const (
	StopsDiffer     Doubt = iota // only one side has web breaks, stops or jobs
	NoStopsOfMore                // neither has, and more is made for it
	NoStops                      // neither has
	NoDemandMore                 // no demand: every extra metre counts as sold
	NoDemandLess                 // no demand: every metre less counts as lost
	NoPriceMore                  // no price: more is sold, for nothing
	NoPriceLess                  // no price: less is sold, for nothing
	NoInvestment                 // none is given
	HoursAboveAYear              // planned hours are more than a leap year has
	HoursDiffer                  // the two have planned hours of their own
	FreedOperators               // crew time counts as saved
	FreedLineHours               // line time counts as saved
	HoursForNothing              // fewer hours, without a cost of an hour
	NoMaterialCost               // waste costs no web
	FewEvents                    // too few for an interval
	OutputNotShown               // the two do not differ significantly in good web
	OneReplication               // no limits of what was simulated
	NoTaxRate                    // years of depreciation without a tax rate
	LifeRounded                  // the life is not of whole years
	SpentTooLate                 // something would be spent after the end of the life
	LostForNothing               // no price: what is not made while it is installed counts as worth nothing
	ManyRates                    // more than one internal rate of return
	Doubts                       // how many there are
)

// Key is its name for programs.
func (d Doubt) Key() string {
	return [...]string{"stops_differ", "no_other_stops", "no_other_stops", "demand_missing", "demand_missing", "price_missing", "price_missing",
		"investment_missing", "hours_above_a_year", "hours_differ", "freed_operators", "freed_line_hours", "hours_without_cost", "material_cost_missing",
		"few_events", "output_not_shown", "one_replication", "tax_missing", "life_rounded", "spent_too_late", "price_missing", "rates_not_unique"}[d]
}

// Warning is a doubt about a case.
type Warning struct {
	Doubt Doubt
	Share float64 // of the draws in which it holds; NaN where it does not hang on them
	Side  int     // of StopsDiffer and HoursAboveAYear: 0 the first has them, 1 the alternative
}

// add names something that does not hang on the draws.
func (c *Case) add(d Doubt, side int) {
	c.Warnings = append(c.Warnings, Warning{d, math.NaN(), side})
}

// doubt names something that holds in a share of the draws.
func (c *Case) doubt(share float64, d Doubt, side int) {
	if share > 0 {
		c.Warnings = append(c.Warnings, Warning{d, share, side})
	}
}

// warn names what the reader should know.
func (c *Case) warn(study *model.Study, rs *replicate.Results, i int) {
	r := c.Random
	c.warnStops(&study.Alternatives[0].Line, &study.Alternatives[i].Line)
	if !c.in[demand].Given {
		c.doubt(r.More, NoDemandMore, 0)
		c.doubt(r.Less, NoDemandLess, 0)
	}
	if !c.in[price].Given {
		c.doubt(r.More, NoPriceMore, 0)
		c.doubt(r.Less, NoPriceLess, 0)
	}
	if !c.in[investment1].Given {
		c.add(NoInvestment, 0)
	}
	c.warnHours()
	if !c.in[material].Given && r.Year[0].Waste+r.Year[1].Waste > 0 {
		c.add(NoMaterialCost, 0)
	}
	if c.Few {
		c.add(FewEvents, 0)
	}
	if d := rs.Differences[i][metric.GoodRate]; rs.Run.Replications > 1 && !d.Shown() {
		c.add(OutputNotShown, 0)
	}
	if rs.Run.Replications < 2 {
		c.add(OneReplication, 0)
	}
	if c.in[depreciation].Given && !c.in[tax].Given {
		c.add(NoTaxRate, 0)
	}
	if n := c.mean[life]; n != math.Round(n) && c.in[life].Dist.IsConst() {
		c.add(LifeRounded, 0)
	}
	c.doubt(r.Late, SpentTooLate, 0)
	if !c.in[price].Given {
		c.doubt(r.Stands.Share, LostForNothing, 0)
	}
	c.doubt(r.ManyRates, ManyRates, 0)
}

// stopsForMore says whether a line stops for anything but roll changes.
func stopsForMore(l *model.Line) bool { return l.WebBreaks != nil || len(l.Stops) > 0 || l.Jobs != nil }

// warnStops names what a study without other stops does to a saving. What they
// cost in hours by the metre is the same with every way to change rolls, so
// the hours that are not needed for a demand are as they would be; what more
// is made in the same hours is not.
func (c *Case) warnStops(a, b *model.Line) {
	switch first, other := stopsForMore(a), stopsForMore(b); {
	case first && !other:
		c.add(StopsDiffer, 0)
	case !first && other:
		c.add(StopsDiffer, 1)
	case first:
	case c.Random.Kinds[DemandLimited] < 1:
		c.doubt(1-c.Random.Kinds[DemandLimited], NoStopsOfMore, 0)
	default:
		c.add(NoStops, 0)
	}
}

// warnHours names what is doubtful about hours.
func (c *Case) warnHours() {
	r := c.Random
	for k := range r.AboveYear {
		if k == 1 && !c.HoursDiffer && r.AboveYear[0] > 0 {
			break // said already
		}
		c.doubt(r.AboveYear[k], HoursAboveAYear, k)
	}
	if c.HoursDiffer {
		c.add(HoursDiffer, 0)
	}
	c.doubt(r.FreedCrew.Share, FreedOperators, 0)
	c.doubt(r.FreedLine.Share, FreedLineHours, 0)
	if !c.in[crew].Given && !c.in[line].Given {
		c.doubt(r.FewerHours, HoursForNothing, 0)
	}
}
