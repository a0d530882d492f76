package picture

import (
	"image/color"

	"gonum.org/v1/plot/vg/draw"
)

// A hatching is lines drawn over a fill, so that two fills of like lightness
// differ without colour too.
type hatching int

const (
	plain hatching = iota
	rising
	falling
	level
	upright
	trellis // rising and falling
	netted  // level and upright
)

// hatchings are all of them.
var hatchings = [...]hatching{plain, rising, falling, level, upright, trellis, netted}

// paint draws a fill into a box.
func (f fill) paint(c draw.Canvas, a area) {
	c.FillPolygon(f.c, a.corners())
	f.hatch(c, a)
}

// hatch draws the hatching of a fill into a box: dark lines on a bright fill,
// pale ones on a dark one.
func (f fill) hatch(c draw.Canvas, a area) {
	if a.x1-a.x0 < 1 {
		return
	}
	line := draw.LineStyle{Color: color.NRGBA{0xff, 0xff, 0xff, 0x80}, Width: 0.7}
	if bright(f.c) {
		line.Color = color.NRGBA{0x1f, 0x29, 0x33, 0x66}
	}
	if f.h == rising || f.h == trellis {
		slanted(c, a, line, true)
	}
	if f.h == falling || f.h == trellis {
		slanted(c, a, line, false)
	}
	if f.h == level || f.h == netted {
		for y := a.y0 + 2; y < a.y1; y += 4 {
			c.StrokeLine2(line, a.x0, y, a.x1, y)
		}
	}
	if f.h == upright || f.h == netted {
		for x := a.x0 + 2; x < a.x1; x += 4 {
			c.StrokeLine2(line, x, a.y0, x, a.y1)
		}
	}
}

// slanted draws the lines y = y0 + (x - start), or their mirror image, within a box.
func slanted(c draw.Canvas, a area, line draw.LineStyle, up bool) {
	const apart = 6 * 1.4
	height := a.y1 - a.y0
	for start := a.x0 - height; start < a.x1; start += apart {
		from, to := max(start, a.x0), min(start+height, a.x1)
		if from >= to {
			continue
		}
		if up {
			c.StrokeLine2(line, from, a.y0+from-start, to, a.y0+to-start)
		} else {
			c.StrokeLine2(line, from, a.y1-(from-start), to, a.y1-(to-start))
		}
	}
}
