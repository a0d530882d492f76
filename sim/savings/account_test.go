package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"rollchange/model"
	"rollchange/sim/replicate"
)

func demandOf(d float64) func(*model.Study, *replicate.Results) {
	return economics(func(e *model.Economics) { e.Demand = model.Const(d) })
}

// By hand: 7200 against 10800 km in 1000 h; waste 800 and 450 km; 3600 and
// 5400 splices of 1 m of tape.
func TestCapacityLimitedByHand(t *testing.T) {
	c := caseOf(t, nil)
	assert.Equal(t, CapacityLimited, c.Kind)
	for k, want := range map[Cause]float64{Contribution: 0.2 * 0.5 * 3600e3, Material: 0.5 * 0.5 * 350e3, Disposal: 0.1 * 0.1 * 0.5 * 350e3,
		CrewHours: 0, LineHours: 0, Tape: -0.25 * 1800, Maintenance: -5000} {
		assert.InDelta(t, want, c.Save[k].Value, 1e-6, k.Key())
	}
	assert.InDelta(t, 360000+87500+1750-450-5000, c.Total.Value, 1e-6)
	assert.InDelta(t, 443800*6.144567106, c.Worth.NPV+500000, 1e-2, "UPV at 10 %, 10 years: 6.144567, any table")
	assert.InDelta(t, 500000/443800., c.Worth.Simple, 1e-12)
	require.Len(t, c.Others, 1)
	assert.Equal(t, DemandLimited, c.Others[0].Kind)
	assert.Zero(t, c.Others[0].Least, "by hand makes the least")
}

// The same 5400 km in 750 and 500 h; waste 600 and 225 km; 2700 splices each.
func TestDemandLimitedByHand(t *testing.T) {
	c := caseOf(t, demandOf(5400e3))
	assert.Equal(t, DemandLimited, c.Kind)
	assert.InDelta(t, 750*3600, c.Years[0].Hours, 1e-6)
	assert.InDelta(t, 500*3600, c.Years[1].Hours, 1e-6)
	for k, want := range map[Cause]float64{Contribution: 0, Material: 0.25 * 375e3, Disposal: 0.005 * 375e3, CrewHours: 40 * 2 * 250,
		LineHours: 60 * 250, Tape: 0, Maintenance: -5000} {
		assert.InDelta(t, want, c.Save[k].Value, 1e-6, k.Key())
	}
	assert.Zero(t, c.Save[Contribution].Value, "no extra metre is sold")
	assert.Zero(t, c.Save[Contribution].HalfWidth)
}

// 9000 km: by hand sells 7200 in all its hours, automatic 9000 in 833.3 h.
func TestBetweenByHand(t *testing.T) {
	c := caseOf(t, demandOf(9000e3))
	assert.Equal(t, Between, c.Kind)
	assert.InDelta(t, 0.1*1800e3, c.Save[Contribution].Value, 1e-6)
	assert.InDelta(t, 80*1000/6., c.Save[CrewHours].Value, 1e-6)
	assert.Len(t, c.Others, 2)
}

// The cases meet: across the two capacities no saving jumps.
func TestCasesMeetAtTheBoundaries(t *testing.T) {
	for _, edge := range []float64{7200e3, 10800e3} {
		below, above := caseOf(t, demandOf(edge*(1-1e-9))), caseOf(t, demandOf(edge*(1+1e-9)))
		assert.NotEqual(t, below.Kind, above.Kind)
		for k := range Causes {
			assert.InDelta(t, below.Save[k].Value, above.Save[k].Value, 0.01, k.Key())
		}
		assert.InDelta(t, below.Worth.NPV, above.Worth.NPV, 0.1)
	}
}

// lines of any sort, prices of any size.
func randomVector(t *rapid.T) (*Case, vector) {
	f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	var v vector
	v[good0], v[good1] = f("g0", 0.01, 10), f("g1", 0.01, 10)
	v[waste0], v[waste1] = f("w0", 0, 0.9), f("w1", 0, 0.9)
	v[splice0], v[splice1] = f("s0", 0, 0.1), f("s1", 0, 0.1)
	v[hours0], v[hours1] = f("h0", 3600, 8760*3600), f("h1", 3600, 8760*3600)
	v[price], v[material], v[disposal], v[crew], v[line], v[tape] = f("p", 0, 5), f("m", 0, 5), f("d", 0, 1), f("c", 0, 100), f("l", 0, 500), f("t", 0, 3)
	v[maintenance0], v[maintenance1] = f("m0", 0, 1e4), f("m1", 0, 1e4)
	v[demand] = math.Inf(1)
	c := &Case{side: [2]Fixed{{2, 1, 0.4, 0.1, 0.8, f("t0", 0, 0.1)}, {3, 1, 0.4, 0.1, 0.6, f("t1", 0, 0.1)}}}
	return c, v
}

