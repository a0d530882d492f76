package picture

import (
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/whatif"
)

// scale maps the values of an axis, in the unit that people read, to places on
// the picture.
type scale struct {
	low, high float64
	log       bool
	from, to  vg.Length
}

// at is the place of a value.
func (s scale) at(v float64) vg.Length {
	f := (v - s.low) / (s.high - s.low)
	if s.log {
		f = math.Log(v/s.low) / math.Log(s.high/s.low)
	}
	return s.from + vg.Length(f)*(s.to-s.from)
}

// ticks are at round figures: powers of ten on a long scale of ratios, 1, 2
// and 5 on a short one, else four to eight even ones.
func (s scale) ticks() []plot.Tick {
	if !s.log {
		return tidied(evenTicks{}.Ticks(s.low, s.high))
	}
	decades := math.Log10(s.high / s.low)
	steps := []float64{1}
	if decades < 3 {
		steps = []float64{1, 2, 5}
	}
	every := max(1, math.Ceil(decades/7))
	var ticks []plot.Tick
	for k := math.Floor(math.Log10(s.low)); k <= math.Ceil(math.Log10(s.high)); k++ {
		for _, f := range steps {
			v, _ := strconv.ParseFloat(strconv.FormatFloat(f, 'f', 0, 64)+"e"+strconv.Itoa(int(k)), 64)
			if v < s.low*(1-1e-9) || v > s.high*(1+1e-9) || math.Mod(k, every) != 0 {
				continue
			}
			ticks = append(ticks, plot.Tick{Value: v, Label: words.Short(v, 6)})
		}
	}
	if len(ticks) < 3 && decades < 3 {
		ticks = evenTicks{}.Ticks(s.low, s.high)
	}
	return tidied(ticks)
}

// tidied writes 1e-07 as 1e-7 and 1e+06 as 1e6.
func tidied(ticks []plot.Tick) []plot.Tick {
	for i := range ticks {
		ticks[i].Label = words.Tidy(ticks[i].Label)
	}
	return ticks
}

// axisScale is the scale of an axis over its values, with some room at the
// ends unless tight.
func axisScale(a whatif.Axis, u model.Unit, tight bool, from, to vg.Length) scale {
	s := scale{low: math.Inf(1), high: math.Inf(-1), log: a.Log, from: from, to: to}
	for _, v := range a.Values {
		if x := u.From(v); words.Finite(x) {
			s.low, s.high = min(s.low, x), max(s.high, x)
			s.log = s.log && x > 0
		}
	}
	room := 0.03
	if tight {
		room = 0
	}
	switch {
	case s.low > s.high:
		s.low, s.high, s.log = 0, 1, false
	case s.low == s.high && s.log:
		s.low, s.high = s.low/2, s.high*2
	case s.low == s.high:
		half := max(0.05*math.Abs(s.low), 1e-9)
		s.low, s.high = s.low-half, s.high+half
	case s.log:
		f := math.Pow(s.high/s.low, room)
		s.low, s.high = s.low/f, s.high*f
	default:
		pad := room * (s.high - s.low)
		s.low, s.high = s.low-pad, s.high+pad
	}
	return s
}

// axisTicks are the ticks of an axis: counts at their values, else round figures.
func axisTicks(a whatif.Axis, u model.Unit, s scale) []plot.Tick {
	whole := a.Dim == model.Number || a.Dim == ""
	for _, v := range a.Values {
		whole = whole && v == math.Trunc(v)
	}
	if whole && len(a.Values) <= 10 && !s.log {
		var ticks []plot.Tick
		for _, v := range a.Values {
			ticks = append(ticks, plot.Tick{Value: v, Label: words.Short(v, 6)})
		}
		return ticks
	}
	return s.ticks()
}

// acrossAxis draws the scale of a horizontal axis below y, ticks that would
// run into one another left out, and its title at the right.
func acrossAxis(c draw.Canvas, s scale, ticks []plot.Tick, bottom, top vg.Length, title string) {
	t := sans(style(small, quiet))
	t.XAlign = draw.XCenter
	free := vg.Length(math.Inf(-1))
	for _, k := range ticks {
		x := s.at(k.Value)
		half := width(t, k.Label) / 2
		if x < s.from-0.1 || x > s.to+0.1 || x-half < free {
			continue
		}
		free = x + half + 6
		if top > bottom {
			c.StrokeLine2(draw.LineStyle{Color: faint, Width: 0.6}, x, bottom, x, top)
		}
		c.StrokeLine2(draw.LineStyle{Color: quiet, Width: 0.6}, x, bottom-3, x, bottom)
		c.FillText(t, vg.Point{X: x, Y: bottom - 10}, k.Label)
	}
	t = sans(style(10, ink))
	t.XAlign = draw.XRight
	c.FillText(t, vg.Point{X: s.to, Y: bottom - 25}, fit(t, title, s.to-c.Min.X))
}

// upAxis draws the scale of a vertical axis left of x.
func upAxis(c draw.Canvas, s scale, ticks []plot.Tick, left, right vg.Length) {
	t := sans(style(small, quiet))
	t.XAlign = draw.XRight
	free := vg.Length(math.Inf(-1))
	for _, k := range ticks {
		y := s.at(k.Value)
		if y < s.from-0.1 || y > s.to+0.1 || y-5 < free {
			continue
		}
		free = y + 6
		if right > left {
			c.StrokeLine2(draw.LineStyle{Color: faint, Width: 0.6}, left, y, right, y)
		}
		c.FillText(t, vg.Point{X: left - 6, Y: y}, k.Label)
	}
}

// widest is the room that the labels of ticks need.
func widest(ticks []plot.Tick) vg.Length {
	most := vg.Length(0)
	for _, k := range ticks {
		most = max(most, width(sans(style(small, quiet)), k.Label))
	}
	return most
}
