package records

import (
	"fmt"

	"rollchange/model/legible"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// Understood is how a log was read, for a person to check.
type Understood struct {
	Sheet   string // of a workbook; empty: it was text
	Comma   byte   // what parts the cells of a text; 0: nothing does
	HeadRow int    // row of the head; 0: there is none
	Above   int    // rows above it, which were not read
	Columns []Column
	Unused  []Column

	Dates    DateOrder // 0: no date needs it
	DatesWhy Why
	DatesRow int // row that decided; 0: none alone

	Decimal    byte // 0: no number needs it
	DecimalWhy Why
	DecimalRow int

	Unit    float64 // s, of a duration without one; 0: none is without
	UnitWhy Why
	Pair    float64 // s, of what stands before the only colon of a duration; 0: there is none
	PairWhy Why

	Half     bool   // am and pm
	Falling  bool   // the newest row stands first
	Swapped  bool   // what the heads call the end comes before what they call the start
	Zone     string // empty: none was given
	Offsets  bool   // times say how far they are from Greenwich
	Date1904 bool
	Midnight int // stops whose end was taken for the next day's

	Start, End, Length Step // what the times and durations are multiples of
}

// reader reads the rows of a log.
type reader struct {
	*finder
	col       [roleCount]int // column of each role, from 0; -1: there is none
	data      []cells.Row    // below the head
	log       *Log
	und       *Understood
	alike     spellings
	date1904  bool
	offsets   bool  // times say how far they are from Greenwich, and there is no zone
	lastDay   int64 // of the row above
	dayKnown  bool
	lastClock int64 // of the row above, ms
}

// value is what stands in the column of a role.
func (r *reader) value(row *cells.Row, role Role) (v cells.Value, at int) {
	at = r.col[role]
	if at < 0 || at >= len(row.Cells) {
		return v, at
	}
	return row.Cells[at], at
}

// understand decides what can be read in two ways; what cannot be decided is an
// error.
func (r *reader) understand() {
	r.dates()
	r.decimals()
	if !r.errs.Any() {
		r.lengths()
	}
}

// dates decides the order of day and month.
func (r *reader) dates() {
	var dates written.TwoNumbers
	clear, differ := false, false
	firstOther := 0
	for i := range r.data {
		row := &r.data[i]
		for _, role := range []Role{Date, Start, EndDate, End} {
			v, _ := r.value(row, role)
			if v.Is != cells.Words || v.Text == "" {
				continue
			}
			s, ok := written.ParseStamp(v.Text)
			if !ok {
				continue
			}
			r.und.Half = r.und.Half || s.Half
			r.und.Offsets = r.und.Offsets || s.Zoned
			clear = clear || s.Date == written.OfYear || s.Date == written.Named
			if !dates.Add(&s, row.Line) {
				continue
			}
			if differ = differ || s.A != s.B; firstOther == 0 {
				firstOther = row.Line
			}
		}
	}
	set := func(o DateOrder, why Why, row int) { r.und.Dates, r.und.DatesWhy, r.und.DatesRow = o, why, row }
	switch {
	case r.opt.Dates != Undecided:
		set(r.opt.Dates, Given, 0)
	case !dates.Dots && !dates.Others:
		if clear {
			set(Undecided, ByYear, 0)
		}
	case dates.First > 0 && dates.Second > 0:
		r.errs.Add(dates.Second, r.column(Start), fmt.Sprintf("the dates begin with the day in row %d and with the month in row %d", dates.First, dates.Second), "--dates day-first or --dates month-first; rows of the other sort are then left out")
	case dates.First > 0:
		set(DayFirst, ByDay, dates.First)
	case dates.Second > 0:
		set(MonthFirst, ByDay, dates.Second)
	case !differ:
		set(DayFirst, NoMatter, 0)
	default:
		a, b := r.falls(DayFirst), r.falls(MonthFirst)
		switch {
		case b > 0 && 20*a <= b:
			set(DayFirst, ByRise, 0)
		case a > 0 && 20*b <= a:
			set(MonthFirst, ByRise, 0)
		case dates.Dots && !dates.Others:
			set(DayFirst, ByDots, 0)
		default:
			r.errs.Add(firstOther, r.column(Start), "day and month can be read both ways, and no row of the log decides", "--dates day-first or --dates month-first")
		}
	}
}

// falls counts what does not rise when dates are read in an order: rows whose
// start is before that of the row above, or the reverse where the newest row
// stands first, and ends before their start.
func (r *reader) falls(order DateOrder) int {
	role := Start
	if r.col[Date] >= 0 {
		role = Date
	}
	up, down, ends := 0, 0, 0
	last, known := int64(0), false
	for i := range r.data {
		v, _ := r.value(&r.data[i], role)
		s, ok := written.ParseStamp(v.Text)
		if !ok || s.Date == written.NoDate {
			continue
		}
		d, ok := s.Days(order)
		if !ok {
			up, down = up+1, down+1
			continue
		}
		t := d*day + s.Clock
		if e, _ := r.value(&r.data[i], End); e.Text != "" {
			if s, ok := written.ParseStamp(e.Text); ok && s.Date != written.NoDate {
				if d, ok := s.Days(order); ok && d*day+s.Clock < t {
					ends++
				}
			}
		}
		if known && t < last {
			up++
		}
		if known && t > last {
			down++
		}
		last, known = t, true
	}
	return min(up, down) + ends
}

// decimals decides the decimal mark of the durations.
func (r *reader) decimals() {
	var m written.Marks
	eitherRow := 0
	for i := range r.data {
		v, _ := r.value(&r.data[i], Length)
		if v.Is == cells.Words && v.Text != "" {
			before := m.Either
			if m.Note(v.Text, r.data[i].Line); m.Either > before && eitherRow == 0 {
				eitherRow = r.data[i].Line
			}
		}
	}
	set := func(d byte, why Why, row int) { r.und.Decimal, r.und.DecimalWhy, r.und.DecimalRow = d, why, row }
	switch {
	case r.opt.Decimal != 0:
		set(r.opt.Decimal, Given, 0)
	case m.Comma > m.Point:
		set(',', ByRows, m.CommaRow)
	case m.Point > 0:
		set('.', ByRows, m.PointRow)
	case m.Either > 0:
		r.errs.Add(eitherRow, r.column(Length), "the mark may separate thousands or decimals, and no row of the log decides", "--decimal comma or --decimal point")
	}
}

// decimal is the mark, a point where no number needs one.
func (r *reader) decimal() byte {
	if r.und.Decimal == 0 {
		return '.'
	}
	return r.und.Decimal
}

// column is the head of a column, or the name of its role.
func (r *reader) column(role Role) string {
	if at := r.col[role]; at >= 0 && r.heads[at] != "" {
		return legible.Short(r.heads[at])
	}
	return role.String()
}

// lengths decides the unit of durations that have none and what one colon parts.
func (r *reader) lengths() {
	at := r.col[Length]
	if at < 0 {
		return
	}
	var bares, pairs []int // indices of rows
	for i := range r.data {
		v, _ := r.value(&r.data[i], Length)
		switch r.span(v).Form {
		case written.Bare:
			bares = append(bares, i)
		case written.Pair:
			pairs = append(pairs, i)
		}
	}
	head := written.Fold(r.heads[at])
	if len(bares) > 0 {
		switch u := r.means[at].unit; {
		case u > 0:
			r.und.Unit, r.und.UnitWhy = u/second, ByHead
		default:
			r.und.Unit, r.und.UnitWhy = r.agree(bares, []float64{minute, second, hour}, func(u float64) (float64, float64) { return u, hour })
		}
	}
	if len(pairs) > 0 {
		switch head {
		case "":
		default:
			for _, suffix := range []string{"mm ss", "m s", "min s", "min sec", "min sek", "m ss"} {
				if len(head) >= len(suffix) && head[len(head)-len(suffix):] == suffix {
					r.und.Pair, r.und.PairWhy = 60, ByHead
				}
			}
		}
		if r.und.Pair == 0 {
			r.und.Pair, r.und.PairWhy = r.agree(pairs, []float64{hour, minute}, func(u float64) (float64, float64) { return minute, u })
		}
	}
}

// agree is the unit, in s, with which the durations of rows fit best: to end less
// start, else to the start of the next stop; the first of them where nothing
// tells them apart.
func (r *reader) agree(rows []int, candidates []float64, read func(u float64) (bareUnit, pairUnit float64)) (float64, Why) {
	byEnd, beyond := make([]int, len(candidates)), make([]int, len(candidates))
	ends, nexts := 0, 0
	start := func(i int) (int64, bool) {
		m, _ := r.moment(&r.data[i], Date, Start)
		return m.wall(), m.Is == written.Fine && m.Dated && m.Timed
	}
	r.dayKnown = false
	for _, i := range rows[:min(len(rows), mostLooked)] {
		v, _ := r.value(&r.data[i], Length)
		s, ok := start(i)
		if !ok {
			continue
		}
		e, _ := r.moment(&r.data[i], EndDate, End)
		hasEnd := e.Is == written.Fine && e.Timed
		if hasEnd {
			ends++
		}
		next, hasNext := int64(0), false
		if i+1 < len(r.data) {
			next, hasNext = start(i + 1)
			if hasNext = hasNext && next > s; hasNext {
				nexts++
			}
		}
		for k, u := range candidates {
			d, ok := r.span(v).Ms(read(u))
			if !ok {
				continue
			}
			if hasEnd {
				end := e.wall()
				if !e.Dated {
					end = s + ((e.Clock-s)%day+day)%day
				}
				if gap := end - s - d; gap >= -2*minute && gap <= 2*minute {
					byEnd[k]++
				}
			}
			if hasNext && s+d > next+minute {
				beyond[k]++
			}
		}
	}
	r.dayKnown = false
	best := 0
	for k := range candidates {
		if byEnd[k] > byEnd[best] {
			best = k
		}
	}
	if 2*byEnd[best] > ends && ends > 0 {
		return candidates[best] / second, ByEnd
	}
	if len(candidates) == 2 && nexts > 0 && 2*beyond[0] > nexts && 10*beyond[1] < nexts {
		return candidates[1] / second, ByOverlap
	}
	return candidates[0] / second, Assumed
}

// span reads the duration of a cell.
func (r *reader) span(v cells.Value) written.Span {
	switch v.Is {
	case cells.Moment:
		return written.Span{Form: written.Whole, X: v.Number * day}
	case cells.Number:
		if s := written.ParseSpan(v.Text, '.'); s.Form == written.Whole { // shown with a unit
			return s
		}
		return written.Span{Form: written.Bare, X: v.Number}
	}
	return written.ParseSpan(v.Text, r.decimal())
}
