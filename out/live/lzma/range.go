package lzma

// A range coder writes bits with a share of the range that is their probability.
type coder struct {
	out   []byte
	low   uint64
	width uint32
	held  byte // the byte that a carry may still raise
	many  int  // it and how many 0xff behind it
}

// prob is how likely a bit is 0, in 2048ths; it moves by a 32nd with every bit.
type prob uint16

const (
	probBits = 11
	probMove = 5
	even     = prob(1 << (probBits - 1))
	top      = 1 << 24
)

func newCoder() *coder { return &coder{width: 0xffffffff, many: 1} }

// fresh sets probabilities to even.
func fresh(p []prob) {
	for i := range p {
		p[i] = even
	}
}

func (c *coder) bit(p *prob, bit uint32) {
	bound := (c.width >> probBits) * uint32(*p)
	if bit == 0 {
		c.width = bound
		*p += (1<<probBits - *p) >> probMove
	} else {
		c.low += uint64(bound)
		c.width -= bound
		*p -= *p >> probMove
	}
	c.normal()
}

// plain writes bits that are as likely as not, the highest first.
func (c *coder) plain(value uint32, bits int) {
	for i := bits - 1; i >= 0; i-- {
		c.width >>= 1
		if value>>i&1 == 1 {
			c.low += uint64(c.width)
		}
		c.normal()
	}
}

func (c *coder) normal() {
	for c.width < top {
		c.width <<= 8
		c.shift()
	}
}

// shift hands on the highest byte, once it is known whether a carry comes.
func (c *coder) shift() {
	if c.low < 0xff000000 || c.low > 0xffffffff {
		carry := byte(c.low >> 32)
		for add := c.held; c.many > 0; c.many-- {
			c.out = append(c.out, add+carry)
			add = 0xff
		}
		c.held = byte(c.low >> 24)
	}
	c.many++
	c.low = c.low << 8 & 0xffffffff
}

// end writes what is held back.
func (c *coder) end() []byte {
	for range 5 {
		c.shift()
	}
	return c.out
}

// tree writes a value of so many bits, the highest first, each with the probability that
// belongs to those before it.
func (c *coder) tree(p []prob, value uint32, bits int) {
	at := uint32(1)
	for i := bits - 1; i >= 0; i-- {
		bit := value >> i & 1
		c.bit(&p[at], bit)
		at = at<<1 | bit
	}
}

// eert is tree with the lowest bit first.
func (c *coder) eert(p []prob, value uint32, bits int) {
	at := uint32(1)
	for range bits {
		bit := value & 1
		value >>= 1
		c.bit(&p[at], bit)
		at = at<<1 | bit
	}
}
