package picture

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"rollchange/out/invented"
	"rollchange/out/words"
)

// written text of a picture: what it says and the area that it takes.
type inscription struct {
	text string
	area area
}

// recorded draws a picture and returns its texts and all its points.
func recorded(t *testing.T, p *Picture) (texts []inscription, points []vg.Point) {
	t.Helper()
	var rec recorder.Canvas
	dc := draw.NewCanvas(&rec, p.W, p.H)
	p.draw(draw.Crop(dc, 10, -12, 8, -8))
	path := func(list vg.Path) {
		for _, c := range list {
			if c.Type != vg.CloseComp {
				points = append(points, c.Pos)
			}
		}
	}
	for _, a := range rec.Actions {
		switch a := a.(type) {
		case *recorder.Rotate, *recorder.Translate, *recorder.Scale:
			t.Fatalf("%T: this test reads pictures that turn nothing", a)
		case *recorder.Stroke:
			path(a.Path)
		case *recorder.Fill:
			path(a.Path)
		case *recorder.FillString:
			f := sans(style(a.Size, ink))
			w := width(f, a.String)
			r := area{a.Point.X, a.Point.X + w, a.Point.Y - 0.15*a.Size, a.Point.Y + 0.7*a.Size}
			texts = append(texts, inscription{a.String, r})
			points = append(points, vg.Point{X: r.x0, Y: r.y0}, vg.Point{X: r.x1, Y: r.y1})
		}
	}
	return texts, points
}

// sound checks what holds for every picture: XML, every point a number inside
// the canvas, no text over another; and returns its texts. With PICTURES set it
// leaves the picture in that folder, to be looked at.
func sound(t *testing.T, name string, p *Picture) string {
	t.Helper()
	if p == nil {
		t.Fatalf("%s: no picture", name)
	}
	drawn := svg(t, p)
	if !bytes.Equal(drawn, svg(t, p)) {
		t.Errorf("%s: two drawings differ", name)
	}
	d := xml.NewDecoder(bytes.NewReader(drawn))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%s is no XML: %v", name, err)
		}
		if e, ok := tok.(xml.StartElement); ok && strings.EqualFold(e.Name.Local, "script") {
			t.Errorf("%s holds a script", name)
		}
	}
	texts, points := recorded(t, p)
	legibly(t, name, p)
	for _, q := range points {
		if !words.Finite(float64(q.X)) || !words.Finite(float64(q.Y)) || q.X < 0 || q.Y < 0 || q.X > p.W || q.Y > p.H {
			t.Errorf("%s: a point at %v of %v x %v", name, q, p.W, p.H)
			break
		}
	}
	var all []string
	for i, a := range texts {
		all = append(all, a.text)
		for _, b := range texts[:i] {
			if a.area.meets(b.area) {
				t.Errorf("%s: %q is over %q", name, a.text, b.text)
			}
		}
	}
	if folder := os.Getenv("PICTURES"); folder != "" {
		for _, ending := range []string{".png", ".svg", ".pdf"} {
			if err := p.Save(invented.Saver(), filepath.Join(folder, name+ending)); err != nil {
				t.Error(err)
			}
		}
	}
	return strings.Join(all, "\n")
}

// legibly checks that no text of a picture as wide as the text of a sheet of A4 is smaller than 7 pt.
func legibly(t *testing.T, name string, p *Picture) {
	t.Helper()
	const sheet = (210 - 2*16) * vg.Millimeter
	var rec recorder.Canvas
	p.draw(draw.NewCanvas(&rec, p.W, p.H))
	for _, a := range rec.Actions {
		if s, ok := a.(*recorder.FillString); ok && s.Size*sheet/p.W < 7 {
			t.Errorf("%s: %q has %.1f pt on A4", name, s.String, s.Size*sheet/p.W)
		}
	}
}

// has checks that a picture says something.
func has(t *testing.T, text string, want ...string) {
	t.Helper()
	flat := strings.Join(strings.Fields(text), " ")
	for _, w := range want {
		if !strings.Contains(flat, w) {
			t.Errorf("does not say %q:\n%s", w, text)
		}
	}
}

func TestScaleTicks(t *testing.T) {
	for _, x := range []struct {
		s    scale
		want string
	}{
		{scale{low: 0, high: 100}, "0 20 40 60 80 100"},
		{scale{low: 1e-9, high: 1, log: true}, "1e-8 1e-6 0.0001 0.01 1"},
		{scale{low: 10, high: 100, log: true}, "10 20 50 100"},
		{scale{low: 0.9, high: 1.1, log: true}, "0.9 0.95 1 1.05 1.1"},
	} {
		var got []string
		for _, k := range x.s.ticks() {
			got = append(got, k.Label)
		}
		if s := strings.Join(got, " "); s != x.want {
			t.Errorf("%+v: %s, want %s", x.s, s, x.want)
		}
	}
}

// Labels that are spread keep their order, do not overlap and stay inside.
func TestSpread(t *testing.T) {
	want := []vg.Length{50, 52, 52, 10, 99, 98}
	heights := []vg.Length{10, 20, 10, 10, 10, 10}
	at := spread(want, heights, 0, 100)
	for i := range want {
		if at[i]-heights[i]/2 < -1e-9 || at[i]+heights[i]/2 > 100+1e-9 {
			t.Errorf("%d is at %v", i, at[i])
		}
		for k := range want {
			if i != k && math.Abs(float64(at[i]-at[k])) < float64(heights[i]+heights[k])/2-1e-9 {
				t.Errorf("%d at %v and %d at %v overlap", i, at[i], k, at[k])
			}
			if want[i] > want[k] && at[i] < at[k] {
				t.Errorf("%d and %d changed their order", i, k)
			}
		}
	}
	if at[3] != 10 {
		t.Errorf("what is free moved to %v", at[3])
	}
}
