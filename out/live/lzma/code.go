package lzma

import "math/bits"

// The settings that a stream begins with: three bits of the letter before choose the
// probabilities of a letter, the place in the text none.
const (
	before = 3
	states = 12
	least  = 2   // of a repeat, bytes
	most   = 273 // of a repeat, bytes
)

// length are the probabilities of the length of a repeat.
type length struct {
	choice   [2]prob
	low, mid [8]prob
	high     [256]prob
}

func (l *length) fresh() {
	fresh(l.choice[:])
	fresh(l.low[:])
	fresh(l.mid[:])
	fresh(l.high[:])
}

func (l *length) write(c *coder, n int) {
	switch v := uint32(n - least); {
	case v < 8:
		c.bit(&l.choice[0], 0)
		c.tree(l.low[:], v, 3)
	case v < 16:
		c.bit(&l.choice[0], 1)
		c.bit(&l.choice[1], 0)
		c.tree(l.mid[:], v-8, 3)
	default:
		c.bit(&l.choice[0], 1)
		c.bit(&l.choice[1], 1)
		c.tree(l.high[:], v-16, 8)
	}
}

// model holds all probabilities, and what came last: the state says which kinds of pieces,
// reps are the latest distances less 1.
type model struct {
	*coder
	state int
	reps  [4]uint32

	match, rep, rep0, rep1, rep2, rep0Long [states]prob
	letters                                []prob
	lengths, repLengths                    length
	slots                                  [4][64]prob
	places                                 [115]prob
	align                                  [16]prob
}

func newModel() *model {
	m := &model{coder: newCoder(), letters: make([]prob, 0x300<<before)}
	for _, p := range []*[states]prob{&m.match, &m.rep, &m.rep0, &m.rep1, &m.rep2, &m.rep0Long} {
		fresh(p[:])
	}
	fresh(m.letters)
	m.lengths.fresh()
	m.repLengths.fresh()
	for i := range m.slots {
		fresh(m.slots[i][:])
	}
	fresh(m.places[:])
	fresh(m.align[:])
	return m
}

// letter writes the letter at a place of a text; behind a repeat with that which would
// have gone on with it beside it.
func (m *model) letter(text []byte, at int) {
	m.bit(&m.match[m.state], 0)
	last := byte(0)
	if at > 0 {
		last = text[at-1]
	}
	p := m.letters[0x300*int(last>>(8-before)):][:0x300]
	symbol := uint32(text[at]) | 0x100
	if m.state < 7 {
		for ; symbol < 0x10000; symbol <<= 1 {
			m.bit(&p[symbol>>8], symbol>>7&1)
		}
	} else {
		beside, offset := uint32(text[at-1-int(m.reps[0])]), uint32(0x100)
		for symbol < 0x10000 {
			beside <<= 1
			m.bit(&p[offset+beside&offset+symbol>>8], symbol>>7&1)
			symbol <<= 1
			offset &= ^(beside ^ symbol)
		}
	}
	switch {
	case m.state < 4:
		m.state = 0
	case m.state < 10:
		m.state -= 3
	default:
		m.state -= 6
	}
}

// after is the state behind a piece: one behind a letter, another behind a repeat.
func (m *model) after(letter, repeat int) {
	if m.state < 7 {
		m.state = letter
	} else {
		m.state = repeat
	}
}

// short writes one letter of the latest distance.
func (m *model) short() {
	m.bit(&m.match[m.state], 1)
	m.bit(&m.rep[m.state], 1)
	m.bit(&m.rep0[m.state], 0)
	m.bit(&m.rep0Long[m.state], 0)
	m.after(9, 11)
}

// again writes a repeat from one of the latest distances.
func (m *model) again(which, n int) {
	m.bit(&m.match[m.state], 1)
	m.bit(&m.rep[m.state], 1)
	if which == 0 {
		m.bit(&m.rep0[m.state], 0)
		m.bit(&m.rep0Long[m.state], 1)
	} else {
		m.bit(&m.rep0[m.state], 1)
		m.bit(&m.rep1[m.state], uint32(min(1, which-1)))
		if which > 1 {
			m.bit(&m.rep2[m.state], uint32(which-2))
		}
		distance := m.reps[which]
		copy(m.reps[1:which+1], m.reps[:which])
		m.reps[0] = distance
	}
	m.repLengths.write(m.coder, n)
	m.after(8, 11)
}

// repeat writes a repeat from a distance less 1.
func (m *model) repeat(distance uint32, n int) {
	m.bit(&m.match[m.state], 1)
	m.bit(&m.rep[m.state], 0)
	m.lengths.write(m.coder, n)
	slot := slotOf(distance)
	m.tree(m.slots[min(n-least, 3)][:], slot, 6)
	if slot >= 4 {
		footer := int(slot>>1 - 1)
		base := (2 | slot&1) << footer
		if slot < 14 {
			m.eert(m.places[base-slot:], distance-base, footer)
		} else {
			m.plain((distance-base)>>4, footer-4)
			m.eert(m.align[:], distance&15, 4)
		}
	}
	copy(m.reps[1:], m.reps[:3])
	m.reps[0] = distance
	m.after(7, 10)
}

// slotOf is twice the place of the highest bit of a distance, and the bit below it.
func slotOf(distance uint32) uint32 {
	if distance < 4 {
		return distance
	}
	high := uint32(bits.Len32(distance) - 1)
	return high<<1 | distance>>(high-1)&1
}
