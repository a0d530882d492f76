package sim

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
	"rollchange/sim/invented"
)

// A sample that was kept is the same to the last bit, what its controls come from
// included; bytes that were cut short or changed are an error or another sample, and
// never a fault.
func TestSampleIsKeptToTheLastBit(t *testing.T) {
	seen := 0
	lines := effort.Of(3, 8, 30)
	for seed := range uint64(lines) {
		line := invented.Random(seed)
		at := Replication{Seed: seed, Horizon: 3e5, WarmUp: 1e4}
		x, err := Prepare(&line).Run(context.Background(), at, nil)
		require.NoError(t, err)
		b := x.AppendKept([]byte("before"))
		y, err := SampleKept(b[len("before"):])
		require.NoError(t, err)
		require.Equal(t, x, y)
		b = b[len("before"):]
		for n := range b {
			_, err := SampleKept(b[:n])
			assert.Error(t, err, "%d of %d bytes", n, len(b))
			b[n] ^= 0x5a
			_, _ = SampleKept(b)
			b[n] ^= 0x5a
		}
		w, err := Weigh(context.Background(), &line, at)
		require.NoError(t, err)
		b = w.AppendKept(nil)
		v, err := WeightsKept(b)
		require.NoError(t, err)
		assert.Equal(t, w, v)
		if w != nil {
			seen++
			assert.Equal(t, w.Controls(x), v.Controls(y))
			for n := range b {
				_, err := WeightsKept(b[:n])
				assert.Error(t, err)
			}
		}
	}
	assert.Greater(t, seen, lines/3)
}

// Zeros of either sign, numbers that are none, the largest and the smallest come
// back with the same bits.
func TestOddNumbersAreKept(t *testing.T) {
	odd := []float64{0, math.Copysign(0, -1), math.NaN(), math.Float64frombits(0x7ff8dead00000001), math.Inf(1), math.Inf(-1), math.MaxFloat64, math.SmallestNonzeroFloat64, 1, 1}
	x := &Sample{Events: 1 << 40}
	for _, a := range odd {
		for _, b := range odd {
			x.Figures = append(x.Figures, figure{Num: a, Den: b, Counted: b, Exposed: a})
		}
	}
	y, err := SampleKept(x.AppendKept(nil))
	require.NoError(t, err)
	assert.Equal(t, x.Events, y.Events)
	for i, f := range x.Figures {
		g := y.Figures[i]
		for k, v := range []float64{f.Num, f.Den, f.Counted, f.Exposed} {
			assert.Equal(t, math.Float64bits(v), math.Float64bits([]float64{g.Num, g.Den, g.Counted, g.Exposed}[k]))
		}
	}
}

func BenchmarkSampleKept(b *testing.B) {
	line := invented.Random(1)
	x, err := Prepare(&line).Run(context.Background(), Replication{Horizon: 1.3e6}, nil)
	require.NoError(b, err)
	kept := x.AppendKept(nil)
	b.ReportMetric(float64(len(kept)), "bytes")
	b.ReportMetric(float64(x.Events), "events")
	for b.Loop() {
		if _, err := SampleKept(kept); err != nil {
			b.Fatal(err)
		}
	}
}
