package model

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The ridge of a seam, derived (no published source): N = (D - d)/(2 t) wraps lie on
// each other, N e high without oscillation, N e min(1, w/(2 a)) with it, and
// N = h/(e min(1, w/(2 a))), L = pi N (d + N t). By hand: core 76 mm, caliper 0.05 mm,
// seam 0.02 mm thicker and 8 mm wide, 5 mm allowed: 250 wraps, pi 250 (0.076 + 0.0125) m;
// moved by 8 mm to each side half of that everywhere, so twice the wraps.
func TestRidgeByHand(t *testing.T) {
	b := Build{SeamWidth: 8e-3, SeamThickness: 2e-5, Ridge: 5e-3}
	const core, caliper = 0.076, 5e-5
	assert.InDelta(t, math.Pi*250*0.0885, b.LongestRoll(core, caliper), 1e-9)
	assert.InDelta(t, 250, Wraps(math.Pi*250*0.0885, core, caliper), 1e-9)
	b.Oscillation = 8e-3
	assert.InDelta(t, math.Pi*500*0.101, b.LongestRoll(core, caliper), 1e-9)
	b.Oscillation = 4e-3
	assert.InDelta(t, math.Pi*250*0.0885, b.LongestRoll(core, caliper), 1e-9, "a path as long as the seam is wide spreads nothing")
	assert.InDelta(t, 8e-3, b.LeastOscillation(math.Pi*500*0.101, core, caliper), 1e-12)
	assert.Zero(t, b.LeastOscillation(math.Pi*250*0.0885*(1-1e-12), core, caliper))
	assert.False(t, Build{}.Given())
}

// The share at the worst place is that of a count: the seam laid down wrap by wrap, the
// web moved evenly from end to end and back, and the wraps counted at every place.
func TestWorstPlaceIsCounted(t *testing.T) {
	const wraps, places = 20000, 400
	for _, c := range []struct{ w, a float64 }{{8, 0}, {8, 2}, {8, 4}, {8, 8}, {8, 30}, {3, 40}} {
		low, high := -c.a-c.w/2, c.a+c.w/2
		count := make([]int, places)
		for n := range wraps {
			p := math.Mod(float64(n)*math.Sqrt2, 2) // there and back, at no fraction of a wrap
			centre := c.a * (2*math.Abs(p-1) - 1)
			for k := range places {
				if x := low + (high-low)*(float64(k)+0.5)/places; math.Abs(x-centre) <= c.w/2 {
					count[k]++
				}
			}
		}
		most := 0
		for _, n := range count {
			most = max(most, n)
		}
		assert.InEpsilon(t, Build{SeamWidth: c.w, Oscillation: c.a}.share(), float64(most)/wraps, 0.01, "%v", c)
	}
}

// The longest roll and the least oscillation are inverses of the ridge, and more of what
// helps never hurts.
func TestRidgeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := func(name string, low, high float64) float64 {
			return math.Exp(rapid.Float64Range(math.Log(low), math.Log(high)).Draw(t, name))
		}
		b := Build{SeamWidth: x("width", 1e-3, 0.1), SeamThickness: x("thickness", 1e-6, 1e-3), Ridge: x("ridge", 1e-4, 0.1), Oscillation: x("oscillation", 1e-4, 0.1)}
		core, caliper := x("core", 0.01, 1), x("caliper", 1e-5, 1e-3)
		longest := b.LongestRoll(core, caliper)
		assert.InEpsilon(t, b.Ridge, b.RidgeOn(longest, core, caliper), 1e-6)
		length := longest * x("of it", 0.1, 10)
		moved := b
		moved.Oscillation = b.LeastOscillation(length, core, caliper)
		assert.LessOrEqual(t, moved.RidgeOn(length, core, caliper), b.Ridge*(1+1e-9))
		if moved.Oscillation > 0 {
			assert.InEpsilon(t, length, moved.LongestRoll(core, caliper), 1e-6)
		}
		assert.GreaterOrEqual(t, b.RidgeOn(1.1*length, core, caliper), b.RidgeOn(length, core, caliper))
		for name, more := range map[string]func(b *Build){"oscillation": func(b *Build) { b.Oscillation *= 2 }, "allowed": func(b *Build) { b.Ridge *= 2 }, "thinner": func(b *Build) { b.SeamThickness /= 2 }} {
			c := b
			more(&c)
			assert.GreaterOrEqual(t, c.LongestRoll(core, caliper), longest, name)
		}
	})
}

// A roll table grows in equal steps to the whole roll, each row the roll of its length.
func TestRollTable(t *testing.T) {
	web := Web{Width: 0.33, Caliper: 1e-4, Grammage: 0.1}
	rows := RollTable(1000, web, 0.076, Build{}, 10)
	require.Len(t, rows, 10)
	for k, r := range rows {
		assert.InDelta(t, 100*float64(k+1), r.Length, 1e-9)
		assert.InDelta(t, r.Length, RollLength(r.Diameter, 0.076, 1e-4), 1e-9)
		assert.InDelta(t, (r.Diameter-0.076)/2e-4, r.Wraps, 1e-6)
		assert.InDelta(t, 0.033*r.Length, r.Mass, 1e-9)
		assert.True(t, math.IsNaN(r.Ridge))
	}
	assert.InDelta(t, rows[4].Wraps*2e-5, RollTable(1000, web, 0.076, Build{SeamThickness: 2e-5, Ridge: 5e-3}, 10)[4].Ridge, 1e-12)
	assert.Nil(t, RollTable(1000, Web{Width: 1}, 0.076, Build{}, 10), "no caliper")
	assert.Nil(t, RollTable(1000, web, 0, Build{}, 10), "no core")
	assert.Nil(t, RollTable(math.Inf(1), web, 0.076, Build{}, 10), "no length of its own")
}

// The caution is there as soon as a finished roll is longer than the ridge allows.
func TestCautionOfARidge(t *testing.T) {
	l := spliceLine()
	l.Web.Caliper = 5e-5
	l.Rewind = Rewind{Change: Manual, Roll: RollSize{Length: Const(100), Core: 0.076}, Trigger: ByLength, MaxSplices: -1}
	assert.False(t, warns(l, "ridge of the seam"), "nothing is known of a seam")
	l.Rewind.Build = Build{SeamThickness: 2e-5, Ridge: 5e-3}
	assert.True(t, warns(l, "on a finished roll of 100 m is 6.84 mm high, 5 mm are allowed: the longest roll within that is 69.51 m"), strings.Join(CautionsOf(l, Metric), "\n"))
	assert.Contains(t, strings.Join(CautionsOf(l, Imperial), "\n"), "on a finished roll of 328.1 ft is 0.269 in high, 0.197 in are allowed: the longest roll within that is 228 ft")
	l.Rewind.Roll.Length = Const(69.5)
	assert.False(t, warns(l, "ridge of the seam"))
	l.Rewind.Trigger = BySplice
	assert.True(t, warns(l, "on a finished roll of 1494 m"), "a splice ends it: it is as long as a parent roll")
	l.Rewind.Trigger = ByLength
	l.Rewind.Roll.Length = Const(100)
	l.Rewind.Build.SeamWidth, l.Rewind.Build.Oscillation = 8e-3, 8e-3
	assert.False(t, warns(l, "ridge of the seam"), "moved, it is within it")
	assert.InDelta(t, math.Pi*500*0.101, factOf(t, l, "rewind", "longest roll that the ridge").Value, 1e-9)
}
