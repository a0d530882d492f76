package portable

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

var sink float64

// BenchmarkMath times each function beside that of package math, by turns, on the
// arguments that draws have: x-math is how much longer it takes.
func BenchmarkMath(b *testing.B) {
	uniform := func(r *rand.Rand) float64 { return 1 - r.Float64() }
	for _, f := range []struct {
		name     string
		of, math func(float64) float64
		draw     func(*rand.Rand) float64
	}{
		{"Log", Log, math.Log, uniform},
		{"Log1p", Log1p, math.Log1p, uniform},
		{"Log10", Log10, math.Log10, uniform},
		{"Exp", Exp, math.Exp, func(r *rand.Rand) float64 { return 10 * r.NormFloat64() }},
		{"Expm1", Expm1, math.Expm1, (*rand.Rand).NormFloat64},
		{"Pow", func(x float64) float64 { return Pow(x, 0.7) }, func(x float64) float64 { return math.Pow(x, 0.7) }, (*rand.Rand).ExpFloat64},
		{"Pow3", func(x float64) float64 { return Pow(x, 3) }, func(x float64) float64 { return math.Pow(x, 3) }, (*rand.Rand).ExpFloat64},
		{"NormalQuantile", NormalQuantile, func(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }, (*rand.Rand).Float64},
		{"Erfc", Erfc, math.Erfc, func(r *rand.Rand) float64 { return 2 * r.NormFloat64() }},
		{"Hypot", func(x float64) float64 { return Hypot(x, 1) }, func(x float64) float64 { return math.Hypot(x, 1) }, uniform},
		{"Cbrt", Cbrt, math.Cbrt, uniform},
		{"Gamma", Gamma, math.Gamma, func(r *rand.Rand) float64 { return 1 + 3*r.Float64() }},
		{"Lgamma", Lgamma, func(x float64) float64 { y, _ := math.Lgamma(x); return y }, func(r *rand.Rand) float64 { return 20 * r.Float64() }},
	} {
		b.Run(f.name, func(b *testing.B) {
			r := rand.New(rand.NewPCG(1, 2))
			x := make([]float64, 1024)
			for i := range x {
				x[i] = f.draw(r)
			}
			took := [2]time.Duration{math.MaxInt64, math.MaxInt64} // the shortest of all turns: others use the processor
			for b.Loop() {
				for k, of := range []func(float64) float64{f.of, f.math} {
					begin := time.Now()
					for _, x := range x {
						sink += of(x)
					}
					took[k] = min(took[k], time.Since(begin))
				}
			}
			b.ReportMetric(0, "ns/op") // of both together: nobody's business
			b.ReportMetric(float64(took[0].Nanoseconds())/float64(len(x)), "ns/call")
			b.ReportMetric(took[0].Seconds()/took[1].Seconds(), "x-math")
		})
	}
}
