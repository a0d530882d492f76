package learn

import "rollchange/model"

// Off is what the engine adds to the work of a stop, s: a logged stop that lasts
// from when the line leaves its speed until it is back at it holds
//
//	ramp down + walk + work + ramp up = v/decel + E(reaction) + work + v/accel
//
// with v line.speed. The wait for an operator who is busy is not in it: it is not
// known before a simulation.
func Off(line *model.Line, operator bool) float64 {
	off := Ramps(line)
	if operator {
		off += line.Crew.Reaction.Mean()
	}
	return off
}

// leastWork is the share of a recorded stop that is left as work at least, where
// walk and ramps are as long as all of it. Our choice.
const leastWork = 0.05

// Work is a law of recorded stops without what the engine adds: every time is made
// shorter by the same share, so that the mean is less by off; enough is false
// where too little is left.
func Work(d model.Dist, off float64) (work model.Dist, enough bool) {
	m := d.Mean()
	if off <= 0 || m <= 0 {
		return d, true
	}
	by := 1 - off/m
	if by < leastWork {
		return scaled(d, leastWork), false
	}
	return scaled(d, by), true
}
