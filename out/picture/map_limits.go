package picture

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/whatif"
)

// mapLimit is a limit over the grid of a map: above 0 it does not hold.
type mapLimit struct {
	bound whatif.Bound
	z     [][]float64
	all   bool // at every point
}

// mapLimits lists the limits of an alternative that do not hold somewhere.
// Where the metric of a limit is known at every point, its border is where the
// metric, read as bilinear, meets the limit; else it is half way between points.
func mapLimits(s *whatif.Sweep, alternative int) []mapLimit {
	var out []mapLimit
	for _, b := range boundsSeen(s, alternative) {
		m := mapLimit{bound: b, all: true}
		measured, least, most := true, math.Inf(1), 0.0
		for i := range s.Points {
			p := &s.Points[i]
			if p.LeftOut != "" || p.Results == nil {
				continue
			}
			v, ok := limited(p, alternative, b)
			measured = measured && ok && (v > b.Most) == binds(p, alternative, b)
			if v > 0 {
				least, most = min(least, v), max(most, v)
			}
		}
		// A chance falls by factors: bilinear in its logarithm, as the map reads it.
		ratio := b.Most > 0 && words.ReadingOf(b.Metric, "1", []float64{least, most}, model.Metric).Log
		for i := range s.Axes[0].Values {
			m.z = append(m.z, make([]float64, len(s.Axes[1].Values)))
			for j := range m.z[i] {
				p := s.At(i, j)
				broken := binds(p, alternative, b)
				v := -1.0
				if broken {
					v = 1
				}
				if x, _ := limited(p, alternative, b); measured {
					v = x - b.Most
					if ratio {
						v = math.Log(max(x, b.Most*1e-3) / b.Most)
					}
				}
				if p.LeftOut != "" || p.Results == nil {
					v = math.NaN()
				} else {
					m.all = m.all && broken
				}
				m.z[i][j] = v
			}
		}
		out = append(out, m)
	}
	return out
}

// limited is what a limit is put on, at a point.
func limited(p *whatif.Point, alternative int, b whatif.Bound) (float64, bool) {
	if p.LeftOut != "" || p.Results == nil || alternative >= len(p.Results.Alternatives) {
		return math.NaN(), false
	}
	e, ok := b.Of(p.Results.Alternatives[alternative].Metrics)
	return e.Mean, ok && words.Finite(e.Mean)
}

func binds(p *whatif.Point, alternative int, b whatif.Bound) bool {
	return alternative < len(p.Binds) && slices.Contains(p.Binds[alternative], b)
}

// shade draws slanted (rise 1, -1) or level (0) lines where it is so.
func shade(c draw.Canvas, a area, apart vg.Length, rise vg.Length, line color.Color, so func(vg.Point) bool) {
	st := draw.LineStyle{Color: line, Width: 0.5}
	height, wide := a.y1-a.y0, a.x1-a.x0
	const step = 1
	stroke := func(from, to vg.Point) {
		n := int(math.Ceil(math.Hypot(float64(to.X-from.X), float64(to.Y-from.Y)) / step))
		at := func(k int) vg.Point { return from.Add(to.Sub(from).Scale(vg.Length(k) / vg.Length(n))) }
		start := -1
		for k := 0; k <= n; k++ {
			on := so(at(k))
			if on && start < 0 {
				start = k
			}
			if start >= 0 && (!on || k == n) {
				end := k
				if !on {
					end = k - 1
				}
				if p, q := at(start), at(end); end > start {
					c.StrokeLine2(st, p.X, p.Y, q.X, q.Y)
				}
				start = -1
			}
		}
	}
	if rise == 0 {
		for y := a.y0 + apart/2; y < a.y1; y += apart {
			stroke(vg.Point{X: a.x0, Y: y}, vg.Point{X: a.x1, Y: y})
		}
		return
	}
	for x := a.x0 - height; x < a.x1; x += apart * 1.4 {
		from, to := max(x, a.x0), min(x+height, a.x0+wide)
		y0, y1 := a.y0+(from-x), a.y0+(to-x)
		if rise < 0 {
			y0, y1 = a.y1-(from-x), a.y1-(to-x)
		}
		if to > from {
			stroke(vg.Point{X: from, Y: y0}, vg.Point{X: to, Y: y1})
		}
	}
}

var hatchInk = color.NRGBA{0x1f, 0x29, 0x33, 0x66}

// drawLimits hatches where a limit does not hold and draws the border of each,
// with ticks at that side and its name.
func (m *contourMap) drawLimits(c draw.Canvas, known *lattice) {
	m.borders = nil
	if len(m.limits) == 0 {
		return
	}
	var fields []*lattice
	for _, x := range m.limits {
		fields = append(fields, m.lattice(x.z))
	}
	shade(c, m.box, 8, -1, hatchInk, func(p vg.Point) bool {
		for _, f := range fields {
			if f.at(p) > 0 {
				return true
			}
		}
		return false
	})
	for _, f := range fields {
		lines := contourLines(f.region(math.SmallestNonzeroFloat64))
		m.borders = append(m.borders, lines)
	}
	// On a pale edge, so that dark bands do not swallow them.
	for _, st := range []draw.LineStyle{{Color: paper, Width: 2.2}, {Color: accent}} {
		for _, lines := range m.borders {
			for _, line := range lines {
				along(line, 5, 10, func(at, left vg.Point) {
					if end := at.Add(left.Scale(5.5)); in(m.box, end) {
						c.StrokeLine2(draw.LineStyle{Color: st.Color, Width: st.Width + 1.2}, at.X, at.Y, end.X, end.Y)
					}
				})
				c.StrokeLines(draw.LineStyle{Color: st.Color, Width: st.Width + 2.2}, line)
			}
		}
	}
	for k := range m.borders {
		m.nameLimit(c, known, k)
	}
}

