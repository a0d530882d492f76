package sim

import (
	"context"
	"testing"
)

// FuzzEngine runs lines made from any seed: no panic, and the books balance.
func FuzzEngine(f *testing.F) {
	for seed := range uint64(8) {
		f.Add(seed, seed+1, 20000.0)
	}
	f.Fuzz(func(t *testing.T, seed, chance uint64, horizon float64) {
		if !(horizon > 100 && horizon < 1e5) {
			return
		}
		l := randomLine(seed)
		s := newRun(&l, chance, 0, horizon, horizon/10, func(*Record) {})
		if err := s.simulate(context.Background()); err != nil {
			t.Fatal(err)
		}
		s.measure()
	})
}
