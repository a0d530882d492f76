package lzma

// A match is a place before with the same bytes.
type match struct{ length, distance int }

const (
	leastMatch = 2
	mostMatch  = 273
	hashBits   = 18
	deep       = 256 // how many earlier places are looked at
)

// finder finds earlier places with the same bytes: the last ones with the same two and
// three bytes, and a chain of those with the same four.
type finder struct {
	data   []byte
	next   int // the first place that is not yet known
	two    []int32
	three  []int32
	four   []int32
	before []int32 // the place before with the same four bytes
	found  []match
}

func newFinder(data []byte) *finder {
	f := &finder{data: data, two: make([]int32, 1<<16), three: make([]int32, 1<<hashBits), four: make([]int32, 1<<hashBits), before: make([]int32, len(data))}
	for _, t := range [][]int32{f.two, f.three, f.four} {
		for i := range t {
			t[i] = -1
		}
	}
	return f
}

func (f *finder) hashes(at int) (two, three, four uint32) {
	d := f.data[at:]
	two = uint32(d[0]) | uint32(d[1])<<8
	x := two | uint32(d[2])<<16
	three = (x * 0x9e3779b1) >> (32 - hashBits)
	return two, three, ((x | uint32(d[3])<<24) * 0x9e3779b1) >> (32 - hashBits)
}

// learn makes a place known.
func (f *finder) learn(at int) {
	if at+4 > len(f.data) {
		return
	}
	two, three, four := f.hashes(at)
	f.two[two], f.three[three] = int32(at), int32(at)
	f.before[at], f.four[four] = f.four[four], int32(at)
}

// skip makes known all places before one.
func (f *finder) skip(to int) {
	for ; f.next < to; f.next++ {
		f.learn(f.next)
	}
}

// same is how many bytes are the same at a place and one before, at most limit.
func (f *finder) same(at, before, limit int) int {
	n := 0
	for n < limit && f.data[before+n] == f.data[at+n] {
		n++
	}
	return n
}

// at finds matches at a place: longer ones that are further away, up to the longest.
func (f *finder) at(at int) []match {
	f.skip(at)
	f.found = f.found[:0]
	limit := min(mostMatch, len(f.data)-at)
	if limit < 4 {
		return nil
	}
	two, three, four := f.hashes(at)
	best := 1
	try := func(before int32) {
		if before < 0 || best >= limit || best > 1 && f.data[int(before)+best] != f.data[at+best] {
			return
		}
		if n := f.same(at, int(before), limit); n > best {
			best = n
			f.found = append(f.found, match{n, at - int(before)})
		}
	}
	try(f.two[two])
	try(f.three[three])
	before := f.four[four]
	for i := 0; before >= 0 && i < deep && best < limit; i++ {
		try(before)
		before = f.before[before]
	}
	return f.found
}
