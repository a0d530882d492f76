package picture

import (
	"sort"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model/legible"
	"rollchange/out/words"
)

// inLines breaks text into lines of a width, the last one shortened when there is
// more of it. A word that is too long for a line is broken.
func inLines(s text.Style, t string, most vg.Length, lines int) []string {
	words := strings.Fields(words.Shorten(t, 600))
	var out []string
	line := ""
	for i := 0; i < len(words); i++ {
		w := words[i]
		if line != "" && width(s, line+" "+w) <= most {
			line += " " + w
			continue
		}
		if line != "" {
			if len(out) == lines-1 { // no line left for the rest
				return append(out, fit(s, line+" "+strings.Join(words[i:], " "), most))
			}
			out, line = append(out, line), ""
		}
		for r := []rune(w); width(s, w) > most && len(r) > 1; r = []rune(w) {
			if len(out) == lines-1 {
				return append(out, fit(s, w, most))
			}
			n := 1
			for n < len(r) && width(s, string(r[:n+1])) <= most {
				n++
			}
			out, w = append(out, string(r[:n])), string(r[n:])
		}
		line = w
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// spread moves wanted middles of things with heights as little as it takes for
// none to overlap, all between low and high where that is possible.
func spread(want, heights []vg.Length, low, high vg.Length) []vg.Length {
	n := len(want)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return want[order[a]] > want[order[b]] })
	// From the top down: with what lies between two middles added, the places
	// may not rise; where they would, a group shares its mean.
	type pool struct {
		sum vg.Length
		n   int
	}
	below := make([]vg.Length, n)
	var pools []pool
	for k, i := range order {
		if k > 0 {
			below[k] = below[k-1] + (heights[i]+heights[order[k-1]])/2
		}
		pools = append(pools, pool{want[i] + below[k], 1})
		for m := len(pools); m > 1 && pools[m-1].sum*vg.Length(pools[m-2].n) > pools[m-2].sum*vg.Length(pools[m-1].n); m = len(pools) {
			pools[m-2].sum += pools[m-1].sum
			pools[m-2].n += pools[m-1].n
			pools = pools[:m-1]
		}
	}
	out := make([]vg.Length, n)
	k := 0
	for _, p := range pools {
		for range p.n {
			at := p.sum / vg.Length(p.n)
			at = min(max(at, low+heights[order[n-1]]/2+below[n-1]), high-heights[order[0]]/2)
			out[order[k]] = at - below[k]
			k++
		}
	}
	return out
}

// area is a part of a picture.
type area struct{ x0, x1, y0, y1 vg.Length }

// around is the area of a width and a height around a point.
func around(p vg.Point, w, h vg.Length) area {
	return area{p.X - w/2, p.X + w/2, p.Y - h/2, p.Y + h/2}
}

func (a area) meets(b area) bool { return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 }

func (a area) within(b area) bool {
	return a.x0 >= b.x0 && a.x1 <= b.x1 && a.y0 >= b.y0 && a.y1 <= b.y1
}

func (a area) corners() []vg.Point {
	return []vg.Point{{X: a.x0, Y: a.y0}, {X: a.x1, Y: a.y0}, {X: a.x1, Y: a.y1}, {X: a.x0, Y: a.y1}}
}

// meetsAny says whether an area overlaps one of those that are taken.
func (a area) meetsAny(taken []area) bool {
	for _, t := range taken {
		if a.meets(t) {
			return true
		}
	}
	return false
}

// crosses says whether the way from p to q goes through the area.
func (a area) crosses(p, q vg.Point) bool {
	t0, t1 := vg.Length(0), vg.Length(1)
	for _, s := range [4][2]vg.Length{{p.X - q.X, p.X - a.x0}, {q.X - p.X, a.x1 - p.X}, {p.Y - q.Y, p.Y - a.y0}, {q.Y - p.Y, a.y1 - p.Y}} {
		switch {
		case s[0] == 0 && s[1] < 0:
			return false
		case s[0] < 0:
			t0 = max(t0, s[1]/s[0])
		case s[0] > 0:
			t1 = min(t1, s[1]/s[0])
		}
	}
	return t0 <= t1
}

// beside is a place for a name of a width just below or above a level line,
// where no line runs through it and nothing is yet: as far right as it goes.
func beside(inside area, y, wide vg.Length, lines [][]vg.Point, taken []area) area {
	best, least := area{}, 1<<30
	for x := inside.x1 - 3 - wide; x >= inside.x0+3; x -= 6 {
		for k, up := range []vg.Length{-7.5, 7.5} {
			a := area{x, x + wide, y + up - 5, y + up + 5}
			cost := int(inside.x1-x)/20 + k
			if a.y0 < inside.y0 || a.y1 > inside.y1 || a.meetsAny(taken) {
				cost += 10000
			}
			clear := area{a.x0 - 5, a.x1 + 5, a.y0, a.y1}
			for _, line := range lines {
				for i := 1; i < len(line); i++ {
					if clear.crosses(line[i-1], line[i]) {
						cost += 100
					}
				}
			}
			if cost < least {
				best, least = a, cost
			}
		}
	}
	return best
}

// meet says whether two ways cross; ways that share an end do not.
func meet(a, b [2]vg.Point) bool {
	if a[0] == b[0] || a[0] == b[1] || a[1] == b[0] || a[1] == b[1] {
		return false
	}
	side := func(p, q, r vg.Point) vg.Length { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a[0], a[1], b[0])*side(a[0], a[1], b[1]) <= 0 && side(b[0], b[1], a[0])*side(b[0], b[1], a[1]) <= 0
}

// note is a line of the key below a picture: a mark, drawn at a point, and words.
type note struct {
	mark  func(c draw.Canvas, at vg.Point)
	words string
}

// notesHeight and drawNotes lay the key of a picture out over a width.
func notesHeight(notes []note, most vg.Length) vg.Length {
	h := vg.Length(0)
	for _, n := range notes {
		h += 13*vg.Length(len(noteLines(n, most))) + 4
	}
	return h
}

func noteLines(n note, most vg.Length) []string {
	return inLines(sans(style(small, ink)), legible.Line(n.words), most-22, 3)
}

func drawNotes(c draw.Canvas, notes []note, left, top, most vg.Length) {
	s := sans(style(small, ink))
	for _, n := range notes {
		lines := noteLines(n, most)
		if n.mark != nil {
			n.mark(c, vg.Point{X: left + 8, Y: top - 7})
		}
		for _, l := range lines {
			c.FillText(s, vg.Point{X: left + 22, Y: top - 7}, l)
			top -= 13
		}
		top -= 4
	}
}

// badge draws a number in a ring.
func badge(c draw.Canvas, at vg.Point, t string) {
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: ink, Radius: 6.6, Shape: draw.CircleGlyph{}}, at)
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: paper, Radius: 5.8, Shape: draw.CircleGlyph{}}, at)
	s := sans(style(small, ink))
	s.XAlign = draw.XCenter
	c.FillText(s, at, t)
}
