package written

import (
	"fmt"
	"sort"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios/cells"
)

// Problems collects what is wrong with a table.
type Problems struct {
	Table *cells.Table
	Most  int // how many are listed; the others are counted
	all   []Problem
	more  int
}

// Problem is one thing that is wrong with a table, or another file.
type Problem struct {
	Row    int    // of the file; 0: it is about the whole of it
	Column string // its head, or a key; may be empty
	What   string // what is wrong
	Write  string // what would be right; may be empty
}

// Errors is all that is wrong with a table, by row.
type Errors struct {
	Name     string // of the file
	Problems []Problem
	More     int // problems that are not listed

	text map[int]string // of the rows that they are about
}

// longest is how much of what is wrong is said, characters; a value that is
// echoed in it has legible.Most at most.
const longest = 600

// Wrong is what is wrong, as a list of problems says it.
func Wrong(what string) string {
	what = legible.Visible(what)
	if r := []rune(what); len(r) > longest {
		return string(r[:longest-1]) + "…"
	}
	return what
}

// Say writes a problem of a file: where it is, what is wrong, the row itself if there is
// one, and what would be right.
func (p *Problem) Say(b *strings.Builder, file, row string, is bool) {
	b.WriteString(legible.Visible(file))
	if p.Row > 0 {
		fmt.Fprintf(b, ":%d", p.Row)
	}
	if p.Column != "" {
		fmt.Fprintf(b, ": %s", legible.Short(p.Column))
	}
	fmt.Fprintf(b, ": %s", Wrong(p.What))
	if is {
		fmt.Fprintf(b, "\n  %d | %s", p.Row, legible.Short(row))
	}
	if p.Write != "" {
		fmt.Fprintf(b, "\n  write: %s", p.Write)
	}
}

// Error lists every problem: row, column, what is wrong, the row itself and what
// would be right.
func (e *Errors) Error() string {
	var b strings.Builder
	for i, p := range e.Problems {
		if i > 0 {
			b.WriteByte('\n')
		}
		row, is := e.text[p.Row]
		p.Say(&b, e.Name, row, is)
	}
	if e.More > 0 {
		fmt.Fprintf(&b, "\n%s: and %d more", legible.Visible(e.Name), e.More)
	}
	return b.String()
}

// Add adds what is wrong with a row, or with the table where it is 0, and what
// would be right: column is its head, write may be empty.
//
// It is called from many places: in line it would make the engine of a page larger.
//
//go:noinline
func (p *Problems) Add(row int, column, what, write string) {
	if len(p.all) == p.Most {
		p.more++
		return
	}
	p.all = append(p.all, Problem{row, column, what, write})
}

// Any says whether there is anything wrong.
func (p *Problems) Any() bool { return len(p.all) > 0 }

// AsError is nil when nothing is wrong, else an *Errors.
func (p *Problems) AsError() error {
	if len(p.all) == 0 {
		return nil
	}
	sort.SliceStable(p.all, func(i, j int) bool { return p.all[i].Row < p.all[j].Row })
	e := &Errors{Name: p.Table.Name, Problems: p.all, More: p.more, text: map[int]string{}}
	for _, x := range p.all {
		if x.Row > 0 {
			e.text[x.Row] = ""
		}
	}
	for i := range p.Table.Rows {
		row := &p.Table.Rows[i]
		if _, wanted := e.text[row.Line]; !wanted {
			continue
		}
		var shown []string
		for _, v := range row.Cells {
			if shown = append(shown, strings.ReplaceAll(legible.Short(v.Text), "\t", " ")); len(shown) == 20 {
				break
			}
		}
		e.text[row.Line] = strings.Join(shown, " | ")
	}
	return e
}
