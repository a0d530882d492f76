package picture

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/out/words"
	"rollchange/sim/match"
)

// periodBand is where the periods of a model lie.
var periodBand = fill{color.NRGBA{0xd5, 0xe6, 0xc3, 0xff}, plain}

// Of the picture of records: rows at most, and how far the scale reaches, in percent.
const (
	mostMatched  = 24
	mostOfMean   = 250
	leastAround  = 8 // to either side of 100
	matchedEach  = 24
	matchedInner = 720 - 22
)

// Match draws what a line really made in percent of what the model expects, over
// where the periods of the model lie; nil when there is nothing to draw.
func Match(a *match.Answer) *Picture {
	var rows []match.Row
	x := scale{low: 100 - leastAround, high: 100 + leastAround}
	for _, r := range a.Rows {
		if r.Figure == match.CauseStops || r.Mean <= 0 && r.Recorded <= 0 || len(rows) == mostMatched {
			continue
		}
		rows = append(rows, r)
		if r.Mean > 0 {
			for _, v := range []float64{r.Recorded, r.Low, r.High} {
				x.low, x.high = min(x.low, 100*v/r.Mean), max(x.high, 100*v/r.Mean)
			}
		}
	}
	if len(rows) == 0 {
		return nil
	}
	x.high = min(x.high, mostOfMean)
	pad := 0.03 * (x.high - x.low)
	x.low, x.high = max(0, x.low-pad), x.high+pad
	label := sans(style(10, ink))
	names := vg.Length(0)
	for _, r := range rows {
		names = max(names, width(label, fit(label, words.MatchLabel(r), 200)))
	}
	const top = 40
	height := vg.Length(matchedEach * len(rows))
	notes := []note{
		{func(c draw.Canvas, at vg.Point) { periodBand.paint(c, area{at.X - 7, at.X + 7, at.Y - 5, at.Y + 5}) }, fmt.Sprintf(words.MatchBand, 100*a.Confidence)},
		{func(c draw.Canvas, at vg.Point) { matchMark(c, at, true) }, words.MatchMark},
		{func(c draw.Canvas, at vg.Point) { matchMark(c, at, false) }, words.MatchFitted},
	}
	return &Picture{W: 720, H: top + height + 44 + notesHeight(notes, matchedInner-8) + 16, draw: func(c draw.Canvas) {
		c.FillText(sans(style(13, ink)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 8}, fit(sans(style(13, ink)), words.TitleMatch, matchedInner-8))
		high := c.Max.Y - top
		low := high - height
		s := x
		s.from, s.to = c.Min.X+4+names+14, c.Max.X-150
		acrossAxis(c, s, s.ticks(), low, high, words.AxisMatch)
		c.StrokeLine2(draw.LineStyle{Color: quiet, Width: 0.8}, s.at(100), low, s.at(100), high)
		for i, r := range rows {
			matchRow(c, r, s, high-matchedEach*(vg.Length(i)+0.5), label)
		}
		drawNotes(c, notes, c.Min.X+4, low-44, matchedInner-8)
	}}
}

// matchRow draws one figure at the height y, with its verdict at the right.
func matchRow(c draw.Canvas, r match.Row, s scale, y vg.Length, label draw.TextStyle) {
	c.FillText(label, vg.Point{X: c.Min.X + 4, Y: y}, fit(label, words.MatchLabel(r), 200))
	clip := func(v float64) vg.Length { return s.at(math.Max(s.low, math.Min(s.high, v))) }
	recorded := s.high
	if r.Mean > 0 {
		a := area{clip(100 * r.Low / r.Mean), clip(100 * r.High / r.Mean), y - 7, y + 7}
		periodBand.paint(c, a)
		edge(c, a)
		recorded = 100 * r.Recorded / r.Mean
	}
	matchMark(c, vg.Point{X: clip(recorded), Y: y}, !r.Fitted)
	says := words.MatchVerdictOf(r)
	if recorded > s.high {
		says += ", " + words.MatchOff
	}
	t := sans(style(small, ink))
	c.FillText(t, vg.Point{X: s.to + 12, Y: y}, fit(t, says, c.Max.X-s.to-14))
}

// matchMark is a recorded figure: a full diamond where it judges, an open one where not.
func matchMark(c draw.Canvas, at vg.Point, judges bool) {
	const half = 5
	corners := []vg.Point{{X: at.X, Y: at.Y + half}, {X: at.X + half, Y: at.Y}, {X: at.X, Y: at.Y - half}, {X: at.X - half, Y: at.Y}}
	fill := color.Color(paper)
	if judges {
		fill = ink
	}
	c.FillPolygon(fill, corners)
	c.StrokeLines(draw.LineStyle{Color: ink, Width: 1}, append(corners, corners[0]))
}
