package records

import (
	"strings"

	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// rec is one row as it was read, before it is a stop.
type rec struct {
	row        *cells.Row
	line, why  string
	note       string
	start, end int64 // ms on the line of time
	length     int64
	wallStart  int64
	wallEnd    int64
	hasEnd     bool
	hasLength  bool
	endTimed   bool  // the end is a time of day alone
	otherStart int64 // the later of two, where the clock was put back; else start
	otherEnd   int64
}

// open readies the columns and the rows.
func (r *reader) open() {
	for role := range r.col {
		r.col[role] = -1
	}
	for i, role := range r.role {
		if role != NoRole {
			r.col[role] = i
		}
	}
	r.data = r.t.Rows[r.head+1:]
}

// found adds a finding.
func (r *reader) found(k Kind, row *cells.Row, at int, other int, ms int64) {
	f := Finding{Kind: k, Row: row.Line, Column: at + 1, Other: other, Seconds: seconds(ms)}
	if at >= 0 && at < len(row.Cells) {
		f.Text = strings.TrimSpace(row.Cells[at].Text)
	}
	r.log.Findings = append(r.log.Findings, f)
}

// rows reads all rows. What cannot be read is left out and found.
func (r *reader) rows() []rec {
	ignore := map[string]bool{}
	for _, text := range r.opt.Ignore {
		ignore[written.Same(text)] = true
	}
	only := written.Same(r.opt.Line)
	recs := make([]rec, 0, len(r.data))
	for i := range r.data {
		row := &r.data[i]
		text := func(role Role) string { v, _ := r.value(row, role); return strings.TrimSpace(v.Text) }
		c := rec{row: row, line: text(LineName), why: text(Cause), note: text(Note)}
		switch {
		case only != "" && r.alike.same(c.line) != only:
			r.log.OtherLines++
		case len(ignore) > 0 && ignore[r.alike.same(c.why)]:
			r.log.Ignored++
			r.moment(row, Date, Start) // its day may be that of the next row
		case r.row(&c):
			recs = append(recs, c)
		}
	}
	r.swap(recs)
	return recs
}

// row reads the times of a row; false when it is left out.
func (r *reader) row(c *rec) bool {
	row := c.row
	if r.head >= 0 {
		for i := r.wide; i < len(row.Cells); i++ {
			r.found(TooWide, row, i, 0, 0)
			return false
		}
		if wide := len(r.t.Rows[r.head].Cells); len(row.Cells) > wide && r.t.Comma != 0 {
			r.found(TooWide, row, wide, 0, 0)
			return false
		}
	}
	s, ok := r.moment(row, Date, Start)
	switch {
	case s.Is == written.Missing:
		r.found(NoStart, row, r.col[Start], 0, 0)
		return false
	case !ok:
		r.found(s.finding(), row, s.at, 0, 0)
		return false
	case !s.Dated:
		r.found(NoDay, row, s.at, 0, 0)
		return false
	case !s.Timed:
		r.found(NoClock, row, s.at, 0, 0)
		return false
	case r.offsets && !s.Zoned:
		r.found(NoOffset, row, s.at, 0, 0)
		return false
	}
	if s.carried {
		if r.lastClock-s.Clock > 12*hour { // the rows have passed midnight
			r.lastDay++
			s.Days++
		}
		r.found(CarriedDay, row, r.col[Date], 0, 0)
	}
	r.lastClock = s.Clock
	var is placed
	if c.start, c.otherStart, is = r.instant(s.wall(), &s); is == never {
		r.found(MissingHour, row, s.at, 0, 0)
		return false
	}
	c.wallStart = s.wall()
	if !r.end(c, &s) {
		return false
	}
	v, at := r.value(row, Length)
	if strings.TrimSpace(v.Text) == "" && v.Is == cells.Words {
		return true
	}
	return r.length(c, v, at)
}

// length reads the duration of a row.
func (r *reader) length(c *rec, v cells.Value, at int) bool {
	if v.Is == cells.Words {
		var m written.Marks
		m.Note(v.Text, 1)
		if d := r.decimal(); d == '.' && m.Comma > 0 || d == ',' && m.Point > 0 {
			r.found(MixedMark, c.row, at, 0, 0)
			return false
		}
	}
	ms, ok := r.span(v).Ms(r.und.Unit*second, r.und.Pair*second)
	switch {
	case !ok:
		r.found(BadLength, c.row, at, 0, 0)
		return false
	case ms < 0:
		r.found(Negative, c.row, at, 0, ms)
		return false
	}
	c.length, c.hasLength = ms, true
	return true
}

// end reads the end of a row.
func (r *reader) end(c *rec, s *moment) bool {
	e, ok := r.moment(c.row, EndDate, End)
	switch {
	case e.Is == written.Missing:
		return true
	case !ok:
		r.found(e.finding(), c.row, e.at, 0, 0)
		return false
	case !e.Timed:
		r.found(NoClock, c.row, e.at, 0, 0)
		return false
	case !e.Dated:
		c.endTimed = true
		e.Days = s.Days
		e.Offset, e.Zoned = s.Offset, s.Zoned
		if e.Clock < s.Clock {
			e.Days++
		}
	case r.offsets && !e.Zoned:
		r.found(NoOffset, c.row, e.at, 0, 0)
		return false
	}
	var is placed
	if c.end, c.otherEnd, is = r.instant(e.wall(), &e); is == never {
		r.found(MissingHour, c.row, e.at, 0, 0)
		return false
	}
	c.wallEnd, c.hasEnd = e.wall(), true
	return true
}

// swap changes start and end where nearly all rows end before they begin: "stop"
// and "start" are the end and the start of a run to some, of a stop to others.
// One that options give stays.
func (r *reader) swap(recs []rec) {
	both, back := 0, 0
	for i := range recs {
		c := &recs[i]
		if c.hasEnd {
			both++
			if !c.endTimed && c.end < c.start || c.endTimed && c.end-c.start > 12*hour {
				back++
			}
		}
	}
	start, end := r.col[Start], r.col[End]
	if both < 5 || 10*back < 9*both || r.why[start] == Given || end >= 0 && r.why[end] == Given || r.col[EndDate] >= 0 {
		return
	}
	r.und.Swapped = true
	r.role[start], r.role[end] = End, Start
	r.why[start], r.why[end] = ByContent, ByContent
	r.col[Start], r.col[End] = end, start
	for i := range recs {
		c := &recs[i]
		if !c.hasEnd {
			continue
		}
		if c.endTimed { // the time of day that stands alone is on the day of the other, or on the day before
			c.end -= day
			c.otherEnd -= day
			c.wallEnd -= day
		}
		c.start, c.end, c.otherStart, c.otherEnd, c.wallStart, c.wallEnd = c.end, c.start, c.otherEnd, c.otherStart, c.wallEnd, c.wallStart
		c.endTimed = false
	}
}
