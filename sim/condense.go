package sim

import (
	"math"

	"rollchange/model"
)

// Changes that are alike but for the ramp of the station after them are common: where
// the torque of the spindle limits it, every roll has its own. All that the ramp, a, says
// in the chance of such a change is how much sooner than the interlock the station must
// speed up, v/(2 a). So a sum over many of them is that of few nodes in 1/a, with the
// weights that make it exact for polynomials: interpolation at the zeros of a Chebyshev
// polynomial (Trefethen, Approximation Theory and Approximation Practice, 2013, ch. 4).

// nodes are those of the sum. The error is below 1e-9 of the chance where that falls by
// less than ten times from the gentlest ramp to the steepest.
const nodes = 10

// The cosines and sines of (j + 1/2) pi / nodes, written out: those of package math differ
// from processor to processor.
var (
	cosines = [nodes]float64{0.9876883405951378, 0.8910065241883679, 0.7071067811865476, 0.45399049973954675, 0.15643446504023087,
		-0.15643446504023087, -0.45399049973954675, -0.7071067811865476, -0.8910065241883679, -0.9876883405951378}
	sines = [nodes]float64{0.15643446504023087, 0.45399049973954675, 0.7071067811865476, 0.8910065241883679, 0.9876883405951378,
		0.9876883405951378, 0.8910065241883679, 0.7071067811865476, 0.45399049973954675, 0.15643446504023087}
)

// alikeGroups are how many groups of changes are looked for.
const alikeGroups = 16

// Condensed are cycles of one line of a replication, told by fewer: At comes to the same.
// They are for one goroutine.
func (k *Reckoning) Condensed(c *Cycles) *Cycles {
	to := &Cycles{made: c.made, path: c.path}
	var groups [][]int // places in c.list
	for i := range c.list {
		x, at := &c.list[i], -1
		if x.plain() {
			for g := range groups {
				if x.likeButAccel(&c.list[groups[g][0]]) {
					at = g
				}
			}
			if at < 0 && len(groups) < alikeGroups {
				at, groups = len(groups), append(groups, nil)
			}
		}
		if at < 0 {
			to.list = append(to.list, *x)
		} else {
			groups[at] = append(groups[at], i)
		}
	}
	for _, g := range groups {
		k.condense(to, c, g)
	}
	to.exposed, to.none = to.exposures(), make([]float64, len(to.list))
	for i := range to.none {
		to.none[i] = never
	}
	return to
}

// exposures are how many changes are exposed, by failed changes and by all else.
func (c *Cycles) exposures() (e parts) {
	for i := range c.list {
		switch x := &c.list[i]; {
		case x.is.has(cycleFailed):
			e.failed += x.n
		case x.exposed:
			e.usual += x.n
		}
	}
	return e
}

// condense adds a group of changes that are alike but for the ramp after them.
func (k *Reckoning) condense(to, from *Cycles, group []int) {
	first := &from.list[group[0]]
	low, high := 1/first.accel, 1/first.accel
	for _, i := range group {
		low, high = min(low, 1/from.list[i].accel), max(high, 1/from.list[i].accel)
	}
	switch {
	case high-low <= 1e-9*high:
		x := *first
		x.n = 0
		for _, i := range group {
			x.n += from.list[i].n
		}
		to.list = append(to.list, x)
		return
	case len(group) <= 2*nodes || !smooth(k.product(first.product).laws.dwell):
		for _, i := range group {
			to.list = append(to.list, from.list[i])
		}
		return
	}
	var at, weight, factor [nodes]float64
	for j := range at {
		at[j] = (low+high)/2 + (high-low)/2*cosines[j]
		factor[j] = sines[j] // of the barycentric formula
		if j%2 == 1 {
			factor[j] = -factor[j]
		}
	}
	for _, i := range group {
		x := &from.list[i]
		var part [nodes]float64
		sum, hit := 0.0, -1
		for j := range at {
			d := 1/x.accel - at[j]
			if d == 0 {
				hit = j
				break
			}
			part[j] = factor[j] / d
			sum += part[j]
		}
		if hit >= 0 {
			weight[hit] += x.n
			continue
		}
		for j := range weight {
			weight[j] += x.n * part[j] / sum
		}
	}
	for j := range at {
		x := *first
		x.n, x.accel = weight[j], 1/at[j]
		to.list = append(to.list, x)
	}
}

// smooth says whether the chance that a dwell is longer has no kinks, but at its least
// value.
func smooth(d model.Dist) bool {
	switch d.Law {
	case model.Lognormal, model.Normal, model.Gamma, model.Weibull, model.Exponential:
		return true
	}
	return false
}

// plain says that the process runs on at one speed, whatever this storage does, and that
// the chance of a change is that of a long dwell.
func (c *cycleRecord) plain() bool {
	return c.turns == 0 && c.is == cycleReckoned && c.cut == never && c.motion.pa == 0 && c.motion.p > 0 && c.off == parts{}
}

// likeButAccel says that two plain changes differ in the ramp after them alone.
func (c *cycleRecord) likeButAccel(d *cycleRecord) bool {
	return c.product == d.product && c.exposed == d.exposed && c.motion == d.motion && math.Abs(c.begun-d.begun) < 1e-9 && math.Abs(c.margin-d.margin) < 1e-6
}
