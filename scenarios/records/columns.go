package records

import (
	"fmt"
	"strconv"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// Why says what something was understood by.
type Why int8

const (
	Unknown   Why = iota
	Given         // an option says so
	ByHead        // the words of a head
	ByContent     // what stands in the column
	ByDay         // a day above 12
	ByRise        // what makes the rows rise
	ByDots        // dots stand between day and month
	ByRows        // numbers that can be read in one way only
	ByEnd         // it agrees with the time from start to end
	ByOverlap     // read in the other way, most stops would last beyond the next
	ByYear        // dates begin with the year or name the month
	NoMatter      // both ways give the same
	Assumed       // nothing says so: it is the usual way
)

// Column is what a column was taken for.
type Column struct {
	Role Role
	At   int    // from 1
	Head string // empty: there is none
	Why  Why
}

// content is what stands in a column.
type content struct {
	filled, dated, clocked, spans, numbers, serials, words int
	distinct                                               map[string]bool
}

// most rows that are looked at to find the columns, and rows among which the
// head is.
const (
	mostLooked = 3000
	mostAbove  = 40
)

// look says what stands in the columns.
func look(rows []cells.Row, wide int) []content {
	all := make([]content, wide)
	for i := range all {
		all[i].distinct = map[string]bool{}
	}
	for _, row := range rows[:min(len(rows), mostLooked)] {
		for i, v := range row.Cells {
			if i < wide {
				all[i].add(v)
			}
		}
	}
	return all
}

func (c *content) add(v cells.Value) {
	if strings.TrimSpace(v.Text) == "" && v.Is == cells.Words {
		return
	}
	c.filled++
	switch v.Is {
	case cells.Moment:
		if v.Number >= 1000 {
			c.dated++
		} else {
			c.clocked++
		}
		return
	case cells.Number:
		c.number(v.Number)
		return
	}
	if s, ok := written.ParseStamp(v.Text); ok {
		switch {
		case s.Date != written.NoDate:
			c.dated++
			return
		case s.Dotted: // 14.05 is a number as well
			c.clocked++
			c.numbers++
			return
		}
		c.clocked++
		return
	}
	switch s := written.ParseSpan(v.Text, '.'); s.Form {
	case written.Bare:
		c.number(s.X)
		return
	case written.Whole, written.Pair:
		c.spans++
		return
	}
	if s := written.ParseSpan(v.Text, ','); s.Form != written.NoSpan {
		c.numbers++
		return
	}
	c.words++
	if len(c.distinct) < mostLooked {
		c.distinct[written.Same(v.Text)] = true
	}
}

func (c *content) number(x float64) {
	c.numbers++
	if written.Serial(x) || written.Unix(x) != 0 {
		c.serials++
	}
}

// fits says whether a column can be what a role needs: half of what stands in it
// at least.
func (c *content) fits(r Role) bool {
	n := c.filled
	switch r {
	case Start, End:
		n = c.dated + c.clocked + c.serials
	case Date, EndDate:
		n = c.dated + c.serials
	case Length:
		n = c.numbers + c.spans + c.clocked
	}
	return 2*n >= c.filled && (c.filled > 0 || r == End || r == EndDate || r >= Cause)
}

// finder finds the head and the columns.
type finder struct {
	t       *cells.Table
	opt     *Options
	errs    *written.Problems
	head    int // index of the row; -1: there is none
	wide    int
	content []content
	heads   []string
	means   []meaning
	role    []Role // of each column
	why     []Why
}

// find finds what each column is; what stands in the way is in errs.
func find(t *cells.Table, opt *Options, errs *written.Problems) *finder {
	f := &finder{t: t, opt: opt, errs: errs, head: -1}
	f.findHead()
	data := f.t.Rows[f.head+1:]
	for _, row := range f.t.Rows[max(f.head, 0):][:min(len(f.t.Rows)-max(f.head, 0), mostLooked)] {
		f.wide = max(f.wide, len(row.Cells))
	}
	f.content = look(data, f.wide)
	f.role, f.why = make([]Role, f.wide), make([]Why, f.wide)
	f.heads, f.means = make([]string, f.wide), make([]meaning, f.wide)
	if f.head >= 0 {
		for i, v := range f.t.Rows[f.head].Cells {
			f.heads[i] = strings.TrimSpace(v.Text)
			f.means[i] = meaningOf(v.Text)
		}
	}
	if len(data) == 0 {
		errs.Add(0, "", "has no row below its head", "")
		return f
	}
	f.given()
	f.byHead()
	f.byContent()
	f.promote()
	f.need()
	return f
}

// findHead finds the row of the heads: the one with words for the most roles, two
// at least, or with the heads that options give, else the one above the first row
// that has a date, a time or a number in it.
func (f *finder) findHead() {
	rows := f.t.Rows[:min(len(f.t.Rows), mostAbove)]
	most := 1
	for i, row := range rows {
		if n := f.headWords(row); n > most && plain(row) {
			most, f.head = n, i
		}
	}
	if f.head >= 0 {
		return
	}
	for i, row := range rows {
		if !plain(row) {
			if i > 0 && len(rows[i-1].Cells) > 1 {
				f.head = i - 1
			}
			return
		}
	}
}

// headWords counts the roles that a row has words for; a head that options give
// counts for many.
func (f *finder) headWords(row cells.Row) int {
	var roles [roleCount]int
	for _, v := range row.Cells {
		if m := meaningOf(v.Text); m.weight > 0 {
			roles[m.role] = max(roles[m.role], 1)
		}
		for r, name := range f.opt.Columns {
			if name != "" && written.Same(v.Text) == written.Same(name) {
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

// plain says whether a row has words alone: no date, time or number.
func plain(row cells.Row) bool {
	for _, v := range row.Cells {
		var c content
		c.distinct = map[string]bool{}
		if c.add(v); c.filled > c.words {
			return false
		}
	}
	return true
}

// given takes the columns that options name.
func (f *finder) given() {
	for r := Date; r < roleCount; r++ {
		name := f.opt.Columns[r]
		if name == "" {
			continue
		}
		at := written.NamedColumn(f.heads, name, func(says string, first int) {
			f.errs.Add(f.headRow(), r.String(), says, fmt.Sprintf("--columns %q", fmt.Sprintf("%s=%d", r, first)))
		})
		switch {
		case at < 0 && f.head < 0:
			f.errs.Add(0, r.String(), fmt.Sprintf("there is no column %s: the table has no head, and %d columns", legible.Quote(name), f.wide), fmt.Sprintf("--columns \"%s=1\"", r))
		case at < 0:
			f.errs.Add(f.headRow(), r.String(), fmt.Sprintf("there is no column %s; there are %s", legible.Quote(name), legible.List(f.named())), "")
		case f.role[at] != NoRole:
			f.errs.Add(f.headRow(), r.String(), fmt.Sprintf("column %d is given as %s already", at+1, f.role[at]), "")
		default:
			f.role[at], f.why[at] = r, Given
		}
	}
}

func (f *finder) named() []string {
	var names []string
	for i, h := range f.heads {
		if h == "" {
			h = strconv.Itoa(i + 1)
		}
		names = append(names, h)
	}
	return names
}

// headRow is the row of the head in the file; 0: there is none.
func (f *finder) headRow() int {
	if f.head < 0 {
		return 0
	}
	return f.t.Rows[f.head].Line
}

// at is the column of a role, from 0; -1: none has it.
func (f *finder) at(r Role) int {
	for i, have := range f.role {
		if have == r {
			return i
		}
	}
	return -1
}

// spellings remembers how texts are written alike: the same cause comes often.
type spellings map[string]string

func (m spellings) same(s string) string {
	k, ok := m[s]
	if !ok {
		k = written.Same(s)
		m[s] = k
	}
	return k
}
