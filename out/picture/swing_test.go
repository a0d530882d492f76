package picture

import (
	"math"
	"testing"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/whatif"
)

// swings are made up.
func swings(total bool) []whatif.Swing {
	list := []whatif.Swing{
		{Key: "crew.operators", Dim: model.Number, At: [3]whatif.Setting{{Text: "1"}, {Text: "2"}, {Text: "3"}}, Low: 1.9, Base: 2, Up: 2.02, LowHalf: 0.01, UpHalf: 0.004},
		{Key: "unwind.dwell.mean", Dim: model.Time, At: [3]whatif.Setting{{Text: "3.2 s"}, {Text: "4 s"}, {Text: "4.8 s"}}, Low: 2.01, Base: 2, Up: 1.97, LowHalf: 0.003, UpHalf: 0.02},
		{Key: "line.speed", Dim: model.Speed, At: [3]whatif.Setting{{Text: "135 m/min"}, {Text: "150 m/min"}, {Text: "165 m/min"}}, Low: 1.84, Base: 2, Up: 2.12, LowHalf: 0.008, UpHalf: 0.008},
		{Key: "unwind.residual", Dim: model.Length, At: [3]whatif.Setting{{Text: "9 m"}, {Text: "10 m"}, {Text: "11 m"}}, Low: 1.98, Base: 2, Up: 1.99, LowHalf: 0.004, UpHalf: 0.002},
		{Key: "unwind.storage.capacity", Dim: model.Length, At: [3]whatif.Setting{{Text: "54 m"}, {Text: "60 m"}, {Text: "66 m"}}, Low: math.NaN(), Base: 2, Up: 2.006, LowHalf: math.NaN(), UpHalf: math.NaN()},
		{Key: "web.width", Dim: model.Length, At: [3]whatif.Setting{{Text: "0.9 m"}, {Text: "1 m"}, {Text: "1.1 m"}}, Low: 2, Base: 2, Up: 2},
	}
	for i := range list {
		list[i].BaseHalf, list[i].Total = 0.012, math.NaN()
		if total {
			list[i].Total = 0.5 / float64(i+1)
		}
	}
	return list
}

func TestSwingPlot(t *testing.T) {
	s := sound(t, "swing", inputSwings(swings(true), "good_rate", "zero-speed, 60 m", model.Metric))
	has(t, s, "Good web, m/min: zero-speed, 60 m", "base 120.00 ± 0.72 m/min", "line speed", "135 m/min", "165 m/min", "54 m: not possible", "total effect", "0.17")
	order := []string{"line speed", "operators", "splice dwell, mean", "residual on the core", "unwind storage", "web width"}
	list, values := drawable(swings(false))
	for i, r := range newSwingGraph(list, words.ReadingOf("good_rate", "m/s", values, model.Metric), model.Metric).rows {
		if r.key != order[i] {
			t.Errorf("row %d is %s, want %s", i, r.key, order[i])
		}
	}
	rare := []whatif.Swing{
		{Key: "unwind.storage.capacity", At: [3]whatif.Setting{{Text: "54 m"}, {Text: "60 m"}, {Text: "66 m"}}, Low: 3e-3, Base: 2e-5, Up: 1e-7, Total: math.NaN()},
		{Key: "unwind.dwell.sd", At: [3]whatif.Setting{{Text: "0.4 s"}, {Text: "0.5 s"}, {Text: "0.6 s"}}, Low: 0, Base: 2e-5, Up: 9e-4, Total: math.NaN()},
	}
	has(t, sound(t, "swing-rare", inputSwings(rare, "splice.depletion", "zero-speed", model.Metric)), "base 1 in 50,000", "1 in 1,000,000", "54 m", "0.4 s: none seen")
	noise := []whatif.Swing{{Key: "crew.operators", At: [3]whatif.Setting{{Text: "1"}, {Text: "2"}, {Text: "3"}}, Low: 1.99, Base: 2, Up: 2.001, LowHalf: 0.05, UpHalf: 0.03, Total: math.NaN()},
		{Key: "line.speed", At: [3]whatif.Setting{{Text: "1"}, {Text: "2"}, {Text: "3"}}, Low: 2.02, Base: 2, Up: 2.01, LowHalf: 0.05, UpHalf: 0.03, Total: math.NaN()}}
	sound(t, "swing-noise", inputSwings(noise, "good_rate", "zero-speed", model.Metric))
	zero := []whatif.Swing{{Key: "line.speed", At: [3]whatif.Setting{{Text: "1 m/s"}, {}, {Text: "2 m/s"}}, Total: math.NaN()}}
	sound(t, "swing-zero", inputSwings(zero, "waste.total", "", model.Metric))
	long := swings(true)
	for i := range long {
		long[i].At[0].Text = "lognormal with a mean of 4 s and a standard deviation of 0.5 s, from 2 s to 9 s"
		long[i].Key = "stop[plate cleaning and inspection of the anilox rolls].duration"
	}
	sound(t, "swing-long", inputSwings(long, "good_rate", sweepNames[2], model.Imperial))
	for _, h := range invented.HostileNames {
		for i := range long {
			long[i].Key, long[i].At = h, [3]whatif.Setting{{Text: h}, {Text: h}, {Text: h}}
		}
		sound(t, "hostile-swing", inputSwings(long, "good_rate", h, model.Metric))
	}
}

func TestSwingPlotOfNothing(t *testing.T) {
	nan := math.NaN()
	for _, list := range [][]whatif.Swing{nil, {{Key: "x", Base: nan, Low: 1, Up: 2}}, {{Key: "x", Base: 1, Low: nan, Up: nan}}} {
		if inputSwings(list, "good_rate", "a", model.Metric) != nil {
			t.Errorf("%v: a picture", list)
		}
	}
}
