package picture

import (
	"math"
	"strconv"
	"testing"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// law is an invented metric of an alternative over the values of the keys.
type law func(alternative int, at []float64) float64

// swept makes a sweep of invented laws, its limits judged by whatif.
func swept(axes []whatif.Axis, names []string, laws map[string]law, leftOut func(index []int) string) *whatif.Sweep {
	s := &whatif.Sweep{Axes: axes, Alternatives: names, Limits: whatif.Usual()}
	n := 1
	for _, a := range axes {
		n *= len(a.Values)
	}
	for k := range n {
		index, at := make([]int, len(axes)), make([]float64, len(axes))
		for i, rest := len(axes)-1, k; i >= 0; i-- {
			index[i] = rest % len(axes[i].Values)
			rest /= len(axes[i].Values)
			at[i] = axes[i].Values[index[i]]
		}
		p := whatif.Point{At: index}
		if leftOut != nil {
			p.LeftOut = leftOut(index)
		}
		if p.LeftOut == "" {
			p.Results = &replicate.Results{Run: replicate.RunInfo{Replications: 20, Confidence: 0.95}}
			for a, name := range names {
				m := replicate.Metrics{}
				for metric, f := range laws {
					if v := f(a, at); !math.IsNaN(v) {
						unit := words.UnitOf(metric)
						half := 0.02 * v * float64(a+1)
						m[metric] = estimate.Estimate{Unit: unit, Mean: v, HalfWidth: half, N: 20, Low: v - half, High: v + half}
					}
				}
				p.Results.Alternatives = append(p.Results.Alternatives, replicate.Result{Alternative: name, Metrics: m})
				p.Binds = append(p.Binds, s.Limits.Broken(m))
			}
		}
		s.Points = append(s.Points, p)
	}
	return s
}

func even(key string, dim model.Dimension, low, high float64, n int) whatif.Axis {
	a := whatif.Axis{Key: key, Dim: dim}
	for i := range n {
		v := low
		if n > 1 {
			v += (high - low) * float64(i) / float64(n-1)
		}
		a.Values = append(a.Values, v)
		a.Texts = append(a.Texts, strconv.FormatFloat(v, 'g', -1, 64))
	}
	return a
}

func ratios(key string, dim model.Dimension, low, high float64, n int) whatif.Axis {
	a := even(key, dim, math.Log(low), math.Log(high), n)
	a.Log = true
	for i, v := range a.Values {
		a.Values[i] = math.Exp(v)
	}
	return a
}

var sweepNames = []string{"by hand", "zero-speed, 60 m", "zero-speed, 80 m of storage and a second operator at the unwind", "flying splice"}

// speedLaws are made up: output that rises and falls, a crew that gets busier,
// rolls that are not armed in time, storage that depletes.
var speedLaws = map[string]law{
	"good_rate": func(a int, at []float64) float64 {
		v := at[0]
		return v * (1 - 0.12/float64(a+1)) * (1 - 0.035*v*v/float64(a+1))
	},
	"crew.utilisation":    func(a int, at []float64) float64 { return min(1, at[0]*(0.35-0.05*float64(a))) },
	"splice.not_ready":    func(a int, at []float64) float64 { return max(0, 0.02*(at[0]-1.6-0.3*float64(a))) },
	"splice.depletion":    depletes,
	"splice.not_refilled": func(a int, at []float64) float64 { return 0 },
}

func depletes(a int, at []float64) float64 {
	switch a {
	case 0, 3:
		return math.NaN()
	case 2:
		if at[0] < 2 {
			return 0
		}
	}
	return min(1, math.Exp(-20+5*at[0]-2*float64(a)))
}

func TestSweepPlotSays(t *testing.T) {
	speed := even("line.speed", model.Speed, 1, 3.5, 11)
	one := func(index []int) string {
		if index[0] == 6 {
			return "line.speed: the process cannot brake from 150 m/min within the reserve"
		}
		return ""
	}
	s := sound(t, "sweep", Sweep(swept([]whatif.Axis{speed}, sweepNames, speedLaws, one), "good_rate", model.Metric))
	has(t, s, "Good web, m/min", "line speed, m/min", "mean of 20 replications; the band is its 95 % confidence", "by hand", "zero-speed, 60 m",
		"next parent roll not armed in time (above 1 %): by hand from 135 m/min", "crew too busy (above 90 %)", "not possible, 150 m/min: line speed: the process")
	has(t, sound(t, "sweep-imperial", Sweep(swept([]whatif.Axis{speed}, sweepNames[:2], speedLaws, nil), "good_rate", model.Imperial)), "Good web, ft/min", "line speed, ft/min")
	s = sound(t, "sweep-rare", Sweep(swept([]whatif.Axis{speed}, sweepNames, speedLaws, one), "splice.depletion", model.Metric))
	has(t, s, "none", "1 in 1,000", "nothing to show for by hand")
}

func TestSweepPlotShapes(t *testing.T) {
	flat := map[string]law{"good_rate": func(int, []float64) float64 { return 2 }, "crew.utilisation": func(int, []float64) float64 { return 0.95 }}
	zero := map[string]law{"good_rate": func(int, []float64) float64 { return 0 }}
	rare := map[string]law{"splice.depletion": func(a int, at []float64) float64 {
		if x := -2 - at[0]*(1+0.2*float64(a))/8; x > -9 {
			return math.Pow(10, x)
		}
		return 0
	}}
	storage := ratios("unwind.storage.capacity", model.Length, 5, 160, 30)
	for name, p := range map[string]*Picture{
		"sweep-3":      Sweep(swept([]whatif.Axis{even("line.speed", model.Speed, 1, 3, 3)}, sweepNames[:3], speedLaws, nil), "good_rate", model.Metric),
		"sweep-30":     Sweep(swept([]whatif.Axis{even("line.speed", model.Speed, 0.5, 4, 30)}, sweepNames, speedLaws, nil), "crew.utilisation", model.Metric),
		"sweep-single": Sweep(swept([]whatif.Axis{even("line.speed", model.Speed, 1, 3, 8)}, sweepNames[1:2], speedLaws, nil), "good_rate", model.Metric),
		"sweep-flat":   Sweep(swept([]whatif.Axis{even("line.speed", model.Speed, 1, 3, 8)}, sweepNames, flat, nil), "good_rate", model.Metric),
		"sweep-zero":   Sweep(swept([]whatif.Axis{even("line.speed", model.Speed, 1, 3, 8)}, sweepNames, zero, nil), "good_rate", model.Metric),
		"sweep-log":    Sweep(swept([]whatif.Axis{storage}, sweepNames, rare, nil), "splice.depletion", model.Metric),
		"sweep-crew":   Sweep(swept([]whatif.Axis{even("crew.operators", model.Number, 1, 4, 4)}, sweepNames, flat, nil), "good_rate", model.Metric),
		"sweep-point":  Sweep(swept([]whatif.Axis{even("line.speed", model.Speed, 2, 2, 1)}, sweepNames, speedLaws, nil), "good_rate", model.Metric),
		"sweep-lone": Sweep(swept([]whatif.Axis{even("line.speed", model.Speed, 1, 3, 7)}, sweepNames[:2], speedLaws, func(i []int) string {
			if i[0]%2 == 0 {
				return "odd " + strconv.Itoa(i[0])
			}
			return ""
		}), "good_rate", model.Metric),
	} {
		sound(t, name, p)
	}
}

func TestSweepPlotOfNothing(t *testing.T) {
	axis := even("line.speed", model.Speed, 1, 3, 3)
	all := func([]int) string { return "no" }
	for name, s := range map[string]*whatif.Sweep{
		"nil": nil, "no axis": {}, "all left out": swept([]whatif.Axis{axis}, sweepNames, speedLaws, all),
		"two axes":       swept([]whatif.Axis{axis, axis}, sweepNames, speedLaws, nil),
		"no alternative": swept([]whatif.Axis{axis}, nil, speedLaws, nil),
		"no figure":      swept([]whatif.Axis{axis}, sweepNames, map[string]law{"oee": func(int, []float64) float64 { return 1 }}, nil),
	} {
		if Sweep(s, "good_rate", model.Metric) != nil {
			t.Errorf("%s: a picture", name)
		}
	}
}

func TestSweepPlotHostile(t *testing.T) {
	for _, h := range invented.HostileNames {
		axis := even(h, model.Speed, 1, 3, 5)
		s := swept([]whatif.Axis{axis}, []string{h, h, h}, speedLaws, func(i []int) string {
			if i[0] == 1 {
				return h
			}
			return ""
		})
		sound(t, "hostile", Sweep(s, "good_rate", model.Metric))
	}
}
