package picture

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/whatif"
)

// Contours draws a metric of one alternative over two keys as a map: bands
// that grow darker, contour lines with their values on them, the border of
// each limit, and hatched what is no possible line. It is nil when there is
// nothing to draw.
func Contours(s *whatif.Sweep, alternative int, metric string, sys model.System) *Picture {
	m := newContourMap(s, alternative, metric, sys)
	if m == nil {
		return nil
	}
	const w, inner, top, height = 660, 660 - 22, 64, 400
	upTicks := axisTicks(m.axes[1], m.units[1], axisScale(m.axes[1], m.units[1], true, 0, height))
	m.left = max(widest(upTicks), 24) + 12
	m.findNow(alternative)
	m.notes(inner)
	return &Picture{W: w, H: top + height + 44 + notesHeight(m.key, inner-8) + 16, draw: func(c draw.Canvas) {
		m.taken = nil
		c.FillText(sans(style(13, ink)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 8}, fit(sans(style(13, ink)), m.title, inner-8))
		c.FillText(sans(style(small, quiet)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 24}, fit(sans(style(small, quiet)), m.says, inner-8))
		c.FillText(sans(style(10, ink)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 48}, fit(sans(style(10, ink)), words.AxisTitle(m.axes[1], m.units[1]), inner-8))
		m.box = area{c.Min.X + m.left, c.Max.X - 14, c.Max.Y - top - height, c.Max.Y - top}
		m.x = axisScale(m.axes[0], m.units[0], true, m.box.x0, m.box.x1)
		m.y = axisScale(m.axes[1], m.units[1], true, m.box.y0, m.box.y1)
		m.draw(c)
		acrossAxis(c, m.x, axisTicks(m.axes[0], m.units[0], m.x), m.box.y0, 0, words.AxisTitle(m.axes[0], m.units[0]))
		upAxis(c, m.y, upTicks, m.box.x0, 0)
		drawNotes(c, m.key, c.Min.X+4, m.box.y0-42, inner-8)
	}}
}

// contourMap is what Contours draws.
type contourMap struct {
	axes        []whatif.Axis
	units       [2]model.Unit
	read        words.Reading
	title, says string
	z           [][]float64 // by x, then y, in the unit of people or its decimal logarithm
	levels      []float64   // between the bands
	low, high   float64
	leftOut     [][]bool
	reasons     []string
	now         [2]float64 // what the alternative has now, where hasNow, in the units of people
	hasNow      [2]bool
	unknown     bool // something was simulated without a figure of the metric
	limits      []mapLimit
	borders     [][][]vg.Point // of each limit
	key         []note
	left        vg.Length
	box         area
	x, y        scale
	taken       []area
}

// newContourMap reads a sweep; nil when it is none of two keys, or no cell of
// its grid has three corners with a figure.
func newContourMap(s *whatif.Sweep, alternative int, metric string, sys model.System) *contourMap {
	if s == nil || len(s.Axes) != 2 || alternative < 0 || alternative >= len(s.Alternatives) ||
		len(s.Points) != len(s.Axes[0].Values)*len(s.Axes[1].Values) {
		return nil
	}
	m := &contourMap{axes: s.Axes, units: [2]model.Unit{words.AxisUnit(s.Axes[0], sys), words.AxisUnit(s.Axes[1], sys)}}
	si, values := "", []float64{}
	for i := range s.Points {
		if e, ok := estimateAt(&s.Points[i], alternative, metric); ok {
			si, values = e.Unit, append(values, e.Mean)
			m.says = words.OneAPoint
			if e.N > 1 {
				m.says = fmt.Sprintf(words.MapMean, e.N)
			}
		}
	}
	m.read = words.ReadingOf(metric, si, values, sys)
	m.title = fmt.Sprintf(words.TitleOf, m.read.Title(), legible.Line(s.Alternatives[alternative]))
	least := math.Inf(1)
	for _, v := range values {
		if v > 0 {
			least = min(least, m.read.Unit.From(v))
		}
	}
	m.low, m.high = math.Inf(1), math.Inf(-1)
	seen := map[string]bool{}
	for i := range s.Axes[0].Values {
		m.z = append(m.z, make([]float64, len(s.Axes[1].Values)))
		m.leftOut = append(m.leftOut, make([]bool, len(s.Axes[1].Values)))
		for j := range m.z[i] {
			p := s.At(i, j)
			e, ok := estimateAt(p, alternative, metric)
			v := m.read.Unit.From(e.Mean)
			switch {
			case !ok:
				v = math.NaN()
				m.leftOut[i][j] = p.LeftOut != ""
				m.unknown = m.unknown || p.LeftOut == ""
				if p.LeftOut != "" && !seen[p.LeftOut] {
					seen[p.LeftOut] = true
					m.reasons = append(m.reasons, words.Keyless(p.LeftOut))
				}
			case m.read.Log:
				v = math.Log10(max(v, least/10))
			}
			m.z[i][j] = v
			if ok {
				m.low, m.high = min(m.low, v), max(m.high, v)
			}
		}
	}
	if !m.drawable() {
		return nil
	}
	m.levels = mapLevels(m.low, m.high, m.read)
	m.limits = mapLimits(s, alternative)
	return m
}

