package orders

import (
	"fmt"
	"strings"

	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// by is what was decided and by which row.
type by struct {
	given bool
	row   int    // that decided; 0: none alone
	why   string // where it was no row alone
}

// decide decides what can be read in two ways; what cannot be decided is an error.
func (r *reader) decide() {
	r.decimals()
	r.dates()
}

// decimals decides the decimal mark.
func (r *reader) decimals() {
	r.decimal, r.decimalBy.given = r.opt.Decimal, r.opt.Decimal != 0
	if r.opt.Decimal != 0 {
		return
	}
	var m written.Marks
	either, eitherRow, eitherText := Role(0), 0, ""
	for i := range r.data {
		row := &r.data[i]
		for _, role := range []Role{Length, Rolls, Due, Earliest} {
			v := r.value(row, role)
			text := strings.TrimSpace(v.Text)
			if v.Is != cells.Words || text == "" || len(text) > mostName || !strings.ContainsAny(text, ".,") {
				continue
			}
			if _, stamp := written.ParseStamp(text); stamp && (role == Due || role == Earliest) {
				continue
			}
			before := m.Either
			m.Note(text, row.Line)
			if role == Rolls {
				m.Either = before // whole numbers: what parts them parts thousands
			}
			if m.Either > before && either == 0 {
				either, eitherRow, eitherText = role, row.Line, text
			}
		}
	}
	switch {
	case m.Comma > 0 && m.Point > 0:
		r.mixed = true
		row, other, is, was := m.PointRow, m.CommaRow, "point", "comma"
		if m.CommaRow > m.PointRow {
			row, other, is, was = m.CommaRow, m.PointRow, "comma", "point"
		}
		r.errs.Add(row, "", fmt.Sprintf("writes its decimals with a %s, and row %d with a %s", is, other, was), "one decimal mark in all rows")
	case m.Comma > 0:
		r.decimal, r.decimalBy.row = ',', m.CommaRow
	case m.Point > 0:
		r.decimal, r.decimalBy.row = '.', m.PointRow
	case m.Either > 0:
		r.mixed = true
		a, b := eitherText, strings.NewReplacer(",", ".", ".", ",").Replace(eitherText)
		if strings.Contains(a, ".") {
			a, b = b, a
		}
		r.errs.Add(eitherRow, r.headOf(either), fmt.Sprintf("a mark before three digits may separate thousands or decimals, %s or %s, and no row decides", strings.ReplaceAll(a, ",", ""), b), `decimal = "comma" or decimal = "point"`)
	}
	if r.decimal == 0 {
		r.decimal = '.'
	}
}

// dates decides the order of day and month.
func (r *reader) dates() {
	r.order, r.orderBy.given = r.opt.Dates, r.opt.Dates != written.Undecided
	if r.opt.Dates != written.Undecided {
		return
	}
	var dates written.TwoNumbers
	other, role := 0, NoRole // a row that can be read both ways
	for i := range r.data {
		row := &r.data[i]
		for _, at := range []Role{Due, Earliest} {
			s, ok := r.stamp(row, at)
			if ok && dates.Add(&s, row.Line) && s.A != s.B && other == 0 {
				other, role = row.Line, at
			}
		}
	}
	set := func(o written.DateOrder, is by) { r.order, r.orderBy = o, is }
	switch {
	case dates.First > 0 && dates.Second > 0:
		r.undated = true
		r.errs.Add(max(dates.First, dates.Second), "", fmt.Sprintf("the dates begin with the day in row %d and with the month in row %d", dates.First, dates.Second), "2026-12-31 in all rows")
	case dates.First > 0:
		set(written.DayFirst, by{row: dates.First})
	case dates.Second > 0:
		set(written.MonthFirst, by{row: dates.Second})
	case other == 0: // none needs it
	default:
		a, b := r.falls(written.DayFirst), r.falls(written.MonthFirst)
		switch {
		case a == 0 && b >= enoughFalls:
			set(written.DayFirst, by{why: "which puts the list in order"})
		case b == 0 && a >= enoughFalls:
			set(written.MonthFirst, by{why: "which puts the list in order"})
		case dates.Dots && !dates.Others:
			set(written.DayFirst, by{why: "as dots between them say"})
		default:
			r.errs.Add(other, r.headOf(role), "day and month can be read both ways, and no row decides", `2026-12-31, or dates = "day-first" or dates = "month-first"`)
		}
	}
}

// enoughFalls is from how many falls in one reading beside none in the other is no
// accident: there are five dates then at least, and of 120 orders of five one
// rises throughout.
const enoughFalls = 4

// falls counts what does not rise when dates are read in an order: rows due
// before the row above, and rows due before their earliest start.
func (r *reader) falls(order written.DateOrder) int {
	n := 0
	last, known := int64(0), false
	for i := range r.data {
		row := &r.data[i]
		at := [2]int64{}
		ok := [2]bool{}
		for k, role := range []Role{Due, Earliest} {
			s, is := r.stamp(row, role)
			if !is || s.Date == written.NoDate {
				continue
			}
			if at[k], ok[k] = s.Days(order); !ok[k] {
				n++
			}
		}
		if ok[0] && ok[1] && at[0] < at[1] {
			n++
		}
		if !ok[0] {
			continue
		}
		if known && at[0] < last {
			n++
		}
		last, known = at[0], true
	}
	return n
}

// stamp is the date that stands in a cell as a text.
func (r *reader) stamp(row *cells.Row, role Role) (written.Stamp, bool) {
	v := r.value(row, role)
	if v.Is != cells.Words || v.Text == "" {
		return written.Stamp{}, false
	}
	return written.ParseStamp(v.Text)
}
