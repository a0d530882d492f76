package sim_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
	"rollchange/sim/replicate"
)

// agrees asserts that an estimate is within 4.5 standard errors of the theory,
// a false alarm in 1 of 100,000 for each figure at 100 and more replications (in
// 1 of 17,000 at 40, 1 of 4,000 at 20),
// and that the error is small enough for that to mean something. What has next to
// no error is right to 1e-5: the ramps of these lines take a moment.
func agrees(t *testing.T, r replicate.Result, name string, want, most float64) {
	t.Helper()
	e, ok := r.Metrics[name]
	require.True(t, ok, "no metric %s", name)
	se := e.SD / math.Sqrt(float64(e.N))
	assert.InDelta(t, want, e.Mean, 4.5*se+1e-5*want, name)
	assert.Less(t, se, most*want, "%s: the error is too large to test anything", name)
}

// fluidLine is an unwind as an on/off source with finite storage: it gives u
// while the storage refills, v while it is full, and stops for an exponential
// time after an exponential length.
func fluidLine(u, v, meanLength, meanStop, capacity float64) model.Line {
	return model.Line{
		Process: model.Process{Speed: v, RatedSpeed: v, Accel: 1e4, Decel: 1e4},
		Unwind: model.Unwind{Change: model.ZeroSpeed, Roll: model.RollSize{Length: model.Dist{Law: model.Exponential, A: meanLength}},
			Load: model.Const(0), Prepare: model.Const(0), Dwell: model.Dist{Law: model.Exponential, A: meanStop},
			Decel: 1e4, Accel: 1e4, MaxSpeed: u, SpliceSuccess: 1,
			Storage: model.Storage{Capacity: capacity, RunLevel: capacity, RestartLevel: 1e-6 * capacity}},
		Rewind: model.Rewind{Change: model.None, Trigger: model.ByLength, MaxSplices: -1},
		Crew:   model.Crew{Operators: 4, Lines: 1, Reaction: model.Const(0), Shift: 8 * 3600},
	}
}

// An unwind that stops and a storage that never lets the process know is the
// fluid queue with one on/off source and a finite buffer: D. Mitra, Adv. Appl.
// Prob. 20 (1988) 646-676 (citation from memory); solved for this case from
// flux balance, a f_on = d f_off, with stops per metre unwound (ODF).
func TestFluidQueueWithFiniteStorage(t *testing.T) {
	effort.NotInRace(t)
	for _, c := range []struct {
		name                   string
		u, v, p, r, b, horizon float64
		empty, starve, stopHit float64 // printed by the closed form
	}{
		{"F2", 1.2, 1, 1. / 3600, 1. / 60, 100, 4e6, 0.0028059451, 4.6765752e-5, 0.20259652},
		{"F4", 2, 1, 0.2, 0.2, 5, 2e4, 0.2, 0.04, 0.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, d := c.u-c.v, c.v
			theta := c.r/d - c.p/a
			s, e := c.b, 1.0
			if math.Abs(theta) > 1e-12 {
				e = math.Exp(theta * c.b)
				s = (e - 1) / theta
			}
			full := c.p * c.v / c.u
			k := 1 / ((1+a/d)*s + a/c.r + a*e/full)
			assert.InEpsilon(t, c.empty, k*a/c.r, 1e-7)
			assert.InEpsilon(t, c.starve, k*a, 1e-7)
			assert.InEpsilon(t, c.stopHit, a/(c.p*s+a*e), 1e-7)

			r := simulated(t, fluidLine(c.u, c.v, c.u/c.p, 1/c.r, c.b),
				model.Run{Horizon: c.horizon, WarmUp: c.horizon / 20, Replications: effort.Of(40, 80, 100), Seed: 4})
			agrees(t, r, "time.stopped", k*a/c.r, 0.02)
			agrees(t, r, "processed_rate", c.v*(1-k*a/c.r), 0.01)
			agrees(t, r, "stop_rate.unwind_depleted", k*a, 0.02)
			agrees(t, r, "splice.depletion", a/(c.p*s+a*e), 0.02)
		})
	}
}

// Every roll holds the same web, the stop has any law, and the storage refills
// before the next change: a renewal process (derived; the laws' tails from
// their formulas). v 2.5 m/s, roll 5000 m, storage 100 m, k = 40 s.
func TestRenewalOfRollChanges(t *testing.T) {
	const v, roll, k = 2.5, 5000.0, 40.0
	replications := effort.Of(30, 80, 100)
	for _, c := range []struct {
		name         string
		stop         model.Dist
		tail, excess float64 // P(T > k), E[(T-k)+]
		throughput   float64
	}{
		{"fixed short", model.Const(35), 0, 0, 2.5},
		{"fixed long", model.Const(60), 1, 20, 2.47524752},
		{"exponential", model.Dist{Law: model.Exponential, A: 60}, 0.51341712, 30.80502714, 2.46207781},
		{"lognormal", model.Dist{Law: model.Lognormal, A: 60, B: 30}, 0.73307954, 22.46519644, 2.47223043},
		{"uniform", model.Dist{Law: model.Uniform, A: 30, B: 90}, 0.83333333, 20.83333333, 2.47422680},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := fluidLine(2.6, v, 0, 0, 100)
			l.Unwind.Roll.Length, l.Unwind.Dwell = model.Const(roll), c.stop
			assert.InEpsilon(t, roll/(roll/v+c.excess), c.throughput, 1e-8)
			// 500 rolls: the horizon is long against the part of a cycle at its end.
			r := simulated(t, l, model.Run{Horizon: 1e6, Replications: replications, Seed: 7})
			if c.stop.IsConst() {
				assert.InEpsilon(t, c.throughput, r.Metrics["processed_rate"].Mean, 1e-4)
				assert.InDelta(t, c.tail, r.Metrics["splice.depletion"].Mean, 1e-12)
				return
			}
			agrees(t, r, "splice.depletion", c.tail, 0.01)
			// The cycle at the end of the horizon is cut: at most one stop of 500.
			e := r.Metrics["processed_rate"]
			assert.InDelta(t, c.throughput, e.Mean, 4.5*e.SD/math.Sqrt(float64(replications))+v*c.excess/1e6)
		})
	}
}

