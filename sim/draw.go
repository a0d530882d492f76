package sim

import (
	"math"

	"rollchange/model"
	"rollchange/model/portable"
)

// A source is a quantity that varies, with its own stream. Every law takes
// one number from the stream for each draw, so that the n-th draw of a source
// depends on nothing but n, and a change of a parameter moves every draw a
// little instead of shuffling them.
type source struct {
	stream
	law     model.Law // the zero source draws 0
	varies  bool
	name    string
	a, b, c float64
	least   float64 // where the laws that shift begin
	low     float64 // normal: mass below 0, cut away; gamma: unused
	values  []float64
	known
}

// known is what a source has drawn beyond what its law lets expect: the sum of
// what its draws were above their mean, and how many there were. The next draw
// hangs on earlier ones alone, so the sum has mean 0 wherever the run ends (Wald,
// Ann. Math. Statist. 15 (1944) 283), if every draw is in it, also those that
// outlive the run.
type known struct {
	mean   float64
	spread float64 // standard deviation
	sum    float64
	n      int
}

// newSource prepares d for drawing.
func newSource(d model.Dist, seed uint64, replication int, name string) source {
	s := source{law: d.Law, a: d.A, b: d.B, c: d.C, values: d.Values, least: d.Least, known: known{mean: d.Mean(), spread: d.SD()}}
	switch d.Law {
	case model.NotGiven, model.Fixed:
		s.law = model.Fixed
		return s
	case model.Exponential:
		s.a -= d.Least
	case model.Lognormal:
		s.a, s.b = d.LognormalParams()
	case model.Normal:
		if !d.Signed {
			s.low = portable.Erfc(d.A/d.B/math.Sqrt2) / 2
		}
	}
	s.varies, s.name = true, name
	s.stream = newStream(seed, replication, name)
	return s
}

// draw returns the next value.
func (s *source) draw() float64 {
	if !s.varies {
		return s.a
	}
	x := s.value()
	s.n++
	s.sum += x - s.mean
	return x
}

// happensWith makes s a source of events that happen where its draw is below p: what
// is added up is whether they do, 0 or 1.
func (s *source) happensWith(p float64) {
	s.mean, s.spread = p, math.Sqrt(p*(1-p))
}

// chance draws for an event of happensWith.
func (s *source) chance() float64 {
	x := s.uniform()
	s.n++
	s.sum -= s.mean
	if x < s.mean {
		s.sum++
	}
	return x
}

// value is the next value of a law that varies.
func (s *source) value() float64 {
	switch s.law {
	case model.Exponential:
		return s.least - s.a*portable.Log(s.uniform())
	case model.Lognormal:
		return s.least + portable.Exp(s.a+s.b*portable.NormalQuantile(s.uniform()))
	case model.Normal:
		x := s.a + s.b*portable.NormalQuantile(s.low+s.uniform()*(1-s.low))
		if s.low > 0 && x < 0 {
			return 0 // rounding only: the uniform was within 1e-16 of the cut
		}
		return x
	case model.Uniform:
		return s.a + (s.b-s.a)*s.uniform()
	case model.Triangular:
		u, w := s.uniform(), s.c-s.a
		if u*w < s.b-s.a {
			return s.a + math.Sqrt(u*w*(s.b-s.a))
		}
		return s.c - math.Sqrt((1-u)*w*(s.c-s.b))
	case model.Gamma:
		return s.least + s.b*gamma(s.a, s.pcg.Uint64())
	case model.Weibull:
		return s.least + s.b*portable.Pow(-portable.Log(s.uniform()), 1/s.a)
	case model.Empirical:
		return s.values[int(s.uniform()*float64(len(s.values)))]
	}
	panic("sim: law " + string(s.law) + " cannot be drawn")
}

// gamma returns a gamma variable of the given shape and scale 1 by Marsaglia
// and Tsang, ACM Trans. Math. Softw. 26 (2000) 363. The rejections draw from a
// generator of their own, seeded by one number of the stream, so that the
// stream moves by one however many there are.
func gamma(shape float64, seed uint64) float64 {
	var s stream
	s.pcg.Seed(seed, 0x6a09e667f3bcc909)
	boost := 1.0
	if shape < 1-1e-12 { // 1 to rounding, as of a mean that is the sd, is 1
		boost = portable.Pow(s.uniform(), 1/shape)
		shape++
	}
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := portable.NormalQuantile(s.uniform())
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v = v * v * v
		if portable.Log(s.uniform()) < x*x/2+d-d*v+d*portable.Log(v) {
			return boost * d * v
		}
	}
}
