package lzma

import (
	"bytes"
	"encoding/binary"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// samples are bytes of many kinds.
func samples() map[string][]byte {
	r := rand.New(rand.NewPCG(1, 2))
	noise := make([]byte, 70000)
	for i := range noise {
		noise[i] = byte(r.Uint32())
	}
	few := make([]byte, 100000) // letters of three kinds: many short repeats
	for i := range few {
		few[i] = "abc"[r.IntN(3)]
	}
	own, _ := os.ReadFile("code.go")
	far := append(append(bytes.Clone(noise), bytes.Repeat([]byte{7}, 3000)...), noise[100:60000]...)
	return map[string][]byte{"nothing": {}, "one": {9}, "two": {9, 9}, "zeros": make([]byte, 100000), "noise": noise, "few": few, "far": far,
		"text": own, "texts": bytes.Repeat(own, 7), "by turns": []byte(strings.Repeat("0123456789abcdef_", 9000))}
}

// What is packed unpacks to the same bytes, and is small where it can be.
func TestPack(t *testing.T) {
	for name, text := range samples() {
		packed := Pack(text)
		assert.True(t, bytes.Equal(text, unpack(t, packed)), name)
		assert.Less(t, len(packed), len(text)+len(text)/50+30, name)
	}
	assert.Less(t, len(Pack(samples()["zeros"])), 200)
	assert.Less(t, len(Pack(samples()["far"])), 72000, "a repeat from far away")
	own := samples()["text"]
	assert.Less(t, len(Pack(own)), len(own)/2)
}

// Another program reads it too.
func TestAnotherProgramUnpacks(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	path, err := exec.LookPath("xz")
	if err != nil {
		t.Skip("xz is not installed")
	}
	for name, text := range samples() {
		cmd := exec.Command(path, "--format=lzma", "--decompress", "--stdout")
		cmd.Stdin = bytes.NewReader(Pack(text))
		out, err := cmd.Output()
		require.NoError(t, err, name)
		assert.True(t, bytes.Equal(text, out), name)
	}
}

// unpacker reads as the specification says, written apart from the packer.
type unpacker struct {
	t           *testing.T
	in          []byte
	code, width uint32
}

func (u *unpacker) next() uint32 {
	require.NotEmpty(u.t, u.in, "the packed bytes end too early")
	b := u.in[0]
	u.in = u.in[1:]
	return uint32(b)
}

func (u *unpacker) normal() {
	if u.width < 1<<24 {
		u.width <<= 8
		u.code = u.code<<8 | u.next()
	}
}

func (u *unpacker) bit(p *uint16) uint32 {
	u.normal()
	bound := u.width >> 11 * uint32(*p)
	if u.code < bound {
		u.width = bound
		*p += (2048 - *p) >> 5
		return 0
	}
	u.width -= bound
	u.code -= bound
	*p -= *p >> 5
	return 1
}

func (u *unpacker) tree(p []uint16, bits int) uint32 {
	m := uint32(1)
	for range bits {
		m = m<<1 | u.bit(&p[m])
	}
	return m - 1<<bits
}

func (u *unpacker) reverse(p []uint16, bits int) uint32 {
	m, v := uint32(1), uint32(0)
	for i := range bits {
		b := u.bit(&p[m])
		m = m<<1 | b
		v |= b << i
	}
	return v
}

func unpack(t *testing.T, packed []byte) []byte {
	require.Equal(t, byte(3), packed[0])
	size := int(binary.LittleEndian.Uint64(packed[5:]))
	u := &unpacker{t: t, in: packed[13:], width: 0xffffffff}
	require.Zero(t, u.next())
	for range 4 {
		u.code = u.code<<8 | u.next()
	}
	p := make([]uint16, 0x300*8+2000)
	for i := range p {
		p[i] = 1024
	}
	take := func(n int) []uint16 { x := p[:n]; p = p[n:]; return x }
	letters, match, rep, rep0, rep1, rep2, long := take(0x300*8), take(12), take(12), take(12), take(12), take(12), take(12)
	slots, places, align := take(256), take(115), take(16)
	type lens struct{ choice, low, mid, high []uint16 }
	lengths, repLengths := lens{take(2), take(8), take(8), take(256)}, lens{take(2), take(8), take(8), take(256)}
	length := func(l lens) int {
		switch {
		case u.bit(&l.choice[0]) == 0:
			return 2 + int(u.tree(l.low, 3))
		case u.bit(&l.choice[1]) == 0:
			return 10 + int(u.tree(l.mid, 3))
		}
		return 18 + int(u.tree(l.high, 8))
	}
	var out []byte
	var reps [4]uint32
	state := 0
	for len(out) < size {
		if u.bit(&match[state]) == 0 {
			last := byte(0)
			if len(out) > 0 {
				last = out[len(out)-1]
			}
			q := letters[0x300*int(last>>5):]
			symbol := uint32(1)
			if state >= 7 {
				beside := uint32(out[len(out)-1-int(reps[0])])
				for symbol < 0x100 {
					b := beside >> 7 & 1
					beside <<= 1
					x := u.bit(&q[(1+b)<<8+symbol])
					symbol = symbol<<1 | x
					if x != b {
						break
					}
				}
			}
			for symbol < 0x100 {
				symbol = symbol<<1 | u.bit(&q[symbol])
			}
			out = append(out, byte(symbol))
			state = []int{0, 0, 0, 0, 1, 2, 3, 4, 5, 6, 4, 5}[state]
			continue
		}
		n := 0
		if u.bit(&rep[state]) == 1 {
			if u.bit(&rep0[state]) == 0 {
				if u.bit(&long[state]) == 0 {
					out = append(out, out[len(out)-1-int(reps[0])])
					state = map[bool]int{true: 9, false: 11}[state < 7]
					continue
				}
			} else {
				k := 1
				if u.bit(&rep1[state]) == 1 {
					k = 2 + int(u.bit(&rep2[state]))
				}
				d := reps[k]
				copy(reps[1:k+1], reps[:k])
				reps[0] = d
			}
			n = length(repLengths)
			state = map[bool]int{true: 8, false: 11}[state < 7]
		} else {
			n = length(lengths)
			slot := u.tree(slots[64*min(n-2, 3):], 6)
			d := slot
			if slot >= 4 {
				footer := int(slot>>1 - 1)
				d = (2 | slot&1) << footer
				if slot < 14 {
					d += u.reverse(places[d-slot:], footer)
				} else {
					for i := footer - 1; i >= 4; i-- {
						u.normal()
						u.width >>= 1
						if u.code >= u.width {
							u.code -= u.width
							d += 1 << i
						}
					}
					d += u.reverse(align, 4)
				}
			}
			copy(reps[1:], reps[:3])
			reps[0] = d
			state = map[bool]int{true: 7, false: 10}[state < 7]
		}
		require.Less(t, int(reps[0]), len(out))
		for range n {
			out = append(out, out[len(out)-1-int(reps[0])])
		}
	}
	return out
}