// The identity behind all cases: the sum of the savings is the profit of the
// alternative less that of the first, each calculated as a year of its own.
func TestSavingsAreTheDifferenceOfTwoProfits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, v := randomVector(t)
		if rapid.Bool().Draw(t, "limited") {
			v[demand] = rapid.Float64Range(1, 3e8).Draw(t, "demand")
		}
		profit := func(i int, g, w, s, h, maintenance float64) float64 {
			out := min(v[demand], g*h)
			h = out / g
			sold := (c.side[i].Width - c.side[i].Trim) * out // m2
			area := sold * w / (1 - w)
			return v[price]*sold - (v[material]+v[disposal]*c.side[i].Grammage)*area -
				(v[crew]*c.side[i].Operators+v[line]*c.side[i].Lines)*h/3600 - v[tape]*c.side[i].Tape*s*h - maintenance
		}
		a := c.account(&v)
		p0, p1 := profit(0, v[good0], v[waste0], v[splice0], v[hours0], v[maintenance0]), profit(1, v[good1], v[waste1], v[splice1], v[hours1], v[maintenance1])
		if math.Abs(a.total()-(p1-p0)) > 1e-9*(math.Abs(p0)+math.Abs(p1)+1) {
			t.Fatalf("%g, profits differ by %g", a.total(), p1-p0)
		}
		// Seen the other way round it is a loss of the same size.
		back := vector(v)
		back[good0], back[good1], back[waste0], back[waste1], back[splice0], back[splice1] = v[good1], v[good0], v[waste1], v[waste0], v[splice1], v[splice0]
		back[maintenance0], back[maintenance1] = v[maintenance1], v[maintenance0]
		back[hours0], back[hours1] = v[hours1], v[hours0]
		r := &Case{side: [2]Fixed{c.side[1], c.side[0]}}
		b := r.account(&back)
		for k := range Causes {
			if math.Abs(a.save[k]+b.save[k]) > 1e-9*(math.Abs(a.save[k])+1) {
				t.Fatalf("%s: %g one way, %g the other", k.Key(), a.save[k], b.save[k])
			}
		}
		// Nothing is both sold and saved as an hour.
		sold, freed := a.year[1].Good-a.year[0].Good, a.year[0].Hours-a.year[1].Hours
		switch {
		case v[hours0] == v[hours1] && v[demand] >= max(v[good0], v[good1])*v[hours0] && freed != 0, v[demand] <= min(v[good0]*v[hours0], v[good1]*v[hours1]) && sold != 0:
			t.Fatalf("%g m sold and %g s freed with a demand of %g", sold, freed, v[demand])
		}
		// In the demand, nothing jumps.
		near := v
		near[demand] *= 1 + 1e-10
		n := c.account(&near)
		if d := math.Abs(n.total() - a.total()); d > 1e-7*(math.Abs(p0)+math.Abs(p1)+1) {
			t.Fatalf("a demand 1e-10 larger moves the saving by %g", d)
		}
	})
}

func TestPartsAddUpExactly(t *testing.T) {
	for _, d := range []float64{5e6, 9e6, 2e7} {
		c := caseOf(t, demandOf(d))
		sum, mean := 0.0, 0.0
		for k, s := range c.Save {
			sum += s.Value
			mean += c.Random.Save[k].Mean
		}
		assert.Equal(t, c.Total.Value, sum)
		assert.InEpsilon(t, c.Random.Total.Mean, mean, 1e-12)
	}
}

func TestNothingChangesNothing(t *testing.T) {
	c := caseOf(t, func(s *model.Study, rs *replicate.Results) {
		rs.Alternatives[1].Metrics = rs.Alternatives[0].Metrics
		for k, e := range rs.Differences[1] {
			e.Mean, e.SD, e.HalfWidth = 0, 0, 0
			rs.Differences[1][k] = e
		}
		s.Alternatives[1].Maintenance = model.Dist{}
	})
	assert.Zero(t, c.Total.Value)
	assert.InDelta(t, 0, c.Total.HalfWidth, 1e-9, "what is the same in every replication has no half width")
	assert.True(t, math.IsInf(c.Worth.Simple, 1))
	assert.Equal(t, 0., c.Random.PaysBack.Simple)
}
