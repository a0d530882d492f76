package random

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// chance is a stream of random numbers with the draws that are used here.
type chance struct{ *rand.Rand }

// stream is the chance of one name under a seed: the same whatever else is drawn.
func stream(seed uint64, name string) chance {
	return chance{rand.New(rand.NewPCG(seed, rank(0, name)))}
}

// rank puts names in an order that a seed shuffles; a name that is added leaves
// the order of the others as it was.
func rank(seed uint64, name string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(name))
	z := h.Sum64() ^ seed*0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

func (c chance) is(p float64) bool            { return c.Float64() < p }
func (c chance) in(low, high float64) float64 { return low + (high-low)*c.Float64() }

// log draws so that every ratio is as likely as any other of its size.
func (c chance) log(low, high float64) float64 {
	return math.Exp(c.in(math.Log(low), math.Log(high)))
}

func pick[T any](c chance, list ...T) T { return list[c.IntN(len(list))] }

// around draws a share of something: a part of it, all of it, more of it, and
// a hair's breadth to either side of all.
func (c chance) around(least, most float64) float64 {
	if c.is(0.15) && least <= 1 && most >= 1 {
		return pick(c, 1, 1, 1, 1-1e-9, 1+1e-9, math.Nextafter(1, 0), math.Nextafter(1, 2))
	}
	return c.log(least, most)
}
