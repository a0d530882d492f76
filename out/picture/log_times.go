package picture

import (
	"time"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/out/words"
	laws "rollchange/scenarios/fit"
	"rollchange/scenarios/learn"
)

// LogTimes draws when a line stopped: for each cause a tick at every stop and, above
// them, how many there had been, as a share of all. It is nil where no time passes.
func LogTimes(l *learn.Line) *Picture {
	log := l.Log
	if !log.To.After(log.From) {
		return nil
	}
	causes := l.Causes[:min(len(l.Causes), words.MostCausesDrawn)]
	const w, inner, each, box, top = 720, 720 - 22, 46, 40, 40
	notes := []note{{func(c draw.Canvas, at vg.Point) { stopTick(c, at.X, at.Y-4) }, words.LogTimesEach},
		{func(c draw.Canvas, at vg.Point) { c.StrokeLine2(soFar, at.X-8, at.Y-3, at.X+8, at.Y+3) }, words.LogTimesLine}}
	if more := words.MoreCauses(len(l.Causes) - len(causes)); more != "" {
		notes = append(notes, note{nil, more})
	}
	names := vg.Length(0)
	for i := range causes {
		for _, line := range causeLines(words.CauseName(causes[i].Text)) {
			names = max(names, width(sans(style(10, ink)), line))
		}
	}
	height := vg.Length(each * len(causes))
	return &Picture{W: w, H: top + height + 30 + notesHeight(notes, inner-8) + 16, draw: func(c draw.Canvas) {
		c.FillText(sans(style(13, ink)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 8}, words.TitleTimes)
		high := c.Max.Y - top
		low := high - height
		x := scale{low: 0, high: log.To.Sub(log.From).Seconds(), from: c.Min.X + 4 + names + 8, to: c.Max.X - 28}
		acrossAxis(c, x, dayTicks(log.From, log.To), low, high, "")
		for i := range causes {
			bottom := high - each*vg.Length(i+1)
			causeName(c, words.CauseName(causes[i].Text), x.from-8, bottom+box/2)
			a := area{x.from, x.to, bottom, bottom + box}
			c.StrokeLines(draw.LineStyle{Color: faint, Width: 0.6}, closed(a.corners()))
			c.StrokeLine2(draw.LineStyle{Color: quiet, Width: 0.5}, a.x0, a.y0+ticksHigh, a.x1, a.y1)
			var at []float64
			for _, s := range log.StopsOf(causes[i].Text) {
				at = append(at, s.Start.Sub(log.From).Seconds())
			}
			stopsOver(c, a, x, at)
		}
		drawNotes(c, notes, c.Min.X+4, low-18, inner-8)
	}}
}

// ticksHigh is the height of the ticks of stops.
const ticksHigh = 8

// soFar is the line of the stops so far.
var soFar = draw.LineStyle{Color: deep, Width: 1.4}

func stopTick(c draw.Canvas, x, bottom vg.Length) {
	c.StrokeLine2(draw.LineStyle{Color: accent, Width: 0.6}, x, bottom, x, bottom+ticksHigh-1)
}

// stopsOver draws stops at rising times, what would fall on one place once.
func stopsOver(c draw.Canvas, a area, x scale, times []float64) {
	const apart = 0.5
	at := func(i int, t float64) vg.Point {
		share := vg.Length(i) / vg.Length(max(1, len(times)))
		return vg.Point{X: min(max(x.at(t), a.x0), a.x1), Y: a.y0 + ticksHigh + share*(a.y1-a.y0-ticksHigh)}
	}
	line := []vg.Point{at(0, 0)}
	last := a.x0 - apart
	for i, t := range times {
		p := at(i+1, t)
		if p.X-last >= apart {
			stopTick(c, p.X, a.y0)
			last = p.X
		}
		if before := line[len(line)-1]; p.X-before.X >= apart || p.Y-before.Y >= apart || i == len(times)-1 {
			line = append(line, vg.Point{X: p.X, Y: before.Y}, p)
		}
	}
	line = append(line, vg.Point{X: a.x1, Y: line[len(line)-1].Y})
	c.StrokeLines(soFar, line)
}

// dayTicks are at whole hours, days, months or years of the clock on the wall, at most
// nine. A clock that is put forward over a tick, as it is at midnight in some places, has
// it when it goes on.
func dayTicks(from, to time.Time) []plot.Tick {
	const most, day = 8, 24 * time.Hour
	var ticks []plot.Tick
	y, m, d := from.Date()
	for _, step := range []time.Duration{time.Hour, 3 * time.Hour, 6 * time.Hour, 12 * time.Hour, day, 2 * day, 7 * day, 14 * day} {
		if to.Sub(from)/step >= most {
			continue
		}
		last := time.Time{}
		for after := time.Duration(0); ; after += step {
			t := laws.Shown(y, m, d, after, from.Location())
			if t.After(to) {
				return ticks
			}
			if !t.Before(from) && t.After(last) {
				ticks = append(ticks, plot.Tick{Value: t.Sub(from).Seconds(), Label: words.DayText(t, step < day)})
				last = t
			}
		}
	}
	for months := 1; ; months *= 2 {
		if to.Sub(from) >= most*30*day*time.Duration(months) {
			continue
		}
		for ; ; m += time.Month(months) {
			t := laws.Shown(y, m, 1, 0, from.Location())
			if t.After(to) {
				return ticks
			}
			if !t.Before(from) {
				ticks = append(ticks, plot.Tick{Value: t.Sub(from).Seconds(), Label: words.DayText(t, false)})
			}
		}
	}
}