// drawable says whether a cell of the grid has three corners with a figure.
func (m *contourMap) drawable() bool {
	l := lattice{z: m.z}
	for i := 0; i+1 < len(m.z); i++ {
		for j := 0; j+1 < len(m.z[i]); j++ {
			if _, _, ok := l.cell(i, j); ok {
				return true
			}
		}
	}
	return false
}

// mapLevels are round figures between low and high, about six.
func mapLevels(low, high float64, r words.Reading) []float64 {
	var out []float64
	if r.Log && high-low < 2 { // of the share: 1 in 5, 1 in 10, 1 in 20
		offset := math.Log10(r.Unit.SI)
		for k := math.Floor(low + offset); k-offset < high; k++ {
			for _, f := range []float64{1, 2, 5} {
				if v := k - offset + math.Log10(f); v > low+1e-9 && v < high-1e-9 {
					out = append(out, v)
				}
			}
		}
		return out
	}
	if r.Log { // 1 in 10, 1 in 100
		offset := math.Log10(r.Unit.SI)
		each := max(1, math.Ceil((high-low)/8))
		for k := math.Ceil((low + offset + 1e-9) / each); k*each-offset < high-1e-9; k++ {
			out = append(out, k*each-offset)
		}
		return out
	}
	if !(high-low > 1e-9*math.Max(math.Abs(low), math.Abs(high))) {
		return nil
	}
	best, ten := 0.0, math.Pow(10, math.Floor(math.Log10(high-low)))
	for _, f := range []float64{0.05, 0.1, 0.2, 0.25, 0.5, 1} {
		if n := (high - low) / (ten * f); best == 0 || math.Abs(n-7) < math.Abs((high-low)/best-7) {
			best = ten * f
		}
	}
	for k := math.Ceil(low/best + 1e-9); k*best < high-1e-9*best; k++ {
		out = append(out, k*best)
	}
	return out
}

// ramp is the fill of a band: lighter is less.
func ramp(k, n int) color.NRGBA {
	stops := []color.NRGBA{{0xf2, 0xf7, 0xf8, 0xff}, {0x9c, 0xc7, 0xd2, 0xff}, {0x2f, 0x78, 0x93, 0xff}}
	t := 0.35
	if n > 1 {
		t = 2 * float64(k) / float64(n-1)
	}
	i := min(int(t), 1)
	mix := func(a, b uint8) uint8 { return uint8(float64(a) + (t-float64(i))*(float64(b)-float64(a)) + 0.5) }
	a, b := stops[i], stops[i+1]
	return color.NRGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 0xff}
}

// lattice puts a field over the grid on the picture.
func (m *contourMap) lattice(z [][]float64) *lattice {
	var x, y []vg.Length
	for _, v := range m.axes[0].Values {
		x = append(x, m.x.at(m.units[0].From(v)))
	}
	for _, v := range m.axes[1].Values {
		y = append(y, m.y.at(m.units[1].From(v)))
	}
	return newLattice(x, y, z)
}

func (m *contourMap) draw(c draw.Canvas) {
	l := m.lattice(m.z)
	shade(c, m.box, 5, 0, quiet, func(p vg.Point) bool { return math.IsNaN(l.at(p)) })
	fillRings(c, l.region(math.Inf(-1)), ramp(0, len(m.levels)+1))
	lines := make([][][]vg.Point, len(m.levels))
	for k, v := range m.levels {
		r := l.region(v)
		fillRings(c, r, ramp(k+1, len(m.levels)+1))
		lines[k] = contourLines(r)
	}
	for _, list := range lines {
		for _, line := range list {
			c.StrokeLines(draw.LineStyle{Color: color.NRGBA{0x1f, 0x29, 0x33, 0x99}, Width: 0.6}, line)
		}
	}
	m.dots(c, l)
	m.drawNow(c)
	m.drawLimits(c, l)
	m.drawNowRing(c)
	m.nameLeftOut(c, l)
	m.values(c, l, lines)
	edge := append(m.box.corners(), m.box.corners()[0])
	c.StrokeLines(draw.LineStyle{Color: quiet, Width: 0.8}, edge)
}

