package picture

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"

	"rollchange/model"
	"rollchange/sim/whatif"
)

// stored is a sweep over the storage of one alternative that is the third of
// its study and has 43 m now.
func stored(now map[int]float64) *whatif.Sweep {
	axis := even("unwind.storage.capacity", model.Length, 20, 60, 9)
	s := swept([]whatif.Axis{axis}, sweepNames[2:3], map[string]law{"splice.depletion": func(_ int, at []float64) float64 { return math.Exp(-at[0] / 6) }}, nil)
	s.Axes[0].Now, s.Places = now, []int{2}
	return s
}

// The picture of the storage shows what is asked for and what there is, each
// struck through by no line, the chance on a scale of ratios.
func TestStoragePictureHasTargetAndPresent(t *testing.T) {
	p := Sweep(stored(map[int]float64{0: 43}), "splice.depletion", model.Metric)
	text := sound(t, "sweep-storage", p)
	has(t, text, "now 43 m", "target: 1 in 1,000", "1 in N splices", "unwind storage, m", "1 in 100")
	for _, s := range struck(p) {
		assert.False(t, strings.Contains(s, "now") || strings.Contains(s, "target"), s)
	}
	text = sound(t, "sweep-storage-unknown", Sweep(stored(nil), "splice.depletion", model.Metric))
	assert.NotContains(t, text, "now")
	text = sound(t, "sweep-storage-off", Sweep(stored(map[int]float64{0: 400}), "splice.depletion", model.Metric))
	assert.NotContains(t, text, "now", "beyond the scale")
	by := stored(map[int]float64{0: 43})
	by.Limits.Risk = whatif.Risk{Rate: 1e-6, Text: "1 per year"}
	assert.NotContains(t, sound(t, "sweep-storage-rate", Sweep(by, "splice.depletion", model.Metric)), "target: ", "a number by time is no share of the splices")
}

// What the crew may be busy is a limit, not a target.
func TestLimitLine(t *testing.T) {
	text := sound(t, "sweep-busy", Sweep(swept([]whatif.Axis{even("line.speed", model.Speed, 1, 3, 9)}, sweepNames, speedLaws, nil), "crew.utilisation", model.Metric))
	has(t, text, "limit: 90 %")
	assert.NotContains(t, text, "target")
}

// Alternatives with values of their own are each marked, one that all share
// once; many are left out.
func TestPresentValuesOfSeveral(t *testing.T) {
	axis := even("line.speed", model.Speed, 1, 3, 9)
	draw := func(now map[int]float64) string {
		s := swept([]whatif.Axis{axis}, sweepNames, speedLaws, nil)
		s.Axes[0].Now = now
		return sound(t, "sweep-present", Sweep(s, "good_rate", model.Metric))
	}
	assert.Equal(t, 1, strings.Count(draw(map[int]float64{0: 2, 1: 2, 2: 2, 3: 2}), "now "))
	assert.Equal(t, 3, strings.Count(draw(map[int]float64{0: 2, 1: 2.5, 2: 1.5, 3: 2}), "now "))
}

// An alternative is drawn alike in the picture of all and in one of its own.
func TestAnAlternativeKeepsItsStroke(t *testing.T) {
	g := newSweepGraph(stored(nil), "splice.depletion", model.Metric)
	assert.Equal(t, strokeOf(2), g.lines[0].stroke)
	all := newSweepGraph(swept([]whatif.Axis{even("line.speed", model.Speed, 1, 3, 3)}, sweepNames, speedLaws, nil), "good_rate", model.Metric)
	assert.Equal(t, strokeOf(2), all.lines[2].stroke)
}

// Leaders of marks cross neither one another nor what stands upright, and no
// number lies on another.
func TestLeadersOfMarksDoNotCross(t *testing.T) {
	for _, x := range []struct {
		metric      string
		low, high   float64
		n, of, most int // points, alternatives, and lines that leaders may cross at most
	}{{"good_rate", 1, 3.5, 11, 4, 2}, {"good_rate", 0.5, 4, 30, 4, 2}, {"crew.utilisation", 0.5, 4, 30, 4, 2}, {"splice.depletion", 1, 3.5, 11, 4, 0}} {
		s := swept([]whatif.Axis{even("line.speed", model.Speed, x.low, x.high, x.n)}, sweepNames[:x.of], speedLaws, nil)
		s.Axes[0].Now = map[int]float64{0: 2.2, 1: 2.2}
		g := newSweepGraph(s, x.metric, model.Metric)
		g.measure(698)
		g.x.from, g.x.to, g.base = g.left, 698-g.right, 100
		g.y.from, g.y.to = 100+g.none(), 100+g.height
		placed := g.placeBadges(nil)
		assert.NotEmpty(t, placed)
		crossed := 0
		for i, b := range placed {
			lead := [2]vg.Point{b.point, b.at}
			now := g.x.at(g.flags[0].at)
			assert.False(t, b.point.X != now && meet(lead, [2]vg.Point{{X: now, Y: g.base}, {X: now, Y: g.y.to}}), "through what is now")
			for _, o := range placed[:i] {
				assert.False(t, meet(lead, [2]vg.Point{o.point, o.at}), "%s: %v and %v", x.metric, b, o)
				assert.False(t, around(b.at, 13, 13).meets(around(o.at, 13, 13)), "%s: %v on %v", x.metric, b, o)
			}
			for _, w := range g.ways() {
				assert.False(t, w[0] == w[1] && w[0] != b.point && around(w[0], 4, 4).crosses(b.point, b.at), "%s: the leader of %v seems to end at another mark", x.metric, b)
				if w[0] != w[1] && meet(lead, w) {
					crossed++
				}
			}
		}
		assert.LessOrEqual(t, crossed, x.most, x.metric)
	}
}

// A scale of ratios ends at round figures and holds what is drawn.
func TestRoundLog(t *testing.T) {
	for _, x := range [][4]float64{{0.3, 70, 0.1, 100}, {3, 7, 2, 10}, {1, 1, 0.5, 2}, {2e-7, 4e-3, 1e-7, 1e-2}, {1, 10, 1, 10}} {
		low, high := roundLog(x[0], x[1])
		assert.InEpsilon(t, x[2], low, 1e-9)
		assert.InEpsilon(t, x[3], high, 1e-9)
	}
}

func TestMeet(t *testing.T) {
	a := [2]vg.Point{{X: 0, Y: 0}, {X: 10, Y: 10}}
	assert.True(t, meet(a, [2]vg.Point{{X: 0, Y: 10}, {X: 10, Y: 0}}))
	assert.False(t, meet(a, [2]vg.Point{{X: 0, Y: 10}, {X: 4, Y: 6}}))
	assert.False(t, meet(a, [2]vg.Point{{X: 10, Y: 10}, {X: 20, Y: 0}}), "they share an end")
	assert.False(t, meet(a, [2]vg.Point{{X: 1, Y: 0}, {X: 11, Y: 10}}), "side by side")
}
