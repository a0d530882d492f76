package out

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
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
			ticks = append(ticks, plot.Tick{Value: v, Label: strconv.FormatFloat(v, 'g', 6, 64)})
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
		ticks[i].Label = tidy(ticks[i].Label)
	}
	return ticks
}

var tidier = strings.NewReplacer("e-0", "e-", "e+0", "e", "e+", "e")

func tidy(s string) string { return tidier.Replace(s) }

// reading is how a metric is read in a picture.
type reading struct {
	label string
	unit  model.Unit
	share bool
	log   bool // rare shares: one step of the scale is a factor of ten
}

// readingOf is how a metric is read, from its SI unit and the values that are
// shown. A share that is rare and spans more than two powers of ten is read on
// a scale of ratios.
func readingOf(metric, unit string, values []float64, sys model.System) reading {
	low, high := math.Inf(1), 0.0
	for _, v := range values {
		if v = math.Abs(v); finite(v) {
			high = max(high, v)
			if v > 0 {
				low = min(low, v)
			}
		}
	}
	label := labelOf(metric).text
	if part, ok := strings.CutPrefix(label, "  "); ok { // a row that belongs to the one above it
		if i := strings.LastIndexByte(metric, '_'); i > 0 {
			part = labelOf(metric[:i]).text + ", " + strings.TrimSpace(part)
		}
		label = part
	}
	r := reading{label: safe(label), unit: shown(unit, high, sys), share: unit == "1"}
	r.log = unit == "1" && low < 0.01 && high > 100*low && !strings.HasPrefix(metric, "time.")
	for _, v := range values {
		r.log = r.log && !(v < 0)
	}
	return r
}

// title is what is shown, at the head of a picture: "Good web, m/min". On a
// scale of ratios the ticks say it all.
func (r reading) title() string {
	first, n := utf8.DecodeRuneInString(r.label)
	s := string(unicode.ToUpper(first)) + r.label[n:]
	if r.log || r.unit.Name == "" {
		return s
	}
	return s + ", " + r.unit.Name
}

// floor is the least value, in the unit of people, that a scale of ratios
// shows; what is less counts as none.
func (r reading) floor(high float64) float64 { return high * 1e-12 }

// level writes a value of the metric, in its unit: "412 m/min", "1 in 1,000".
func (r reading) level(v float64) string {
	if r.log {
		return oneIn(v * r.unit.SI)
	}
	return strings.TrimSpace(tidy(strconv.FormatFloat(v, 'g', 4, 64)) + " " + r.unit.Name)
}

// oneIn says a rare share in words: 0.001 is "1 in 1,000".
func oneIn(share float64) string {
	n := 1 / share
	if math.Abs(n-math.Round(n)) < 1e-6*n {
		n = math.Round(n)
	}
	switch {
	case n < 1.05:
		return "all"
	case n >= 9.5e6:
		return "1 in " + tidy(strconv.FormatFloat(n, 'g', 2, 64))
	}
	digits := strconv.FormatFloat(n, 'f', 0, 64)
	if n < 10 && n != math.Round(n) {
		digits = strconv.FormatFloat(n, 'f', 1, 64)
	}
	for i := len(digits) - 3; i > 0 && n >= 1000; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return "1 in " + digits
}

// finite says that a value can be drawn.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// axisUnit is the unit in which the values of an axis are read.
func axisUnit(a whatif.Axis, sys model.System) model.Unit {
	high := 0.0
	for _, v := range a.Values {
		high = max(high, math.Abs(v))
	}
	switch {
	case a.Dim == model.Time:
		return model.DisplayTime(high)
	case a.Dim == model.Length && high < 0.5:
		return model.Display(model.Thickness, sys)
	}
	return model.Display(a.Dim, sys)
}

// axisTitle names an axis: "line.speed, m/min".
func axisTitle(a whatif.Axis, u model.Unit) string {
	if u.Name == "" {
		return safe(a.Key)
	}
	return safe(a.Key) + ", " + u.Name
}

// axisValue writes a value of an axis: "140 m/min".
func axisValue(si float64, u model.Unit) string {
	return strings.TrimSpace(tidy(strconv.FormatFloat(u.From(si), 'g', 4, 64)) + " " + u.Name)
}

// axisScale is the scale of an axis over its values, with some room at the
// ends unless tight.
func axisScale(a whatif.Axis, u model.Unit, tight bool, from, to vg.Length) scale {
	s := scale{low: math.Inf(1), high: math.Inf(-1), log: a.Log, from: from, to: to}
	for _, v := range a.Values {
		if x := u.From(v); finite(x) {
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
			ticks = append(ticks, plot.Tick{Value: v, Label: strconv.FormatFloat(v, 'f', 0, 64)})
		}
		return ticks
	}
	return s.ticks()
}

// acrossAxis draws the scale of a horizontal axis below y, ticks that would
// run into one another left out, and its title at the right.
func acrossAxis(c draw.Canvas, s scale, ticks []plot.Tick, bottom, top vg.Length, title string) {
	t := sans(style(9, quiet))
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
	t := sans(style(9, quiet))
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
		most = max(most, width(sans(style(9, quiet)), k.Label))
	}
	return most
}

// unitOf is the SI unit of a metric, by its name.
func unitOf(metric string) string {
	switch {
	case metric == "good_rate" || metric == "processed_rate":
		return "m/s"
	case metric == "good_area_rate":
		return "m2/s"
	case metric == "good_mass_rate":
		return "kg/s"
	case strings.HasSuffix(metric, "_rate") || strings.HasPrefix(metric, "stop_rate."):
		return "1/s"
	case strings.HasSuffix(metric, "_interval"):
		return "s"
	case strings.HasSuffix(metric, "_storage.lowest") || strings.HasSuffix(metric, "_storage.highest"):
		return "m"
	}
	return "1"
}
