package model

import "math"

// A Cycle is one change at rest out of storage, at an unwind or, as its mirror
// image, at a rewind: the station ramps from the speed v of the process to
// rest, dwells, ramps to its top speed and works the storage back to its run
// level. All closed forms of the splice stand here. SI units.
type Cycle struct {
	V         float64 // m/s, process
	Decel     float64 // m/s2, station
	Accel     float64 // m/s2, station
	Max       float64 // m/s, station, above V
	LineDecel float64 // m/s2, process
	Room      float64 // m, from the run level to the end of the storage
	Reserve   float64 // m, never used
	Dwell     Dist    // s
}

// UnwindCycle is the splice of an unwind. A spindle torque limits its ramps: the
// old roll's to rest with the web that is then left on it, the new one's to its
// top speed with a whole roll of mean length.
func UnwindCycle(l *Line) Cycle {
	u := &l.Unwind
	c := Cycle{V: l.Process.Speed, Decel: u.Decel, Accel: u.Accel, Max: u.MaxSpeed, LineDecel: l.Process.Decel,
		Room: u.Storage.RunLevel, Reserve: u.Storage.Reserve, Dwell: u.Dwell}
	if u.SpindleTorque == 0 {
		return c
	}
	if full := RollOf(u.Roll.Mean(l.Web), l.Web, u.Roll.Core); full.Relevant {
		c.Accel = min(c.Accel, full.RampLimit(u.SpindleTorque))
	}
	for range 50 {
		// The longer ramp begins with more web on the roll, which slows it more;
		// there is no more on it than the roll had.
		left := RollOf(min(u.Residual+StoppingLength(c.V, c.Decel), u.Roll.Mean(l.Web)), l.Web, u.Roll.Core)
		if !left.Relevant {
			break
		}
		c.Decel = min(u.Decel, left.RampLimit(u.SpindleTorque))
	}
	return c
}

// RewindCycle is the transfer of a rewind: its room is what the storage can
// still take at its run level.
func RewindCycle(l *Line) Cycle {
	w := &l.Rewind
	return Cycle{V: l.Process.Speed, Decel: w.Decel, Accel: w.Accel, Max: w.MaxSpeed, LineDecel: l.Process.Decel,
		Room: w.Storage.Capacity - w.Storage.RunLevel, Reserve: w.Storage.Reserve, Dwell: w.Dwell}
}

// drawn is the storage that one undisturbed splice draws, m:
//
//	v²/(2 decel) + v dwell + v²/(2 accel)
func (c Cycle) drawn(dwell float64) float64 {
	return StoppingLength(c.V, c.Decel) + c.V*dwell + StoppingLength(c.V, c.Accel)
}

// Interlock is the content at which the interlock stops the line from full
// speed, m: reserve + v²/(2 line.decel).
func (c Cycle) Interlock() float64 { return c.Reserve + StoppingLength(c.V, c.LineDecel) }

// margin is what is left above the interlock at the lowest point, m; the
// interlock trips when it is not above 0.
func (c Cycle) margin(dwell float64) float64 { return c.Room - c.drawn(dwell) - c.Interlock() }

// LongestDwell is the dwell from which on a splice begun at the run level trips
// the interlock, s; not above 0 when every splice does.
func (c Cycle) LongestDwell() float64 { return c.margin(0) / c.V }

// LeastRoom is the room, run level to end, for which a dwell just does not
// trip the interlock, m.
func (c Cycle) LeastRoom(dwell float64) float64 { return c.drawn(dwell) + c.Interlock() }

// refill is how long the station works from the end of the dwell until the
// storage is at its run level again, s, and the web that passes it, m. The
// storage lacks D at the end of the dwell; the station has to pass the process
// by D. It does so within its ramp when
//
//	a t²/2 - v t = D  has its root before max/a,
//
// else the rest at the difference of speeds.
func (c Cycle) refill(dwell float64) (seconds, metres float64) {
	lack := StoppingLength(c.V, c.Decel) + c.V*dwell
	ramp := c.Max / c.Accel
	if t := (c.V + math.Sqrt(c.V*c.V+2*c.Accel*lack)) / c.Accel; t <= ramp {
		return t, c.Accel * t * t / 2
	}
	left := lack - (c.Max*ramp/2 - c.V*ramp)
	t := left / (c.Max - c.V)
	return ramp + t, c.Max*ramp/2 + c.Max*t
}

// shortestRoll is the shortest roll whose own splice begins from a storage at
// its run level again, m: the web of the refill, the ramp down, what is left.
func (c Cycle) shortestRoll(dwell, residual float64) float64 {
	_, metres := c.refill(dwell)
	return metres + StoppingLength(c.V, c.Decel) + residual
}

// courseParts is in how many parts each ramp of a course is given.
const courseParts = 12

// Course is what one undisturbed change with a dwell (s) leaves of the room, m, over the
// time since its begin, s, to a little after the storage is at its run level again. Each
// point is a time and a room.
func (c Cycle) Course(dwell float64) [][2]float64 {
	down := c.V / c.Decel
	seconds, _ := c.refill(dwell)
	end := down + dwell + seconds
	lack := func(t float64) float64 { // web drawn since the begin, m
		switch {
		case t < down:
			return c.Decel * t * t / 2
		case t < down+dwell:
			return StoppingLength(c.V, c.Decel) + c.V*(t-down)
		case t >= end:
			return 0
		}
		up, ramp := t-down-dwell, c.Max/c.Accel
		passed := c.Accel * up * up / 2
		if up > ramp {
			passed = c.Max*ramp/2 + c.Max*(up-ramp)
		}
		return StoppingLength(c.V, c.Decel) + c.V*dwell + c.V*up - passed
	}
	points := [][2]float64{{-0.1 * end, c.Room}}
	lowest := down + dwell + c.V/c.Accel
	for _, part := range [][2]float64{{0, down}, {down, down + dwell}, {down + dwell, lowest}, {lowest, min(end, down+dwell+c.Max/c.Accel)}, {min(end, down+dwell+c.Max/c.Accel), end}} {
		for k := range courseParts {
			t := part[0] + (part[1]-part[0])*float64(k)/courseParts
			if last := points[len(points)-1][0]; t > last && t < end {
				points = append(points, [2]float64{t, c.Room - lack(t)})
			}
		}
	}
	return append(points, [2]float64{end, c.Room}, [2]float64{1.1 * end, c.Room})
}

// Lowest is what one undisturbed change with a dwell (s) leaves of the room at its
// lowest, m.
func (c Cycle) Lowest(dwell float64) float64 { return c.Room - c.drawn(dwell) }
