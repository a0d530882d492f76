package picture

import (
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// flag is a level that is marked by an upright line with its name at the top.
type flag struct {
	x     vg.Length
	label string
}

// flagRow is the height of the name of a flag.
const flagRow = 13

// flagPlace is where the name of a flag is and how high its line goes.
type flagPlace struct {
	left bool // the name is left of the line
	row  int  // 0 is the highest
}

func (f flag) area(s text.Style, p flagPlace, top vg.Length) area {
	x0 := f.x + 4
	if p.left {
		x0 = f.x - 4 - width(s, f.label)
	}
	y := top - 8 - flagRow*vg.Length(p.row)
	return area{x0, x0 + width(s, f.label), y - 6, y + 6}
}

// placeFlags finds a row and a side for each name such that no line runs
// through a name and none leaves the picture; with few flags every order is tried.
func placeFlags(flags []flag, s text.Style, from, to, top vg.Length) []flagPlace {
	n := len(flags)
	best, least := make([]flagPlace, n), 1<<30
	at := make([]flagPlace, n)
	var try func(i, used int)
	try = func(i, used int) {
		if i == n {
			cost := 0
			for k, f := range flags {
				a := f.area(s, at[k], top)
				if a.x0 < from || a.x1 > to {
					cost += 100
				}
				if at[k].left != (f.x > (from+to)/2) {
					cost++
				}
				for m, other := range flags { // its line ends at its own row
					if b := other.area(s, at[m], top); m != k && f.x > b.x0-3 && f.x < b.x1+3 && at[k].row <= at[m].row {
						cost += 10
					}
				}
			}
			if cost < least {
				least = cost
				copy(best, at)
			}
			return
		}
		for row := range n {
			if used&(1<<row) != 0 {
				continue
			}
			for _, left := range []bool{false, true} {
				at[i] = flagPlace{left, row}
				try(i+1, used|1<<row)
			}
		}
	}
	try(0, 0)
	return best
}

// raise draws flags from the height bottom up, their names at the top of c.
func raise(c draw.Canvas, flags []flag, bottom vg.Length, line draw.LineStyle) {
	s := sans(style(small, line.Color))
	for i, p := range placeFlags(flags, s, c.Min.X, c.Max.X, c.Max.Y) {
		f := flags[i]
		a := f.area(s, p, c.Max.Y)
		c.StrokeLine2(line, f.x, bottom, f.x, a.y1)
		c.FillText(s, vg.Point{X: a.x0, Y: (a.y0 + a.y1) / 2}, f.label)
	}
}
