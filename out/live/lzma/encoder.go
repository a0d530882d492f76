package lzma

import (
	"encoding/binary"
	"math/bits"
)

// The properties: bits of the byte before that a literal depends on, and of the place.
const (
	literalContext = 3
	posBits        = 2
	posStates      = 1 << posBits
	states         = 12
	firstCount     = 4  // the first distances of slot 4 and above have bits of even chance
	endModel       = 14 // slots from this on
	alignBits      = 4
)

// encoder chooses and writes.
type encoder struct {
	data     []byte
	find     *finder
	code     *rangeCoder
	state    int
	reps     [4]int // the last distances
	isMatch  [states][posStates]uint16
	isRep    [states]uint16
	isRepG0  [states]uint16
	isRepG1  [states]uint16
	isRepG2  [states]uint16
	isLong   [states][posStates]uint16
	literals [1 << literalContext][0x300]uint16
	slots    [firstCount][64]uint16
	special  [128]uint16
	align    [1 << alignBits]uint16
	matchLen lengths
	repLen   lengths
}

// Pack packs data.
func Pack(data []byte) []byte {
	e := &encoder{data: data, find: newFinder(data), code: newRangeCoder(), reps: [4]int{1, 1, 1, 1}}
	e.even()
	head := make([]byte, 13)
	head[0] = posBits*45 + literalContext
	binary.LittleEndian.PutUint32(head[1:], uint32(1)<<max(12, bits.Len(uint(len(data))))) // how far a match may reach back
	binary.LittleEndian.PutUint64(head[5:], uint64(len(data)))
	for at := 0; at < len(data); {
		at += e.step(at)
	}
	return append(head, e.code.finish()...)
}

// even sets every chance to one half.
func (e *encoder) even() {
	set := func(lists ...[]uint16) {
		for _, l := range lists {
			for i := range l {
				l[i] = chanceStart
			}
		}
	}
	set(e.isRep[:], e.isRepG0[:], e.isRepG1[:], e.isRepG2[:], e.special[:], e.align[:])
	for i := range e.isMatch {
		set(e.isMatch[i][:], e.isLong[i][:])
	}
	for i := range e.literals {
		set(e.literals[i][:])
	}
	for i := range e.slots {
		set(e.slots[i][:])
	}
	for _, l := range []*lengths{&e.matchLen, &e.repLen} {
		l.choice, l.choice2 = chanceStart, chanceStart
		set(l.high[:])
		for i := range l.low {
			set(l.low[i][:], l.mid[i][:])
		}
	}
}

// farther says that one distance costs so much more than another that a byte of length
// does not make up for it.
func farther(near, far int) bool { return near < far>>7 }

// longest is the match to take of some: the longest, but a byte shorter where that is much nearer.
func longest(list []match) match {
	if len(list) == 0 {
		return match{}
	}
	k := len(list) - 1
	for k > 0 && list[k].length == list[k-1].length+1 && farther(list[k-1].distance, list[k].distance) {
		k--
	}
	if m := list[k]; m.length > 2 || m.distance < 0x80 {
		return m
	}
	return match{}
}

// repeated is the longest of the last distances at a place, and which it is.
func (e *encoder) repeated(at int) (length, which int) {
	limit := min(mostMatch, len(e.data)-at)
	for i, d := range e.reps {
		if d > at {
			continue
		}
		if n := e.find.same(at, at-d, limit); n >= leastMatch && n > length {
			length, which = n, i
		}
	}
	return length, which
}

// step writes what stands at a place and returns how much that was.
func (e *encoder) step(at int) int {
	main := longest(e.find.at(at))
	rep, which := e.repeated(at)
	if rep >= leastMatch && (rep+1 >= main.length || rep+2 >= main.length && main.distance > 1<<9 || rep+3 >= main.length && main.distance > 1<<15) {
		e.writeRep(at, rep, which)
		return rep
	}
	if main.length < leastMatch || e.better(at+1, main) {
		return e.writeByte(at)
	}
	e.writeMatch(at, main)
	return main.length
}

