package sim

import (
	"slices"

	"rollchange/model"
)

// An outfit is what of a line hangs on the product that it runs: its figures, and
// the sources of chance whose laws are its own. Products that are run alike have one
// outfit, and sources with the same law one stream, so that a product that differs
// from no other changes nothing.
type outfit struct {
	spec   *model.Line
	side   [2]fitting
	breaks breakClock
	owner  []int    // of each source, the first outfit with the same law
	kept   []source // its own, while the line wears another that has others
}

// fitting is what of a station hangs on the product.
type fitting struct {
	dec, acc, max, decTarget float64
	callAhead, callDist      float64
	successShare, breakShare float64
	lateSpeed                float64
	changesLate              bool
	laws                     laws
}

func (st *station) fitting() fitting {
	return fitting{st.dec, st.acc, st.max, st.decTarget, st.callAhead, st.callDist, st.successShare, st.breakShare, st.lateSpeed, st.changesLate, st.laws}
}

func (st *station) fit(f *fitting) {
	st.dec, st.acc, st.max, st.decTarget = f.dec, f.acc, f.max, f.decTarget
	st.callAhead, st.callDist, st.changesLate, st.laws = f.callAhead, f.callDist, f.changesLate, f.laws
	st.successShare, st.breakShare, st.lateSpeed = f.successShare, f.breakShare, f.lateSpeed
	st.successes.happensWith(f.successShare)
	st.partings.happensWith(f.breakShare)
	st.derives()
	st.touch()
}

// wardrobe is the outfits of a line, and which it wears.
type wardrobe struct {
	outfits []outfit
	of      []int // outfit of each product
	wears   int
	wore    int       // before
	slots   []*source // those that a product may have its own of
}

// productSources are the sources of a line whose laws a product may change, in an
// order that is the same for every line.
func (l *line) productSources() []*source {
	list := []*source{&l.restScrap, &l.startScrap, &l.prepare, &l.doff, &l.breaks.every, &l.breaks.repair, &l.breaks.scrap}
	for i := range l.side {
		st := &l.side[i]
		list = append(list, &st.length, &st.err, &st.dwells, &st.successes, &st.partings, &st.scraps, &st.lateChange)
	}
	for i := range l.works {
		list = append(list, &l.works[i])
	}
	return list
}

// furnish prepares the line for every product.
func (l *line) furnish(from streams) {
	w := &l.wardrobe
	w.slots, w.of = l.productSources(), l.run.prepared.outfits
	known := &l.run.prepared.patterns[l.id]
	p := known.Load()
	if p == nil {
		p = l.pattern(from)
		known.Store(p)
	}
	l.stopReach = max(l.stopReach, p.stopReach)
	w.outfits = slices.Clone(p.outfits)
	for i := range w.outfits {
		w.outfits[i].kept = slices.Clone(w.outfits[i].kept)
	}
	for k, src := range w.slots {
		w.outfits[0].kept[k] = *src // the line itself has begun
	}
	every := slices.Index(w.slots, &l.breaks.every)
	for i := range w.outfits[1:] {
		o := &w.outfits[1+i]
		for k := range o.kept {
			from.restart(&o.kept[k])
		}
		if o.breaks.on { // as for the line itself
			o.kept[every].draw()
		}
	}
}

// pattern is the outfits of a line as far as they are the same in every replication: all
// but what their sources draw.
type pattern struct {
	outfits   []outfit
	stopReach float64 // m, of them all
}

// pattern finds them: a line that is built for each product that is run in another way
// hands over its figures and sources.
func (l *line) pattern(from streams) *pattern {
	p, of := &pattern{}, l.run.prepared.outfits
	add := func(on *line) {
		o := outfit{spec: on.spec, breaks: on.breaks}
		for i := range on.side {
			o.side[i] = on.side[i].fitting()
		}
		for i, src := range on.productSources() {
			own := len(p.outfits)
			for k := range p.outfits {
				if p.outfits[k].kept[i].sameLaw(src) {
					own = p.outfits[k].owner[i]
					break
				}
			}
			o.owner, o.kept = append(o.owner, own), append(o.kept, *src)
		}
		p.outfits = append(p.outfits, o)
		p.stopReach = max(p.stopReach, on.stopReach)
	}
	add(l)
	for i, x := range l.spec.Products {
		if of[i] == len(p.outfits) {
			on := &line{run: l.run, spec: x.Line, id: l.id}
			on.build(func(d model.Dist, name string) source {
				if d.IsConst() {
					return from.source(d, name)
				}
				return from.source(d, sourceName(name, l.id)+"\tproduct "+x.Name)
			})
			add(on)
		}
	}
	return p
}

// outfitsOf is which outfit each product of a line wears: 0 is that of the line itself,
// and each further one comes with the first product that wears it.
func outfitsOf(spec *model.Line) []int {
	var list []int
	known := []*model.Line{spec}
	for _, p := range spec.Products {
		at := len(known)
		for k := range known {
			if alike(known[k], p.Line) {
				at = k
			}
		}
		if at == len(known) {
			known = append(known, p.Line)
		}
		list = append(list, at)
	}
	return list
}

// alike says whether two lines run in the same way.
func alike(a, b *model.Line) bool {
	x, y := *a, *b
	for _, l := range []*model.Line{&x, &y} {
		l.Jobs, l.Orders, l.Products, l.Changeover, l.Economics = nil, nil, nil, model.Changeover{}, model.Economics{}
	}
	return x.Same(&y)
}

// sameLaw says whether two sources draw from the same law.
func (s *source) sameLaw(t *source) bool {
	if s.law != t.law || s.varies != t.varies || s.a != t.a || s.b != t.b || s.c != t.c || s.least != t.least || s.low != t.low || len(s.values) != len(t.values) {
		return false
	}
	for i := range s.values {
		if s.values[i] != t.values[i] {
			return false
		}
	}
	return true
}

// dress makes the line one that runs the product, and says whether it was another. It
// rests, and so do its stations.
func (l *line) dress(product int) bool {
	w := &l.wardrobe
	to := w.of[product]
	if to == w.wears {
		return false
	}
	for i := range l.side {
		st := &l.side[i]
		st.creditAll() // by the laws that were
		if st.record != nil {
			st.record.close(st)
			st.record.product = product
			st.record.open()
		}
	}
	old, new := &w.outfits[w.wears], &w.outfits[to]
	for i, src := range w.slots {
		if a, b := old.owner[i], new.owner[i]; a != b {
			w.outfits[a].kept[i] = *src
			*src = w.outfits[b].kept[i]
		}
	}
	w.wore, w.wears, l.spec = w.wears, to, new.spec
	for i := range l.side {
		l.side[i].fit(&new.side[i])
	}
	b, n := &l.breaks, &new.breaks
	drawn := b.on || b.drawn
	b.drawn = drawn
	b.on, b.n, b.scale, b.full, b.speed, b.power = n.on, n.n, n.scale, n.full, n.speed, n.power
	b.slow, b.second, b.last, b.lastTo = 0, 0, 0, 0 // powers of the product that was
	if b.on && !drawn {
		b.left = b.every.draw()
	}
	l.moved, l.stale = true, true
	return true
}
