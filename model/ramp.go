package model

import "math"

// StoppingLength is the web that passes while a speed v (m/s) ramps to rest, or
// from rest, at a (m/s2), m:
//
//	v²/(2 a)
func StoppingLength(v, a float64) float64 { return v * v / (2 * a) }

// stoppingTime is how long that ramp takes, s: v / a.
func stoppingTime(v, a float64) float64 { return v / a }

// RampLoss is the time, s, that one stop loses by its two ramps against running
// on at v (m/s), whatever it stands for (decel and accel in m/s2):
//
//	(v/2) (1/decel + 1/accel)
func RampLoss(v, decel, accel float64) float64 { return v / 2 * (1/decel + 1/accel) }

// RestToRest is the least time, s, over a length (m) from rest to rest: up to v
// (m/s), or as fast as the length allows when that is less,
//
//	length/v + (v/2)(1/decel + 1/accel)     length >= (v²/2)(1/decel + 1/accel)
//	sqrt(2 length (1/decel + 1/accel))      below
//
// It is concave in the length: a stop in between never saves time.
func RestToRest(length, v, decel, accel float64) float64 {
	if length >= StoppingLength(v, decel)+StoppingLength(v, accel) {
		return length/v + RampLoss(v, decel, accel)
	}
	return math.Sqrt(2 * length * (1/decel + 1/accel))
}
