package cells

import (
	"errors"
	"fmt"
	"strings"
)

// Table is a table that was read whole.
type Table struct {
	Name     string // of the file
	Sheet    string // of a workbook; empty: it was text
	Comma    byte   // what parts the cells of a text; 0: nothing does
	Date1904 bool   // day 0 of its serial numbers is 1 January 1904
	Rows     []Row  // those with something in them
}

// Row is one row of a table.
type Row struct {
	Line  int // of the file, or the number of the row in its sheet; from 1
	Cells []Value
}

// Value is what stands in a cell.
type Value struct {
	Text   string  // as it is shown
	Number float64 // Number or Moment
	Is     Kind
}

// Kind says what a cell holds.
type Kind int8

const (
	Words  Kind = iota // a text, also one that says a number
	Number             // a number of a workbook
	Moment             // a number of a workbook that is shown as a date or a time: days
)

// What a table may hold at most.
const (
	MostBytes = 64 << 20
	MostRows  = 1 << 20 // as many as a sheet has
	mostRoom  = 8 << 20 // cells
)

// ErrNoText says that a file is no table as text.
var ErrNoText = errors.New("is not text; save the table as CSV or XLSX")

// Read reads a text whole. An error is about the file and says the row where
// that is known.
func Read(name string, data []byte) (*Table, error) { return ReadAtMost(name, data, MostRows) }

// ReadAtMost is Read for a text that has so many rows at most: a longer one is an
// error before it takes more room.
func ReadAtMost(name string, data []byte, rows int) (*Table, error) {
	if len(data) > MostBytes {
		return nil, fmt.Errorf("is larger than %d MB", MostBytes>>20)
	}
	t, ok := New(data)
	if !ok {
		return nil, ErrNoText
	}
	t.survey()
	table := &Table{Name: name, Comma: t.Comma}
	for room := 0; ; {
		ok, complaint := t.Next()
		if complaint != "" {
			return nil, fmt.Errorf("row %d %s", t.Line, complaint)
		}
		if t.Open > 0 {
			return nil, fmt.Errorf("row %d: a quote is never closed", t.Open)
		}
		if !ok {
			return table, nil
		}
		if len(table.Rows) == rows {
			return nil, fmt.Errorf("has more than %d rows", rows)
		}
		last := len(t.Cells)
		for last > 0 && t.Cells[last-1].Text == "" {
			last--
		}
		if room += last; room > mostRoom {
			return nil, errors.New("has more cells than any log")
		}
		row := Row{Line: t.Line, Cells: make([]Value, last)}
		for i := range row.Cells {
			row.Cells[i].Text = t.Cells[i].Text
		}
		table.Rows = append(table.Rows, row)
	}
}

// survey says what parts the cells by the first lines rather than by the first
// alone: what parts most of them into as many cells. A title may stand above the
// head, and a comma within a note.
func (t *Text) survey() {
	if t.below > 1 {
		return // the first line said so
	}
	best := 0
	const lines = 60
	for _, comma := range []byte("\t;,|") {
		count := map[int]int{} // lines with so many
		n := 0
		for line := range strings.Lines(t.text) {
			if strings.TrimSpace(line) == "" {
				continue
			}
			if c := outsideQuotes(line, comma); c > 0 {
				count[c]++
			}
			if n++; n == lines {
				break
			}
		}
		for _, alike := range count {
			if alike > best {
				best, t.Comma = alike, comma
			}
		}
	}
}

// outsideQuotes counts a sign that stands outside quotes.
func outsideQuotes(line string, c byte) int {
	quoted, n := false, 0
	for i := range len(line) {
		x := line[i]
		if x == '"' {
			quoted = !quoted
		}
		if x == c && !quoted {
			n++
		}
	}
	return n
}
