package records

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// build makes stops of the rows.
func (r *reader) build(recs []rec) {
	r.order(recs)
	starts, ends, lengths := make([]int64, 0, len(recs)), make([]int64, 0, len(recs)), make([]int64, 0, len(recs))
	for i := range recs {
		c := &recs[i]
		starts = append(starts, c.wallStart%day)
		if c.hasEnd {
			ends = append(ends, c.wallEnd%day)
		}
		if c.hasLength {
			lengths = append(lengths, c.length)
		}
	}
	r.und.Start, r.und.End, r.und.Length = stepOf(starts, true), stepOf(ends, true), stepOf(lengths, false)
	by := r.rounding(recs)
	r.log.Stops = make([]Stop, 0, len(recs))
	for i := range recs {
		if s, ok := r.stop(&recs[i], &by); ok {
			r.log.Stops = append(r.log.Stops, s)
		}
	}
	if len(r.log.Stops) == 0 {
		return
	}
	r.lines()
	r.doubles()
	r.period()
	if len(r.log.Stops) > 0 && !r.errs.Any() {
		r.charge()
		r.causes()
	}
}

// order finds out whether rows rise or fall, finds those that do not, and decides
// which of two hours is meant where the clock was put back.
func (r *reader) order(recs []rec) {
	up, down := 0, 0
	last := map[string]int64{}
	for i := range recs {
		c := &recs[i]
		if before, ok := last[c.line]; ok {
			if c.start > before {
				up++
			} else if c.start < before {
				down++
			}
		}
		last[c.line] = c.start
	}
	r.und.Falling = down > up
	clear(last)
	above := map[string]*rec{}
	for k := range recs {
		c := &recs[k]
		if r.und.Falling {
			c = &recs[len(recs)-1-k]
		}
		before, known := last[c.line]
		r.chooseHour(c, before, known)
		if known && c.start < before {
			r.found(OutOfOrder, c.row, -1, above[c.line].row.Line, before-c.start)
			continue // what comes is held against the row that does rise
		}
		last[c.line], above[c.line] = c.start, c
	}
}

// chooseHour decides which of two hours is meant: the one that agrees with the
// duration, else the one that makes rows rise, else the first.
func (r *reader) chooseHour(c *rec, before int64, known bool) {
	if c.otherStart == c.start && (!c.hasEnd || c.otherEnd == c.end) {
		return
	}
	type choice struct{ start, end int64 }
	all := []choice{{c.start, c.end}}
	if c.otherStart != c.start {
		all = append(all, choice{c.otherStart, c.end})
	}
	if c.hasEnd && c.otherEnd != c.end {
		for _, x := range slices.Clone(all) {
			all = append(all, choice{x.start, c.otherEnd})
		}
	}
	cost := func(x choice) (bad int64) {
		if known && x.start < before {
			bad += 1e15
		}
		if c.hasEnd && x.end < x.start {
			bad += 1e15
		}
		if c.hasEnd && c.hasLength {
			bad += max(x.end-x.start-c.length, c.length-x.end+x.start)
		}
		return bad
	}
	best := 0
	for i := range all {
		if cost(all[i]) < cost(all[best]) {
			best = i
		}
	}
	later := all[best].start - c.start + all[best].end - c.end
	c.start, c.end = all[best].start, all[best].end
	r.found(HourTwice, c.row, r.col[Start], 0, later)
}

// derived says whether the durations are end less start, only rounded: then they
// say nothing more. Where they were read off by themselves, the two differ
// by more in some rows.
func (r *reader) derived(recs []rec) bool {
	half := int64(r.und.Length.Seconds*second/2) + 1
	n, same := 0, 0
	for i := range recs {
		if c := &recs[i]; c.hasEnd && c.hasLength {
			n++
			if d := c.end - c.start - c.length; d >= -half && d <= half || c.endTimed && (d%day+day)%day <= half {
				same++
			}
		}
	}
	return n > 0 && same*100 >= n*95
}

// rounding is how far off what rows say may be, for it is rounded.
type rounding struct {
	ends    int64 // end less start
	length  int64 // a duration
	derived bool  // durations are end less start, and say nothing more
}

func (r *reader) rounding(recs []rec) rounding {
	return rounding{int64((r.und.Start.Seconds + r.und.End.Seconds) * second / 2), int64(r.und.Length.Seconds * second / 2), r.derived(recs)}
}

// stop makes a stop of a row; false when it is left out.
func (r *reader) stop(c *rec, by *rounding) (Stop, bool) {
	s := Stop{Row: c.row.Line, Line: c.line, Cause: c.why, Note: c.note, start: c.start, end: c.end}
	if !c.hasEnd && !c.hasLength {
		s.open, s.High = true, math.Inf(1)
		s.end = s.start
	} else if !r.lasts(&s, c, by) {
		return s, false
	}
	s.Start = timeOf(s.start, r.log.zone)
	if s.Cause == "" && r.col[Cause] >= 0 {
		r.found(NoCause, c.row, r.col[Cause], 0, 0)
	}
	return s, true
}

