package lzma

// Chances are those of a 0, in 2048ths; each bit moves one by a 32nd of what is left.
const (
	chanceBits  = 11
	chanceStart = 1 << (chanceBits - 1)
	moveBits    = 5
	topValue    = 1 << 24
)

// rangeCoder writes bits by their chances.
type rangeCoder struct {
	out       []byte
	low       uint64
	wide      uint32
	cache     byte
	cacheSize int
}

func newRangeCoder() *rangeCoder { return &rangeCoder{wide: 0xffffffff, cacheSize: 1} }

// shiftLow writes the byte at the top of low, when no carry can change it any more.
func (c *rangeCoder) shiftLow() {
	if c.low < 0xff000000 || c.low > 0xffffffff {
		carry := byte(c.low >> 32)
		for ; c.cacheSize > 0; c.cacheSize-- {
			c.out = append(c.out, c.cache+carry)
			c.cache = 0xff
		}
		c.cache = byte(c.low >> 24)
	}
	c.cacheSize++
	c.low = (c.low & 0x00ffffff) << 8
}

// bit writes a bit by its chance, and learns it.
func (c *rangeCoder) bit(chance *uint16, bit uint32) {
	bound := (c.wide >> chanceBits) * uint32(*chance)
	if bit == 0 {
		c.wide = bound
		*chance += (1<<chanceBits - *chance) >> moveBits
	} else {
		c.low += uint64(bound)
		c.wide -= bound
		*chance -= *chance >> moveBits
	}
	for c.wide < topValue {
		c.wide <<= 8
		c.shiftLow()
	}
}

// direct writes bits of even chance, the highest first.
func (c *rangeCoder) direct(value uint32, bits int) {
	for bits--; bits >= 0; bits-- {
		c.wide >>= 1
		if value>>bits&1 == 1 {
			c.low += uint64(c.wide)
		}
		for c.wide < topValue {
			c.wide <<= 8
			c.shiftLow()
		}
	}
}

func (c *rangeCoder) finish() []byte {
	for range 5 {
		c.shiftLow()
	}
	return c.out
}

// tree writes a value bit by bit, the highest first, each by the chance of those before.
func (c *rangeCoder) tree(chances []uint16, bits int, value uint32) {
	node := uint32(1)
	for i := bits - 1; i >= 0; i-- {
		bit := value >> i & 1
		c.bit(&chances[node], bit)
		node = node<<1 | bit
	}
}

// reverse writes a value bit by bit, the lowest first. The first chance is that of node 1.
func (c *rangeCoder) reverse(chances []uint16, bits int, value uint32) {
	node := uint32(1)
	for range bits {
		bit := value & 1
		c.bit(&chances[node], bit)
		node = node<<1 | bit
		value >>= 1
	}
}

// lengths are the chances of lengths, 2 to 273.
type lengths struct {
	choice, choice2 uint16
	low, mid        [posStates][8]uint16
	high            [256]uint16
}

func (c *rangeCoder) length(l *lengths, length, posState int) {
	switch n := uint32(length - leastMatch); {
	case n < 8:
		c.bit(&l.choice, 0)
		c.tree(l.low[posState][:], 3, n)
	case n < 16:
		c.bit(&l.choice, 1)
		c.bit(&l.choice2, 0)
		c.tree(l.mid[posState][:], 3, n-8)
	default:
		c.bit(&l.choice, 1)
		c.bit(&l.choice2, 1)
		c.tree(l.high[:], 8, n-16)
	}
}
