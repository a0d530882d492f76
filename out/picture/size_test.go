package picture

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"rollchange/model"
	"rollchange/out/invented"
)

// A picture that is resized keeps its proportions, and its drawing fills it.
func TestResized(t *testing.T) {
	p := Line("a", invented.StorageLine(), model.Metric)
	for _, x := range []struct{ w, h, want vg.Length }{{0, 0, p.W}, {360, 0, 360}, {0, p.H / 2, p.W / 2}, {2 * p.W, p.H, p.W}, {p.W, 3 * p.H, p.W}} {
		q := p.resized(x.w, x.h)
		if math.Abs(float64(q.W-x.want)) > 1e-6 || math.Abs(float64(q.W/q.H-p.W/p.H)) > 1e-9 {
			t.Errorf("%v by %v: %v by %v", x.w, x.h, q.W, q.H)
		}
		var b bytes.Buffer
		if err := q.Write(&b, "svg"); err != nil || strings.Contains(b.String(), "NaN") {
			t.Errorf("%v by %v: %v", x.w, x.h, err)
		}
	}
}

func TestParseSize(t *testing.T) {
	for s, want := range map[string]vg.Length{"160 mm": 160 * vg.Millimeter, "6.3in": 6.3 * vg.Inch, "960 px": 720, "20cm": 200 * vg.Millimeter, "300pt": 300} {
		if x, err := ParseSize(s); err != nil || math.Abs(float64(x-want)) > 1e-9 {
			t.Errorf("%s: %v %v", s, x, err)
		}
	}
	for _, s := range []string{"", "160", "wide", "1 mm", "9 km", "NaN mm", "-5 cm", "1e9 in", "Inf px"} {
		if _, err := ParseSize(s); err == nil {
			t.Errorf("%q is no size", s)
		}
	}
}

// The drawing of a line names what it shows, says when it has no scale, and
// stays within its edges whatever the sizes.
func TestLinePlot(t *testing.T) {
	l := invented.StorageLine()
	s := sound(t, "line", Line("=cmd('x') <b>", l, model.Metric))
	has(t, s, "The line, from its side: =cmd('x') <b>", "unwind, splice at rest", "rewind, transfer at rest", "storage 40 m", "strands not given", "not to scale")
	l.Web = model.Web{Caliper: 1e-4, Width: 1.3, Grammage: 0.09}
	l.Unwind.Roll = model.RollSize{Length: model.Const(8000), Core: 0.15}
	l.Unwind.Storage.Strands, l.Unwind.Storage.Travel = 16, 2.5
	l.Rewind.Roll = model.RollSize{Length: model.Const(4000), Core: 0.15}
	s = sound(t, "line-scale", Line("a", l, model.Metric))
	has(t, s, "parent roll 8000 m", "diameter 1020 mm", "on a core of 150 mm", "16 strands", "carriage travel 2.5 m", "1 m: diameters and heights to scale")
	for _, metres := range []float64{1, 200, 8000, 1e5, 1e7} {
		l.Unwind.Roll.Length = model.Const(metres)
		d := newLineDrawing(l, model.Metric)
		if w := d.wide(); w > 700 && d.scale > 1 {
			t.Errorf("a roll of %g m makes the line %v wide", metres, w)
		}
	}
}
