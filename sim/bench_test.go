package sim

import (
	"context"
	"math"
	"testing"

	"rollchange/model"
)

// The benchmarks come in three tiers, root solver and queue, one station, a
// year of a whole line; the whole line beside a reference loop with as many
// events in the same run, so that a ratio can be quoted on any machine:
//
//	go test ./sim -run '^$' -bench . -benchtime 2s

func BenchmarkRoot(b *testing.B) {
	x := 0.0
	for b.Loop() {
		x += firstBelow(12.5+x*1e-9, -2.5, 0.25)
	}
	sink = x
}

func BenchmarkDraw(b *testing.B) {
	for _, d := range []model.Dist{{Law: model.Exponential, A: 3}, {Law: model.Lognormal, A: 60, B: 30}, {Law: model.Gamma, A: 4, B: 15}} {
		b.Run(string(d.Law), func(b *testing.B) {
			s := newSource(d, 1, 0, "bench")
			for b.Loop() {
				sink += s.draw()
			}
		})
	}
}

func BenchmarkScrap(b *testing.B) {
	var s scrap
	at := 0.0
	b.ReportAllocs()
	for b.Loop() {
		at += 100
		s.claim(at, at+5, wSplice)
		s.claim(at-3, at+2, wStop)
		s.retire(at-50, at)
	}
}

// BenchmarkStation is one zero-speed unwind and nothing else.
func BenchmarkStation(b *testing.B) {
	l := zeroLine()
	l.Unwind.Dwell = model.Dist{Law: model.Lognormal, A: 8, B: 2}
	benchLine(b, l, 30*86400)
}

// BenchmarkYear is a year of a whole line with all statistics on, and the
// reference: the same number of events through a heap of the same size.
func BenchmarkYear(b *testing.B) {
	l := zeroLine()
	addZeroRewind(&l)
	l.Unwind.Dwell = model.Dist{Law: model.Lognormal, A: 8, B: 2}
	l.Process.StopScrap, l.Process.RestartScrap, l.Unwind.SpliceScrap = model.Const(2), model.Const(12), model.Const(3)
	l.WebBreaks = &model.WebBreaks{MeanLength: 20000, AtSpeed: 2.5, Exponent: 1, Repair: model.Dist{Law: model.Lognormal, A: 300, B: 200}}
	l.Stops = []model.Stop{{Name: "jam", Every: model.Dist{Law: model.Exponential, A: 5000}, Repair: model.Dist{Law: model.Gamma, A: 2, B: 60}, NeedsOperator: true}}
	b.Run("line", func(b *testing.B) { benchLine(b, l, 365*86400) })
	b.Run("reference heap", func(b *testing.B) {
		const n = 1000000
		for b.Loop() {
			sink += heapLoop(n)
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(n*b.N), "ns/event")
	})
}

func benchLine(b *testing.B, l model.Line, horizon float64) {
	var events int64
	b.ReportAllocs()
	for b.Loop() {
		s := newRun(&l, 1, 0, horizon, 0, nil)
		if err := s.simulate(context.Background()); err != nil {
			b.Fatal(err)
		}
		events += s.events
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(events), "ns/event")
}

// heapLoop is the reference: a typed binary heap of 20 times, the least taken
// out and put back later by an exponential, n times.
func heapLoop(n int) float64 {
	h := make([]float64, 20)
	s := newStream(1, 0, "reference")
	for i := range h {
		h[i] = float64(i)
	}
	for range n {
		t := h[0] - math.Log(s.uniform())*20
		i := 0
		for {
			c := 2*i + 1
			if c >= len(h) {
				break
			}
			if c+1 < len(h) && h[c+1] < h[c] {
				c++
			}
			if h[c] >= t {
				break
			}
			h[i] = h[c]
			i = c
		}
		h[i] = t
	}
	return h[0]
}

var sink float64

// BenchmarkRareDepletion reports, for lines whose storage depletes for every
// reason, how many times the variance of the count is that of the calculated
// chance: so many times more replications would the count need.
func BenchmarkRareDepletion(b *testing.B) {
	for _, name := range []string{"web breaks", "failures", "late arming", "short rolls", "both storages"} {
		l := riskyLines()[name]
		b.Run(name, func(b *testing.B) {
			ratio := 0.0
			for b.Loop() {
				_, _, _, counted, calculated := calculatedLessCounted(b, l, model.Run{Horizon: 5 * 86400, Replications: 60, Seed: 11}, 0)
				ratio = counted * counted / (calculated * calculated)
			}
			b.ReportMetric(ratio, "variance-ratio")
		})
	}
}