// better says that what begins a byte later is worth writing this byte alone.
func (e *encoder) better(at int, main match) bool {
	if at >= len(e.data) {
		return false
	}
	next := longest(e.find.at(at))
	if next.length >= leastMatch && (next.length >= main.length && next.distance < main.distance || next.length == main.length+1 && !farther(main.distance, next.distance) ||
		next.length > main.length+1 || next.length+1 >= main.length && main.length >= 3 && farther(next.distance, main.distance)) {
		return true
	}
	rep, _ := e.repeated(at)
	return rep >= max(leastMatch, main.length-1)
}

// writeByte writes one byte: as the last distance says, or as a literal.
func (e *encoder) writeByte(at int) int {
	posState := at & (posStates - 1)
	if d := e.reps[0]; d <= at && e.data[at-d] == e.data[at] && at > 0 {
		e.code.bit(&e.isMatch[e.state][posState], 1)
		e.code.bit(&e.isRep[e.state], 1)
		e.code.bit(&e.isRepG0[e.state], 0)
		e.code.bit(&e.isLong[e.state][posState], 0)
		e.state = after(e.state, 9, 11)
		return 1
	}
	e.code.bit(&e.isMatch[e.state][posState], 0)
	before := byte(0)
	if at > 0 {
		before = e.data[at-1]
	}
	chances := e.literals[before>>(8-literalContext)][:]
	symbol := uint32(e.data[at]) | 0x100
	if e.state < 7 {
		e.code.tree(chances, 8, symbol&0xff)
	} else { // beside the byte that the last distance expects
		expected, offset := uint32(e.data[at-e.reps[0]]), uint32(0x100)
		for symbol < 0x10000 {
			expected <<= 1
			e.code.bit(&chances[offset+expected&offset+symbol>>8], symbol>>7&1)
			symbol <<= 1
			offset &^= expected ^ symbol
		}
	}
	switch {
	case e.state < 4:
		e.state = 0
	case e.state < 10:
		e.state -= 3
	default:
		e.state -= 6
	}
	return 1
}

// after is the state after a match: one if literals came before it, else the other.
func after(state, literals, otherwise int) int {
	if state < 7 {
		return literals
	}
	return otherwise
}

// writeRep writes a match at one of the last distances.
func (e *encoder) writeRep(at, length, which int) {
	posState := at & (posStates - 1)
	e.code.bit(&e.isMatch[e.state][posState], 1)
	e.code.bit(&e.isRep[e.state], 1)
	if which == 0 {
		e.code.bit(&e.isRepG0[e.state], 0)
		e.code.bit(&e.isLong[e.state][posState], 1)
	} else {
		e.code.bit(&e.isRepG0[e.state], 1)
		if which == 1 {
			e.code.bit(&e.isRepG1[e.state], 0)
		} else {
			e.code.bit(&e.isRepG1[e.state], 1)
			e.code.bit(&e.isRepG2[e.state], uint32(which-2))
		}
		d := e.reps[which]
		copy(e.reps[1:which+1], e.reps[:which])
		e.reps[0] = d
	}
	e.code.length(&e.repLen, length, posState)
	e.state = after(e.state, 8, 11)
}

// writeMatch writes a match at a new distance.
func (e *encoder) writeMatch(at int, m match) {
	posState := at & (posStates - 1)
	e.code.bit(&e.isMatch[e.state][posState], 1)
	e.code.bit(&e.isRep[e.state], 0)
	e.code.length(&e.matchLen, m.length, posState)
	e.state = after(e.state, 7, 10)
	distance := uint32(m.distance - 1)
	slot := distance
	if distance >= 4 {
		n := uint32(bits.Len32(distance)) - 1
		slot = n<<1 | distance>>(n-1)&1
	}
	e.code.tree(e.slots[min(m.length-leastMatch, firstCount-1)][:], 6, slot)
	if slot >= 4 {
		extra := int(slot>>1 - 1)
		base := (2 | slot&1) << extra
		rest := distance - base
		if slot < endModel {
			e.code.reverse(e.special[base-slot:], extra, rest)
		} else {
			e.code.direct(rest>>alignBits, extra-alignBits)
			e.code.reverse(e.align[:], alignBits, rest&(1<<alignBits-1))
		}
	}
	copy(e.reps[1:], e.reps[:3])
	e.reps[0] = m.distance
}
