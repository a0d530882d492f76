package model

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Storage drawn has the same terms as the stopping distance of a vehicle with
// a time of reaction, v T + v²/(2 a). Printed in OpenStax College Physics (from
// memory: 64.3, 15.0 and 79.3 m; 105 m wet), restated at qammunity.org/19788414.
func TestStoppingLengthPublished(t *testing.T) {
	assert.InDelta(t, 64.29, StoppingLength(30, 7), 0.005)
	assert.InDelta(t, 79.3, StoppingLength(30, 7)+30*0.5, 0.05)
	assert.Equal(t, 90.0, StoppingLength(30, 5)) // raysix.com/posts/Q0CXWLfHZ7p-LeGS4nNzt
	assert.Equal(t, 105.0, StoppingLength(30, 5)+30*0.5)
}

func TestStorageDrawn(t *testing.T) {
	for _, c := range []struct{ v, decel, dwell, accel, want float64 }{
		{2.5, 0.5, 3, 0.25, 26.25}, {2.5, 1, 2, 0.5, 14.375}, {5, 1.25, 4, 1, 42.5},
	} {
		y := Cycle{V: c.v, Decel: c.decel, Accel: c.accel, Max: 1.15 * c.v, LineDecel: 0.5, Room: 100, Reserve: 2}
		assert.InDelta(t, c.want, y.drawn(c.dwell), 1e-12)
		assert.InDelta(t, 2+c.v*c.v, y.Interlock(), 1e-12)
		assert.InDelta(t, 100-c.want-2-c.v*c.v, y.margin(c.dwell), 1e-12)
	}
}

// With ramps so steep that they do not count, 15 % more speed makes up for
// 26.25 m in 26.25/0.375 = 70 s, for which the new roll gives 201.25 m.
func TestRefillWithoutRamps(t *testing.T) {
	y := Cycle{V: 2.5, Decel: 1e9, Accel: 1e9, Max: 1.15 * 2.5}
	s, m := y.refill(10.5) // 10.5 s at 2.5 m/s: 26.25 m
	assert.InDelta(t, 70, s, 1e-6)
	assert.InDelta(t, 201.25, m, 1e-6)
	assert.InDelta(t, 201.25+8, y.shortestRoll(10.5, 8), 1e-6)
}

// stepped plays a splice in small steps and returns the lowest content below
// the start, the time and the web of the refill.
func stepped(y Cycle, dwell, dt float64) (lowest, seconds, metres float64) {
	u, content := y.V, 0.0
	move := func(next float64) float64 {
		d := (u + next) / 2 * dt
		content += d - y.V*dt
		lowest = min(lowest, content)
		u = next
		return d
	}
	for u > 0 {
		move(max(0, u-y.Decel*dt))
	}
	for t := 0.0; t < dwell; t += dt {
		move(0)
	}
	for content < 0 {
		metres += move(min(y.Max, u+y.Accel*dt))
		seconds += dt
	}
	return
}

func TestCycleLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0.5, 8).Draw(t, "v")
		y := Cycle{V: v, Decel: rapid.Float64Range(0.2, 3).Draw(t, "decel"), Accel: rapid.Float64Range(0.2, 3).Draw(t, "accel"),
			Max: v * rapid.Float64Range(1.05, 2).Draw(t, "over"), LineDecel: rapid.Float64Range(0.1, 3).Draw(t, "line"),
			Room: rapid.Float64Range(1, 500).Draw(t, "room"), Reserve: rapid.Float64Range(0, 10).Draw(t, "reserve")}
		dwell := rapid.Float64Range(0, 20).Draw(t, "dwell")
		s, m := y.refill(dwell)
		lack := v*v/(2*y.Decel) + v*dwell
		assert.InDelta(t, lack, m-v*s, 1e-8*(1+m), "the station passes the process by what the storage lacks")
		assert.InDelta(t, 0, y.margin(y.LongestDwell()), 1e-9*(1+y.Room))
		assert.InDelta(t, y.LeastRoom(dwell), y.Room-y.margin(dwell), 1e-9*(1+y.Room))
		more, _ := y.refill(dwell + 1)
		assert.Greater(t, more, s)
		const dt = 2e-3
		lowest, seconds, metres := stepped(y, dwell, dt)
		assert.InDelta(t, y.drawn(dwell), -lowest, 3*v*dt+1e-6)
		assert.InDelta(t, s, seconds, 10*dt*y.Max/(y.Max-v))
		assert.InDelta(t, m, metres, 10*dt*y.Max*y.Max/(y.Max-v))
	})
}

// The transfer of a rewind is the same cycle from the other end of its storage.
func TestRewindMirrorsTheUnwind(t *testing.T) {
	l := &Line{Process: Process{Speed: 2.5, Decel: 0.5, Accel: 0.25},
		Unwind: Unwind{Decel: 0.5, Accel: 0.25, MaxSpeed: 3, Storage: Storage{Capacity: 60, RunLevel: 60, Reserve: 2}},
		Rewind: Rewind{Decel: 0.5, Accel: 0.25, MaxSpeed: 3, Storage: Storage{Capacity: 60, RunLevel: 0, Reserve: 2}}}
	assert.Equal(t, UnwindCycle(l), RewindCycle(l))
	assert.InDelta(t, 60-26.25-2-6.25, UnwindCycle(l).margin(3), 1e-12)
	assert.InDelta(t, 3+25.5/2.5, UnwindCycle(l).LongestDwell(), 1e-12)
}