// Machine interference: N lines with exponential stops share c operators with
// exponential repairs. M3 and M4 are printed in Anderson, Sweeney, Williams et
// al., An Introduction to Management Science, sec. 11.9, pp. 477-478 (P0 .4845,
// Lq .3297, L .8451; two repairers: Lq/X = .0834 h); M1 is in Gross and Harris,
// Fundamentals of Queueing Theory (p0 .619, L .465; from memory).
func TestMachineInterference(t *testing.T) {
	effort.NotInRace(t)
	printed := []struct {
		name     string
		n, ops   int
		lam, mu  float64
		l, lq, x float64 // printed
	}{
		{"M3", 6, 1, 1. / 20, 1. / 2, 0.84514904, 0.32966394, 0.25774255},
		{"M1", 5, 2, 1. / 30, 1. / 3, 0.46479440, 0.01127384, 0.15117352},
		{"M2", 5, 1, 1. / 20, 1. / 2, 0.63952177, 0.20347395, 0.21802391},
		{"M4", 6, 2, 1. / 20, 1. / 2, 0.566051, 0.022656, 0.271697},
	}
	for _, c := range printed[:effort.Of(1, 2, len(printed))] {
		t.Run(c.name, func(t *testing.T) {
			l := invented.Manual()
			l.Process.Accel, l.Process.Decel = 1e6, 1e6
			l.Unwind.Roll.Length = model.Const(1e9)
			l.Crew = model.Crew{Operators: c.ops, Lines: c.n, Reaction: model.Const(0), Shift: 8 * 3600}
			l.Stops = []model.Stop{{Name: "stop", Every: model.Dist{Law: model.Exponential, A: 1 / c.lam},
				Repair: model.Dist{Law: model.Exponential, A: 1 / c.mu}, NeedsOperator: true}}
			r := simulated(t, l, model.Run{Horizon: 2e5, WarmUp: 1e3, Replications: effort.Of(5, 12, 100), Seed: 3})
			n := float64(c.n)
			// The ramps of 2.5e-6 s take less than 1e-6 of the time.
			agrees(t, r, "time.stopped", c.l/n, 0.01)
			agrees(t, r, "time.waiting_for_operator", c.lq/n, 0.02)
			agrees(t, r, "stop_rate.stop.stop", c.x, 0.01)
			agrees(t, r, "crew.utilisation", (c.l-c.lq)/float64(c.ops), 0.01)
		})
	}
}

// Web breaks are a Poisson process along the web with rate (v/v0)^n / m per
// metre, so breaks per processed metre do not depend on what stops the line
// when n = 0, and follow the ramps when it is not.
func TestWebBreaksFollowTheWebAndTheSpeed(t *testing.T) {
	for _, n := range []float64{0, 1, 2.5} {
		t.Run(fmt.Sprint("exponent ", n), func(t *testing.T) {
			l := invented.Manual()
			l.Unwind.Roll.Length = model.Const(1e9)
			l.WebBreaks = &model.WebBreaks{MeanLength: 300, AtSpeed: 2, Exponent: n, Repair: model.Const(60)}
			r := simulated(t, l, model.Run{Horizon: 1e5, Replications: effort.Of(60, 200, 200), Seed: 9})
			// Renewal: from rest the hazard runs over the ramp up, then line speed; a
			// break anywhere ramps down at once, and another on the way is lost.
			v, a, d := 2.5, 0.25, 0.5
			scale := 300 * math.Pow(2, n)
			hazard := func(p float64) float64 { return math.Pow(p, n+2) / (a * (n + 2) * scale) }
			perSecond := math.Pow(v, n+1) / scale
			// Mean cycle by quadrature over the ramp, and the exponential rest.
			var time, length float64
			const steps = 20000 // right to 1e-8: the integrands are smooth
			h := v / a / steps
			for i := range steps {
				p := a * (float64(i) + 0.5) * h
				f := math.Exp(-hazard(p)) * math.Pow(p, n+1) / scale * h
				tau := p / a
				time += f * (tau + p/d)
				length += f * (p*p/(2*a) + p*p/(2*d))
			}
			left := math.Exp(-hazard(v))
			time += left * (v/a + 1/perSecond + v/d)
			length += left * (v*v/(2*a) + v/perSecond + v*v/(2*d))
			time += 20 + 60 - 0 // reaction runs from the break on
			// The reaction of 20 s is longer than the ramp (5 s at most): it covers it.
			var ramp float64
			for i := range steps {
				p := a * (float64(i) + 0.5) * h
				ramp += math.Exp(-hazard(p)) * math.Pow(p, n+1) / scale * h * p / d
			}
			time -= ramp + left*v/d
			agreesNearly(t, r, "stop_rate.web_break", 1/time, 2e-3)
			agreesNearly(t, r, "processed_rate", length/time, 2e-3)
		})
	}
}

// agreesNearly allows also for the start at speed and the cut cycle at the end.
func agreesNearly(t *testing.T, r replicate.Result, name string, want, bias float64) {
	t.Helper()
	e := r.Metrics[name]
	se := e.SD / math.Sqrt(float64(e.N))
	assert.InDelta(t, want, e.Mean, 4.5*se+bias*want, name)
	assert.Less(t, se, 0.01*want, name)
}
