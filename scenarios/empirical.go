package scenarios

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios/cells"
)

// What the files of empirical laws may hold at most.
const (
	mostFile   = 10 << 20 // bytes of one
	mostRead   = 64 << 20 // bytes of all, for each column that is read of them
	mostValues = 100_000  // of a law
)

// fileError is what is wrong with a file of values: it is about the file, so
// how to write a law would be no help.
type fileError struct {
	what  string
	write string // how to write it right; may be empty
}

func (e *fileError) Error() string { return e.what }

// column is a column of a file as it was read.
type column struct {
	values []float64 // SI
	notes  []string  // what should be known of how it was read
}

// readFile reads an empirical law from a column of a CSV file beside the
// scenario; the unit stands in the head of the column, "dwell [s]", or beside it.
func (k *Key) readFile(m map[string]any, data *data) (model.Dist, error) {
	ask := question{key: k}
	for _, p := range slices.Sorted(maps.Keys(m)) { // in order, so that the same is said each time
		raw := m[p]
		text, isText := raw.(string)
		number, isNumber := raw.(int64)
		switch {
		case p == "dist":
		case p == "file" && isText:
			ask.file = text
		case p == "unit" && isText:
			ask.unit = strings.TrimSpace(text)
		case p == "column" && isText:
			ask.column = strings.TrimSpace(text)
		case p == "column" && isNumber && number > 0 && number <= cells.Most:
			ask.number = int(number)
		case p == "column":
			return model.Dist{}, &fileError{"column must be the name of a column, or its number, 1 for the first", `column = "dwell"`}
		case p == "file" || p == "unit":
			return model.Dist{}, &fileError{p + " must be text in quotes", map[string]string{"file": `file = "dwells.csv"`, "unit": `unit = "s"`}[p]}
		default:
			return model.Dist{}, &fileError{fmt.Sprintf("an empirical distribution from a file has file, column and unit, not %s", legible.Quote(p)), ""}
		}
	}
	c, err := data.read(ask)
	if err != nil {
		return model.Dist{}, err
	}
	data.notes = c.notes
	d := model.Dist{Law: model.Empirical, Signed: k.signed, Values: c.values}
	if err := k.checkLaw(d); err != nil {
		return d, &fileError{fmt.Sprintf("file %s: %v", legible.Quote(ask.file), err), ""}
	}
	return d, nil
}

// question is which column of which file is read, for which key.
type question struct {
	key          *Key
	file, column string
	number       int // of the column; 0: by its name
	unit         string
}

// data is where the files of a scenario are looked for, and what was read.
type data struct {
	dir      string // of the scenario
	anywhere bool   // files outside dir may be read
	current  bool   // dir is the current folder: the scenario came from standard input
	files    []File
	columns  map[string]*column
	bytes    int
	notes    []string // of the latest
	lists    map[string]*listRead
	workbook func(name string, data []byte, sheet string) (*cells.Table, error) // nil: none can be read
	held     map[string][]byte                                                  // by name; nil: files are read
}

// told is what should be known of how the latest column was read.
func (d *data) told() []string {
	notes := d.notes
	d.notes = nil
	return notes
}

// File is a file that a scenario was read from, beside its own text.
type File struct {
	Path string
	Name string // as the scenario names it
}

// read reads a column, once: a later change of the file changes nothing.
func (d *data) read(q question) (*column, error) {
	name := fmt.Sprintf("%q %q %d %q %s %v %v", q.file, q.column, q.number, q.unit, q.key.Dim, q.key.low, q.key.bounded)
	if c := d.columns[name]; c != nil {
		return c, nil
	}
	text, err := d.text(q.file)
	if err != nil {
		return nil, &fileError{fmt.Sprintf("file %s: %v", legible.Quote(q.file), err), ""}
	}
	if d.bytes += len(text); d.bytes > mostRead {
		return nil, &fileError{fmt.Sprintf("file %s: with it the scenario reads more than %d MB of columns", legible.Quote(q.file), mostRead>>20), ""}
	}
	c, err := q.columnOf(text)
	if err != nil {
		return nil, err
	}
	if d.columns == nil {
		d.columns = map[string]*column{}
	}
	d.columns[name] = c
	return c, nil
}

// text is what a file holds, of those that were handed over where some were.
func (d *data) text(name string) ([]byte, error) {
	if d.held == nil {
		return d.onDisk(name)
	}
	text, ok := d.held[name]
	if !ok {
		return nil, errors.New("cannot be read here: write its values into the scenario")
	}
	d.files = append(d.files, File{name, name})
	return text, nil
}
