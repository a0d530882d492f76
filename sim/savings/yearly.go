package savings

// Yearly is how a year of one alternative lies over the draws.
type Yearly struct {
	Good, Waste Spread // m of web
	Hours       Spread // s, planned time that it takes
}

// Yearly is that of the first and of the alternative; their means are those of Random.Year.
func (c *Case) Yearly() [2]Yearly {
	var list [2]Yearly
	for side := range list {
		var good, waste, hours []float64
		for i := range c.drawn.n {
			v := c.drawn.row(&c.mean, i)
			y := c.account(&v).year[side]
			good, waste, hours = append(good, y.Good), append(waste, y.Waste), append(hours, y.Hours)
		}
		list[side] = Yearly{c.spread(good), c.spread(waste), c.spread(hours)}
	}
	return list
}
