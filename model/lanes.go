package model

// LaneCount is how many rolls the rewind makes side by side: the lanes that the web
// is slit into, one where it is not slit. They are changed together, as a set.
func (w *Rewind) LaneCount() int { return max(1, w.Lanes) }

// TrimShare is the share of the width that is trimmed off at the edges, 0 where none
// is or the width is not given.
func (l *Line) TrimShare() float64 {
	if l.Web.Width <= 0 {
		return 0
	}
	return l.Rewind.Trim / l.Web.Width
}

// GoodWidth is the width of the web without its trim, m; 0 where the width is not given.
func (l *Line) GoodWidth() float64 { return l.Web.Width - l.Rewind.Trim }

// LaneWeb is the web of one lane, as it is on a finished roll: (width - trim) / lanes
// wide.
func (l *Line) LaneWeb() Web {
	web := l.Web
	web.Width = l.GoodWidth() / float64(l.Rewind.LaneCount())
	return web
}
