package picture

import (
	"fmt"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// apart is the distance of two colours in CIE 1976 L*a*b*, from memory of its
// formula: white of D65, of the order of 2 just seen side by side.
func apart(a, b color.NRGBA) float64 {
	lab := func(c color.NRGBA) [3]float64 {
		linear := func(v uint8) float64 {
			x := float64(v) / 255
			if x <= 0.04045 {
				return x / 12.92
			}
			return math.Pow((x+0.055)/1.055, 2.4)
		}
		r, g, b := linear(c.R), linear(c.G), linear(c.B)
		f := func(t float64) float64 {
			if t > 216./24389 {
				return math.Cbrt(t)
			}
			return (24389./27*t + 16) / 116
		}
		x, y, z := f((0.4124*r+0.3576*g+0.1805*b)/0.9505), f(0.2126*r+0.7152*g+0.0722*b), f((0.0193*r+0.1192*g+0.9505*b)/1.089)
		return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
	}
	p, q := lab(a), lab(b)
	return math.Sqrt(invented.Square(p[0]-q[0]) + invented.Square(p[1]-q[1]) + invented.Square(p[2]-q[2]))
}

// No two meanings look alike, in any picture: they differ in their hatching or
// clearly in their colour.
func TestNoTwoMeaningsShareAFill(t *testing.T) {
	all := map[string]fill{}
	for cause, f := range causeFills {
		all[cause] = f
	}
	for k, f := range stopFills {
		all[fmt.Sprint("stop ", k)] = f
	}
	for k, f := range elsewhereUse {
		all[fmt.Sprint("elsewhere ", k)] = f
	}
	assert.Len(t, stopFills, mostStops)
	for a, f := range all {
		for b, g := range all {
			if a < b && f.h == g.h && apart(f.c, g.c) < 8 {
				t.Errorf("%s and %s look alike: %v, %v", a, b, f, g)
			}
		}
	}
	// Stops that lie beside each other differ in colour too.
	for k := 1; k < len(stopFills); k++ {
		assert.Greater(t, apart(stopFills[k].c, stopFills[k-1].c), 8., k)
	}
}

// A colour means one thing: what is no cause has none of the colours of causes, whatever the
// hatching, and the lines of alternatives, of unwind and rewind and of a target have colours
// that no fill has.
func TestAColourMeansOneThing(t *testing.T) {
	fills := map[string]color.NRGBA{}
	for k, c := range causeColours {
		fills[fmt.Sprint("cause ", k)] = c
	}
	for k, f := range elsewhereUse {
		for name, c := range fills {
			assert.GreaterOrEqual(t, apart(f.c, c), 8., "elsewhere %d and %s", k, name)
		}
		fills[fmt.Sprint("elsewhere ", k)] = f.c
	}
	lines := map[color.NRGBA]bool{ofUnwind: true, ofRewind: true, goalInk: true}
	for c := range lines {
		for _, s := range strokes {
			assert.GreaterOrEqual(t, apart(s.c, c), 8., "%v and %v", s.c, c)
		}
	}
	for _, s := range strokes {
		lines[s.c] = true
	}
	for c := range lines {
		for name, f := range fills {
			assert.GreaterOrEqual(t, apart(f, c), 8., "a line of %v and %s", c, name)
		}
	}
}

// What a line stands for is drawn as itself, not with the causes for which no fill is
// left.
func TestEachHoldHasAFill(t *testing.T) {
	for _, hold := range sim.CausesOfStops(&model.Line{Orders: &model.Orders{}}) {
		assert.Contains(t, causeFills, hold)
	}
	rs := invented.Results()
	for i := range rs.Alternatives {
		r := &rs.Alternatives[i]
		r.Names = append(r.Names, metric.StoppedBy+metric.HoldNoOrder)
		r.Metrics[metric.StoppedBy+metric.HoldNoOrder] = invented.Share(0.1, 0.01)
	}
	text := sound(t, "hours-no-order", Hours(rs))
	has(t, text, words.LabelOf(metric.StoppedBy+metric.HoldNoOrder).Text)
	assert.NotContains(t, text, words.OtherStops)
}

// stopped are results with so many named stops, each of a share of its own.
func stopped(n int) *replicate.Results {
	rs := invented.Results()
	for a := range rs.Alternatives {
		r := &rs.Alternatives[a]
		for k := range n {
			name := fmt.Sprintf("time.stopped.stop.a cause of stops with a long name, number %d", k)
			r.Names = append(r.Names, name)
			r.Metrics[name] = invented.Share(0.001+0.00001*float64(k), 0)
		}
	}
	return rs
}

// painted are the colours with which boxes of a picture are filled.
func painted(t *testing.T, p *Picture) map[color.Color]int {
	t.Helper()
	var rec recorder.Canvas
	p.draw(draw.NewCanvas(&rec, p.W, p.H))
	var now color.Color
	seen := map[color.Color]int{}
	for _, a := range rec.Actions {
		switch a := a.(type) {
		case *recorder.SetColor:
			now = a.Color
		case *recorder.Fill:
			seen[now]++
		}
	}
	return seen
}

// Up to twenty causes and more each have a fill, the same in the key and in
// every alternative; the key names each once.
func TestEachCauseHasItsFill(t *testing.T) {
	for _, n := range []int{0, 9, 14, 20, mostStops - 1} {
		rs := stopped(n)
		fills, seen := fillsOf(rs), map[fill]string{}
		for _, r := range rs.Alternatives {
			for _, name := range r.Names {
				if m, _ := metric.Of(name); !m.IsPart() || m.Group != metric.Hours {
					continue
				}
				f := fills(words.CauseOf(name))
				if other, ok := seen[f]; ok && other != name {
					t.Errorf("%d stops: %s and %s have one fill", n, other, name)
				}
				seen[f] = name
			}
		}
		text := sound(t, fmt.Sprintf("hours-%d", n), Hours(rs))
		for k := range n {
			has(t, text, fmt.Sprintf("number %d", k))
		}
		assert.NotContains(t, text, words.OtherStops)
	}
}

// What is beyond is drawn together, and the bar is whole all the same.
func TestStopsBeyondTheFillsAreDrawnTogether(t *testing.T) {
	rs := stopped(mostStops + 5)
	at := stopsIn(rs)
	assert.Len(t, at, mostStops)
	assert.NotContains(t, at, "stop.a cause of stops with a long name, number 0", "the least goes first")
	assert.Contains(t, at, fmt.Sprintf("stop.a cause of stops with a long name, number %d", mostStops+4))
	has(t, sound(t, "hours-many", Hours(rs)), words.OtherStops)
	assert.Positive(t, painted(t, Hours(rs))[color.Color(otherStops.c)])
}

// What the hours and the web are lost to is one cause, with one fill; a stop
// that is named like a hold of the line is another.
func TestOneCauseInHoursAndWeb(t *testing.T) {
	for _, pair := range [][2]string{{"time.stopped.web_break", "waste.web_break"}, {"time.stopped.changeover", "waste.changeover"},
		{"time.stopped.unwind_change", "waste.splice"}, {"time.stopped.rewind_change", "waste.transfer"}, {"time.ramping", "waste.restart"}} {
		assert.Equal(t, words.CauseOf(pair[0]), words.CauseOf(pair[1]))
		assert.Contains(t, causeFills, words.CauseOf(pair[0]))
	}
	assert.NotEqual(t, words.CauseOf("time.stopped.changeover"), words.CauseOf("time.stopped.stop.changeover"))
	for _, name := range []string{"time.running", "time.slowed", "time.stopped.unwind_depleted", "time.stopped.rewind_full", "time.stopped.crew_break", "waste.residual", "waste.stop", "waste.rejected"} {
		assert.Contains(t, causeFills, words.CauseOf(name))
	}
}

// Alternatives keep apart by colour, dashes or mark, more of them than a study has.
func TestStrokesDiffer(t *testing.T) {
	seen := map[string]int{}
	for i := range 64 {
		s := strokeOf(i)
		k := fmt.Sprintf("%v %v %T", s.c, s.dashes, s.glyph)
		if other, ok := seen[k]; ok {
			t.Errorf("alternatives %d and %d are drawn alike", other, i)
		}
		seen[k] = i
	}
	assert.Equal(t, strokes[2].dashes, strokeOf(2).dashes)
}
