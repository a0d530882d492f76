package orders

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// finder finds the head and the columns.
type finder struct {
	t     *cells.Table
	opt   *Options
	errs  *written.Problems
	head  int // index of the row; -1: there is none
	wide  int
	heads []string
	means []meaning
	role  []Role         // of each column
	col   [roleCount]int // column of each role, from 0; -1: none
}

// most rows that are looked at to find the columns, and rows among which the head
// is.
const (
	mostLooked = 1000
	mostAbove  = 40
)

// find finds what each column is; what stands in the way is in errs.
func (f *finder) find() {
	f.findHead()
	first := max(f.head, 0)
	for _, row := range f.t.Rows[first:][:min(len(f.t.Rows)-first, mostLooked)] {
		f.wide = max(f.wide, len(row.Cells))
	}
	f.heads, f.means, f.role = make([]string, f.wide), make([]meaning, f.wide), make([]Role, f.wide)
	if f.head >= 0 {
		for i, v := range f.t.Rows[f.head].Cells {
			f.heads[i] = strings.TrimSpace(v.Text)
			f.means[i] = meaningOf(v.Text)
		}
	}
	for r := range f.col {
		f.col[r] = -1
	}
	f.given()
	f.byHead()
	f.need()
}

// findHead finds the row of the heads: the one with words for the most roles, two
// at least, or with the heads that options give.
func (f *finder) findHead() {
	f.head = -1
	most := 1
	for i, row := range f.t.Rows[:min(len(f.t.Rows), mostAbove)] {
		if n := f.headWords(row); n > most {
			most, f.head = n, i
		}
	}
	// Columns that are given by their numbers need no head; one of words alone is
	// one all the same.
	if row := f.t.Rows[0]; f.head < 0 && f.numbered() {
		for _, v := range row.Cells {
			if strings.ContainsAny(v.Text, "0123456789") {
				return
			}
		}
		f.head = 0
	}
}

// numbered says whether options give by number what a list has to have.
func (f *finder) numbered() bool {
	is := func(r Role) bool { _, err := strconv.Atoi(f.opt.Columns[r]); return err == nil }
	return is(Product) && (is(Length) || is(Rolls))
}

// headWords counts the roles that a row has words for; a head that options give
// counts for many.
func (f *finder) headWords(row cells.Row) int {
	var roles [roleCount]int
	for _, v := range row.Cells {
		if v.Is != cells.Words || strings.IndexAny(v.Text, "0123456789") == 0 {
			return 0 // no head begins with a number
		}
		if m := meaningOf(v.Text); m.weight > 0 {
			roles[m.role] = max(roles[m.role], 1)
		}
		for r, name := range f.opt.Columns {
			if _, err := strconv.Atoi(name); err != nil && len(v.Text) <= mostName && written.Same(v.Text) == written.Same(name) {
				roles[r] = 100
			}
		}
	}
	n := 0
	for _, x := range roles {
		n += x
	}
	return n
}

// given takes the columns that options name.
func (f *finder) given() {
	for r := Order; r < roleCount; r++ {
		name := f.opt.Columns[r]
		if name == "" {
			continue
		}
		at := written.NamedColumn(f.heads, name, func(says string, first int) {
			f.errs.Add(f.headRow(), r.String(), says, write(r, strconv.Itoa(first)))
		})
		switch {
		case at < 0:
			f.errs.Add(f.headRow(), r.String(), fmt.Sprintf("there is no column %s; there are %s", legible.Quote(name), f.named()), "")
		case f.role[at] != NoRole:
			f.errs.Add(f.headRow(), r.String(), fmt.Sprintf("column %d is %s already", at+1, f.role[at]), "a column for each")
		default:
			f.role[at], f.col[r] = r, at
		}
	}
}

// write is how an option names a column.
func write(r Role, column string) string { return fmt.Sprintf("columns = \"%s=%s\"", r, column) }

// named are the heads, for a message.
func (f *finder) named() string {
	var all []string
	for _, h := range f.heads {
		if h != "" {
			all = append(all, h)
		}
	}
	if len(all) == 0 {
		return fmt.Sprintf("%d columns without a head", f.wide)
	}
	return legible.List(all)
}

