package orders

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"rollchange/model/legible"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// sound says whether a cell can be read at all: it is no formula, no error of the
// spreadsheet, and holds nothing that cannot be shown.
func (r *reader) sound(row *cells.Row, role Role, v cells.Value) bool {
	what, write := "", ""
	switch text := strings.TrimSpace(v.Text); {
	case strings.HasPrefix(text, "="):
		what, write = "is a formula without its value", "the list saved with its values"
	case strings.HasPrefix(text, "#") && spreadsheetErrors[text]:
		what, write = "is an error of the spreadsheet", "the list without it"
	case utf8.RuneCountInString(text) > mostName:
		what, write = "is too long", fmt.Sprintf("%d characters at most", mostName)
	case strings.ContainsFunc(text, func(c rune) bool { return legible.Hidden(c) || c == utf8.RuneError }):
		what, write = "holds what cannot be shown, such as a line break", "letters, digits and signs alone"
	default:
		return true
	}
	r.wrong(row, role, legible.Quote(v.Text)+" "+what, write)
	return false
}

// spreadsheetErrors are what stands in a cell whose formula failed: ECMA-376,
// part 1, 18.17.3, and one of later years (from memory).
var spreadsheetErrors = map[string]bool{"#DIV/0!": true, "#N/A": true, "#NAME?": true, "#NULL!": true, "#NUM!": true, "#REF!": true, "#VALUE!": true, "#SPILL!": true}

// length reads a length of web, m.
func (r *reader) length(row *cells.Row, v cells.Value) float64 {
	text := strings.TrimSpace(v.Text)
	x, unit, ok := v.Number, r.unit, v.Is == cells.Number
	rest := ""
	if v.Is == cells.Words {
		x, rest, ok = written.Number(text, r.decimal)
	} else if ok {
		_, rest, _ = written.Number(text, '.') // shown with a unit
	}
	if word := strings.TrimSuffix(rest, "."); word != "" {
		if u := written.LengthUnit(written.Fold(word)); u > 0 {
			unit = u
		} else if v.Is == cells.Words {
			ok = false
		}
	}
	switch {
	case !ok && r.unsure(text):
	case !ok:
		r.wrong(row, Length, legible.Quote(text)+" is not a length", r.number(1234.5)+" m")
	case x <= 0:
		r.wrong(row, Length, legible.Quote(text)+" must be above 0", r.number(1234.5)+" m")
	case unit == 0:
		r.wrong(row, Length, legible.Quote(text)+" has no unit, nor has the head", r.number(1234.5)+" m, or (m) in the head")
	case x*unit > mostLength:
		r.wrong(row, Length, fmt.Sprintf("%s is more than %.0f km", legible.Quote(text), mostLength/1000), "another unit in the head")
	default:
		return x * unit
	}
	return math.NaN()
}

// unsure says whether a number may be wrong only by a mark that nothing decides,
// which has been said.
func (r *reader) unsure(text string) bool { return r.mixed && strings.ContainsAny(text, ".,") }

