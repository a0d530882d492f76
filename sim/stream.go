package sim

import (
	"hash/fnv"
	"math/rand/v2"
)

// A stream is the chance of one source. It is seeded from the seed of the run,
// the replication and the name of the source, so that the n-th draw of a
// source is the same whatever else the line draws: that is what makes
// differences between alternatives sharp (common random numbers), and results
// the same for any number of workers.
type stream struct {
	pcg rand.PCG
}

// newStream returns the stream of the named source. The generator is PCG-DXSM
// as in math/rand/v2, which keeps its sequence from release to release.
func newStream(seed uint64, replication int, name string) stream {
	h := fnv.New64a()
	h.Write([]byte(name))
	var s stream
	s.pcg.Seed(mix(seed+0x9e3779b97f4a7c15*uint64(replication+1)), mix(h.Sum64()))
	return s
}

// mix is the finaliser of SplitMix64 (Steele, Lea and Flood, OOPSLA 2014): it
// spreads seeds that differ in one bit over all 64.
func mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// uniform returns a number in (0, 1), never 0 or 1.
func (s *stream) uniform() float64 {
	return (float64(s.pcg.Uint64()>>11) + 0.5) * (1.0 / (1 << 53))
}
