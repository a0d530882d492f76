package picture

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/scenarios/learn"
)

// lost is a bar of hours.
type lost struct {
	name, says string
	hours      float64
	fill       fill
}

// LogLost draws the hours that a line stood still, by cause, the largest first; causes
// beyond words.MostCausesDrawn are one bar, the last.
func LogLost(l *learn.Line) *Picture {
	var bars []lost
	others, hours, share, stops := 0, 0.0, 0.0, 0
	for i := range l.Causes {
		c := &l.Causes[i]
		if len(l.Causes) > words.MostCausesDrawn && i >= words.MostCausesDrawn-1 {
			others, hours, share, stops = others+1, hours+c.Lost/3600, share+c.Share, stops+c.Stops
			continue
		}
		bars = append(bars, lost{words.CauseName(c.Text), words.LostText(c.Lost/3600, 100*c.Share, c.Stops), c.Lost / 3600, lostHours})
	}
	if others > 0 {
		bars = append(bars, lost{words.OtherCauses(others), words.LostText(hours, 100*share, stops), hours, otherStops})
	}
	const w, each, top, bottom = 720, 30, 40, 44
	s := sans(style(10, ink))
	names, texts, most := vg.Length(0), vg.Length(0), 0.0
	for _, b := range bars {
		for _, line := range causeLines(b.name) {
			names = max(names, width(s, line))
		}
		texts, most = max(texts, width(s, b.says)), max(most, b.hours)
	}
	if most <= 0 {
		most = 1
	}
	return &Picture{W: w, H: vg.Length(top + each*len(bars) + bottom), draw: func(c draw.Canvas) {
		c.FillText(sans(style(13, ink)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 8}, words.TitleLost)
		high := c.Max.Y - top
		low := high - vg.Length(each*len(bars))
		x := scale{high: most, from: c.Min.X + 4 + names + 8, to: c.Max.X - texts - 8}
		acrossAxis(c, x, x.ticks(), low, high, words.AxisLost)
		for i, b := range bars {
			mid := high - each*(vg.Length(i)+0.5)
			causeName(c, b.name, x.from-8, mid)
			a := area{x.from, x.at(b.hours), mid - 9, mid + 9}
			b.fill.paint(c, a)
			edge(c, a)
			c.FillPolygon(paper, area{a.x1 + 4, a.x1 + 8 + width(s, b.says), mid - 7, mid + 7}.corners())
			c.FillText(s, vg.Point{X: a.x1 + 6, Y: mid}, b.says)
		}
	}}
}

// causeWide is the room for the name of a cause, in two lines.
const causeWide = 190

func causeLines(name string) []string {
	return inLines(sans(style(10, ink)), legible.Line(name), causeWide, 2)
}

// causeName writes the name of a cause left of x, about a height.
func causeName(c draw.Canvas, name string, x, mid vg.Length) {
	s := sans(style(10, ink))
	s.XAlign = draw.XRight
	lines := causeLines(name)
	for i, line := range lines {
		c.FillText(s, vg.Point{X: x, Y: mid + 11.5*(vg.Length(len(lines)-1)/2-vg.Length(i))}, line)
	}
}
