package records

import (
	"math"
	"strings"

	"rollchange/scenarios/cells"
)

// moment is a date and a time of day as a row says them.
type moment struct {
	kind    readKind
	finding Kind // bad: what is wrong
	at      int  // column that it is about, from 0
	text    string
	days    int64 // since 1970
	clock   int64 // ms since midnight
	dated   bool
	timed   bool
	carried bool  // its day is that of a row above
	offset  int64 // ms east of Greenwich
	zoned   bool
}

type readKind int8

const (
	missing readKind = iota
	fine
	bad
)

// wall is the moment in ms since 1970 on the clock on the wall.
func (m *moment) wall() int64 { return m.days*day + m.clock }

// moment reads a date and a time from one column or two.
func (r *reader) moment(row *cells.Row, dateRole, timeRole Role) (moment, bool) {
	v, at := r.value(row, timeRole)
	m := r.read(v, at, r.col[dateRole] >= 0)
	if m.kind == bad || m.dated || r.col[dateRole] < 0 {
		return m, m.kind == fine
	}
	v, at = r.value(row, dateRole)
	d := r.read(v, at, false)
	switch {
	case d.kind == bad:
		return d, false
	case d.kind == fine && d.dated:
		if m.kind == missing { // a column of dates may hold the time as well
			return d, true
		}
		m.days, m.dated = d.days, true
		if dateRole == Date {
			r.lastDay, r.dayKnown = d.days, true
		}
	case m.kind == fine && dateRole == Date && r.dayKnown:
		m.days, m.dated, m.carried = r.lastDay, true, true
	}
	return m, m.kind == fine
}

// read reads one cell. With clocks a number may be a time of day.
func (r *reader) read(v cells.Value, at int, clocks bool) moment {
	text := strings.TrimSpace(v.Text)
	m := moment{kind: fine, at: at, text: text}
	wrong := func(k Kind) moment { m.kind, m.finding = bad, k; return m }
	x, isNumber := v.Number, v.Is != cells.Words
	if !isNumber {
		if text == "" {
			m.kind = missing
			return m
		}
		if s, ok := parseStamp(text); ok && !(s.meta.dotted && s.date == noDate && !clocks) {
			m.clock, m.timed, m.offset, m.zoned = s.clock, s.timed, s.offset, s.zoned
			if s.date != noDate {
				if m.days, m.dated = s.days(r.und.Dates); !m.dated {
					return wrong(NoSuchDay)
				}
			}
			return m
		}
		if len(text) > longestStamp {
			return wrong(BadTime)
		}
		var rest string
		decimal := byte('.')
		if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
			decimal = ','
		}
		if x, rest, isNumber = number(text, decimal); !isNumber || rest != "" {
			return wrong(BadTime)
		}
	}
	switch ms := unix(x); {
	case ms > 0:
		m.days, m.clock, m.dated, m.timed, m.zoned = ms/day, ms%day, true, true, true
	case serial(x):
		epoch := int64(25569) // 1970 counted from 30 December 1899
		if r.date1904 {
			epoch = 24107
		}
		s := int64(math.Round(x * 86400)) // a serial number is good to a second, not to a millisecond
		m.days, m.clock, m.dated, m.timed = s/86400-epoch, s%86400*second, true, true
		if v.Is == cells.Moment && x == math.Trunc(x) && !strings.Contains(text, ":") {
			m.timed = false // a day alone
		}
	case x >= 0 && x <= 1 && (clocks || v.Is == cells.Moment):
		m.clock, m.timed = int64(math.Round(x*86400))*second, true
	default:
		return wrong(BadTime)
	}
	return m
}
