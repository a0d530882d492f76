package picture

import (
	"bytes"
	"encoding/xml"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
)

// Drawn between records, the storage meets every record and has its lowest
// point where unwind and process run alike: 40 - 2 - 10 - 2 m.
func TestSampledMotion(t *testing.T) {
	log := invented.Motion()
	if s := log[4].UnwindStorage; math.Abs(s-40) > 1e-9 {
		t.Fatalf("the refill of the fixture ends at %g m", s)
	}
	pts := (&timeline{log: log, scale: 1}).sampled(func(r sim.Record, dt float64) float64 {
		return r.UnwindStorage + (r.SpeedU-r.SpeedP)*dt + (r.AccelU-r.AccelP)*dt*dt/2
	})
	least := math.Inf(1)
	for i, p := range pts {
		least = min(least, p.Y)
		if p.Y > 40+1e-9 {
			t.Errorf("%g m at %g s: above the capacity", p.Y, p.X)
		}
		if i > 0 && (p.X < pts[i-1].X || math.Abs(p.Y-pts[i-1].Y) > 2*(p.X-pts[i-1].X)+1e-9) {
			t.Errorf("a jump at %g s", p.X)
		}
	}
	if math.Abs(least-26) > 0.01 {
		t.Errorf("lowest at %g m, want 26", least)
	}
}

// pictures are all kinds of picture, with a name in every place that has one.
func pictures(t *testing.T, name string) map[string]*Picture {
	t.Helper()
	rs := invented.HostileResults(name)
	log := invented.Motion()
	for i := range log {
		log[i].Of, log[i].Event, log[i].Name = sim.OfStop, sim.StopBegins, name
	}
	trace, err := Trace(log, 0, invented.StorageLine(), model.Metric)
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*Picture{"hours": Hours(rs), "waste": Waste(rs), "output": Output(rs, model.Imperial),
		"storage": Storage(rs.Alternatives[1].Lowest, name, invented.StorageLine(), false, model.Metric), "trace": trace}
}

func svg(t *testing.T, p *Picture) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := p.Write(&b, "svg"); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The same result gives the same bytes, and they hold no clock.
func TestPicturesByteStable(t *testing.T) {
	effort.NotInRace(t)
	first := pictures(t, "automatic")
	for name, p := range pictures(t, "automatic") {
		legibly(t, name, p)
		a, b := svg(t, first[name]), svg(t, p)
		if !bytes.Equal(a, b) || !bytes.Equal(b, svg(t, p)) {
			t.Errorf("%s: two drawings differ", name)
		}
		if testing.Short() {
			continue
		}
		var x, y bytes.Buffer
		if p.Write(&x, "png") != nil || first[name].Write(&y, "png") != nil || !bytes.Equal(x.Bytes(), y.Bytes()) {
			t.Errorf("%s: two PNG differ", name)
		}
	}
}

// Names cannot break out of a picture, whatever is in them.
func TestPicturesHostile(t *testing.T) {
	for _, hostile := range effort.Some(invented.HostileNames, 4) {
		for name, p := range pictures(t, hostile) {
			d := xml.NewDecoder(bytes.NewReader(svg(t, p)))
			for {
				tok, err := d.Token()
				if err == io.EOF {
					break
				}
				if err != nil {
					t.Errorf("%s with %.40q is no XML: %v", name, hostile, err)
					break
				}
				if e, ok := tok.(xml.StartElement); ok && strings.EqualFold(e.Name.Local, "script") {
					t.Errorf("%s with %.40q holds a script", name, hostile)
				}
			}
		}
	}
}

