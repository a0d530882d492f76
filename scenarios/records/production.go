package records

import (
	"fmt"
	"math"
	"strings"
	"time"

	"rollchange/model/legible"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// Production is what the figures of a period add up to; NaN for what no column says.
type Production struct {
	Name        string
	Good, Waste float64 // m
	RollChanges float64
	Rows        int
	First, Last time.Time // day of the first and of the last row
	Columns     []string  // heads of the columns taken, in the order good, waste, roll changes; empty: none
}

// figureWords are the words of heads, without accents, that say what a column of
// production figures holds.
var figureWords = [3]string{
	"good output produced production gut gute gutmenge bon bonne bonnes bueno buena buono buona goed goede bra god dobre",
	"waste scrap abfall ausschuss makulatur dechet dechets rebut merma desperdicio scarto scarti afval avfall spild odpad",
	"rolls splices changes rollenwechsel rollen splice rollwechsel bobines cambios cambi rolwissels rullbyten",
}

// ReadProduction reads production figures, a row a day: its date, good web, and where
// they are there waste and roll changes. Webs have their unit in the head. An error lists
// all that is wrong.
func ReadProduction(t *cells.Table, opt Options) (*Production, error) {
	errs := &written.Problems{Table: t, Most: mostProblems}
	p := &Production{Name: t.Name, Good: math.NaN(), Waste: math.NaN(), RollChanges: math.NaN()}
	x := productionReader{t: t, errs: errs, decimal: opt.Decimal, order: opt.Dates, date1904: t.Date1904 || opt.Date1904}
	if !x.head() {
		return nil, errs.AsError()
	}
	x.understand()
	sums := [3]*float64{&p.Good, &p.Waste, &p.RollChanges}
	p.Columns = make([]string, 3)
	for k, c := range x.column {
		if c >= 0 {
			*sums[k], p.Columns[k] = 0, t.Rows[x.at].Cells[c].Text
		}
	}
	seen := map[int64]int{}
	for i := x.at + 1; i < len(t.Rows); i++ {
		row := &t.Rows[i]
		day, ok := x.day(row)
		if !ok {
			continue
		}
		if at, twice := seen[day]; twice {
			errs.Add(row.Line, "", fmt.Sprintf("is also the day of row %d", at), "one row a day, and nothing but days below the head")
			continue
		}
		seen[day] = row.Line
		date := time.Unix(day*86400, 0).UTC()
		if p.Rows == 0 || date.Before(p.First) {
			p.First = date
		}
		if p.Rows == 0 || date.After(p.Last) {
			p.Last = date
		}
		p.Rows++
		for k, c := range x.column {
			if c >= 0 {
				*sums[k] += x.figure(row, c) * x.unit[k]
			}
		}
	}
	if p.Rows == 0 {
		errs.Add(t.Rows[x.at].Line, "", "no day below the head", "2026-12-31")
	}
	return p, errs.AsError()
}

// productionReader finds the columns of a table of production figures.
type productionReader struct {
	t        *cells.Table
	errs     *written.Problems
	at       int // row of the head
	date     int // column
	column   [3]int
	unit     [3]float64
	decimal  byte
	order    DateOrder
	date1904 bool
}

// head finds the row whose heads say a day and good web.
func (x *productionReader) head() bool {
	for i := range x.t.Rows {
		x.at, x.date, x.column = i, -1, [3]int{-1, -1, -1}
		for c, v := range x.t.Rows[i].Cells {
			if v.Is != cells.Words {
				continue
			}
			words := strings.Fields(written.Fold(v.Text))
			if k := figureOf(words); k >= 0 && x.column[k] < 0 {
				x.column[k] = c
			} else if all, _, _ := tagsOf(v.Text); x.date < 0 && all&tagDay != 0 {
				x.date = c
			}
		}
		if x.date >= 0 && x.column[0] >= 0 {
			return x.units()
		}
		if i > 20 {
			break
		}
	}
	x.errs.Add(1, "", "no row says what the columns are: a day, good web, and where they are known waste and roll changes", "Day, Good (m), Waste (m), Roll changes")
	return false
}

func figureOf(words []string) int {
	for k := len(figureWords) - 1; k >= 0; k-- { // "good rolls" would be rolls
		for _, w := range words {
			for known := range strings.FieldsSeq(figureWords[k]) {
				if w == known {
					return k
				}
			}
		}
	}
	return -1
}

// units reads the units of the webs in their heads.
func (x *productionReader) units() bool {
	ok := true
	x.unit[2] = 1
	for k, c := range x.column[:2] {
		if c < 0 {
			continue
		}
		head := x.t.Rows[x.at].Cells[c].Text
		for _, w := range strings.Fields(written.Fold(head)) {
			if u := written.LengthUnit(w); u > 0 {
				x.unit[k] = u
			}
		}
		if x.unit[k] == 0 {
			ok = false
			x.errs.Add(x.t.Rows[x.at].Line, "", fmt.Sprintf("%s does not say its unit: webs are lengths", legible.Quote(head)), fmt.Sprintf("%s (m), (km) or (ft)", head))
		}
	}
	return ok
}

// understand decides how numbers and dates are written.
func (x *productionReader) understand() {
	var m written.Marks
	first := false
	for _, row := range x.t.Rows[x.at+1:] {
		for _, c := range x.column {
			if c >= 0 && c < len(row.Cells) && row.Cells[c].Is == cells.Words {
				m.Note(strings.TrimSpace(row.Cells[c].Text), row.Line)
			}
		}
		if x.date < len(row.Cells) {
			if s, ok := written.ParseStamp(row.Cells[x.date].Text); ok && (s.Date == written.TwoDots || s.Date == written.TwoOthers) {
				if x.order == Undecided && s.A > 12 {
					x.order = DayFirst
				}
				if x.order == Undecided && s.B > 12 {
					x.order = MonthFirst
				}
				first = first || s.Date == written.TwoDots
			}
		}
	}
	if x.order == Undecided && first {
		x.order = DayFirst
	}
	if x.decimal == 0 {
		x.decimal = '.'
		if m.Comma > 0 && m.Point == 0 {
			x.decimal = ','
		}
	}
}

// day is the day of a row; rows without one, such as a sum below, are errors unless
// they are empty.
func (x *productionReader) day(row *cells.Row) (int64, bool) {
	if x.date >= len(row.Cells) || strings.TrimSpace(row.Cells[x.date].Text) == "" && row.Cells[x.date].Is == cells.Words {
		x.errs.Add(row.Line, "", "has no day", "2026-12-31, and no sums below the days")
		return 0, false
	}
	v := row.Cells[x.date]
	s, stamped := written.ParseStamp(v.Text)
	if stamped && v.Is == cells.Words && s.Date == written.TwoOthers && x.order == Undecided && s.A != s.B {
		x.errs.Add(row.Line, "", legible.Quote(v.Text)+" may be a day or a month first", "--dates day-first or --dates month-first")
		x.order = DayFirst // said once
	}
	if v.Is != cells.Words || stamped {
		r := reader{und: &Understood{Dates: x.order}, date1904: x.date1904}
		if m := r.read(v, x.date, false); m.Is == written.Fine && m.Dated {
			return m.Days, true
		}
	}
	x.errs.Add(row.Line, "", legible.Quote(v.Text)+" is not a day", "2026-12-31, and no sums below the days")
	return 0, false
}

// figure is a number of a row, 0 for an empty cell.
func (x *productionReader) figure(row *cells.Row, c int) float64 {
	if c >= len(row.Cells) {
		return 0
	}
	v := row.Cells[c]
	y := v.Number
	if v.Is == cells.Words {
		text := strings.TrimSpace(v.Text)
		if text == "" {
			return 0
		}
		var rest string
		var ok bool
		if y, rest, ok = written.Number(text, x.decimal); !ok || rest != "" {
			x.errs.Add(row.Line, "", legible.Quote(text)+" is not a number", "1234.5")
			return 0
		}
	}
	if y < 0 || v.Is == cells.Moment {
		x.errs.Add(row.Line, "", legible.Quote(v.Text)+" must be a number, 0 or above", "1234.5")
		return 0
	}
	return y
}

// SamePeriod says in words where figures are not of the days of a log; "" where they are.
func (p *Production) SamePeriod(from, to time.Time) string {
	day := func(t time.Time) string { return t.Format("2006-01-02") }
	last := to.Add(-time.Nanosecond) // a period that ends at midnight ends with the day before
	if day(p.First) == day(from) && day(p.Last) == day(last) {
		return ""
	}
	return fmt.Sprintf("its days are %s to %s, those of the log %s to %s: they must be the same period", day(p.First), day(p.Last), day(from), day(last))
}
