package machine

import (
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// jsonLost is what is not made while an alternative is installed, currency before tax.
type jsonLost struct {
	Stands float64 `json:"stands_s"`       // planned time, in the mean
	Share  float64 `json:"share_of_draws"` // in which good web is lost
	Good   float64 `json:"good_m"`         // mean of all draws
	jsonMoney
}

// byYear writes what is spent or lost once and what differs by year, where that is given.
func (j *jsonCase) byYear(c *savings.Case) {
	r, at := c.Random, c.AtMeans()
	if r.StartUp.Mean != 0 || r.StartUp.Low != r.StartUp.High {
		x := moneyJSON(c.Currency, words.BeforeTax, at.StartUp, r.StartUp)
		j.StartUp = &x
	}
	if c.Standing() > 0 {
		j.Lost = &jsonLost{c.Standing(), r.Stands.Share, r.Stands.Good, moneyJSON(c.Currency, words.BeforeTax, at.Lost, r.Lost)}
	}
	j.Learning = c.Learning()
}
