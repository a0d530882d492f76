package model

// StoppingLength is the web that passes while a speed v (m/s) ramps to rest, or
// from rest, at a (m/s2), m:
//
//	v²/(2 a)
func StoppingLength(v, a float64) float64 { return v * v / (2 * a) }

// StoppingTime is how long that ramp takes, s:
//
//	v / a
func StoppingTime(v, a float64) float64 { return v / a }

// rampLoss is the time, s, that one stop loses by its two ramps against running
// on at v (m/s), whatever it stands for (decel and accel in m/s2):
//
//	(v/2) (1/decel + 1/accel)
func rampLoss(v, decel, accel float64) float64 { return v / 2 * (1/decel + 1/accel) }
