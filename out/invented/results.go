package invented

import (
	"math"

	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// share, rate, speed and length are invented estimates of 10 replications.
func Share(mean, half float64) estimate.Estimate { return Estimate("1", mean, half) }

func rate(mean, half float64) estimate.Estimate { return Estimate("1/s", mean/3600, half/3600) }

func Speed(mean, half float64) estimate.Estimate { return Estimate("m/s", mean/60, half/60) }

func length(mean, half float64) estimate.Estimate { return Estimate("m", mean, half) }

func Estimate(unit string, mean, half float64) estimate.Estimate {
	e := estimate.Estimate{Unit: unit, Mean: mean, HalfWidth: half, SD: half * math.Sqrt(10) / 2.262, N: 10, Low: mean - half, High: mean + half}
	switch {
	case math.IsNaN(half):
		e.Why = estimate.OneReplication
	case mean == 0 && half == 0:
		e.Why, e.HalfWidth, e.Low, e.High = estimate.NotSeen, math.NaN(), math.NaN(), math.NaN()
	}
	return e
}

// Results is a result that no line came to: every figure is made up, only so
// that hours and web add up. It pins how results look, not what they are.
func Results() *replicate.Results {
	type named struct {
		name string
		e    estimate.Estimate
	}
	result := func(name string, list []named) replicate.Result {
		r := replicate.Result{Alternative: name, Metrics: replicate.Metrics{}, Balance: sim.Balance{Metres: 1e-12, Seconds: 2e-15}}
		for _, x := range list {
			r.Names = append(r.Names, x.name)
			r.Metrics[x.name] = x.e
		}
		return r
	}
	hand := result("by hand", []named{
		{"good_rate", Speed(97.2, 1.1)}, {"processed_rate", Speed(99.4, 1.1)}, {"good_mass_rate", Estimate("kg/s", 0.1042, 0.0012)},
		{"finished_roll_rate", rate(2.91, 0.033)},
		{"availability", Share(0.71, 0.008)}, {"performance", Share(0.98, 0.0001)}, {"quality", Share(0.978, 0.0003)}, {"oee", Share(0.6805, 0.0077)},
		{"time.running", Share(0.68, 0.008)}, {"time.ramping", Share(0.02, 0.0003)}, {"time.slowed", Share(0, 0)},
		{"time.stopped", Share(0.3, 0.008)}, {"time.stopped.unwind_change", Share(0.2, 0.003)}, {"time.stopped.web_break", Share(0.06, 0.006)},
		{"time.stopped.stop.plate cleaning", Share(0.04, 0.001)}, {"time.waiting_for_operator", Share(0.021, 0.002)},
		{"stop_rate", rate(2.5, 0.04)}, {"stop_rate.unwind_change", rate(1.9, 0.02)}, {"stop_rate.web_break", rate(0.11, 0.01)}, {"stop_rate.stop.plate cleaning", rate(0.49, 0.01)},
		{"waste.total", Share(0.025, 0.0003)}, {"waste.residual", Share(0.004, 0.00001)}, {"waste.splice", Share(0.001, 0.00001)},
		{"waste.restart", Share(0.018, 0.0002)}, {"waste.web_break", Share(0.002, 0.0002)}, {"waste.stop", Share(0, 0)},
		{"splice_rate", rate(1.9, 0.02)}, {"splice.run_out", Share(0, 0)}, {"crew.utilisation", Share(0.41, 0.004)},
	})
	auto := result("zero-speed, 60 m", []named{
		{"good_rate", Speed(128.4, 0.9)}, {"processed_rate", Speed(129.3, 0.9)}, {"good_mass_rate", Estimate("kg/s", 0.1377, 0.001)},
		{"finished_roll_rate", rate(3.85, 0.027)},
		{"availability", Share(0.915, 0.006)}, {"performance", Share(0.995, 0.0001)}, {"quality", Share(0.993, 0.0003)}, {"oee", Share(0.9041, 0.006)},
		{"time.running", Share(0.908, 0.006)}, {"time.ramping", Share(0.003, 0.0002)}, {"time.slowed", Share(0, 0)},
		{"time.stopped", Share(0.089, 0.006)}, {"time.stopped.unwind_depleted", Share(0.009, 0.001)}, {"time.stopped.web_break", Share(0.062, 0.006)},
		{"time.stopped.stop.plate cleaning", Share(0.018, 0.001)}, {"time.waiting_for_operator", Share(0.004, 0.0004)},
		{"stop_rate", rate(0.64, 0.03)}, {"stop_rate.unwind_depleted", rate(0.03, 0.003)}, {"stop_rate.web_break", rate(0.115, 0.01)}, {"stop_rate.stop.plate cleaning", rate(0.49, 0.01)},
		{"waste.total", Share(0.0095, 0.0003)}, {"waste.residual", Share(0.004, 0.00001)}, {"waste.splice", Share(0.001, 0.00001)},
		{"waste.restart", Share(0.0025, 0.0001)}, {"waste.web_break", Share(0.002, 0.0002)}, {"waste.stop", Share(0, 0)},
		{"splice_rate", rate(2.51, 0.02)}, {"splice.not_ready", Share(0, 0)}, {"splice.failed", Share(0.011, 0.002)}, {"splice.run_out", Share(0, 0)},
		{"splice.depletion", Share(0.012, 0.002)}, {"unwind_storage.lowest", length(21.4, 0.2)}, {"crew.utilisation", Share(0.408, 0.004)},
	})
	auto.Lowest = &sim.Histogram{Max: 60, Count: make([]int64, 600)}
	for i := range auto.Lowest.Count {
		auto.Lowest.Count[i] = int64(1000 * math.Exp(-Square((float64(i)-220)/40)/2))
	}
	auto.Lowest.Count[40] = 1200 // the depleted ones rest at the reserve
	rs := &replicate.Results{Run: replicate.RunInfo{Seed: 7, Replications: 10, Confidence: 0.95, Horizon: 30 * 86400, WarmUp: 3600, Narrowed: [2]float64{0.24, 0.35}},
		Alternatives: []replicate.Result{hand, auto}, Differences: []replicate.Metrics{nil, {}}}
	rs.Alternatives[0].Narrowed, rs.Alternatives[1].Narrowed = 0.35, 0.24
	for name, b := range auto.Metrics {
		if a, ok := hand.Metrics[name]; ok {
			d := b
			d.Mean -= a.Mean
			d.HalfWidth = 0.7 * max(a.HalfWidth, b.HalfWidth)
			d.Low, d.High = d.Mean-d.HalfWidth, d.Mean+d.HalfWidth
			rs.Differences[1][name] = d
		}
	}
	return rs
}

func Square(x float64) float64 { return x * x }

// Several is the fixture with so many alternatives, each named by name.
func Several(n int, name func(i int) string) *replicate.Results {
	rs := Results()
	for i := 2; i < n; i++ {
		rs.Alternatives = append(rs.Alternatives, rs.Alternatives[1])
		rs.Differences = append(rs.Differences, rs.Differences[1])
	}
	rs.Alternatives, rs.Differences = rs.Alternatives[:n], rs.Differences[:n]
	for i := range rs.Alternatives {
		rs.Alternatives[i].Alternative = name(i)
	}
	return rs
}

// Once is the fixture of one replication: no half width is known.
func Once() *replicate.Results {
	rs := Results()
	rs.Run.Replications, rs.Run.Narrowed = 1, [2]float64{}
	for i, r := range rs.Alternatives {
		rs.Alternatives[i].Narrowed = math.NaN()
		for _, m := range []replicate.Metrics{r.Metrics, rs.Differences[i]} {
			for name, e := range m {
				e.HalfWidth, e.SD, e.Low, e.High, e.N, e.Why = math.NaN(), math.NaN(), math.NaN(), math.NaN(), 1, estimate.OneReplication
				m[name] = e
			}
		}
	}
	return rs
}