func in(a area, p vg.Point) bool { return p.X >= a.x0 && p.X <= a.x1 && p.Y >= a.y0 && p.Y <= a.y1 }

// nameLimit writes the name of a limit beside its border, at the side where it
// does not hold if there is room, on no border and no other name; where there
// is no room, its number in the key.
func (m *contourMap) nameLimit(c draw.Canvas, known *lattice, k int) {
	s := sans(style(small, accent))
	inside := area{m.box.x0 + 2, m.box.x1 - 2, m.box.y0 + 2, m.box.y1 - 2}
	best, least := area{}, math.Inf(1)
	var chosen []string
	number := strconv.Itoa(k + 1)
	for alone, words := range [][]string{inLines(s, number+" "+boundWords(m.limits[k].bound), 135, 4), {number}} {
		size := chipArea(vg.Point{}, words, s)
		for _, line := range m.borders[k] {
			along(line, min(3, lengthOf(line)/2), 10, func(at, left vg.Point) {
				for side, d := range []vg.Point{left, left.Scale(-1)} {
					var a area
					off, free := size.y1+6, false
					for ; off < size.x1+20 && !free; off += 4 { // away from the border until clear of it
						a = chipArea(at.Add(d.Scale(off)), words, s)
						free = !m.onBorder(a, 6)
					}
					if !free || !a.within(inside) || a.meetsAny(m.taken) {
						continue
					}
					// In the middle of the map rather than at its rim.
					cost := 60*float64(side) + 150*float64(alone) + float64(off)/2 +
						math.Abs(float64(at.X-(m.box.x0+m.box.x1)/2))/10 + math.Abs(float64(at.Y-(m.box.y0+m.box.y1)/2))/10
					for _, p := range a.corners() {
						if math.IsNaN(known.at(p)) {
							cost += 100
						}
					}
					if cost < least {
						best, least, chosen = a, cost, words
					}
				}
			})
		}
	}
	if chosen != nil {
		m.take(best)
		chip(c, best, chosen, s)
	}
}

// onBorder says whether an area comes nearer to the border of a limit than room.
func (m *contourMap) onBorder(a area, room vg.Length) bool {
	a = area{a.x0 - room, a.x1 + room, a.y0 - room, a.y1 + room}
	for _, borders := range m.borders {
		for _, l := range borders {
			for i := 1; i < len(l); i++ {
				if a.crosses(l[i-1], l[i]) {
					return true
				}
			}
		}
	}
	return false
}

// nameLeftOut says in the largest part that is hatched what it is, if there is room.
func (m *contourMap) nameLeftOut(c draw.Canvas, l *lattice) {
	if len(m.reasons) == 0 || m.unknown {
		return
	}
	s := sans(style(small, ink))
	var centre vg.Point
	n := vg.Length(0)
	const step = 6
	for x := m.box.x0; x < m.box.x1; x += step {
		for y := m.box.y0; y < m.box.y1; y += step {
			if p := (vg.Point{X: x, Y: y}); math.IsNaN(l.at(p)) {
				centre, n = centre.Add(p), n+1
			}
		}
	}
	if n == 0 {
		return
	}
	centre = centre.Scale(1 / n)
	for _, said := range words.PossibleNotLines {
		best, least := area{}, math.Inf(1)
		for x := m.box.x0; x < m.box.x1; x += step {
			for y := m.box.y0; y < m.box.y1; y += step {
				p := vg.Point{X: x, Y: y}
				a := chipArea(p, said, s)
				d := math.Hypot(float64(x-centre.X), float64(y-centre.Y))
				if d < least && a.within(m.box) && !a.meetsAny(m.taken) && unknownIn(l, a) {
					best, least = a, d
				}
			}
		}
		if !math.IsInf(least, 1) {
			m.take(best)
			chip(c, best, said, s)
			return
		}
	}
}

// unknownIn says that nothing is known anywhere in an area.
func unknownIn(l *lattice, a area) bool {
	for i := range 9 {
		for j := range 4 {
			p := vg.Point{X: a.x0 + (a.x1-a.x0)*vg.Length(i)/8, Y: a.y0 + (a.y1-a.y0)*vg.Length(j)/3}
			if !math.IsNaN(l.at(p)) {
				return false
			}
		}
	}
	return true
}

// notes makes the key below the map.
func (m *contourMap) notes(inner vg.Length) {
	swatch := func(apart, rise vg.Length, line color.Color) func(draw.Canvas, vg.Point) {
		return func(c draw.Canvas, at vg.Point) {
			a := around(at, 14, 10)
			shade(c, a, apart, rise, line, func(vg.Point) bool { return true })
			c.StrokeLines(draw.LineStyle{Color: quiet, Width: 0.5}, append(a.corners(), a.corners()[0]))
		}
	}
	if len(m.limits) > 0 {
		var names []string
		for k, x := range m.limits {
			t := boundWords(x.bound)
			if x.all {
				t += ", " + words.EveryPoint
			}
			names = append(names, strconv.Itoa(k+1)+" "+t)
		}
		m.key = append(m.key, note{swatch(3, -1, hatchInk), fmt.Sprintf(words.MapLimits, strings.Join(names, "; "))})
	}
	if len(m.reasons) > 0 {
		why := strings.Join(m.reasons[:min(3, len(m.reasons))], "; ")
		if more := len(m.reasons) - 3; more > 0 {
			why = fmt.Sprintf(words.MapMoreReasons, why, more)
		}
		m.key = append(m.key, note{swatch(3, 0, quiet), fmt.Sprintf(words.PossibleNotWhy, why)})
	}
	if m.unknown {
		m.key = append(m.key, note{swatch(3, 0, quiet), words.MapNoFigure})
	}
}