// number is a number as the list writes one.
func (r *reader) number(x float64) string {
	s := strconv.FormatFloat(x, 'f', -1, 64)
	if r.decimal == ',' {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// rolls reads a number of finished rolls.
func (r *reader) rolls(row *cells.Row, v cells.Value) float64 {
	x, ok := v.Number, v.Is == cells.Number
	if v.Is == cells.Words {
		rest := ""
		x, rest, ok = written.Number(strings.TrimSpace(v.Text), r.decimal)
		if ok && x != math.Trunc(x) { // whole numbers: a mark before three digits parts thousands
			if y, _, as := written.Number(strings.TrimSpace(v.Text), ','+'.'-r.decimal); as && y == math.Trunc(y) && y > 999 {
				x = y
			}
		}
		if word := written.Fold(rest); word != "" && headWords[word]&tagRoll == 0 {
			ok = false
		}
	}
	if !ok && r.unsure(v.Text) {
		return math.NaN()
	}
	if !ok || x < 1 || x != math.Trunc(x) || x > mostRolls {
		r.wrong(row, Rolls, fmt.Sprintf("%s is not a number of finished rolls, 1 to %d", legible.Quote(v.Text), mostRolls), "12")
		return math.NaN()
	}
	return x
}

// onLine reads the number of a line.
func (r *reader) onLine(row *cells.Row, v cells.Value) int {
	x, ok := v.Number, v.Is == cells.Number
	if v.Is == cells.Words {
		n, err := strconv.Atoi(strings.TrimSpace(v.Text))
		x, ok = float64(n), err == nil
	}
	if !ok || x < 1 || x > mostLine || x != math.Trunc(x) {
		r.wrong(row, OnLine, legible.Quote(v.Text)+" is not a line number, a whole number from 1", "1")
		return 0
	}
	return int(x)
}

// day is a day, s.
const day = 86400

// moment reads when an order is due, or its earliest start.
func (r *reader) moment(row *cells.Row, role Role, v cells.Value) Moment {
	text := strings.TrimSpace(v.Text)
	unit := r.means[r.col[role]].unit.time
	if unit > 0 {
		if s, ok := r.after(v, text, unit); ok {
			return Moment{Given: true, After: s}
		}
	}
	m := written.ReadMoment(v, r.order, r.date1904, false)
	switch {
	case m.Is == written.Fine && m.Dated:
		if m.Zoned && strings.Contains(text, ":") {
			r.zoned = true
		}
		if _, stamp := written.ParseStamp(text); v.Is != cells.Words || !stamp {
			r.serials = true
		}
		return r.dated(role, v, &m)
	case m.Is == written.Fine:
		r.wrong(row, role, legible.Quote(text)+" is a time of day without a day", r.date()+" 14:05, or 14 h 5 min from the start")
		return Moment{}
	case m.Is == written.NoSuchDay && r.undated:
		return Moment{}
	case m.Is == written.NoSuchDay:
		r.wrong(row, role, legible.Quote(text)+": the calendar has no such day", r.date())
		return Moment{}
	}
	if s, ok := r.after(v, text, 0); ok {
		return Moment{Given: true, After: s}
	}
	if r.unsure(text) {
		return Moment{}
	}
	if _, rest, number := written.Number(text, r.decimal); number && rest == "" || v.Is == cells.Number {
		r.wrong(row, role, legible.Quote(text)+" has no unit, nor has the head", r.date()+", 52 h, or [h] in the head")
		return Moment{}
	}
	r.wrong(row, role, legible.Quote(text)+" is neither a date nor a time from the start", r.date()+", "+r.date()+" 14:05 or 52 h")
	return Moment{}
}

// dated is a moment by its date: a day alone is its end for when an order is due
// and its beginning for the earliest start.
func (r *reader) dated(role Role, v cells.Value, m *written.Moment) Moment {
	s := m.Days*day + m.Clock/1000
	ms := m.Clock % 1000
	whole := v.Is == cells.Number && v.Number == math.Trunc(v.Number) // a serial number without a format
	if v.Is == cells.Words {
		if x, rest, ok := written.Number(strings.TrimSpace(v.Text), '.'); ok && rest == "" && written.Serial(x) {
			whole = x == math.Trunc(x)
		}
	}
	if !m.Timed || whole && m.Clock == 0 {
		if role == Due {
			s += day
			r.dayDue = true
		} else {
			r.dayEarliest = true
		}
	}
	return Moment{Given: true, Dated: true, Date: time.Unix(s, ms*1e6).UTC()}
}

// after reads a time from the begin, s; unit is that of a number without one, 0
// where the head names none.
func (r *reader) after(v cells.Value, text string, unit float64) (float64, bool) {
	var s written.Span
	switch v.Is {
	case cells.Moment: // 52:30:00
		if v.Number >= 20_000 || unit == 0 && v.Number <= 1 {
			return 0, false
		}
		s = written.Span{Form: written.Whole, X: v.Number * day * 1000}
	case cells.Number:
		if s = written.ParseSpan(text, '.'); s.Form != written.Whole {
			s = written.Span{Form: written.Bare, X: v.Number}
		}
	default:
		s = written.ParseSpan(text, r.decimal)
	}
	if s.Form == written.Bare && unit == 0 {
		return 0, false
	}
	ms, ok := s.Ms(unit*1000, 3600*1000)
	return float64(ms) / 1000, ok
}

// date is a date as the list writes one.
func (r *reader) date() string {
	switch r.order {
	case written.DayFirst:
		return "31.12.2026"
	case written.MonthFirst:
		return "12/31/2026"
	}
	return "2026-12-31"
}
