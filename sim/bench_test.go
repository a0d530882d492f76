package sim

import (
	"context"
	"testing"

	"rollchange/model"
	"rollchange/sim/invented"
)

// The benchmarks come in three tiers: root solver and draws, one station, and a
// year of whole lines beside references (year_test.go):
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
	l := invented.ZeroSpeed()
	l.Unwind.Dwell = model.Dist{Law: model.Lognormal, A: 8, B: 2}
	benchLine(b, l, 30*86400)
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

var sink float64
