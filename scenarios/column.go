package scenarios

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios/cells"
)

// reading reads one column of a table, for a question.
type reading struct {
	question
	t      *cells.Text
	at     int    // which column, 0 is the first
	name   string // its head without the unit; empty when it has none
	headed bool   // the first row is a head
	in     model.Unit
	united bool // it is known
	values []float64
	empty  int // cells without anything
	comma  int // line of a number with a decimal comma; 0: none
	point  int // line of a number with a decimal point
	notes  []string
}

// columnOf finds the column in a text and reads its values.
func (q question) columnOf(text []byte) (*column, error) {
	t, ok := cells.New(text)
	if !ok {
		return nil, q.bad(0, 0, "is not text; save the table as CSV")
	}
	r := &reading{question: q, t: t}
	ok, complaint := t.Next()
	if complaint != "" {
		return nil, q.bad(t.Line, 0, "%s", complaint)
	}
	if !ok {
		return nil, q.bad(0, 0, "is empty")
	}
	headed, err := r.choose()
	if err != nil {
		return nil, err
	}
	r.headed = headed
	if err := r.findUnit(); err != nil {
		return nil, err
	}
	if err := r.all(); err != nil {
		return nil, err
	}
	return &column{r.values, r.notes}, nil
}

// bad is an error about a place in the file: its name, line and column as far
// as they are known, both from 1.
func (q question) bad(line, col int, format string, args ...any) *fileError {
	where := legible.Short(q.file)
	if line > 0 {
		where += fmt.Sprintf(":%d", line)
	}
	if col > 0 {
		where += fmt.Sprintf(":%d", col)
	}
	return &fileError{what: where + ": " + fmt.Sprintf(format, args...)}
}

// split parts a head into its name and the unit in brackets.
func split(head string) (name, unit string) {
	const spaces = "\t\n\f\r "
	before, after, ok := strings.Cut(head, "[")
	inside, closed := strings.CutSuffix(after, "]")
	name, unit = strings.TrimRight(before, spaces), strings.Trim(inside, spaces)
	if !ok || !closed || strings.Contains(name+unit, "\n") {
		return head, ""
	}
	return name, unit
}

// choose finds the column in the first row, and whether that row is a head: it is
// when the column is found there by its name, or when something in it is no number.
func (r *reading) choose() (headed bool, err error) {
	cells := r.t.Cells
	var heads []string
	var found []int
	for i, c := range cells {
		heads = append(heads, c.Text)
		if r.column != "" && c.Text == r.column {
			found = append(found, i)
		}
	}
	for i, c := range cells {
		if name, _ := split(c.Text); r.column != "" && name == r.column && c.Text != r.column {
			found = append(found, i)
		}
	}
	numbers := r.allNumbers(cells)
	switch {
	case len(found) > 1:
		e := r.bad(r.t.Line, found[1]+1, "two columns are called %s, column %d and column %d: say which by its number", legible.Quote(r.column), found[0]+1, found[1]+1)
		e.write = fmt.Sprintf("column = %d", found[0]+1)
		return false, e
	case len(found) == 1:
		r.at = found[0]
		return true, nil
	case r.column != "" && numbers:
		e := r.bad(r.t.Line, 0, "has no head, its first row is numbers: say which column by its number, not %s", legible.Quote(r.column))
		e.write = "column = 1"
		return false, e
	case r.column != "":
		near := DidYouMean(r.column, heads)
		return false, r.bad(r.t.Line, 0, "no column %s in its head %s%s", legible.Quote(r.column), legible.List(heads), legible.Short(near))
	case r.number > len(cells):
		return false, r.bad(r.t.Line, 0, "has %d columns, not %d", len(cells), r.number)
	case r.number > 0:
		r.at = r.number - 1
		return !numbers, nil
	case len(cells) > 1 && numbers && r.t.Comma == ',':
		e := r.bad(r.t.Line, 0, "has no head, and commas that may separate columns or be decimal signs: say which column by its number, or write a head, or separate the columns by semicolons")
		e.write = "column = 1"
		return false, e
	case len(cells) > 1:
		e := r.bad(r.t.Line, 0, "has %d columns; say which", len(cells))
		if e.write = "column = 1"; !numbers {
			e.write = "column = " + legible.Quote(heads[0])
		}
		return false, e
	}
	return !numbers, nil
}

// allNumbers says whether a row is data: each cell that is not empty is a number,
// with its unit or without.
func (r *reading) allNumbers(row []cells.Cell) bool {
	for _, c := range row {
		number, _ := r.parts(c)
		if _, ok := toNumber(number); c.Text != "" && !ok {
			return false
		}
	}
	return true
}

// parts splits a cell into a number, with a point for decimals, and what follows
// it. A comma is the sign of decimals wherever it cannot part two cells.
func (r *reading) parts(c cells.Cell) (number, rest string) {
	number = model.LeadingNumber(c.Text, ".,")
	rest = strings.TrimSpace(c.Text[len(number):])
	if r.t.Comma != ',' || c.Quoted {
		number = strings.Replace(number, ",", ".", 1)
	}
	return number, rest
}

func toNumber(s string) (float64, bool) {
	x, err := strconv.ParseFloat(s, 64)
	return x, err == nil && !math.IsInf(x, 0)
}

