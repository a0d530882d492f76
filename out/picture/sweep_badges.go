package picture

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/out/words"
)

// placedBadge is the mark of a limit: at a point, its number in a ring at the
// end of a leader.
type placedBadge struct {
	number    int
	point, at vg.Point
}

// badges draws the numbered marks of limits beside the points at which they begin.
func (g *sweepGraph) badges(c draw.Canvas, taken []area) {
	placed := g.placeBadges(taken)
	for _, b := range placed {
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.8}, b.point.X, b.point.Y, b.at.X, b.at.Y)
	}
	for _, b := range placed {
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: ink, Radius: 1.8, Shape: draw.CircleGlyph{}}, b.point)
		badge(c, b.at, strconv.Itoa(b.number))
	}
}

// placeBadges finds for each mark a place at which its number is on no line, name
// or other mark and its leader crosses none of them, where there is room.
func (g *sweepGraph) placeBadges(taken []area) []placedBadge {
	taken = append([]area(nil), taken...)
	ways := g.ways()
	for _, v := range g.goals {
		if y := g.y.at(v); words.Finite(float64(y)) {
			ways = append(ways, [2]vg.Point{{X: g.x.from, Y: y}, {X: g.x.to, Y: y}})
		}
	}
	var others [][2]vg.Point // leaders, and what stands upright
	for _, p := range g.flags {
		x := g.x.at(p.at)
		others = append(others, [2]vg.Point{{X: x, Y: g.base}, {X: x, Y: g.y.to}})
	}
	var placed []placedBadge
	seen := map[placedBadge]bool{}
	for _, m := range g.marks {
		l := g.lines[m.line]
		if math.IsNaN(l.at[m.point].Mean) {
			continue
		}
		p, _ := g.point(l, m.point)
		same := placedBadge{number: m.number, point: vg.Point{X: p.X, Y: vg.Length(math.Round(float64(p.Y)))}}
		if seen[same] { // of lines that run together
			continue
		}
		seen[same] = true
		at := g.placeBadge(p, taken, ways, others)
		taken, others = append(taken, around(at, 15, 15)), append(others, [2]vg.Point{p, at})
		placed = append(placed, placedBadge{m.number, p, at})
	}
	return placed
}

// placeBadge is the best place for a number beside a point, in sixteen directions.
func (g *sweepGraph) placeBadge(p vg.Point, taken []area, ways, others [][2]vg.Point) vg.Point {
	inside := area{g.x.from, g.x.to, g.base, g.y.to}
	best, least := p, math.Inf(1)
	for _, r := range []vg.Length{13, 17, 22, 28, 36, 46, 60} {
		for _, turn := range []float64{4, 12, 6, 14, 2, 10, 8, 0, 5, 13, 3, 11, 7, 15, 1, 9} { // upwards first
			angle := turn * math.Pi / 8
			at := p.Add(vg.Point{X: r * vg.Length(math.Cos(angle)), Y: r * vg.Length(math.Sin(angle))})
			a, lead := around(at, 16, 16), [2]vg.Point{p, at}
			cost := float64(r)
			if !a.within(inside) {
				cost += 50000
			}
			for _, t := range taken {
				if a.meets(t) {
					cost += 20000
				} else if t.crosses(p, at) {
					cost += 5000
				}
			}
			for _, w := range ways {
				if a.crosses(w[0], w[1]) {
					cost += 100
				}
				if w[0] != w[1] && meet(lead, w) {
					cost += 150
				}
				if mark := around(w[0], 6, 6); w[0] == w[1] && w[0] != p && (mark.crosses(p, at) || mark.meets(a)) { // it would seem to belong there
					cost += 600
				}
			}
			for _, other := range others {
				if a.crosses(other[0], other[1]) {
					cost += 3000
				}
				if meet(lead, other) {
					cost += 1000
				}
			}
			if cost < least {
				best, least = at, cost
			}
		}
	}
	return best
}
