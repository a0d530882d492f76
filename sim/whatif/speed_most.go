package whatif

import (
	"math"

	"rollchange/sim/metric"
)

const (
	// beside is how far below the fastest speed it is seen whether less makes more, and
	// how near to each other speeds are told apart, as shares.
	beside, near = 1e-2, 5e-3
	// littleGain is the share of the good output that is not looked for any more, and
	// littleOf the part of its half width.
	littleGain = 1e-3
	littleOf   = 0.5
	mostLooks  = 20 // for the speed of most good output
)

// mostGood is the speed of the greatest good output, which rises with the speed until
// what stops the line outweighs it: the top of the parabola through three speeds, or
// golden section where that does not narrow the range. Near the top the output is flat,
// so it is known far better than the speed.
func (z *speeding) mostGood() (*Trial, error) {
	q := z.search
	if z.part != nil {
		q = z.part
		for x := range z.search.trials { // the same replications of each
			if _, err := q.at(x); err != nil {
				return nil, err
			}
		}
	}
	stalled := false
	for range mostLooks {
		list := outputs(q)
		x, width := peak(list, z.low, z.top, stalled)
		if math.IsNaN(x) {
			break
		}
		if _, err := q.at(x); err != nil {
			return nil, err
		}
		_, narrower := peak(outputs(q), z.low, z.top, false)
		stalled = narrower > width*0.6
	}
	list := outputs(q)
	if _, err := z.at(list[best(list)].x); err != nil {
		return nil, err
	}
	list = outputs(z.search)
	return z.trials[list[best(list)].x], nil
}

// output is the good output of a speed and its half width, m/s.
type output struct{ x, good, half float64 }

// little is how much more is not looked for.
func (p *output) little() float64 {
	if h := littleOf * p.half; h > littleGain*p.good {
		return h
	}
	return littleGain * p.good
}

// outputs are those of the possible speeds that were simulated, in order.
func outputs(q *search) (list []output) {
	for _, t := range q.evidence() {
		if t.Possible {
			e := t.Metrics[metric.GoodRate]
			list = append(list, output{t.X, e.Mean, e.HalfWidth})
		}
	}
	return list
}

// best is the place of the largest.
func best(list []output) int {
	at := 0
	for i, p := range list {
		if p.good > list[at].good {
			at = i
		}
	}
	return at
}

// peak is where to look next for the largest output, and the width of the range that it
// lies in; NaN where next to nothing is to be gained.
func peak(list []output, low, top float64, golden bool) (x, width float64) {
	i := best(list)
	m := list[i]
	switch last := len(list) - 1; {
	case i == last && i > 0 && list[i-1].x < (1-1.5*beside)*top:
		return (1 - beside) * m.x, m.x - list[i-1].x
	case i == last:
		return math.NaN(), 0
	case i == 0 && m.x > low*(1+near):
		return max(low, m.x/1.3), list[1].x - low
	case i == 0:
		return math.NaN(), 0
	}
	a, b := list[i-1], list[i+1]
	width = b.x - a.x
	if width < near*m.x || bound(list, i)-m.good < m.little() {
		return math.NaN(), width
	}
	// The top of the parabola.
	p, r := (m.x-a.x)*(m.good-b.good), (m.x-b.x)*(m.good-a.good)
	x = m.x - ((m.x-a.x)*p-(m.x-b.x)*r)/(2*(p-r))
	least := 0.1 * width
	if golden || math.IsNaN(x) || x <= a.x || x >= b.x {
		const section = 0.381966
		x = m.x + section*(b.x-m.x)
		if m.x-a.x > b.x-m.x {
			x = m.x - section*(m.x-a.x)
		}
	}
	if math.Abs(x-m.x) < least/2 { // to the side where more is unknown
		x = m.x + least/2
		if m.x-a.x > b.x-m.x {
			x = m.x - least/2
		}
	}
	return x, width
}

// bound is what the output may be at most beside the largest that was seen, i: it lies
// below the lines through its neighbours, as long as it bends down everywhere.
func bound(list []output, i int) float64 {
	line := func(p, q output, x float64) float64 { return p.good + (q.good-p.good)/(q.x-p.x)*(x-p.x) }
	side := func(a, m, b, c output) float64 { // between m and b
		most := line(a, m, b.x)
		if c.x == b.x {
			return most
		}
		// Where the two lines cross.
		s, r := (m.good-a.good)/(m.x-a.x), (c.good-b.good)/(c.x-b.x)
		if x := (b.good - m.good + s*m.x - r*b.x) / (s - r); (x-m.x)*(x-b.x) < 0 {
			most = min(most, line(a, m, x))
		}
		return most
	}
	a, m, b := list[i-1], list[i], list[i+1]
	left, right := a, b
	if i > 1 {
		left = list[i-2]
	}
	if i+2 < len(list) {
		right = list[i+2]
	}
	return max(side(a, m, b, right), side(b, m, a, left))
}