// lasts says how long a stop lasted, and when it ended; false when its row is left out.
func (r *reader) lasts(s *Stop, c *rec, by *rounding) bool {
	d := c.end - c.start
	if c.hasEnd && c.endTimed && c.hasLength {
		if whole := (c.length - d + day/2) / day * day; whole > 0 {
			d, s.end = d+whole, s.end+whole
		}
	}
	if c.hasEnd && r.impossible(c, d) {
		return false
	}
	x := span{c.length, c.length - by.length, c.length + by.length, 1}
	switch {
	case c.hasEnd && c.hasLength:
		if r.disagree(c, d, by) {
			return false
		}
		x = both(c, d, by)
	case c.hasEnd:
		x = span{d, d - by.ends, d + by.ends, 2}
	default:
		s.end = c.start + c.length
	}
	s.Seconds, s.Low, s.High, s.Readings = seconds(x.long), seconds(max(x.low, 0)), seconds(max(x.high, x.low)), x.readings
	s.End = timeOf(s.end, r.log.zone)
	r.odd(c, x.long)
	return true
}

// free says whether nothing tells when the clock was changed.
func (r *reader) free() bool { return r.opt.Zone == nil && !r.offsets }

// impossible reports an end before the start: at night the clock may have been changed.
func (r *reader) impossible(c *rec, d int64) bool {
	night := (c.wallStart%day+day)%day < 4*hour
	switch {
	case r.free() && night && (d < 0 && d >= -hour || c.endTimed && !c.hasLength && d >= day-hour):
		r.found(ClockChange, c.row, r.col[End], 0, d)
	case d < 0:
		r.found(Negative, c.row, r.col[End], 0, d)
	default:
		return false
	}
	return true
}

// disagree reports a duration that is not end less start, d.
func (r *reader) disagree(c *rec, d int64, by *rounding) bool {
	off, most := d-c.length, by.ends+by.length+1
	away := max(off, -off)
	if away <= most {
		return false
	}
	k := Disagree
	if r.free() && away >= hour-most && away <= hour+most {
		k = ClockChange
	}
	r.found(k, c.row, r.col[Length], 0, off)
	return true
}

// span is how long a stop lasted, its limits, and how many readings it rests on.
type span struct {
	long, low, high int64
	readings        int
}

// both is the span by end less start, d, and a duration.
func both(c *rec, d int64, by *rounding) span {
	x := span{d, d - by.ends, d + by.ends, 2}
	if !by.derived {
		x.low, x.high = max(x.low, c.length-by.length), min(x.high, c.length+by.length)
		if by.length < by.ends {
			x.long, x.readings = c.length, 1
		}
	}
	x.long = min(max(x.long, x.low), max(x.low, x.high))
	return x
}

// odd reports a stop of no time, of many days, or of nearly a day by a time of day alone.
func (r *reader) odd(c *rec, long int64) {
	if long == 0 {
		r.found(Zero, c.row, r.col[Length], 0, 0)
	}
	if long > 7*day {
		r.found(Long, c.row, -1, 0, long)
	}
	if c.endTimed && c.wallEnd/day > c.wallStart/day {
		r.und.Midnight++
		if !c.hasLength && long > day-justBefore {
			r.found(NextDay, c.row, r.col[End], 0, day-long)
		}
	}
}

// justBefore is how long before its start an end may stand for it to look like a slip of
// the pen rather than a stop of nearly a day. Our choice.
const justBefore = 4 * hour

// lines groups the stops by line and puts each in order.
func (r *reader) lines() {
	l := r.log
	names := map[string]int{}
	byKey := map[string]string{}
	for i := range l.Stops {
		s := &l.Stops[i]
		k := r.alike.same(s.Line)
		if _, ok := byKey[k]; !ok {
			byKey[k] = s.Line
			l.Lines = append(l.Lines, Line{Name: s.Line})
		}
		s.Line = byKey[k]
	}
	slices.SortFunc(l.Lines, func(a, b Line) int { return strings.Compare(a.Name, b.Name) })
	for i := range l.Lines {
		names[l.Lines[i].Name] = i
	}
	for i := range l.Stops {
		l.Stops[i].line = names[l.Stops[i].Line]
	}
	if len(l.Lines) > 1 {
		seen := map[int]bool{}
		rows := map[int]int{}
		for i := range r.data {
			rows[r.data[i].Line] = i
		}
		for i := range l.Stops {
			s := &l.Stops[i]
			if !seen[s.line] && len(seen) > 0 {
				r.found(AnotherLine, &r.data[rows[s.Row]], r.col[LineName], 0, 0)
			}
			seen[s.line] = true
		}
	}
	slices.SortStableFunc(l.Stops, func(a, b Stop) int {
		return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.start, b.start), cmp.Compare(a.Row, b.Row))
	})
}

// doubles leaves out rows that are there already.
func (r *reader) doubles() {
	l := r.log
	type key struct {
		line       int
		start, end int64
		open       bool
		why, note  string
	}
	seen := map[key]int{}
	l.Stops = slices.DeleteFunc(l.Stops, func(s Stop) bool {
		k := key{s.line, s.start, s.end, s.open, r.alike.same(s.Cause), r.alike.same(s.Note)}
		if row, ok := seen[k]; ok {
			l.Findings = append(l.Findings, Finding{Kind: Double, Row: s.Row, Other: row})
			return true
		}
		seen[k] = s.Row
		return false
	})
}

// sortFindings puts them by row. What was found of a row that was left out in the
// end, but why, goes.
func (l *Log) sortFindings() {
	out := map[int]bool{}
	for i := range l.Findings {
		if l.Findings[i].Kind.LeftOut() {
			out[l.Findings[i].Row] = true
		}
	}
	l.Findings = slices.DeleteFunc(l.Findings, func(f Finding) bool { return out[f.Row] && !f.Kind.LeftOut() })
	slices.SortStableFunc(l.Findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Row, b.Row), cmp.Compare(a.Kind, b.Kind))
	})
}
