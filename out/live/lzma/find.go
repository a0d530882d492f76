package lzma

// deep is how many places with the same beginning are looked at, nice the length that is
// taken without looking further.
const (
	deep = 400
	nice = 200
)

// found is a repeat: its length, and how far before, less 1.
type found struct {
	n        int
	distance uint32
}

// finder finds what was there before: the places by their first three bytes, the latest
// first.
type finder struct {
	text []byte
	head []int32 // by hash, the place plus 1
	prev []int32 // the place before with the same hash, plus 1
	next int     // to be put in
}

const hashBits = 18

func newFinder(text []byte) *finder {
	return &finder{text: text, head: make([]int32, 1<<hashBits), prev: make([]int32, len(text))}
}

func (f *finder) hash(at int) uint32 {
	t := f.text[at : at+3]
	return (uint32(t[0]) | uint32(t[1])<<8 | uint32(t[2])<<16) * 0x9e3779b1 >> (32 - hashBits)
}

// put takes in all places before one.
func (f *finder) put(before int) {
	for ; f.next < min(before, len(f.text)-2); f.next++ {
		h := f.hash(f.next)
		f.prev[f.next] = f.head[h]
		f.head[h] = int32(f.next + 1)
	}
}

// same is how many bytes two places have in common, the first before the second.
func (f *finder) same(a, b int) int {
	n, end := 0, min(most, len(f.text)-b)
	for n < end && f.text[a+n] == f.text[b+n] {
		n++
	}
	return n
}

// at are the repeats at a place, each longer than the one before and from farther away.
func (f *finder) at(at int) []found {
	f.put(at)
	if at+3 > len(f.text) {
		return nil
	}
	var list []found
	longest := least
	for place, looked := int(f.head[f.hash(at)])-1, 0; place >= 0 && looked < deep; looked++ {
		if at+longest < len(f.text) && f.text[place+longest] == f.text[at+longest] {
			if n := f.same(place, at); n > longest {
				longest = n
				list = append(list, found{n, uint32(at - place - 1)})
				if n >= nice {
					break
				}
			}
		}
		place = int(f.prev[place]) - 1
	}
	return list
}
