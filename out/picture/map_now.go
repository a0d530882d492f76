package picture

import (
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/out/words"
)

// findNow takes over what the alternative has now of each key, where that is on
// its scale, and says it in the key.
func (m *contourMap) findNow(alternative int) {
	var says []string
	for i, a := range m.axes {
		si, ok := a.Now[alternative]
		v, on := m.units[i].From(si), axisScale(a, m.units[i], true, 0, 1)
		if m.hasNow[i] = ok && v >= on.low && v <= on.high; m.hasNow[i] {
			m.now[i] = v
			says = append(says, words.KeyOf(a.Key, a.Of)+" "+words.AxisValue(si, m.units[i]))
		}
	}
	if len(says) > 0 {
		m.key = append(m.key, note{m.nowSwatch, words.PresentValue(strings.Join(says, ", "))})
	}
}

// nowLine is the line of a present value, as in the other pictures.
var nowLine = draw.LineStyle{Color: ink, Width: 1, Dashes: []vg.Length{2, 3}}

// nowRing is where both present values meet.
func nowRing(c draw.Canvas, at vg.Point) {
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: paper, Radius: 5.4, Shape: draw.CircleGlyph{}}, at)
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: ink, Radius: 4.4, Shape: draw.RingGlyph{}}, at)
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: ink, Radius: 1.6, Shape: draw.CircleGlyph{}}, at)
}

// nowSwatch stands in the key: the ring where it is drawn, else the line.
func (m *contourMap) nowSwatch(c draw.Canvas, at vg.Point) {
	c.StrokeLine2(nowLine, at.X-8, at.Y, at.X+8, at.Y)
	if m.hasNow[0] && m.hasNow[1] {
		nowRing(c, at)
	}
}

// drawNow marks the present values by a line across the map at each, on a pale
// edge so that dark bands do not swallow it.
func (m *contourMap) drawNow(c draw.Canvas) {
	x, y := m.x.at(m.now[0]), m.y.at(m.now[1])
	for _, st := range []draw.LineStyle{{Color: paper, Width: 1.8}, nowLine} {
		if m.hasNow[0] {
			c.StrokeLine2(st, x, m.box.y0, x, m.box.y1)
		}
		if m.hasNow[1] {
			c.StrokeLine2(st, m.box.x0, y, m.box.x1, y)
		}
	}
	if m.hasNow[0] && m.hasNow[1] {
		m.taken = append(m.taken, around(vg.Point{X: x, Y: y}, 14, 14))
	}
}

// drawNowRing draws the ring where the present values meet, over the borders of
// limits, which may run there.
func (m *contourMap) drawNowRing(c draw.Canvas) {
	if m.hasNow[0] && m.hasNow[1] {
		nowRing(c, vg.Point{X: m.x.at(m.now[0]), Y: m.y.at(m.now[1])})
	}
}