func TestSpindleTorqueLimitsTheCycle(t *testing.T) {
	l := &Line{Web: Web{Width: 1, Caliper: 0.1e-3, Grammage: 0.09}, Process: Process{Speed: 2.5, Decel: 0.5, Accel: 0.5},
		Unwind: Unwind{Change: ZeroSpeed, Roll: RollSize{Length: Const(5000), Core: 0.1524}, Residual: 10, Decel: 1, Accel: 1, MaxSpeed: 3, SpindleTorque: 50}}
	full := RollOf(5000, l.Web, 0.1524)
	y := UnwindCycle(l)
	assert.InEpsilon(t, 50.0, full.rampTorque(y.Accel), 1e-12)
	assert.Equal(t, 1.0, y.Decel, "the old roll is light")
	l.Unwind.SpindleTorque = 0.05
	y = UnwindCycle(l)
	left := RollOf(10+StoppingLength(2.5, y.Decel), l.Web, 0.1524)
	assert.InEpsilon(t, 0.05, left.rampTorque(y.Decel), 1e-6, "the ramp fits the roll that it begins with")
}

// restToRest is the least time, s, over a length (m) from rest to rest: up to v
// (m/s), or as fast as the length allows when that is less,
//
//	length/v + (v/2)(1/decel + 1/accel)     length >= (v²/2)(1/decel + 1/accel)
//	sqrt(2 length (1/decel + 1/accel))      below
//
// It is concave in the length: a stop in between never saves time.
func restToRest(length, v, decel, accel float64) float64 {
	if length >= StoppingLength(v, decel)+StoppingLength(v, accel) {
		return length/v + rampLoss(v, decel, accel)
	}
	return math.Sqrt(2 * length * (1/decel + 1/accel))
}

func TestRestToRest(t *testing.T) {
	assert.InDelta(t, 10+5+(100-18.75)/2.5, restToRest(100, 2.5, 0.5, 0.25), 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		v, d, a := rapid.Float64Range(0.5, 8).Draw(t, "v"), rapid.Float64Range(0.1, 3).Draw(t, "d"), rapid.Float64Range(0.1, 3).Draw(t, "a")
		x, y := rapid.Float64Range(0, 300).Draw(t, "x"), rapid.Float64Range(0, 300).Draw(t, "y")
		whole := restToRest(x+y, v, d, a)
		assert.LessOrEqual(t, whole, restToRest(x, v, d, a)+restToRest(y, v, d, a)+1e-9, "a stop in between saves nothing")
		assert.GreaterOrEqual(t, whole, (x+y)/v-1e-9)
		at := StoppingLength(v, d) + StoppingLength(v, a)
		assert.InEpsilon(t, restToRest(at*(1-1e-12), v, d, a), restToRest(at, v, d, a), 1e-9, "the two forms meet")
		assert.InEpsilon(t, StoppingLength(v, d), v*StoppingTime(v, d)/2, 1e-12)
	})
	assert.InDelta(t, math.Sqrt(2*1*6), restToRest(1, 2.5, 0.5, 0.25), 1e-12)
}

// The course of a storage over one change is that of its closed forms: it begins and ends
// at the run level, is lowest by what the change draws, as long after the dwell as the
// station needs to be as fast as the process, and back when the refill is. Between its
// points it never moves faster than the speeds allow.
func TestCourse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		y := Cycle{V: draw("v", 0.1, 10), Decel: draw("decel", 0.05, 20), Accel: draw("accel", 0.05, 20), LineDecel: 1, Room: 1000}
		y.Max = y.V * draw("max", 1.02, 3)
		dwell := draw("dwell", 0, 30)
		course := y.Course(dwell)
		seconds, _ := y.refill(dwell)
		end := y.V/y.Decel + dwell + seconds
		first, last := course[0], course[len(course)-1]
		assert.Equal(t, [2]float64{-0.1 * end, 1000}, first)
		assert.Equal(t, [2]float64{1.1 * end, 1000}, last)
		lowest, when := math.Inf(1), 0.0
		for i, p := range course {
			if p[1] < lowest {
				lowest, when = p[1], p[0]
			}
			assert.LessOrEqual(t, p[1], 1000.0+1e-6)
			if i > 0 {
				span := p[0] - course[i-1][0]
				assert.Greater(t, span, 0.0, "time goes on")
				change := p[1] - course[i-1][1]
				assert.True(t, change >= -y.V*span-1e-6 && change <= (y.Max-y.V)*span+1e-6, "%v in %v s", change, span)
			}
		}
		assert.InDelta(t, y.Lowest(dwell), lowest, 1e-6)
		assert.InDelta(t, y.V/y.Decel+dwell+y.V/y.Accel, when, 1e-6*end)
		assert.InDelta(t, 1000, course[len(course)-2][1], 1e-6)
		assert.InDelta(t, end, course[len(course)-2][0], 1e-9*end)
	})
	y := Cycle{V: 2.5, Decel: 0.5, Accel: 0.25, Max: 5, LineDecel: 0.5, Room: 100}
	assert.InDelta(t, 100-26.25, y.Lowest(3), 1e-12, "as drawn above")
}
