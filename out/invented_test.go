package out

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"testing"

	"rollchange/sim"
	"rollchange/sim/estimate"
)

var update = flag.Bool("update", false, "write the golden files anew")

// about belongs to the fixture.
var about = About{Version: "0.0.0", Title: "Invented line", File: "invented.toml", SHA256: "00ff"}

// share, rate, speed and length are invented estimates of 10 replications.
func share(mean, half float64) sim.Estimate  { return madeUp("1", mean, half) }
func rate(mean, half float64) sim.Estimate   { return madeUp("1/s", mean/3600, half/3600) }
func speed(mean, half float64) sim.Estimate  { return madeUp("m/s", mean/60, half/60) }
func length(mean, half float64) sim.Estimate { return madeUp("m", mean, half) }

func madeUp(unit string, mean, half float64) sim.Estimate {
	e := sim.Estimate{Unit: unit, Mean: mean, HalfWidth: half, SD: half * math.Sqrt(10) / 2.262, N: 10, Low: mean - half, High: mean + half}
	switch {
	case math.IsNaN(half):
		e.Why = estimate.OneReplication
	case mean == 0 && half == 0:
		e.Why, e.HalfWidth, e.Low, e.High = estimate.NotSeen, math.NaN(), math.NaN(), math.NaN()
	}
	return e
}

// invented is a result that no line came to: every figure is made up, only so
// that hours and web add up. It pins how results look, not what they are.
func invented() *sim.Results {
	type named struct {
		name string
		e    sim.Estimate
	}
	result := func(name string, list []named) sim.Result {
		r := sim.Result{Alternative: name, Metrics: sim.Metrics{}, Balance: sim.Balance{Metres: 1e-12, Seconds: 2e-15}}
		for _, x := range list {
			r.Names = append(r.Names, x.name)
			r.Metrics[x.name] = x.e
		}
		return r
	}
	hand := result("by hand", []named{
		{"good_rate", speed(97.2, 1.1)}, {"processed_rate", speed(99.4, 1.1)}, {"good_mass_rate", madeUp("kg/s", 0.1042, 0.0012)},
		{"finished_roll_rate", rate(2.91, 0.033)},
		{"availability", share(0.71, 0.008)}, {"performance", share(0.98, 0.0001)}, {"quality", share(0.978, 0.0003)}, {"oee", share(0.6805, 0.0077)},
		{"time.running", share(0.68, 0.008)}, {"time.ramping", share(0.02, 0.0003)}, {"time.slowed", share(0, 0)},
		{"time.stopped", share(0.3, 0.008)}, {"time.stopped.unwind_change", share(0.2, 0.003)}, {"time.stopped.web_break", share(0.06, 0.006)},
		{"time.stopped.stop.plate cleaning", share(0.04, 0.001)}, {"time.waiting_for_operator", share(0.021, 0.002)},
		{"stop_rate", rate(2.5, 0.04)}, {"stop_rate.unwind_change", rate(1.9, 0.02)}, {"stop_rate.web_break", rate(0.11, 0.01)}, {"stop_rate.stop.plate cleaning", rate(0.49, 0.01)},
		{"waste.total", share(0.025, 0.0003)}, {"waste.residual", share(0.004, 0.00001)}, {"waste.splice", share(0.001, 0.00001)},
		{"waste.restart", share(0.018, 0.0002)}, {"waste.web_break", share(0.002, 0.0002)}, {"waste.stop", share(0, 0)},
		{"splice_rate", rate(1.9, 0.02)}, {"splice.run_out", share(0, 0)}, {"crew.utilisation", share(0.41, 0.004)},
	})
	auto := result("zero-speed, 60 m", []named{
		{"good_rate", speed(128.4, 0.9)}, {"processed_rate", speed(129.3, 0.9)}, {"good_mass_rate", madeUp("kg/s", 0.1377, 0.001)},
		{"finished_roll_rate", rate(3.85, 0.027)},
		{"availability", share(0.915, 0.006)}, {"performance", share(0.995, 0.0001)}, {"quality", share(0.993, 0.0003)}, {"oee", share(0.9041, 0.006)},
		{"time.running", share(0.908, 0.006)}, {"time.ramping", share(0.003, 0.0002)}, {"time.slowed", share(0, 0)},
		{"time.stopped", share(0.089, 0.006)}, {"time.stopped.unwind_depleted", share(0.009, 0.001)}, {"time.stopped.web_break", share(0.062, 0.006)},
		{"time.stopped.stop.plate cleaning", share(0.018, 0.001)}, {"time.waiting_for_operator", share(0.004, 0.0004)},
		{"stop_rate", rate(0.64, 0.03)}, {"stop_rate.unwind_depleted", rate(0.03, 0.003)}, {"stop_rate.web_break", rate(0.115, 0.01)}, {"stop_rate.stop.plate cleaning", rate(0.49, 0.01)},
		{"waste.total", share(0.0095, 0.0003)}, {"waste.residual", share(0.004, 0.00001)}, {"waste.splice", share(0.001, 0.00001)},
		{"waste.restart", share(0.0025, 0.0001)}, {"waste.web_break", share(0.002, 0.0002)}, {"waste.stop", share(0, 0)},
		{"splice_rate", rate(2.51, 0.02)}, {"splice.not_ready", share(0, 0)}, {"splice.failed", share(0.011, 0.002)}, {"splice.run_out", share(0, 0)},
		{"splice.depletion", share(0.012, 0.002)}, {"unwind_storage.lowest", length(21.4, 0.2)}, {"crew.utilisation", share(0.408, 0.004)},
	})
	auto.Lowest = &sim.Histogram{Max: 60, Count: make([]int64, 600)}
	for i := range auto.Lowest.Count {
		auto.Lowest.Count[i] = int64(1000 * math.Exp(-sq((float64(i)-220)/40)/2))
	}
	auto.Lowest.Count[40] = 1200 // the depleted ones rest at the reserve
	rs := &sim.Results{Run: sim.RunInfo{Seed: 7, Replications: 10, Confidence: 0.95, Horizon: 30 * 86400, WarmUp: 3600},
		Alternatives: []sim.Result{hand, auto}, Differences: []sim.Metrics{nil, {}}}
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

func sq(x float64) float64 { return x * x }

// several is the fixture with so many alternatives, each named by name.
func several(n int, name func(i int) string) *sim.Results {
	rs := invented()
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

// once is the fixture of one replication: no half width is known.
func once() *sim.Results {
	rs := invented()
	rs.Run.Replications = 1
	for i, r := range rs.Alternatives {
		for _, m := range []sim.Metrics{r.Metrics, rs.Differences[i]} {
			for name, e := range m {
				e.HalfWidth, e.SD, e.Low, e.High, e.N, e.Why = math.NaN(), math.NaN(), math.NaN(), math.NaN(), 1, estimate.OneReplication
				m[name] = e
			}
		}
	}
	return rs
}

// golden compares what was written with a file of testdata.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; got\n%s\nwant\n%s", path, got, want)
	}
}