// headRow is the row of the head in the file; 0: there is none.
func (f *finder) headRow() int {
	if f.head < 0 {
		return 0
	}
	return f.t.Rows[f.head].Line
}

// byHead takes columns by the words of their heads, the surest first.
func (f *finder) byHead() {
	for r := Order; r < roleCount; r++ {
		if f.col[r] >= 0 || f.opt.Columns[r] != "" {
			continue
		}
		best := 0
		var alike []int // columns whose heads say it as surely
		for i, m := range f.means {
			if m.role != r || m.weight < best || f.role[i] != NoRole || m.weight == 0 || m.weight < sure && !f.fits(i, r) {
				continue
			}
			if m.weight > best {
				best, alike = m.weight, alike[:0]
			}
			alike = append(alike, i)
		}
		if len(alike) == 0 {
			continue
		}
		at := alike[0]
		if filled := slices.DeleteFunc(slices.Clone(alike), f.empty); len(filled) > 0 {
			at = filled[0]
			if len(filled) > 1 {
				f.errs.Add(f.headRow(), r.String(), fmt.Sprintf("column %d %s and column %d %s both fit", at+1, legible.Quote(f.heads[at]), filled[1]+1, legible.Quote(f.heads[filled[1]])), write(r, strconv.Itoa(at+1)))
			}
		}
		f.role[at], f.col[r] = r, at
	}
}

// filled calls each for the cells of a column that hold something, the first
// mostLooked.
func (f *finder) filled(at int, each func(v cells.Value)) {
	n := 0
	for _, row := range f.t.Rows[f.head+1:] {
		if at < len(row.Cells) && (row.Cells[at].Is != cells.Words || strings.TrimSpace(row.Cells[at].Text) != "") {
			if each(row.Cells[at]); n == mostLooked {
				return
			}
			n++
		}
	}
}

func (f *finder) empty(at int) bool {
	empty := true
	f.filled(at, func(cells.Value) { empty = false })
	return empty
}

// fits says whether what stands in a column can be what its head may say.
func (f *finder) fits(at int, r Role) bool {
	all, good := 0, 0
	seen := map[string]bool{}
	f.filled(at, func(v cells.Value) {
		all++
		is := true
		switch r {
		case Due, Earliest:
			s, _ := written.ParseStamp(v.Text)
			span := written.ParseSpan(v.Text, '.').Form
			is = v.Is == cells.Moment || s.Date != written.NoDate || span == written.Whole || span == written.Bare && f.means[at].unit.time > 0
		case Length:
			_, rest, ok := written.Number(v.Text, '.')
			is = ok && (written.LengthUnit(written.Fold(rest)) > 0 || f.means[at].unit.length > 0) || v.Is == cells.Number && f.means[at].unit.length > 0
		case Order:
			k := written.Same(v.Text)
			is, seen[k] = !seen[k], true
		}
		if is {
			good++
		}
	})
	if r == Order {
		return good == all
	}
	return 2*good >= all && all > 0
}

// need says what is missing.
func (f *finder) need() {
	if f.errs.Any() {
		return // it may be one of those that are in doubt
	}
	if f.head < 0 && !f.numbered() {
		f.errs.Add(0, "", "no row says what the columns are: a product, and a length or a number of finished rolls at least", "a head as in Order, Product, Length (m), Due")
		return
	}
	if f.col[Product] < 0 {
		f.errs.Add(f.headRow(), Product.String(), "no column says what is made; there are "+f.named(), write(Product, "Article"))
	}
	if f.col[Length] >= 0 || f.col[Rolls] >= 0 {
		return
	}
	for i, m := range f.means {
		if m.role == Length && f.role[i] == NoRole { // a quantity of what
			f.errs.Add(f.headRow(), f.heads[i], "does not say its unit: an order is a length of web or a number of finished rolls", fmt.Sprintf("%s (m), (km) or (ft), or Rolls", legible.Short(f.heads[i])))
			return
		}
	}
	f.errs.Add(f.headRow(), Length.String(), "no column says how much is ordered, a length of web or a number of finished rolls; there are "+f.named(), write(Length, "Metres")+" or "+write(Rolls, "Rolls"))
}
