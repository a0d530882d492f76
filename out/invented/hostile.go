package invented

import (
	"math"
	"strings"

	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// HostileTwo is an invented result of two alternatives, with hostile names.
func HostileTwo() *replicate.Results {
	e := func(unit string, mean, half float64) estimate.Estimate {
		return estimate.Estimate{Unit: unit, Mean: mean, HalfWidth: half, SD: half * 2, N: 20, Low: mean - half, High: mean + half}
	}
	first := replicate.Metrics{
		"good_rate": e("m/s", 1.5, 0.01), "processed_rate": e("m/s", 1.6, 0.01), "oee": e("1", 0.6, 0.004),
		"time.running": e("1", 0.7, 0.002), "time.ramping": e("1", 0.05, 0.001), "time.slowed": e("1", 0, 0),
		"time.stopped": e("1", 0.25, 0.002), "time.stopped.unwind_change": e("1", 0.2, 0.002), "time.stopped.stop.<script>alert(1)</script>": e("1", 0.05, 0.001),
		"stop_rate": e("1/s", 0.001, 1e-5), "stop_rate.unwind_change": e("1/s", 0.0009, 1e-5), "stop_rate.stop.<script>alert(1)</script>": e("1/s", 0.0001, 1e-6),
		"waste.total": e("1", 0.06, 0.001), "waste.residual": e("1", 0.02, 0.0005), "waste.restart": e("1", 0.04, 0.001),
		"splice_rate": e("1/s", 0.0009, 1e-5), "crew.utilisation": e("1", 0.4, 0.01),
	}
	names := []string{"good_rate", "processed_rate", "oee", "time.running", "time.ramping", "time.slowed", "time.stopped",
		"time.stopped.unwind_change", "time.stopped.stop.<script>alert(1)</script>", "stop_rate", "stop_rate.unwind_change", "stop_rate.stop.<script>alert(1)</script>",
		"waste.total", "waste.residual", "waste.restart", "splice_rate", "crew.utilisation"}
	second := replicate.Metrics{}
	for k, v := range first {
		second[k] = v
	}
	second["good_rate"] = e("m/s", 2.1, 0.02)
	second["splice.depletion"] = e("1", 0.0004, 0.0002)
	second["unwind_storage.lowest"] = e("m", 21.3, 0.1)
	second["time.running"], second["time.stopped"], second["time.stopped.unwind_change"] = e("1", 0.9, 0.002), e("1", 0.05, 0.001), e("1", 0, 0)
	h := &sim.Histogram{Max: 40, Count: make([]int64, 2000)}
	for i := range 1000 {
		h.Count[900+i/5] += 3
	}
	difference := replicate.Metrics{"good_rate": e("m/s", 0.6, 0.02), "waste.total": e("1", 0, 0.001),
		"time.stopped.unwind_change": e("1", -0.2, 0.002), "waste.restart": e("1", 0, 0.001)}
	return &replicate.Results{Run: replicate.RunInfo{Seed: 1, Replications: 20, Confidence: 0.95, Horizon: 30 * 86400},
		Alternatives: []replicate.Result{{Alternative: "=cmd('by hand')", Names: names, Metrics: first},
			{Alternative: "automatic \u202eunwind\u202c with a name that goes on and on, 自動", Names: append(names, "splice.depletion", "unwind_storage.lowest"), Metrics: second, Lowest: h}},
		Differences: []replicate.Metrics{nil, difference}}
}

// HostileTwoOnce is HostileTwo of one replication, whose figures of the first
// alternative have no limits.
func HostileTwoOnce() *replicate.Results {
	rs := HostileTwo()
	rs.Run.Replications = 1
	for k, e := range rs.Alternatives[0].Metrics {
		e.HalfWidth, e.SD, e.N, e.Low, e.High = math.NaN(), math.NaN(), 1, math.NaN(), math.NaN()
		rs.Alternatives[0].Metrics[k] = e
	}
	return rs
}

// HostileNames are names that a person may type, by mistake or not.
var HostileNames = []string{"<script>alert(1)</script>", "=cmd()|' /C calc'!A0", "+1", "-1", "@x", "a\"b,c\nd", "\x1b[2J", "\u202egnp.exe", "-->", "]]>", "&amp;", "%s%n", strings.Repeat("w", 5000), "\xff\xfe\x00", "שלום", "\t=1"}

func HostileResults(name string) *replicate.Results {
	rs := Several(3, func(int) string { return name })
	for i := range rs.Alternatives {
		r := &rs.Alternatives[i]
		m := replicate.Metrics{}
		for k, e := range r.Metrics {
			m[strings.Replace(k, "plate cleaning", name, 1)] = e
		}
		r.Metrics = m
		names := make([]string, len(r.Names))
		for k, n := range r.Names {
			names[k] = strings.Replace(n, "plate cleaning", name, 1)
		}
		r.Names = names
	}
	return rs
}
