package out

import (
	"math"

	"rollchange/model"
	"rollchange/sim"
)

// fixture is an invented result of two alternatives, with hostile names.
func fixture() *sim.Results {
	e := func(unit string, mean, half float64) sim.Estimate {
		return sim.Estimate{Unit: unit, Mean: mean, HalfWidth: half, SD: half * 2, N: 20, Low: mean - half, High: mean + half}
	}
	first := sim.Metrics{
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
	second := sim.Metrics{}
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
	difference := sim.Metrics{"good_rate": e("m/s", 0.6, 0.02), "waste.total": e("1", 0, 0.001),
		"time.stopped.unwind_change": e("1", -0.2, 0.002), "waste.restart": e("1", 0, 0.001)}
	return &sim.Results{Run: sim.RunInfo{Seed: 1, Replications: 20, Confidence: 0.95, Horizon: 30 * 86400},
		Alternatives: []sim.Result{{Alternative: "=cmd('by hand')", Names: names, Metrics: first},
			{Alternative: "automatic \u202eunwind\u202c with a name that goes on and on, 自動", Names: append(names, "splice.depletion", "unwind_storage.lowest"), Metrics: second, Lowest: h}},
		Differences: []sim.Metrics{nil, difference}}
}

// recordsFixture is an invented log: a ramp to rest and back.
func recordsFixture() ([]sim.Record, *model.Line) {
	nan := math.NaN()
	l := &model.Line{Process: model.Process{Speed: 2, Decel: 0.5, Accel: 0.5},
		Unwind: model.Unwind{Change: model.ZeroSpeed, Decel: 0.5, Accel: 0.5, MaxSpeed: 3, Storage: model.Storage{Capacity: 40, RunLevel: 40, Reserve: 2}},
		Rewind: model.Rewind{Change: model.None}}
	r := func(t, u, au, a float64, event sim.Event) sim.Record {
		return sim.Record{Time: t, Of: sim.OfUnwind, Event: event, SpeedU: u, SpeedP: 2, SpeedW: nan, AccelU: au, AccelW: nan, W: nan,
			UnwindStorage: a, RewindStorage: nan}
	}
	return []sim.Record{r(0, 2, -0.5, 40, sim.CycleBegins), r(4, 0, 0, 36, sim.ChangeBegins), r(9, 0, 0.5, 26, sim.StationSpeedsUp), r(15, 3, 0, 23, sim.StationAtSpeed), r(32, 2, 0, 40, sim.StorageRefilled)}, l
}
