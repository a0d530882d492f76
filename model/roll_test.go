package model

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestRollLengthPublished(t *testing.T) {
	for _, c := range []struct {
		name                 string
		outer, core, caliper float64
		want, relative       float64
	}{
		// algebra.com question 1205007: D 60 cm, d 8 cm, t 0.005 cm; printed 555433.5806 cm.
		{"60 cm", 0.60, 0.08, 0.005e-2, 5554.335806, 1e-8},
		{"60 cm, recomputed", 0.60, 0.08, 0.005e-2, 5554.3358115, 1e-9},
		// Doctor Guy, The Math Forum, 22 Aug 1997: radii 12 and 4 cm, t 1 cm; printed 128 pi, "about 402 cm".
		{"128 pi", 0.24, 0.08, 0.01, 1.28 * math.Pi, 1e-12},
		// packagingpost.blogspot.com, 27 Mar 2005: D 51 in, d 12 in, t 0.018 in (inputs printed; result worked out here).
		{"51 in", 51 * 0.0254, 12 * 0.0254, 0.018 * 0.0254, 8933.9041 * 0.3048, 1e-8},
	} {
		assert.InEpsilon(t, c.want, RollLength(c.outer, c.core, c.caliper), c.relative, c.name)
	}
	// solve.club, "thicc toilet paper 2": d 4 cm, 200 sheets of 12 cm, t 0.4 mm; printed 11.7572 cm by the area.
	assert.InDelta(t, 0.117572, rollDiameter(24, 0.04, 0.4e-3), 5e-7)
}

// The area against the spiral itself: the arc of an Archimedean spiral of
// pitch t from the core to D, 555433.58196 cm for the first case above (worked
// out here by its closed form).
func TestRollLengthAgainstTheSpiral(t *testing.T) {
	b := 0.005e-2 / (2 * math.Pi)
	arc := func(radius float64) float64 {
		th := radius / b
		return b / 2 * (th*math.Sqrt(1+th*th) + math.Asinh(th))
	}
	assert.InEpsilon(t, arc(0.30)-arc(0.04), RollLength(0.60, 0.08, 0.005e-2), 2e-9)
}

// US patent 4,021,002 (1977): t = pi (R1² - R2²)/L between two radii, so L of
// the caliper it gives is the web between them. The numbers are worked out from it.
func TestWebBetweenTwoRadii(t *testing.T) {
	assert.InEpsilon(t, 549.77871437821, RollLength(2*0.200, 2*0.150, 0.1e-3), 1e-12)
	assert.InEpsilon(t, 505.796417228, RollLength(0.300, 0.160, 0.1e-3), 1e-11)
	// math.asu.edu/~rich/puzzles/prob002s.html: R 2.25 in, r 0.75 in, 425 sheets of 4 in;
	// by the area t = 0.00831598 in (worked out here; the page counts whole rings).
	assert.InEpsilon(t, 1700, RollLength(2*2.25, 2*0.75, 0.00831598), 1e-6)
}

// Mass and inertia of an annular cylinder, J = (pi/32) rho w (D⁴ - d⁴) (from
// memory, any text on dynamics): D 1 m, d 0.1524 m, width 0.33 m, 900 kg/m3.
func TestMassAndInertia(t *testing.T) {
	const caliper, density = 0.1e-3, 900.0
	web := Web{Width: 0.33, Caliper: caliper, Grammage: density * caliper}
	r := RollOf(RollLength(1, 0.1524, caliper), web, 0.1524)
	assert.True(t, r.Relevant)
	assert.InEpsilon(t, 227.84553816, r.Mass, 1e-10)
	assert.InEpsilon(t, 29.14217799, r.Inertia, 1e-9)
	assert.InEpsilon(t, math.Pi/32*density*0.33*(1-math.Pow(0.1524, 4)), r.Inertia, 1e-12)
	// Power is the rate of the spin's energy, J w dw/dt.
	w, dw := 2.5/r.R, 0.5/r.R
	assert.InEpsilon(t, r.Inertia*w*dw, r.rampPower(0.5, 2.5), 1e-12)
	assert.InEpsilon(t, 0.5, r.RampLimit(r.rampTorque(0.5)), 1e-12)
	assert.False(t, RollOf(1000, Web{}, 0.0762).Relevant)
}

func TestRollLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		core := rapid.Float64Range(0.02, 0.5).Draw(t, "core")
		outer := core + rapid.Float64Range(0, 2).Draw(t, "build")
		caliper := rapid.Float64Range(1e-5, 1e-2).Draw(t, "caliper")
		length := RollLength(outer, core, caliper)
		assert.InEpsilon(t, outer, rollDiameter(length, core, caliper), 1e-9)
		half := rollDiameter(length/2, core, caliper)
		assert.InDelta(t, length, RollLength(half, core, caliper)+RollLength(outer, half, caliper), 1e-9*length+1e-9)
	})
	assert.Equal(t, 400.0, runOutTime(1008, 8, 2.5))
	assert.Zero(t, runOutTime(5, 8, 2.5))
	// A spread of diameters holds more web on average than the mean diameter:
	// uniform between 0.9 and 1.1 m, E D² = 1 + 0.01/3.
	web := Web{Caliper: 0.1e-3}
	size := RollSize{ByDiameter: true, Diameter: Dist{Law: Uniform, A: 0.9, B: 1.1}, Core: 0.1}
	assert.InEpsilon(t, math.Pi*(1+0.01/3-0.01)/4e-4, size.Mean(web), 1e-12)
	assert.InDelta(t, 0.5, size.survivalFrom(RollLength(1, 0.1, 0.1e-3), web), 1e-12)
}
