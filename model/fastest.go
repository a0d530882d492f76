package model

import "math"

// Fastest is the line speed in m/s at which a splice with the given dwell,
// begun at the run level, just does not trip the interlock: the positive root of
//
//	v²/(2 decel) + v dwell + v²/(2 accel) + reserve + v²/(2 line.decel) = room
//
// It is 0 when the room is not above the reserve.
func (c Cycle) Fastest(dwell float64) float64 {
	left := c.Room - c.Reserve
	if left <= 0 {
		return 0
	}
	a := 1/(2*c.Decel) + 1/(2*c.Accel) + 1/(2*c.LineDecel)
	return (-dwell + math.Sqrt(dwell*dwell+4*a*left)) / (2 * a)
}
