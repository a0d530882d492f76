package picture

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/effort"
	"rollchange/sim/whatif"
)

// ringArea is the area inside borders, holes less.
func ringArea(rings []ring) float64 {
	sum := 0.0
	for _, r := range rings {
		for k, p := range r.pts {
			q := r.pts[(k+1)%len(r.pts)]
			sum += float64(p.X*q.Y-p.Y*q.X) / 2
		}
	}
	return sum
}

// On a plane the region above a level is cut straight, on a cone it is all but
// the disc: areas that geometry gives.
func TestContourRegions(t *testing.T) {
	n := 21
	lines := make([]vg.Length, n)
	plane, cone := make([][]float64, n), make([][]float64, n)
	for i := range n {
		lines[i] = vg.Length(i) * 5
	}
	for i := range n {
		for j := range n {
			x, y := float64(lines[i])-50, float64(lines[j])-50
			plane[i], cone[i] = append(plane[i], x+y), append(cone[i], math.Hypot(x, y))
		}
	}
	l := newLattice(lines, lines, plane)
	for level, want := range map[float64]float64{math.Inf(-1): 10000, 0: 5000, 50: 1250, 101: 0} {
		if got := ringArea(l.region(level)); math.Abs(got-want) > 1e-6 {
			t.Errorf("plane above %g: %g, want %g", level, got, want)
		}
	}
	if lines := contourLines(l.region(20)); len(lines) != 1 || math.Abs(float64(lengthOf(lines[0]))-80*math.Sqrt2) > 1e-6 {
		t.Errorf("contour of a plane: %v", lines)
	}
	r := newLattice(lines, lines, cone).region(30)
	if got, want := ringArea(r), 10000-math.Pi*900; len(r) != 2 || math.Abs(got-want) > 0.01*want {
		t.Errorf("round a cone: %d rings, %g, want %g", len(r), got, want)
	}
	if lines := contourLines(r); len(lines) != 1 || lines[0][0] != lines[0][len(lines[0])-1] {
		t.Errorf("the contour of a cone is not closed")
	}
	plane[10][10] = math.NaN() // takes half of each of the four cells around it
	l = newLattice(lines, lines, plane)
	if got := ringArea(l.region(math.Inf(-1))); math.Abs(got-(10000-50)) > 1e-6 {
		t.Errorf("with a point left out: %g", got)
	}
	if !math.IsNaN(l.at(vg.Point{X: 50, Y: 50})) || math.Abs(l.at(vg.Point{X: 51, Y: 46})-(-3)) > 1e-9 || math.Abs(l.at(vg.Point{X: 43, Y: 12})-(-45)) > 1e-9 {
		t.Error("values between the points")
	}
}

func TestMapLevels(t *testing.T) {
	for _, x := range []struct{ low, high float64 }{{0, 1}, {97, 412}, {0.93, 1.02}, {-3, 8}, {1e-6, 3e-5}} {
		l := mapLevels(x.low, x.high, words.Reading{})
		if len(l) < 4 || len(l) > 9 || l[0] <= x.low || l[len(l)-1] >= x.high {
			t.Errorf("%+v: %v", x, l)
		}
	}
	if l := mapLevels(3, 3, words.Reading{}); l != nil {
		t.Errorf("all equal: %v", l)
	}
}

// mapLaws are made up, of speed and capacity: output, depletion, readiness.
var mapLaws = map[string]law{
	"good_rate": func(a int, at []float64) float64 {
		return at[0] * (1 - 0.03*at[0]*at[0]) * (1 - 0.2*math.Exp(-at[1]/(10*at[0])))
	},
	"splice.depletion": func(a int, at []float64) float64 { return math.Min(1, math.Exp(3*at[0]-at[1]/5)) },
	"splice.not_ready": func(a int, at []float64) float64 { return max(0, 0.02*(at[0]-2)) },
	"crew.utilisation": func(a int, at []float64) float64 { return min(1, 0.3*at[0]+0.05) },
}

