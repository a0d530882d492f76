package lzma

import "encoding/binary"

// Pack packs bytes. The same bytes give the same, with any version of Go.
func Pack(text []byte) []byte {
	p := &packer{model: newModel(), finder: newFinder(text)}
	out := []byte{before, 0, 0, 0x80, 0}                             // no other contexts; a dictionary of 8 MB
	p.out = binary.LittleEndian.AppendUint64(out, uint64(len(text))) // and the length, so that no mark ends it
	for at := 0; at < len(text); {
		at += p.piece(at)
	}
	return p.end()
}

// dictionary is how far back a repeat may reach, bytes.
const dictionary = 8 << 20

type packer struct {
	*model
	*finder
	seen   []found // at the place behind the latest letter
	seenAt int
}

// repeats are those at a place within the dictionary, looked for once.
func (p *packer) repeats(at int) []found {
	if p.seenAt != at || p.seen == nil {
		p.seen, p.seenAt = p.finder.at(at), at
		for n := len(p.seen); n > 0 && p.seen[n-1].distance >= dictionary; n-- {
			p.seen = p.seen[:n-1]
		}
	}
	return p.seen
}

// nearer says whether a distance is so much shorter that it is worth a byte of length.
func nearer(a, b uint32) bool { return b>>7 > a }

// piece writes the next piece at a place and returns how long it is.
func (p *packer) piece(at int) int {
	which, again := p.latest(at)
	list := p.repeats(at)
	if again >= nice {
		p.again(which, again)
		return again
	}
	best := found{n: 1}
	if k := len(list) - 1; k >= 0 {
		best = list[k]
		for ; best.n < nice && k > 0 && best.n == list[k-1].n+1 && nearer(list[k-1].distance, best.distance); k-- {
			best = list[k-1]
		}
	}
	switch {
	case best.n >= nice:
	case again >= least && (again+1 >= best.n || again+2 >= best.n && best.distance >= 1<<9 || again+3 >= best.n && best.distance >= 1<<15):
		p.again(which, again)
		return again
	case best.n < least || p.betterLater(at+1, best):
		p.one(at)
		return 1
	}
	p.repeat(best.distance, best.n)
	return best.n
}

// latest is the longest repeat from the latest distances.
func (p *packer) latest(at int) (which, n int) {
	for i, d := range p.reps {
		if from := at - 1 - int(d); from >= 0 {
			if x := p.same(from, at); x > n {
				which, n = i, x
			}
		}
	}
	return which, n
}

// betterLater says whether to write a letter first, because a better repeat follows.
func (p *packer) betterLater(at int, now found) bool {
	list := p.repeats(at)
	if k := len(list) - 1; k >= 0 {
		next := list[k]
		switch {
		case next.n >= now.n && next.distance < now.distance, next.n == now.n+1 && !nearer(now.distance, next.distance),
			next.n > now.n+1, next.n+1 >= now.n && now.n >= 3 && nearer(next.distance, now.distance):
			return true
		}
	}
	_, again := p.latest(at)
	return again >= max(least, now.n-1)
}

// one writes a single letter, from the latest distance where it is the same there.
func (p *packer) one(at int) {
	if from := at - 1 - int(p.reps[0]); from >= 0 && p.text[from] == p.text[at] {
		p.short()
		return
	}
	p.letter(p.text, at)
}
