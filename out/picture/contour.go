package picture

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// lattice is a quantity over the grid of a sweep, on the picture: within a
// cell it is cubic and smooth across its sides (smooth.go); where one corner is
// not known, a plane over the other three; where more are not known, nothing.
// Cells are cut fine, so that straight pieces follow the curve.
type lattice struct {
	x, y []vg.Length // coarse lines
	z    [][]float64 // by x, then y; NaN: not known
	cut  int
}

func newLattice(x, y []vg.Length, z [][]float64) *lattice {
	return &lattice{x, y, z, min(max(60/max(len(x), len(y)), 2), 10)}
}

// cell is the four corners of a coarse cell, the one that is not known filled
// in from the others, and which it is; ok says that at most one is not known.
func (l *lattice) cell(i, j int) (c [4]float64, missing int, ok bool) {
	c = [4]float64{l.z[i][j], l.z[i+1][j], l.z[i][j+1], l.z[i+1][j+1]}
	missing = -1
	for k, v := range c {
		if math.IsNaN(v) {
			if missing >= 0 {
				return c, missing, false
			}
			missing = k
		}
	}
	if missing >= 0 {
		across := 3 - missing
		c[missing] = -c[across]
		for k, v := range c {
			if k != missing && k != across {
				c[missing] += v
			}
		}
	}
	return c, missing, true
}

// within is the value in a cell at shares f and g of its sides, NaN beyond the
// three corners that are known.
func within(c [4]float64, missing int, f, g float64) float64 {
	const slack = 1e-9
	out := false
	switch missing {
	case 0:
		out = f+g < 1-slack
	case 1:
		out = f > g+slack
	case 2:
		out = g > f+slack
	case 3:
		out = f+g > 1+slack
	}
	if out {
		return math.NaN()
	}
	return (1-g)*((1-f)*c[0]+f*c[1]) + g*((1-f)*c[2]+f*c[3])
}

// at is the value at a place of the picture, NaN where nothing is known.
func (l *lattice) at(p vg.Point) float64 {
	i, f := locate(l.x, p.X)
	j, g := locate(l.y, p.Y)
	if i < 0 || j < 0 {
		return math.NaN()
	}
	c, missing, ok := l.cell(i, j)
	if !ok {
		return math.NaN()
	}
	return l.inside(i, j, c, missing, f, g)
}

// locate finds the interval of rising lines that holds a place, and the share
// of it before the place; -1 when there is none.
func locate(lines []vg.Length, at vg.Length) (int, float64) {
	for i := 0; i+1 < len(lines); i++ {
		if at >= lines[i] && at <= lines[i+1] {
			return i, float64((at - lines[i]) / (lines[i+1] - lines[i]))
		}
	}
	return -1, 0
}

// ring is a closed border, the region at its left; cut[k] says that the piece
// from point k to the next lies on the level and not at the end of what is known.
type ring struct {
	pts []vg.Point
	cut []bool
}

// node is a point of the fine net.
type node struct {
	id int
	at vg.Point
	v  float64
}

// region is the border of what is at least level.
func (l *lattice) region(level float64) []ring {
	n := l.cut
	nx, ny := (len(l.x)-1)*n+1, (len(l.y)-1)*n+1
	fine := make([]node, nx*ny)
	for k := range fine {
		fine[k].id, fine[k].v = k, math.NaN()
	}
	for i := 0; i+1 < len(l.x); i++ {
		for j := 0; j+1 < len(l.y); j++ {
			c, missing, ok := l.cell(i, j)
			if !ok {
				continue
			}
			for a := 0; a <= n; a++ {
				for b := 0; b <= n; b++ {
					f, g := float64(a)/float64(n), float64(b)/float64(n)
					k := &fine[(i*n+a)*ny+j*n+b]
					if v := l.inside(i, j, c, missing, f, g); math.IsNaN(k.v) && !math.IsNaN(v) {
						k.v = v
						k.at = vg.Point{X: l.x[i] + vg.Length(f)*(l.x[i+1]-l.x[i]), Y: l.y[j] + vg.Length(g)*(l.y[j+1]-l.y[j])}
					}
				}
			}
		}
	}
	b := border{at: map[[2]int]int{}, first: map[int][]int{}, crossing: map[[2]int]int{}}
	for i := 0; i+1 < nx; i++ {
		for j := 0; j+1 < ny; j++ {
			// Counter-clockwise: the middle splits a square into four.
			q := [4]node{fine[i*ny+j], fine[(i+1)*ny+j], fine[(i+1)*ny+j+1], fine[i*ny+j+1]}
			var known []node
			mid := node{id: nx*ny + i*ny + j}
			for _, k := range q {
				if !math.IsNaN(k.v) {
					known = append(known, k)
					mid.v, mid.at = mid.v+k.v/4, mid.at.Add(k.at.Scale(0.25))
				}
			}
			switch len(known) {
			case 4:
				for k := range q {
					b.triangle(level, q[k], q[(k+1)%4], mid)
				}
			case 3:
				b.triangle(level, known[0], known[1], known[2])
			}
		}
	}
	return b.rings()
}

