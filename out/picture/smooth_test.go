package picture

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/plot/vg"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/whatif"
)

// Between its points the interpolation is monotone where they are and goes
// through them; on a straight line it is that line, however far apart they lie.
func TestMonotone(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		x, z := []vg.Length{0}, []float64{r.NormFloat64()}
		for len(x) < 6 {
			x, z = append(x, x[len(x)-1]+vg.Length(0.1+r.Float64())), append(z, r.NormFloat64())
		}
		at := func(n int) float64 { return z[n] }
		for i := range 5 {
			low, high := min(z[i], z[i+1]), max(z[i], z[i+1])
			if monotone(x, i, 0, at) != z[i] || monotone(x, i, 1, at) != z[i+1] {
				t.Fatal("it does not go through its points")
			}
			last := z[i]
			for k := 1; k <= 20; k++ {
				v := monotone(x, i, float64(k)/20, at)
				if v < low-1e-12 || v > high+1e-12 || (v-last)*(z[i+1]-z[i]) < -1e-12 {
					t.Fatalf("%g beyond %g to %g, or it turns", v, low, high)
				}
				last = v
			}
			line := func(n int) float64 { return 3 - 2*float64(x[n]) }
			want := 3 - 2*float64(x[i]+0.3*(x[i+1]-x[i]))
			if got := monotone(x, i, 0.3, line); math.Abs(got-want) > 1e-9 {
				t.Fatalf("of a line %g, want %g", got, want)
			}
		}
	}
}

// tail is the chance of depletion as it falls with storage less speed: by
// factors, down to what other causes leave.
func tail(speed, storage float64) float64 {
	d := storage - speed
	return math.Log10(1/(1+math.Exp(1.4*d)) + 0.007)
}

// A contour of such a chance is straight; what is drawn keeps within a tenth
// of a cell of it. Bilinear in the logarithm it would scallop by three times as
// much, and in the chance itself by more.
func TestContoursDoNotScallop(t *testing.T) {
	const n, cell = 9, 10.0
	lines := make([]vg.Length, n)
	for i := range lines {
		lines[i] = vg.Length(cell * float64(i))
	}
	z := make([][]float64, n)
	for i := range n {
		for j := range n {
			z[i] = append(z[i], tail(float64(j)*1.5, float64(i)*1.5))
		}
	}
	level := math.Log10(0.01)
	// Where the true contour is: storage - speed = d, on the picture x - y.
	d := math.Log(1/(0.01-0.007)-1) / 1.4 / 1.5 * cell
	off := func(rings []ring) float64 {
		worst := 0.0
		for _, line := range contourLines(rings) {
			for _, p := range line {
				if p.Y > cell && p.X < 7*cell { // at the rim less is known
					worst = max(worst, math.Abs(float64(p.X-p.Y)-d)/math.Sqrt2/cell)
				}
			}
		}
		return worst
	}
	l := newLattice(lines, lines, z)
	smooth, scalloped := off(l.region(level)), off(bilinearly(l).region(level))
	if smooth > 0.1 || scalloped < 3*smooth || smooth == 0 {
		t.Errorf("off by %.3f of a cell, bilinear %.3f", smooth, scalloped)
	}
}

// bilinearly is the same quantity on lines so fine that cells are as good as
// bilinear in the coarse ones.
func bilinearly(l *lattice) *lattice {
	const k = 8
	n := (len(l.x)-1)*k + 1
	lines, z := make([]vg.Length, n), make([][]float64, n)
	for a := range n {
		lines[a] = l.x[0] + (l.x[1]-l.x[0])*vg.Length(a)/k
	}
	for a := range n {
		for b := range n {
			i, j := min(a/k, len(l.x)-2), min(b/k, len(l.y)-2)
			c, missing, _ := l.cell(i, j)
			z[a] = append(z[a], within(c, missing, float64(a-i*k)/k, float64(b-j*k)/k))
		}
	}
	return newLattice(lines, lines, z)
}

// A chance that spans little has lines at 1, 2 and 5.
func TestMapLevelsOfAChance(t *testing.T) {
	r := words.ReadingOf("splice.depletion", "1", []float64{0.004, 0.06}, model.Metric)
	if !r.Log {
		t.Fatal("a chance is read on a scale of ratios")
	}
	var got []string
	for _, v := range mapLevels(math.Log10(r.Unit.From(0.004)), math.Log10(r.Unit.From(0.06)), r) {
		got = append(got, words.OneIn(math.Pow(10, v)*r.Unit.SI))
	}
	if len(got) != 4 || got[0] != "1 in 200" || got[3] != "1 in 20" {
		t.Error(got)
	}
}

// The border of a limit on a chance lies where its logarithm meets the limit.
func TestLimitOfAChanceInItsLogarithm(t *testing.T) {
	laws := map[string]law{"splice.depletion": func(a int, at []float64) float64 { return math.Exp(-at[1] / 10) }, "good_rate": mapLaws["good_rate"]}
	axes := []whatif.Axis{even("line.speed", model.Speed, 1, 2, 2), even("unwind.storage.capacity", model.Length, 40, 80, 3)}
	list := mapLimits(swept(axes, sweepNames[:1], laws, nil), 0)
	if len(list) != 1 {
		t.Fatalf("%d limits", len(list))
	}
	// 0.001 at 69.08 m: half way between 60 and 80 less 0.046 of it in logarithms.
	z := list[0].z[0]
	if at := 60 + 20*z[1]/(z[1]-z[2]); math.Abs(at-10*math.Log(1000)) > 1e-9 {
		t.Errorf("the border is at %g m", at)
	}
}
