package savings

import (
	"math"
	"sort"

	"rollchange/model/portable"
)

// Simulation is the key of all simulated inputs, taken together.
const Simulation = "simulation"

// Driver is one of the things that are not certain and how much of the spread
// of the net present value goes with it.
type Driver struct {
	Key   string  // of the input, or Simulation
	Rank  float64 // Spearman's rank correlation with the net present value, -1..1
	Share float64 // of the sum of squares of all
}

// Swing is what the mean net present value becomes, all else drawn, with one
// input low and high: at the ends of its own interval, or 10 % down and up
// where it does not vary.
type Swing struct {
	Key, Unit     string  // of a simulated input: the difference of the two alternatives in it
	Given         bool    // its own interval; false: 10 %
	Low, High     float64 // in Unit
	AtLow, AtHigh float64 // mean net present value
}

// drive finds the drivers, largest first, and the swings, widest first.
func (c *Case) drive() {
	npv := portable.Ranks(c.drawn.npv)
	type column struct {
		key string
		x   []float64
	}
	var all []column
	for k := simulated; k < inputs; k++ {
		if x := c.drawn.col[k]; x != nil && c.in[k].Given {
			all = append(all, column{c.in[k].Key, x})
		}
	}
	if x := c.simulatedNPV(); x != nil {
		all = append(all, column{Simulation, x})
	}
	sum := 0.0
	for _, x := range all {
		r := correlation(portable.Ranks(x.x), npv)
		c.Drivers = append(c.Drivers, Driver{Key: x.key, Rank: r})
		sum += r * r
	}
	for i := range c.Drivers {
		if d := &c.Drivers[i]; sum > 0 {
			d.Share = d.Rank * d.Rank / sum
		}
	}
	sort.SliceStable(c.Drivers, func(i, j int) bool { return c.Drivers[i].Share > c.Drivers[j].Share })
	c.swing()
}

// simulatedNPV is the net present value of each draw of the simulated inputs,
// all others at their means; nil when none of them is drawn. They move
// together, so they count as one.
func (c *Case) simulatedNPV() []float64 {
	var only table // the simulated columns of the draws
	drawn := false
	for k := range simulated {
		only.col[k] = c.drawn.col[k]
		drawn = drawn || only.col[k] != nil
	}
	if !drawn {
		return nil
	}
	x := make([]float64, c.drawn.n)
	for i := range x {
		v := only.row(&c.mean, i)
		x[i] = c.npvOf(&v)
	}
	return x
}

// swingDraws is how many draws a swing is calculated from: what it moves the
// mean by is sure with far fewer than the mean itself.
const swingDraws = 2000

func (c *Case) swing() {
	n := min(swingDraws, c.drawn.n)
	off := c.Random.NPV.Mean - c.meanNPV(n, nil)
	at := func(change func(*vector)) float64 { return c.meanNPV(n, change) + off }
	still := at(nil)
	add := func(s Swing) {
		if math.Abs(s.AtLow-still)+math.Abs(s.AtHigh-still) > 1e-9*math.Abs(still) {
			c.Swings = append(c.Swings, s)
		}
	}
	end := func(k index, x float64) float64 { return at(func(v *vector) { c.put(v, k, x) }) }
	tail := (1 - c.Run.Confidence) / 2
	for k := simulated; k < inputs; k++ {
		in := &c.in[k]
		if !in.Given {
			continue
		}
		low, high, own := 0.9*c.mean[k], 1.1*c.mean[k], false
		switch {
		case in.Varies():
			low, high, own = in.Dist.Quantile(tail), in.Dist.Quantile(1-tail), true
		case in.share:
			high = min(1, high)
		}
		add(Swing{Key: in.Key, Unit: in.Unit, Given: own, Low: low / in.scale, High: high / in.scale, AtLow: end(k, low), AtHigh: end(k, high)})
	}
	for k := good0; k <= splice0; k++ {
		other := k + good1
		var apart [simulated]float64
		apart[k], apart[other] = -1, 1
		h := c.half(apart, &c.cov)
		if !(h > 0) {
			continue
		}
		by := func(d float64) float64 {
			return at(func(v *vector) { v[other] = within(other, v[other]+d, c.mean[other]) })
		}
		add(Swing{Key: c.in[other].Key, Unit: c.in[other].Unit, Given: true,
			Low: within(other, c.mean[other]-h, c.mean[other]), High: c.mean[other] + h, AtLow: by(-h), AtHigh: by(h)})
	}
	sort.SliceStable(c.Swings, func(i, j int) bool {
		a, b := c.Swings[i], c.Swings[j]
		return math.Abs(a.AtHigh-a.AtLow) > math.Abs(b.AtHigh-b.AtLow)
	})
}

// correlation is Pearson's; 0 when one of the two does not vary.
func correlation(x, y []float64) float64 {
	mx, my, n := 0.0, 0.0, float64(len(x))
	for i := range x {
		mx, my = mx+x[i]/n, my+y[i]/n
	}
	var xx, yy, xy float64
	for i := range x {
		a, b := x[i]-mx, y[i]-my
		xx, yy, xy = xx+a*a, yy+b*b, xy+a*b
	}
	if xx == 0 || yy == 0 {
		return 0
	}
	return xy / math.Sqrt(xx*yy)
}
