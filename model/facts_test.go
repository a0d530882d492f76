package model

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func factOf(t *testing.T, l *Line, group, label string) Fact {
	t.Helper()
	facts := FactsOf(l)
	i := slices.IndexFunc(facts, func(f Fact) bool { return f.Group == group && strings.Contains(f.Label, label) })
	require.GreaterOrEqual(t, i, 0, "no fact %s %s", group, label)
	return facts[i]
}

// Worked out by hand: 2.5 m/s, decel 0.8, accel 0.6, dwell 8 s: 3.90625 + 20 + 5.208333 m.
func TestFactsOfASplice(t *testing.T) {
	l := spliceLine()
	l.Unwind.Storage.Strands, l.Unwind.Storage.Travel, l.Unwind.Storage.RollerDrag = 24, 2.5, 1.5
	drawn := 3.90625 + 20 + 2.5*2.5/1.2
	for _, c := range []struct {
		group, label string
		dim          Dimension
		want         float64
	}{
		{"unwind", "parent roll, length", Length, 1500},
		{"unwind", "between roll changes", Time, 1494 / 2.5},
		{"unwind", "time to arm", Time, 120},
		{"unwind", "time available", Time, (1494 - 3.90625) / 2.5},
		{"unwind", "storage drawn", Length, drawn},
		{"unwind", "margin to the interlock", Length, 60 - drawn - 2 - 6.25},
		{"unwind", "longest dwell", Time, 8 + (60-drawn-2-6.25)/2.5},
		{"unwind", "chance that a dwell", Share, 0},
		{"unwind", "carriage speed while", Speed, 2.5 / 24},
		{"unwind", "carriage speed at", Speed, 1.25 / 24},
		{"unwind", "tension added", Force, 36},
		{"line", "stopping length", Length, 6.25},
		{"line", "ceiling", Speed, 2.5},
		{"crew", "load", Share, 0.2},
	} {
		f := factOf(t, l, c.group, c.label)
		assert.Equal(t, c.dim, f.Dim, c.label)
		assert.InDelta(t, c.want, f.Value, 1e-9, c.label)
	}
}

// The tail of the dwell beyond the longest that does not trip is what a splice
// depletes with: exp(-longest/mean) for an exponential dwell.
func TestChanceOfALongDwell(t *testing.T) {
	l := spliceLine()
	l.Unwind.Dwell = Dist{Law: Exponential, A: 3}
	longest := UnwindCycle(l).LongestDwell()
	assert.InEpsilon(t, math.Exp(-longest/3), factOf(t, l, "unwind", "chance that a dwell").Value, 1e-9)
}

func TestFactsOfATorque(t *testing.T) {
	l := spliceLine()
	l.Web = Web{Width: 1, Caliper: 0.1e-3, Grammage: 0.09}
	l.Unwind.Roll.Core = 0.1524
	l.Unwind.SpindleTorque = 20
	r := RollOf(1500, l.Web, 0.1524)
	assert.InDelta(t, 135, factOf(t, l, "unwind", "mass of web").Value, 1e-9)
	assert.InEpsilon(t, r.Inertia*0.6/r.R, factOf(t, l, "unwind", "torque to accelerate").Value, 1e-12)
	assert.InEpsilon(t, r.Inertia*0.6/r.R*3.75/r.R, factOf(t, l, "unwind", "power").Value, 1e-12)
	assert.InEpsilon(t, r.Inertia*0.5/r.R, factOf(t, l, "unwind", "torque to stop").Value, 1e-12)
	assert.Positive(t, factOf(t, l, "unwind", "ramp that the spindle torque").Value)
}

func TestEveryFactIsFinite(t *testing.T) {
	for _, l := range []*Line{stopLine(), spliceLine(), {}} {
		for _, f := range FactsOf(l) {
			assert.False(t, math.IsNaN(f.Value) || math.IsInf(f.Value, 0), "%v", f)
		}
		CautionsOf(l, Metric)
	}
}
