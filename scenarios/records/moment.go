package records

import (
	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// Milliseconds.
const (
	second = 1000
	minute = 60 * second
	hour   = 60 * minute
	day    = 24 * hour
)

// moment is a date and a time of day as a row says them.
type moment struct {
	written.Moment
	at      int  // column that it is about, from 0
	carried bool // its day is that of a row above
}

// bad says whether something stands there that is no moment.
func (m *moment) bad() bool { return m.Is > written.Fine }

// finding is what is wrong with a bad one.
func (m *moment) finding() Kind {
	if m.Is == written.NoSuchDay {
		return NoSuchDay
	}
	return BadTime
}

// wall is the moment in ms since 1970 on the clock on the wall.
func (m *moment) wall() int64 { return m.Days*day + m.Clock }

// moment reads a date and a time from one column or two.
func (r *reader) moment(row *cells.Row, dateRole, timeRole Role) (moment, bool) {
	v, at := r.value(row, timeRole)
	m := r.read(v, at, r.col[dateRole] >= 0)
	if m.bad() || m.Dated || r.col[dateRole] < 0 {
		return m, m.Is == written.Fine
	}
	v, at = r.value(row, dateRole)
	d := r.read(v, at, false)
	switch {
	case d.bad():
		return d, false
	case d.Is == written.Fine && d.Dated:
		if m.Is == written.Missing { // a column of dates may hold the time as well
			return d, true
		}
		m.Days, m.Dated = d.Days, true
		if dateRole == Date {
			r.lastDay, r.dayKnown = d.Days, true
		}
	case m.Is == written.Fine && dateRole == Date && r.dayKnown:
		m.Days, m.Dated, m.carried = r.lastDay, true, true
	}
	return m, m.Is == written.Fine
}

// read reads one cell. With clocks a number may be a time of day.
func (r *reader) read(v cells.Value, at int, clocks bool) moment {
	return moment{Moment: written.ReadMoment(v, r.und.Dates, r.date1904, clocks), at: at}
}
