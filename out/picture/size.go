package picture

import (
	"fmt"
	"image"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// resized is the picture at another width or height, its proportions kept: with
// both it fits into them. A length of 0 leaves that side free.
func (p *Picture) resized(w, h vg.Length) *Picture {
	f := 1.0
	switch {
	case w > 0 && h > 0:
		f = min(float64(w/p.W), float64(h/p.H))
	case w > 0:
		f = float64(w / p.W)
	case h > 0:
		f = float64(h / p.H)
	}
	if f == 1 {
		return p
	}
	q := *p
	q.W, q.H, q.scale = vg.Length(f)*p.W, vg.Length(f)*p.H, f
	if p.scale > 0 {
		q.scale *= p.scale
	}
	return &q
}

// canvas is what a picture is drawn on, in its own size: a PNG takes its scale
// from the density of its points, an SVG from its head, a PDF from its axes.
func (p *Picture) canvas(format string) (c vg.CanvasWriterTo, w, h vg.Length, err error) {
	f := vg.Length(1)
	if p.scale > 0 {
		f = vg.Length(p.scale)
	}
	w, h = p.W/f, p.H/f
	switch {
	case format == "png" && f != 1:
		size := image.Rect(0, 0, int(math.Round(p.W.Dots(vgimg.DefaultDPI))), int(math.Round(p.H.Dots(vgimg.DefaultDPI))))
		c = pngCanvas{vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseImage(image.NewRGBA(size)), vgimg.UseDPI(int(vgimg.DefaultDPI*f)))}}
	case format == "pdf":
		if c, err = draw.NewFormattedCanvas(p.W, p.H, format); err == nil {
			c.Scale(float64(f), float64(f))
			c = pdfCanvas{c}
		}
	default:
		if c, err = draw.NewFormattedCanvas(w, h, format); err == nil && format == "png" {
			c = pngCanvas{c}
		}
	}
	return c, w, h, err
}

// margin is what Write leaves free: at the left and below, at the right and above.
var margin = vg.Rectangle{Min: vg.Point{X: 10, Y: 8}, Max: vg.Point{X: 12, Y: 8}}

// inside is the part of a picture within its margins.
func inside(w, h vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: margin.Min, Max: vg.Point{X: w - margin.Max.X, Y: h - margin.Max.Y}}
}

// sizes are the units of the size of a picture.
var sizes = []struct {
	name string
	of   vg.Length
}{{"mm", vg.Millimeter}, {"cm", vg.Centimeter}, {"in", vg.Inch}, {"px", vg.Inch / 96}, {"pt", 1}}

// ParseSize reads the width or height of a picture: "160 mm", "6.3 in", "800 px".
func ParseSize(s string) (vg.Length, error) {
	for _, u := range sizes {
		if number, ok := strings.CutSuffix(strings.TrimSpace(s), u.name); ok {
			x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
			size := vg.Length(x) * u.of
			if err == nil && size >= 20*vg.Millimeter && size <= 2000*vg.Millimeter {
				return size, nil
			}
		}
	}
	return 0, fmt.Errorf("%q: write a size from 20 mm to 2000 mm, as in \"160 mm\" (mm, cm, in, px, pt)", s)
}

// Sized reads the size that a picture is asked for, empty for its own.
func Sized(p *Picture, width, height string) (*Picture, error) {
	var size [2]vg.Length
	for i, s := range []string{width, height} {
		if s == "" {
			continue
		}
		x, err := ParseSize(s)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", []string{"--width", "--height"}[i], err)
		}
		size[i] = x
	}
	return p.resized(size[0], size[1]), nil
}
