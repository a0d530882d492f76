package picture

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model/legible"
	"rollchange/out/words"
)

// The look of every picture: dark ink on white, fills that tell apart in grey
// too, one accent, labels at the thing itself.
var (
	ink      = color.NRGBA{0x1f, 0x29, 0x33, 0xff}
	quiet    = color.NRGBA{0x6b, 0x77, 0x85, 0xff}
	faint    = color.NRGBA{0xd5, 0xdb, 0xe1, 0xff}
	accent   = color.NRGBA{0xb4, 0x53, 0x09, 0xff}
	deep     = color.NRGBA{0x0b, 0x4f, 0x6c, 0xff}
	middle   = color.NRGBA{0x3d, 0x8f, 0xa8, 0xff}
	brown    = color.NRGBA{0x5c, 0x3d, 0x2e, 0xff}
	ofUnwind = color.NRGBA{0x1f, 0x7a, 0x4d, 0xff} // a line of the unwind, in a picture of a roll change
	ofRewind = color.NRGBA{0xa1, 0x3d, 0x8f, 0xff} // of the rewind
	goalInk  = color.NRGBA{0x9b, 0x1c, 0x31, 0xff} // what is asked for
	paper    = color.NRGBA{0xff, 0xff, 0xff, 0xff}
)

// A picture is at most so wide and its type at least so large: as wide as the text of a sheet
// of A4 (178 mm, style.css of the page) the smallest has 7 pt.
const (
	wide  vg.Length = 720
	small vg.Length = 10
)

// stroke is how a line is drawn: lines differ in dashes and marks, so that they
// tell apart in grey too.
type stroke struct {
	c      color.NRGBA
	dashes []vg.Length
	glyph  draw.GlyphDrawer
}

var strokes = [...]stroke{
	{deep, nil, draw.CircleGlyph{}}, {accent, []vg.Length{6, 3}, draw.SquareGlyph{}}, {ink, []vg.Length{2, 2}, draw.PyramidGlyph{}},
	{middle, []vg.Length{9, 3, 2, 3}, draw.RingGlyph{}}, {brown, []vg.Length{12, 4}, draw.BoxGlyph{}}, {quiet, []vg.Length{3, 1.5}, draw.CrossGlyph{}},
	{deep, []vg.Length{1, 3}, draw.TriangleGlyph{}}, {accent, []vg.Length{9, 2, 2, 2, 2, 2}, draw.PlusGlyph{}},
}

// strokeOf is how the line of an alternative is drawn in every picture, by its
// place in the study: beyond the table the dashes of one entry with the colour
// and mark of another, so that 64 alternatives differ.
func strokeOf(alternative int) stroke {
	n := len(strokes)
	s := strokes[alternative%n]
	s.dashes = strokes[(alternative+alternative/n)%n].dashes
	return s
}

// marker draws the mark of a line at a point, on white where it is hollow.
func (s stroke) marker(c draw.Canvas, at vg.Point) {
	switch s.glyph.(type) {
	case draw.RingGlyph:
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: paper, Radius: 2.9, Shape: draw.CircleGlyph{}}, at)
	case draw.SquareGlyph:
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: paper, Radius: 2.9, Shape: draw.BoxGlyph{}}, at)
	case draw.TriangleGlyph:
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: paper, Radius: 2.9, Shape: draw.PyramidGlyph{}}, at)
	}
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: s.c, Radius: 2.9, Shape: s.glyph}, at)
}

// bright says whether dark text reads better on a fill than white.
func bright(c color.NRGBA) bool { return contrast(c, ink) >= contrast(c, paper) }

// readable is the colour of text that names a line of a colour: the same where
// it stands out on white, else a darker one.
func readable(c color.NRGBA) color.NRGBA {
	if contrast(c, paper) < leastContrast {
		return deep
	}
	return c
}

// leastContrast is what text needs to be read (W3C, Web Content Accessibility
// Guidelines 2.2, success criterion 1.4.3).
const leastContrast = 4.5

// contrast of two colours, 1 to 21, as those guidelines define it.
func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(c color.NRGBA) float64 {
	part := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*part(c.R) + 0.7152*part(c.G) + 0.0722*part(c.B)
}

// Picture is a drawing that can be saved as SVG, PNG or PDF.
type Picture struct {
	W, H  vg.Length
	draw  func(draw.Canvas)
	scale float64 // of what is drawn; 0: as it is
}

// pictureFormats are the formats of pictures, by the ending of the file.
var pictureFormats = []string{"svg", "png", "pdf"}