func TestPictureSave(t *testing.T) {
	folder := t.TempDir()
	p := Hours(invented.Results())
	for _, name := range []string{"a.svg", "a.png", "a.PNG", "a.pdf"} {
		path := filepath.Join(folder, name)
		if err := CheckName(path); err != nil {
			t.Error(err)
		}
		if err := p.Save(invented.Saver(), path); err != nil {
			t.Error(err)
		}
	}
	f, err := os.Open(filepath.Join(folder, "a.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if im, err := png.Decode(f); err != nil || im.Bounds().Dx() < 600 {
		t.Errorf("%v", err)
	}
	for _, name := range []string{"a.gif", "a", "svg"} {
		path := filepath.Join(folder, name)
		if CheckName(path) == nil || p.Save(invented.Saver(), path) == nil {
			t.Errorf("%s was taken for a picture", name)
		}
	}
	invented.Alone(t, folder, "a.PNG", "a.pdf", "a.png", "a.svg")
}

// No picture is drawn, and nothing panics, where there is nothing to draw.
func TestPicturesOfLittle(t *testing.T) {
	for n := 1; n <= 8; n++ {
		rs := invented.Several(n, func(int) string { return "" })
		for _, p := range []*Picture{Hours(rs), Waste(rs), Output(rs, model.Metric)} {
			svg(t, p)
		}
	}
	for _, p := range []*Picture{Hours(invented.Once()), Waste(invented.Once()), Output(invented.Once(), model.Metric)} {
		if s := svg(t, p); bytes.Contains(s, []byte("NaN")) {
			t.Error("one replication draws NaN")
		}
	}
	none := &replicate.Results{Alternatives: []replicate.Result{{Metrics: replicate.Metrics{}}}, Differences: []replicate.Metrics{nil}}
	for _, p := range []*Picture{Hours(none), Waste(none), Output(none, model.Metric)} {
		if s := svg(t, p); bytes.Contains(s, []byte("NaN")) || bytes.Contains(s, []byte("Inf")) {
			t.Error("a line that made nothing draws NaN")
		}
	}
	if p := Storage(nil, "", nil, false, model.Metric); p != nil {
		t.Error("a picture of no storage")
	}
	if _, err := Trace(invented.Motion()[:1], 0, invented.StorageLine(), model.Metric); err == nil {
		t.Error("a picture of one event")
	}
}

// A PDF keeps colours that are not opaque, and signs beyond ASCII.
func TestPDFColoursAndText(t *testing.T) {
	if got := codePage("5 ± 1 … – € 自é"); got != "5 \xb1 1 \x85 \x96 \x80 ?\xe9" {
		t.Errorf("%q", got)
	}
	if r, g, b, a := (unweighed{color.NRGBA{0xff, 0x80, 0, 0x40}}).RGBA(); r != 0xffff || g != 0x8080 || b != 0 || a != 0x4040 {
		t.Error(r, g, b, a)
	}
}

// A PNG has its type within it: a letter that this lacks is a box, not nothing, in the
// picture as it is and in another size.
func TestLettersThatTheTypeLacks(t *testing.T) {
	s := style(small, ink)
	face := s.Handler.Cache().Lookup(s.Font, s.Font.Size)
	if got := shown(face, "5 ± 1 Жé 自動 e\u0301\U000e0100"); got != "5 ± 1 Жé □□ e\u0301" {
		t.Errorf("%q", got)
	}
	if got := shown(face, "□"); got != "□" {
		t.Error("the type has no box")
	}
	named := func(name string, most vg.Length) []byte {
		var b bytes.Buffer
		p := Hours(invented.Several(2, func(int) string { return name }))
		if err := p.resized(most, 0).Write(&b, "png"); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	for _, most := range []vg.Length{0, 300} {
		if !bytes.Equal(named("自動", most), named("□□", most)) {
			t.Error("letters in a PNG are not boxes")
		}
	}
}

// Where the type of the layout is missing, an SVG asks for one as wide.
func TestSVGType(t *testing.T) {
	s := svg(t, Hours(invented.Several(1, func(int) string { return `style="font-family:Liberation Sans;` })))
	if bytes.Contains(s, svgType) || !bytes.Contains(s, []byte("Liberation Sans,Arial")) || !bytes.Contains(s, []byte("&#34;font-family:Liberation Sans;")) {
		t.Errorf("%s", s)
	}
}
