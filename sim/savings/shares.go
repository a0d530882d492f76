package savings

import (
	"math"

	"rollchange/model/finance"
)

// Share is what the case comes to if only a share of the saving is reached:
// everything that is saved a year but the maintenance, which is paid all the same,
// times that share, in every draw.
type Share struct {
	Share   float64 // of the saving, 0..1
	Savings Spread  // currency a year, before tax
	NPV     Spread
	Payback Spread  // years, simple; +Inf: never within the life; NaN: nothing is invested
	IRR     Spread  // share a year
	Back    float64 // share of the draws, of those that invest, in which it is paid back within the life; NaN: none does

	Saved float64 // at the means of all inputs, as Worth
	Worth Worth
}

// sharesTold are the shares of the saving that a case tells of.
var sharesTold = [...]float64{0.5, 0.75, 1}

// share calculates what the case comes to at each share. That of the whole saving is
// what the draws came to.
func (c *Case) share() {
	var flows []float64
	room := &room{}
	at := c.account(&c.mean)
	for _, s := range sharesTold {
		if s == 1 {
			r := c.Random
			c.Shares = append(c.Shares, Share{1, r.Total, r.NPV, r.Simple, r.IRR, r.PaysBack.Simple, c.Total.Value, c.Worth})
			continue
		}
		n, spent, back := c.drawn.n, 0, 0
		saved, npv, payback, irr := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range n {
			v := c.drawn.row(&c.mean, i)
			a := c.account(&v)
			saved[i] = a.reached(s)
			p := c.planOf(&v, &a, s, room)
			flows = p.Flows(flows)
			npv[i], payback[i], irr[i] = finance.NPV(v[rate], flows), math.NaN(), math.NaN()
			if p.Spends() {
				payback[i] = finance.Payback(flows)
				spent++
				if !math.IsInf(payback[i], 1) {
					back++
				}
			}
			if rates := finance.IRR(flows); len(rates) == 1 {
				irr[i] = rates[0]
			}
		}
		c.Shares = append(c.Shares, Share{s, c.spread(saved), c.spread(npv), c.spread(payback), c.spread(irr), float64(back) / float64(spent), at.reached(s), c.worthOf(&c.mean, &at, s)})
	}
}

// reached is the total when only a share of the saving is.
func (a *account) reached(share float64) float64 {
	if share == 1 {
		return a.total()
	}
	return share*(a.total()-a.save[Maintenance]) + a.save[Maintenance]
}
