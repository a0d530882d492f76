package lzma

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// decoder reads what was packed, by the specification: the other side of the encoder.
type decoder struct {
	in         []byte
	code, wide uint32
	bad        bool
}

func (d *decoder) byte() uint32 {
	if len(d.in) == 0 {
		d.bad = true
		return 0
	}
	b := d.in[0]
	d.in = d.in[1:]
	return uint32(b)
}

func (d *decoder) fill() {
	if d.wide < topValue {
		d.wide <<= 8
		d.code = d.code<<8 | d.byte()
	}
}

func (d *decoder) bit(p *uint16) uint32 {
	bound := (d.wide >> chanceBits) * uint32(*p)
	is := uint32(0)
	if d.code < bound {
		d.wide = bound
		*p += (1<<chanceBits - *p) >> moveBits
	} else {
		d.code -= bound
		d.wide -= bound
		*p -= *p >> moveBits
		is = 1
	}
	d.fill()
	return is
}

func (d *decoder) tree(p []uint16, n int) uint32 {
	node := uint32(1)
	for range n {
		node = node<<1 | d.bit(&p[node])
	}
	return node - 1<<n
}

func (d *decoder) reverse(p []uint16, n int) (value uint32) {
	node := uint32(1)
	for i := range n {
		is := d.bit(&p[node])
		node = node<<1 | is
		value |= is << i
	}
	return value
}

func (d *decoder) length(l *lengths, place int) int {
	switch {
	case d.bit(&l.choice) == 0:
		return 2 + int(d.tree(l.low[place][:], 3))
	case d.bit(&l.choice2) == 0:
		return 10 + int(d.tree(l.mid[place][:], 3))
	}
	return 18 + int(d.tree(l.high[:], 8))
}

func (d *decoder) distance(e *encoder, length int) int {
	slot := d.tree(e.slots[min(length-2, 3)][:], 6)
	if slot < 4 {
		return int(slot)
	}
	n := int(slot>>1) - 1
	base := (2 | slot&1) << n
	if slot < endModel {
		return int(base + d.reverse(e.special[base-slot:], n))
	}
	high := uint32(0)
	for range n - alignBits {
		d.wide >>= 1
		high <<= 1
		if d.code >= d.wide {
			d.code -= d.wide
			high |= 1
		}
		d.fill()
	}
	return int(base + high<<alignBits + d.reverse(e.align[:], alignBits))
}

func unpack(packed []byte) ([]byte, error) {
	if len(packed) < 18 || packed[0] != posBits*45+literalContext || packed[13] != 0 {
		return nil, errors.New("no head")
	}
	e := &encoder{}
	e.even()
	d := &decoder{in: packed[18:], code: binary.BigEndian.Uint32(packed[14:]), wide: 0xffffffff}
	size := int(binary.LittleEndian.Uint64(packed[5:]))
	var out []byte
	state, last := 0, [4]int{}
	for len(out) < size && !d.bad {
		place := len(out) % posStates
		if d.bit(&e.isMatch[state][place]) == 0 {
			before := byte(0)
			if len(out) > 0 {
				before = out[len(out)-1]
			}
			p := e.literals[before>>(8-literalContext)][:]
			symbol := uint32(1)
			if state >= 7 {
				expected := uint32(out[len(out)-last[0]-1])
				for same := true; same && symbol < 0x100; {
					want := expected >> 7 & 1
					expected <<= 1
					is := d.bit(&p[(1+want)<<8+symbol])
					symbol = symbol<<1 | is
					same = is == want
				}
			}
			for symbol < 0x100 {
				symbol = symbol<<1 | d.bit(&p[symbol])
			}
			out = append(out, byte(symbol))
			state = [states]int{0, 0, 0, 0, 1, 2, 3, 4, 5, 6, 4, 5}[state]
			continue
		}
		length := 0
		if d.bit(&e.isRep[state]) == 0 {
			length = d.length(&e.matchLen, place)
			state = after(state, 7, 10)
			last = [4]int{d.distance(e, length), last[0], last[1], last[2]}
		} else {
			if d.bit(&e.isRepG0[state]) == 0 {
				if d.bit(&e.isLong[state][place]) == 0 {
					length = 1
				}
			} else {
				k := 1
				if d.bit(&e.isRepG1[state]) == 1 {
					k = 2 + int(d.bit(&e.isRepG2[state]))
				}
				x := last[k]
				copy(last[1:k+1], last[:k])
				last[0] = x
			}
			if length == 1 {
				state = after(state, 9, 11)
			} else {
				length = d.length(&e.repLen, place)
				state = after(state, 8, 11)
			}
		}
		for range length {
			if last[0] >= len(out) {
				return nil, errors.New("too far back")
			}
			out = append(out, out[len(out)-last[0]-1])
		}
	}
	if d.bad || len(out) != size {
		return nil, errors.New("damaged")
	}
	return out, nil
}

// samples are bytes of every kind that a choice of the encoder is for.
func samples() map[string][]byte {
	r := rand.New(rand.NewPCG(3, 5))
	noise := make([]byte, 20000)
	for i := range noise {
		noise[i] = byte(r.IntN(256))
	}
	var mixed []byte
	for len(mixed) < 200000 {
		switch from := r.IntN(len(mixed) + 1); {
		case len(mixed) > 100 && r.IntN(3) > 0: // again, with a byte changed here and there
			again := bytes.Clone(mixed[from:min(len(mixed), from+1+r.IntN(600))])
			for range r.IntN(4) {
				if len(again) > 0 {
					again[r.IntN(len(again))]++
				}
			}
			mixed = append(mixed, again...)
		default:
			for range r.IntN(40) {
				mixed = append(mixed, byte(r.IntN(r.IntN(255)+1)))
			}
		}
	}
	return map[string][]byte{"none": {}, "one": {7}, "four": {1, 2, 3, 4}, "zeros": make([]byte, 5000), "noise": noise,
		"text": []byte(strings.Repeat("the web that was on the roll that was on the rack ", 400)), "mixed": mixed}
}

// What is packed is unpacked to the same bytes, by a decoder written from the
// specification and by xz where that is installed; and what repeats becomes small.
func TestPackedIsUnpacked(t *testing.T) {
	xz, noXZ := exec.LookPath("xz")
	for name, data := range samples() {
		packed := Pack(data)
		got, err := unpack(packed)
		require.NoError(t, err, name)
		assert.True(t, bytes.Equal(data, got), name)
		if noXZ == nil {
			by := exec.Command(xz, "--format=lzma", "-dc")
			by.Stdin = bytes.NewReader(packed)
			got, err := by.Output()
			require.NoError(t, err, name)
			assert.True(t, bytes.Equal(data, got), "%s by xz", name)
		}
		switch name {
		case "zeros", "text":
			assert.Less(t, len(packed), 120, name)
		case "noise":
			assert.Less(t, len(packed), len(data)+len(data)/40+40, name)
		}
	}
}

// The same data gives the same bytes, so that a file that is made anew can be compared.
func TestPackingIsTheSameAgain(t *testing.T) {
	data := samples()["mixed"]
	assert.Equal(t, Pack(data), Pack(data))
}