func TestContourPlot(t *testing.T) {
	effort.NotInRace(t)
	if testing.Short() {
		t.Skip("long")
	}
	speed, storage := even("line.speed", model.Speed, 1, 3.5, 11), even("unwind.storage.capacity", model.Length, 20, 100, 9)
	corner := func(i []int) string {
		if i[0] > 6 && i[1] < 2 || i[0] == 2 && i[1] == 5 {
			return "unwind.storage.capacity: less than the reserve and the way to rest"
		}
		return ""
	}
	s := swept([]whatif.Axis{speed, storage}, sweepNames, mapLaws, corner)
	has(t, sound(t, "map", Contours(s, 1, "good_rate", model.Metric)), "Good web, m/min: zero-speed, 60 m", "mean of 20 replications", "line speed, m/min",
		"unwind storage, m", "100", "not possible: unwind storage: less than", "next parent roll not armed in time", "crew too busy")
	has(t, sound(t, "map-rare", Contours(s, 2, "splice.depletion", model.Imperial)), "1 in 100", "unwind storage, ft")
	// What the alternative has now, of each key that is on the map.
	s.Axes[0].Now, s.Axes[1].Now = map[int]float64{0: 2, 1: 2.5}, map[int]float64{0: 400, 1: 60}
	has(t, sound(t, "map-now", Contours(s, 1, "good_rate", model.Metric)), "now line speed 150 m/min, unwind storage 60 m")
	one := sound(t, "map-now-one", Contours(s, 0, "good_rate", model.Metric))
	has(t, one, "now line speed 120 m/min")
	if strings.Contains(one, "400 m") {
		t.Error("a value beyond the map is marked")
	}
	if text := sound(t, "map-now-none", Contours(s, 2, "good_rate", model.Metric)); strings.Contains(text, "now ") {
		t.Error("what is not known is marked")
	}
	m := newContourMap(s, 1, "good_rate", model.Metric)
	m.findNow(1)
	if m.now != [2]float64{150, 60} || m.hasNow != [2]bool{true, true} {
		t.Errorf("now at %v, %v", m.now, m.hasNow)
	}
	flat := map[string]law{"good_rate": func(int, []float64) float64 { return 2 }, "crew.utilisation": func(int, []float64) float64 { return 0.95 }}
	zero := map[string]law{"splice.depletion": func(a int, at []float64) float64 {
		if at[0] < 1.5 {
			return 0
		}
		return math.Pow(10, -14+3.5*at[0])
	}}
	hill := map[string]law{"good_rate": func(a int, at []float64) float64 {
		return 2 - invented.Square(at[0]-2) - invented.Square((at[1]-60)/40)
	}}
	small := []whatif.Axis{even("line.speed", model.Speed, 1, 3, 2), even("crew.operators", model.Number, 1, 2, 2)}
	fine := []whatif.Axis{even("line.speed", model.Speed, 1, 3, 30), ratios("unwind.storage.capacity", model.Length, 10, 200, 30)}
	for name, p := range map[string]*Picture{
		"map-flat":  Contours(swept([]whatif.Axis{speed, storage}, sweepNames, flat, nil), 0, "good_rate", model.Metric),
		"map-zero":  Contours(swept([]whatif.Axis{speed, storage}, sweepNames, zero, nil), 0, "splice.depletion", model.Metric),
		"map-hill":  Contours(swept([]whatif.Axis{speed, storage}, sweepNames, hill, nil), 0, "good_rate", model.Metric),
		"map-small": Contours(swept(small, sweepNames, mapLaws, nil), 0, "good_rate", model.Metric),
		"map-fine":  Contours(swept(fine, sweepNames, mapLaws, nil), 0, "good_rate", model.Metric),
	} {
		sound(t, name, p)
	}
}

func TestContourPlotOfNothing(t *testing.T) {
	axis := even("line.speed", model.Speed, 1, 3, 3)
	two := []whatif.Axis{axis, axis}
	for name, p := range map[string]*Picture{
		"nil":            Contours(nil, 0, "good_rate", model.Metric),
		"one axis":       Contours(swept(two[:1], sweepNames, speedLaws, nil), 0, "good_rate", model.Metric),
		"all left out":   Contours(swept(two, sweepNames, speedLaws, func([]int) string { return "no" }), 0, "good_rate", model.Metric),
		"no alternative": Contours(swept(two, sweepNames, speedLaws, nil), 4, "good_rate", model.Metric),
		"no figure":      Contours(swept(two, sweepNames, speedLaws, nil), 0, "oee", model.Metric),
		"one column":     Contours(swept([]whatif.Axis{axis, even("x", model.Speed, 1, 1, 1)}, sweepNames, speedLaws, nil), 0, "good_rate", model.Metric),
		"a line of points": Contours(swept(two, sweepNames, speedLaws, func(i []int) string {
			if i[0] == i[1] {
				return ""
			}
			return "no"
		}), 0, "good_rate", model.Metric),
	} {
		if p != nil {
			t.Errorf("%s: a picture", name)
		}
	}
}

func TestContourPlotHostile(t *testing.T) {
	effort.NotInRace(t)
	if testing.Short() {
		t.Skip("long")
	}
	for _, h := range invented.HostileNames[:effort.Of(0, 3, len(invented.HostileNames))] {
		axes := []whatif.Axis{even(h, model.Speed, 1, 3, 5), even(h, model.Length, 10, 100, 5)}
		s := swept(axes, []string{h}, mapLaws, func(i []int) string {
			if i[0] > 2 && i[1] > 2 {
				return h
			}
			return ""
		})
		sound(t, "hostile-map", Contours(s, 0, "good_rate", model.Metric))
	}
}

// A limit by the year has its border where the number by time meets it.
func TestLimitsByTime(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	laws := map[string]law{"splice.depletion": mapLaws["splice.depletion"], "splice_rate": func(int, []float64) float64 { return 1e-3 }, "good_rate": mapLaws["good_rate"]}
	axes := []whatif.Axis{even("line.speed", model.Speed, 1, 3, 6), even("unwind.storage.capacity", model.Length, 20, 120, 6)}
	year := 1. / (365 * 86400)
	limits := whatif.Limits{Risk: whatif.Risk{Rate: year, Text: "1 per year"}, NotReady: math.NaN(), NotRefilled: math.NaN(), Busy: math.NaN(), Waste: math.NaN()}
	s := swept(axes, sweepNames[:1], laws, nil)
	s.Limits = limits
	for i := range s.Points {
		s.Set(i, s.Points[i].Results)
	}
	list := mapLimits(s, 0)
	if len(list) != 1 {
		t.Fatalf("%d limits", len(list))
	}
	for i, x := range axes[0].Values {
		for j, y := range axes[1].Values {
			want := max(math.Log(min(1, math.Exp(3*x-y/5))*1e-3/year), math.Log(1e-3))
			if got := list[0].z[i][j]; math.Abs(got-want) > 1e-9 {
				t.Errorf("at %g, %g: %g, want %g", x, y, got, want)
			}
		}
	}
	has(t, sound(t, "map-year", Contours(s, 0, "good_rate", model.Metric)), "(above 1 /year)")
}
