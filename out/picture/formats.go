package picture

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"regexp"
	"slices"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"rollchange/out/words"
)

// In SVG the type is named, not part of the file. Where the one that the
// picture was laid out with is missing, one as wide takes its place.
var (
	svgType  = []byte(`style="font-family:Liberation Sans;`)
	svgTypes = []byte(`style="font-family:Liberation Sans,Arial,Helvetica,sans-serif;`)
)

// svgSize is the size in the head of an SVG.
var svgSize = regexp.MustCompile(`width="[^"]*pt" height="[^"]*pt"`)

// writeSVG writes an SVG of a size with types to fall back on.
func writeSVG(w io.Writer, c io.WriterTo, width, height vg.Length) error {
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return err
	}
	data := bytes.ReplaceAll(b.Bytes(), svgType, svgTypes)
	if at := svgSize.FindIndex(data); at != nil {
		size := fmt.Sprintf(`width="%.5gpt" height="%.5gpt"`, width, height)
		data = slices.Concat(data[:at[0]], []byte(size), data[at[1]:])
	}
	_, err := w.Write(data)
	return err
}

// pdfCanvas gives a PDF what its writer expects: colours that are not weighed
// by how opaque they are, and text in its code page.
type pdfCanvas struct{ vg.CanvasWriterTo }

// SetColor sets the colour of what follows.
func (p pdfCanvas) SetColor(c color.Color) {
	p.CanvasWriterTo.SetColor(unweighed{color.NRGBAModel.Convert(c).(color.NRGBA)})
}

// FillString writes text.
func (p pdfCanvas) FillString(f font.Face, at vg.Point, s string) {
	p.CanvasWriterTo.FillString(f, at, codePage(s))
}

// pngCanvas draws a sign in place of each letter that the type lacks: a name in another
// script is seen to be there. A viewer of SVG has types of its own for it.
type pngCanvas struct{ vg.CanvasWriterTo }

// FillString writes text.
func (p pngCanvas) FillString(f font.Face, at vg.Point, s string) {
	p.CanvasWriterTo.FillString(f, at, shown(f, s))
}

// shown is text with a box for each letter that a type lacks. Marks on letters take no
// place of their own: one that is lacking is left out.
func shown(f font.Face, s string) string {
	return strings.Map(func(r rune) rune {
		switch i, err := f.Face.GlyphIndex(nil, r); {
		case err == nil && i != 0:
			return r
		case words.Columns(string(r)) == 0:
			return -1
		}
		return '□'
	}, s)
}

// unweighed is a colour whose red, green and blue are as if it were opaque.
type unweighed struct{ color.NRGBA }

// RGBA gives the parts of the colour.
func (c unweighed) RGBA() (r, g, b, a uint32) {
	return uint32(c.R) * 0x101, uint32(c.G) * 0x101, uint32(c.B) * 0x101, uint32(c.A) * 0x101
}

// codePage writes text in code page 1252; what is not in it becomes a question mark.
func codePage(s string) string {
	// The signs of the code page from 0x80 on, before those of Latin-1.
	const signs = "€\x00‚ƒ„…†‡ˆ‰Š‹Œ\x00Ž\x00\x00‘’“”•–—˜™š›œ\x00žŸ"
	var b []byte
	for _, r := range s {
		c := byte('?')
		if r < 0x80 || r >= 0xa0 && r <= 0xff {
			c = byte(r)
		}
		k := byte(0x80)
		for _, sign := range signs {
			if sign == r && r >= 0x80 {
				c = k
			}
			k++
		}
		b = append(b, c)
	}
	return string(b)
}