// findUnit finds the unit of the column, in its head or beside the file's name.
func (r *reading) findUnit() error {
	text, where := r.question.unit, ""
	if r.headed {
		name, unit := split(r.t.Cells[r.at].Text)
		if r.name = name; unit != "" && text != "" && unit != text {
			return r.bad(r.t.Line, r.at+1, "the head says %s, and unit says %s", legible.Quote(unit), legible.Quote(text))
		}
		if unit != "" {
			text, where = unit, "the head says "
		}
	} else {
		r.name = fmt.Sprintf("column %d", r.at+1)
	}
	if text == "" {
		return nil
	}
	u, ok := model.UnitOf(text, r.key.Dim)
	if !ok {
		e := r.bad(r.t.Line, r.at+1, "%s%s, which is not a unit of %s; use %s", where, legible.Quote(text), r.key.Dim, r.key.Dim.Units())
		if where == "" {
			e = r.bad(0, 0, "unit = %s is not a unit of %s; use %s", legible.Quote(text), r.key.Dim, r.key.Dim.Units())
		}
		if name, times, meant := model.MeantUnit(text, r.key.Dim); meant && times == 1 {
			e.write = fmt.Sprintf("unit = %q", name)
			if where != "" {
				e.write = fmt.Sprintf("%s [%s] in its head", legible.Short(r.name), name)
			}
		}
		return e
	}
	r.in, r.united = u, true
	return nil
}

// mostWrong is how many wrong cells are counted.
const mostWrong = 1000

// all reads every row; the first may be data.
func (r *reading) all() error {
	wide := len(r.t.Cells)
	var first *fileError
	wrong := 0
	for row, more := 0, true; ; row++ {
		if row > 0 || r.headed {
			var complaint string
			if more, complaint = r.t.Next(); complaint != "" {
				return r.bad(r.t.Line, 0, "%s", complaint)
			}
		}
		if !more {
			break
		}
		if err := r.row(wide); err != nil {
			if wrong++; first == nil {
				first = err
			}
			if wrong > mostWrong {
				break
			}
		}
		if len(r.values) > mostValues {
			return r.bad(r.t.Line, 0, "holds more than %d values: use a sample of them", mostValues)
		}
	}
	switch {
	case wrong > mostWrong:
		first.what += fmt.Sprintf(" (and more than %d more like it)", mostWrong)
		return first
	case wrong > 1:
		first.what += fmt.Sprintf(" (and %d more like it)", wrong-1)
		fallthrough
	case first != nil:
		return first
	case len(r.values) == 0:
		return r.bad(0, 0, "has no values in its column %s", legible.Quote(r.name))
	}
	if !r.headed {
		r.notes = append(r.notes, fmt.Sprintf("%s has no head: its first row is numbers and is taken as data, %d values in all", legible.Short(r.file), len(r.values)))
	}
	if r.empty > 0 {
		r.notes = append(r.notes, fmt.Sprintf("%s: rows without a value in column %s are left out: %d of %d", legible.Short(r.file), legible.Quote(r.name), r.empty, r.empty+len(r.values)))
	}
	return nil
}

// row reads the value of one row of a table that is so many cells wide.
func (r *reading) row(wide int) *fileError {
	row := r.t.Cells
	for i := wide; i < len(row); i++ {
		if row[i].Text != "" {
			e := r.bad(r.t.Line, 0, "has %d cells where the first row has %d", len(row), wide)
			if r.t.Comma == ',' {
				e.what += "; a number with a decimal comma needs quotes, or columns parted by semicolons"
			}
			return e
		}
	}
	if r.at >= len(row) || row[r.at].Text == "" {
		r.empty++
		return nil
	}
	v, e := r.cell(row[r.at])
	if e != nil {
		return e
	}
	err := r.key.inRange(v)
	if err == nil || r.key.lowOpen && v == r.key.low { // a law may touch the open end
		err = believable(r.key.Dim, v)
	}
	if err != nil {
		return r.bad(r.t.Line, r.at+1, "%s %v", legible.Quote(row[r.at].Text), err)
	}
	r.values = append(r.values, v)
	return nil
}

// cell reads a value in SI.
func (r *reading) cell(c cells.Cell) (float64, *fileError) {
	bad := func(format string, args ...any) (float64, *fileError) {
		return 0, r.bad(r.t.Line, r.at+1, "%s %s", legible.Quote(c.Text), fmt.Sprintf(format, args...))
	}
	number, rest := r.parts(c)
	x, ok := toNumber(number)
	switch {
	case !ok:
		return bad("is not a number")
	case rest != "" && strings.ContainsAny(rest[:1], "0123456789.,'") || strings.HasPrefix(rest, "’"):
		return bad("is not a number: write it with a decimal point or comma and no thousands separators")
	}
	written := model.LeadingNumber(c.Text, ".,")
	if strings.Contains(written, ",") && r.comma == 0 {
		r.comma = r.t.Line
	} else if strings.Contains(written, ".") && r.point == 0 {
		r.point = r.t.Line
	}
	if r.comma > 0 && r.point > 0 {
		return bad("mixes decimal commas and points: line %d has a comma, line %d a point", r.comma, r.point)
	}
	unit, known := r.in, r.united
	if rest != "" {
		own, ok := model.UnitOf(rest, r.key.Dim)
		if !ok {
			return bad("is not a valid %s; it may be in %s", r.key.Dim, r.key.Dim.Units())
		}
		if known && own != unit {
			return bad("has a different unit from its column, %s", unit.Name)
		}
		unit, known = own, true
	}
	if !known && !r.key.Dim.Plain() {
		usual := r.key.Dim.Usual().Name
		_, e := bad("has no unit: give it in the head, as in %q, or with the key unit", fmt.Sprintf("%s [%s]", legible.Short(r.name), usual))
		if !r.headed {
			_, e = bad("has no unit, and there is no head to give it: the first row is numbers")
		}
		e.write = fmt.Sprintf("unit = %q", usual)
		return 0, e
	}
	if !known {
		return x, nil
	}
	return unit.SIOf(x), nil
}
