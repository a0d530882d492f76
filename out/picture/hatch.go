package picture

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A hatching is lines drawn over a fill, so that two fills of like lightness
// differ without colour too.
type hatching struct {
	rise  float64   // 1 up to the right, -1 down, 0 level
	apart vg.Length // between lines
	dark  bool
}

// hatchings go with fills, one each; the zero value is plain.
var hatchings = [len(fills)]hatching{
	2: {1, 6, true}, 3: {-1, 6, false}, 5: {0, 4, false}, 6: {-1, 6, true}, 7: {1, 6, false}, 8: {0, 4, true}, 9: {1, 4, false},
}

// hatch draws the hatching of fill k into a box.
func hatch(c draw.Canvas, x0, x1, y0, y1 vg.Length, k int) {
	h := hatchings[k%len(hatchings)]
	if h.apart == 0 || x1-x0 < 1 {
		return
	}
	line := draw.LineStyle{Color: color.NRGBA{0xff, 0xff, 0xff, 0x66}, Width: 0.7}
	if h.dark {
		line.Color = color.NRGBA{0x1f, 0x29, 0x33, 0x55}
	}
	if h.rise == 0 {
		for y := y0 + h.apart/2; y < y1; y += h.apart {
			c.StrokeLine2(line, x0, y, x1, y)
		}
		return
	}
	// Along the lines y = y0 + rise (x - start) the box is entered and left
	// where x or y reach its edges.
	height := y1 - y0
	for start := x0 - height; start < x1; start += h.apart * 1.4 {
		from, to := max(start, x0), min(start+height, x1)
		if from >= to {
			continue
		}
		a, b := y0+from-start, y0+to-start
		if h.rise < 0 {
			a, b = y1-(from-start), y1-(to-start)
		}
		c.StrokeLine2(line, from, a, to, b)
	}
}