// border collects the directed pieces around a region; those of neighbours
// cancel.
type border struct {
	nodes    []vg.Point
	crossing map[[2]int]int // node of a crossing between two ids, of a corner with itself
	pieces   []piece
	at       map[[2]int]int
	first    map[int][]int
}

type piece struct {
	from, to  int
	cut, gone bool
}

func (b *border) node(p, q node, level float64) int {
	if p.id > q.id {
		p, q = q, p
	}
	key := [2]int{p.id, q.id}
	if k, ok := b.crossing[key]; ok {
		return k
	}
	at := p.at
	if p.id != q.id {
		at = p.at.Add(q.at.Sub(p.at).Scale(vg.Length((level - p.v) / (q.v - p.v))))
	}
	b.nodes = append(b.nodes, at)
	b.crossing[key] = len(b.nodes) - 1
	return len(b.nodes) - 1
}

// triangle adds the part of a triangle that is at least level.
func (b *border) triangle(level float64, corners ...node) {
	var pts []int
	var exit []bool // from this point the border runs on the level
	for k, p := range corners {
		q := corners[(k+1)%3]
		if p.v >= level {
			pts, exit = append(pts, b.node(p, p, level)), append(exit, false)
		}
		if (p.v >= level) != (q.v >= level) {
			pts, exit = append(pts, b.node(p, q, level)), append(exit, p.v >= level)
		}
	}
	for k, p := range pts {
		b.add(p, pts[(k+1)%len(pts)], exit[k])
	}
}

func (b *border) add(from, to int, cut bool) {
	if k, ok := b.at[[2]int{to, from}]; ok {
		b.pieces[k].gone = true
		delete(b.at, [2]int{to, from})
		return
	}
	b.at[[2]int{from, to}] = len(b.pieces)
	b.pieces = append(b.pieces, piece{from: from, to: to, cut: cut})
}

// rings chains what is left into closed borders.
func (b *border) rings() []ring {
	for k, p := range b.pieces {
		if !p.gone {
			b.first[p.from] = append(b.first[p.from], k)
		}
	}
	var out []ring
	for k := range b.pieces {
		var r ring
		for at := k; !b.pieces[at].gone; {
			p := &b.pieces[at]
			p.gone = true
			r.pts, r.cut = append(r.pts, b.nodes[p.from]), append(r.cut, p.cut)
			next := b.first[p.to]
			for len(next) > 0 && b.pieces[next[0]].gone {
				next = next[1:]
			}
			b.first[p.to] = next
			if len(next) == 0 {
				break
			}
			at = next[0]
		}
		if len(r.pts) > 2 {
			out = append(out, r.plain())
		}
	}
	return out
}

// plain drops points on a straight way between pieces of the same kind.
func (r ring) plain() ring {
	var out ring
	for k, p := range r.pts {
		n := len(r.pts)
		q, s := r.pts[(k+n-1)%n], r.pts[(k+1)%n]
		if m := len(out.pts); m > 0 {
			q = out.pts[m-1]
		}
		a, b := p.Sub(q), s.Sub(p)
		if r.cut[(k+n-1)%n] == r.cut[k] && math.Abs(float64(a.X*b.Y-a.Y*b.X)) < 1e-3 && a.X*b.X+a.Y*b.Y >= 0 {
			continue
		}
		out.pts, out.cut = append(out.pts, p), append(out.cut, r.cut[k])
	}
	return out
}

// contourLines are the stretches of borders that lie on the level: the contour lines.
func contourLines(rings []ring) [][]vg.Point {
	var out [][]vg.Point
	for _, r := range rings {
		n, start := len(r.pts), -1
		for k := range r.pts {
			if !r.cut[(k+n-1)%n] && r.cut[k] {
				start = k
				break
			}
		}
		if start < 0 {
			if n > 0 && r.cut[0] { // closed within what is known
				out = append(out, append(append([]vg.Point{}, r.pts...), r.pts[0]))
			}
			continue
		}
		var line []vg.Point
		for m := range n {
			k := (start + m) % n
			if r.cut[k] {
				if line == nil {
					line = append(line, r.pts[k])
				}
				line = append(line, r.pts[(k+1)%n])
			} else if line != nil {
				out, line = append(out, line), nil
			}
		}
		if line != nil {
			out = append(out, line)
		}
	}
	return out
}

// lengthOf is the length of a line.
func lengthOf(line []vg.Point) vg.Length {
	sum := vg.Length(0)
	for k := 1; k < len(line); k++ {
		sum += vg.Length(math.Hypot(float64(line[k].X-line[k-1].X), float64(line[k].Y-line[k-1].Y)))
	}
	return sum
}

// along calls f at every step of a line, with the way at the left of it.
func along(line []vg.Point, first, step vg.Length, f func(at, left vg.Point)) {
	next, gone := first, vg.Length(0)
	for k := 1; k < len(line); k++ {
		d := line[k].Sub(line[k-1])
		n := vg.Length(math.Hypot(float64(d.X), float64(d.Y)))
		if n == 0 {
			continue
		}
		for ; next <= gone+n; next += step {
			f(line[k-1].Add(d.Scale((next-gone)/n)), vg.Point{X: -d.Y / n, Y: d.X / n})
		}
		gone += n
	}
}
