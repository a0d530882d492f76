package sim

import (
	"errors"
	"math"
	"slices"
)

// What is kept of a replication from one run of the program to the next is written
// as bytes: every number to the last bit, in the order of the fields. Only the same
// program reads it again, so there is no version in it.

// errKept is the error of bytes that are not what was kept.
var errKept = errors.New("not a sample that was kept")

// keeper writes numbers or, with read, reads them into the same fields, so that both
// go the same way.
type keeper struct {
	b    []byte
	read bool
	err  error
}

// whole is a count below 2^62 or so, in few bytes when it is small.
func (k *keeper) whole(x *uint64) {
	if !k.read {
		for v := *x; ; v >>= 7 {
			if v < 0x80 {
				k.b = append(k.b, byte(v))
				return
			}
			k.b = append(k.b, byte(v)|0x80)
		}
	}
	*x = 0
	for shift := 0; shift < 64; shift += 7 {
		if len(k.b) == 0 {
			break
		}
		c := k.b[0]
		k.b = k.b[1:]
		*x |= uint64(c&0x7f) << shift
		if c < 0x80 {
			return
		}
	}
	k.fail()
}

// fail ends the reading.
func (k *keeper) fail() { k.b, k.err = nil, errKept }

// count is the length of a list whose members take so many bytes at least.
func (k *keeper) count(n, least int) int {
	x := uint64(n)
	k.whole(&x)
	if k.read && x > uint64(len(k.b)/least) {
		k.fail()
		return 0
	}
	return int(x)
}

// number is a float64, all of its bits; 0 takes one byte, and so does one that is the
// same as like.
func (k *keeper) number(x *float64, like float64) {
	const zero, same, other = 0, 1, 2
	bits := math.Float64bits(*x)
	if !k.read {
		switch bits {
		case 0:
			k.b = append(k.b, zero)
		case math.Float64bits(like):
			k.b = append(k.b, same)
		default:
			k.b = append(k.b, other, byte(bits), byte(bits>>8), byte(bits>>16), byte(bits>>24), byte(bits>>32), byte(bits>>40), byte(bits>>48), byte(bits>>56))
		}
		return
	}
	switch {
	case len(k.b) > 0 && k.b[0] == zero:
		*x, k.b = 0, k.b[1:]
	case len(k.b) > 0 && k.b[0] == same:
		*x, k.b = like, k.b[1:]
	case len(k.b) > 8 && k.b[0] == other:
		bits = 0
		for i := range 8 {
			bits |= uint64(k.b[1+i]) << (8 * i)
		}
		*x, k.b = math.Float64frombits(bits), k.b[9:]
	default:
		k.fail()
	}
}

// numbers is a list of numbers.
func (k *keeper) numbers(list *[]float64) {
	n := k.count(len(*list), 1)
	if k.read {
		*list = make([]float64, n)
	}
	for i := range *list {
		k.number(&(*list)[i], 0)
	}
}

// text is a string.
func (k *keeper) text(s *string) {
	n := k.count(len(*s), 1)
	if k.read {
		*s, k.b = string(k.b[:n]), k.b[n:]
		return
	}
	k.b = append(k.b, *s...)
}

// sample goes through all of a sample but its controls, which are made anew, and the
// changes out of storage, which are long.
func (k *keeper) sample(x *Sample) {
	n := k.count(len(x.Figures), 4)
	if k.read {
		x.Figures = make([]figure, n)
	}
	var last figure
	for i := range x.Figures {
		f := &x.Figures[i]
		k.number(&f.Num, last.Num)
		k.number(&f.Den, last.Den)
		k.number(&f.Counted, f.Num)
		k.number(&f.Exposed, f.Den)
		last = *f
	}
	for i := range x.Low {
		k.histogram(&x.Low[i])
	}
	k.number(&x.Balance.Metres, 0)
	k.number(&x.Balance.Seconds, 0)
	k.number(&x.Balance.length, 0)
	events := uint64(x.Events)
	k.whole(&events)
	x.Events = int64(events)
	n = k.count(len(x.excess), 2)
	if k.read {
		x.excess = make([]excess, n)
	}
	for i := range x.excess {
		k.number(&x.excess[i].beyond, 0)
		k.number(&x.excess[i].variance, 0)
	}
}

// histogram is one or none, the bins that are not empty.
func (k *keeper) histogram(h **Histogram) {
	top := 0.0
	var full uint64
	if *h != nil {
		top = (*h).Max
		for _, n := range (*h).Count {
			if n > 0 {
				full++
			}
		}
	}
	k.number(&top, 0)
	k.whole(&full)
	if top == 0 {
		return
	}
	if k.read {
		*h = NewHistogram(top)
	}
	at := uint64(0) // the bin after the last one
	for i := 0; full > 0; full-- {
		var skip, n uint64
		if !k.read {
			for (*h).Count[i] == 0 {
				i++
			}
			skip, n = uint64(i)-at, uint64((*h).Count[i])
			i++
		}
		k.whole(&skip)
		k.whole(&n)
		if at += skip; at >= bins || skip >= bins {
			k.fail()
			return
		}
		(*h).Count[at] = int64(n)
		at++
	}
}

// AppendKept appends a sample as bytes of which SampleKept makes the same again, to
// the last bit, but for its Cycles and Controls.
func (x *Sample) AppendKept(b []byte) []byte {
	k := keeper{b: b}
	k.sample(x)
	return k.b
}

// SampleKept is the sample of bytes that AppendKept made; an error for any others.
func SampleKept(b []byte) (*Sample, error) {
	x := &Sample{}
	k := keeper{b: b, read: true}
	k.sample(x)
	return x, k.end()
}

// end is the error of reading: what is left over is one too.
func (k *keeper) end() error {
	if k.err == nil && len(k.b) > 0 {
		return errKept
	}
	return k.err
}

// AppendKept appends weights as bytes of which WeightsKept makes the same again; none
// are kept as such.
func (w *Weights) AppendKept(b []byte) []byte {
	k := keeper{b: b}
	k.weights(&w)
	return k.b
}

// WeightsKept are the weights of bytes that AppendKept made, nil for none; an error
// for any others.
func WeightsKept(b []byte) (*Weights, error) {
	var w *Weights
	k := keeper{b: b, read: true}
	k.weights(&w)
	return w, k.end()
}

func (k *keeper) weights(w **Weights) {
	some := uint64(0)
	if *w != nil {
		some = 1
	}
	if k.whole(&some); some == 0 {
		return
	}
	if k.read {
		*w = &Weights{}
	}
	x := *w
	k.numbers(&x.good)
	k.numbers(&x.waste)
	k.numbers(&x.scale)
	k.numbers(&x.spread)
	n := k.count(len(x.names), 1)
	if k.read {
		x.names = slices.Grow(x.names, n)[:n]
	}
	for i := range x.names {
		k.text(&x.names[i])
	}
}