// fillRings fills the regions inside borders, holes left out.
func fillRings(c draw.Canvas, rings []ring, fill color.Color) {
	var path vg.Path
	for _, r := range rings {
		for k, p := range r.pts {
			if k == 0 {
				path.Move(p)
			} else {
				path.Line(p)
			}
		}
		path.Close()
	}
	if len(path) > 0 {
		c.SetColor(fill)
		c.Fill(path)
	}
}

// dots marks the points of the grid: a dot where there is a figure, a cross
// where there is no possible line.
func (m *contourMap) dots(c draw.Canvas, l *lattice) {
	for i, x := range l.x {
		for j, y := range l.y {
			switch at := (vg.Point{X: x, Y: y}); {
			case m.leftOut[i][j]:
				cross(c, at)
				m.taken = append(m.taken, around(at, 8, 8))
			case !math.IsNaN(m.z[i][j]):
				c.DrawGlyphNoClip(draw.GlyphStyle{Color: color.NRGBA{0x1f, 0x29, 0x33, 0xaa}, Radius: 1, Shape: draw.CircleGlyph{}}, at)
			}
		}
	}
}

// chip is a label on white.
func chip(c draw.Canvas, a area, lines []string, s draw.TextStyle) {
	c.FillPolygon(paper, a.corners())
	s.XAlign = draw.XCenter
	y := a.y1 - 7
	for _, t := range lines {
		c.FillText(s, vg.Point{X: (a.x0 + a.x1) / 2, Y: y}, t)
		y -= 12
	}
}

// chipArea is the room that a label takes around a point.
func chipArea(at vg.Point, lines []string, s draw.TextStyle) area {
	w := vg.Length(0)
	for _, t := range lines {
		w = max(w, width(s, t))
	}
	return around(at, w+6, 12*vg.Length(len(lines))+2)
}

// take keeps the room of a label from others.
func (m *contourMap) take(a area) {
	m.taken = append(m.taken, area{a.x0 - 3, a.x1 + 3, a.y0 - 3, a.y1 + 3})
}

// values writes the value of each contour line on it, once or, on a long one,
// twice.
func (m *contourMap) values(c draw.Canvas, l *lattice, lines [][][]vg.Point) {
	s := sans(style(small, ink))
	inside := area{m.box.x0 + 2, m.box.x1 - 2, m.box.y0 + 2, m.box.y1 - 2}
	for k, list := range lines {
		v := m.levels[k]
		if m.read.Log {
			v = math.Pow(10, v)
		}
		said := []string{words.Short(v, 6)}
		if m.read.Log {
			said[0] = words.OneIn(v * m.read.Unit.SI)
		}
		for _, line := range list {
			n := lengthOf(line)
			wanted := []vg.Length{n / 2}
			if n > 700 {
				wanted = []vg.Length{n / 4, 3 * n / 4}
			}
			if n < 24 {
				continue
			}
			for _, want := range wanted {
				best, least := area{}, math.Inf(1)
				for at := vg.Length(6); at < n; at += 4 {
					along(line, at, n, func(p, _ vg.Point) {
						a := chipArea(p, said, s)
						off := math.Abs(float64(at - want))
						if off < least && a.within(inside) && !a.meetsAny(m.taken) && !m.onBorder(a, 5) {
							best, least = a, off
						}
					})
				}
				if !math.IsInf(least, 1) {
					m.take(best)
					chip(c, best, said, s)
				}
			}
		}
	}
	if len(m.levels) == 0 {
		v := m.low
		if m.read.Log {
			v = math.Pow(10, v)
		}
		said := []string{fmt.Sprintf(words.MapEveryDot, m.read.Level(v))}
		at := chipArea(vg.Point{X: (m.box.x0 + m.box.x1) / 2, Y: (m.box.y0 + m.box.y1) / 2}, said, s)
		if !at.meetsAny(m.taken) {
			chip(c, at, said, s)
		}
	}
}