func formatOf(path string) (string, error) {
	ext := strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))
	for _, f := range pictureFormats {
		if ext == f {
			return f, nil
		}
	}
	return "", fmt.Errorf("%s: a picture file ends in .svg, .png or .pdf", legible.Visible(path))
}

// CheckName says whether a name is that of a picture: its ending names the format.
func CheckName(path string) error {
	_, err := formatOf(path)
	return err
}

// Saver writes a file whole or not at all; *files.Run is one.
type Saver interface {
	Save(path string, write func(io.Writer) error) error
}

// Save writes the picture, whole or not at all, in the format that the ending
// of path names. The same picture gives the same bytes.
func (p *Picture) Save(to Saver, path string) error {
	format, err := formatOf(path)
	if err != nil {
		return err
	}
	return to.Save(path, func(w io.Writer) error { return p.Write(w, format) })
}

// Write writes the picture in a format: "svg", "png" or "pdf".
func (p *Picture) Write(w io.Writer, format string) error {
	c, width, height, err := p.canvas(format)
	if err != nil {
		return err
	}
	dc := draw.Canvas{Canvas: c, Rectangle: vg.Rectangle{Max: vg.Point{X: width, Y: height}}}
	dc.FillPolygon(color.White, []vg.Point{{X: 0, Y: 0}, {X: width, Y: 0}, {X: width, Y: height}, {X: 0, Y: height}})
	dc.Rectangle = inside(width, height)
	p.draw(dc)
	if format == "svg" {
		return writeSVG(w, c, p.W, p.H)
	}
	_, err = c.WriteTo(w)
	return err
}

// style is text of a size in a colour.
func style(size vg.Length, c color.Color) text.Style {
	return text.Style{Color: c, Font: font.From(plot.DefaultFont, size), Handler: plot.DefaultTextHandler, XAlign: draw.XLeft, YAlign: draw.YCenter}
}

func sans(s text.Style) text.Style {
	s.Font.Variant = "Sans"
	return s
}

// newPlot is an empty plot in the look of the tool.
func newPlot(title, x, y string) *plot.Plot {
	p := plot.New()
	p.Title.Text = words.Shorten(legible.Line(title), 80)
	p.Title.TextStyle = sans(style(13, ink))
	p.Title.TextStyle.XAlign = draw.XCenter
	p.Title.TextStyle.YAlign = draw.YTop
	p.Title.Padding = 8
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Color = quiet
		a.Label.TextStyle.Font, a.Label.TextStyle.Color = sans(style(10, ink)).Font, ink
		a.Tick.Label = withAlign(sans(style(small, quiet)), a.Tick.Label.XAlign, a.Tick.Label.YAlign)
		a.Tick.LineStyle.Color = faint
		a.LineStyle.Color = faint
		a.Tick.Marker = evenTicks{}
		a.Padding = 4
	}
	p.X.Label.Text, p.Y.Label.Text = x, y
	return p
}

// evenTicks puts four to eight labelled ticks at round figures.
type evenTicks struct{}

// Ticks are the ticks from low to high.
func (evenTicks) Ticks(low, high float64) []plot.Tick {
	if !(high > low) {
		return nil
	}
	step := math.Pow(10, math.Floor(math.Log10(high-low)))
	for _, f := range []float64{0.1, 0.2, 0.5, 1} {
		if (high-low)/(step*f) <= 8 {
			step *= f
			break
		}
	}
	var ticks []plot.Tick
	for k := math.Ceil(low/step - 1e-9); k*step <= high*(1+1e-12); k++ {
		ticks = append(ticks, plot.Tick{Value: k * step, Label: words.Short(k*step, 6)})
	}
	return ticks
}

// sharesOf are ticks up to 100 %.
type sharesOf struct{ plot.Ticker }

// Ticks are the ticks from low to high.
func (u sharesOf) Ticks(low, high float64) []plot.Tick {
	return slices.DeleteFunc(u.Ticker.Ticks(low, high), func(t plot.Tick) bool { return t.Value > 100 })
}

// unlabelled are ticks without their labels.
type unlabelled struct{ plot.Ticker }

// Ticks are the ticks from low to high.
func (u unlabelled) Ticks(low, high float64) []plot.Tick {
	list := u.Ticker.Ticks(low, high)
	for i := range list {
		list[i].Label = ""
	}
	return list
}

func withAlign(s text.Style, x text.XAlignment, y text.YAlignment) text.Style {
	s.XAlign, s.YAlign = x, y
	return s
}

// single is a picture of one plot.
func single(p *plot.Plot, w, h vg.Length) *Picture {
	return &Picture{W: w, H: h, draw: func(c draw.Canvas) { p.Draw(c) }}
}
