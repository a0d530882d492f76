// Package sheets reads a sheet of a workbook (XLSX) as a table. It stands apart
// from what reads text so that a program without workbooks needs no library for
// them.
package sheets

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"rollchange/scenarios/cells"
)

// What a workbook may hold at most: unpacked, and of one sheet in memory.
const (
	mostUnpacked = 512 << 20
	mostInMemory = 16 << 20
)

// Is says whether a file is a workbook: it begins as an archive does.
func Is(data []byte) bool { return bytes.HasPrefix(data, []byte("PK\x03\x04")) }

// Read reads the sheet of that name, the first one when it is empty. Numbers that
// are shown as a date or a time are Moments.
func Read(name string, data []byte, sheet string) (*cells.Table, error) {
	return ReadAtMost(name, data, sheet, cells.MostRows)
}

// ReadAtMost is Read for a sheet that has so many rows at most: a longer one is an
// error before it takes more room.
func ReadAtMost(name string, data []byte, sheet string, rows int) (*cells.Table, error) {
	if len(data) > cells.MostBytes {
		return nil, fmt.Errorf("is larger than %d MB", cells.MostBytes>>20)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostInMemory})
	if err != nil {
		return nil, fmt.Errorf("cannot be read as a workbook: %w", err)
	}
	defer f.Close()
	all := f.GetSheetList()
	if sheet == "" && len(all) > 0 {
		sheet = all[0]
	}
	if at, err := f.GetSheetIndex(sheet); err != nil || at < 0 {
		return nil, fmt.Errorf("has no sheet %q; it has %q", sheet, all)
	}
	t := &cells.Table{Name: name, Sheet: sheet}
	if p, err := f.GetWorkbookProps(); err == nil && p.Date1904 != nil {
		t.Date1904 = *p.Date1904
	}
	return t, fill(t, f, rows)
}

// mostCells is how many a table may have in all.
const mostCells = 8 << 20

// fill reads the rows twice, side by side: as they are shown and as they are
// held. What is held as a number and shown as something else is a date, a time,
// or a number with its unit.
func fill(t *cells.Table, f *excelize.File, rows int) error {
	shown, err := f.Rows(t.Sheet)
	if err != nil {
		return fmt.Errorf("its sheet %q cannot be read: %w", t.Sheet, err)
	}
	defer shown.Close()
	raw, err := f.Rows(t.Sheet)
	if err != nil {
		return fmt.Errorf("its sheet %q cannot be read: %w", t.Sheet, err)
	}
	defer raw.Close()
	room := 0
	for line := 1; shown.Next() && raw.Next(); line++ {
		texts, err := shown.Columns()
		if err != nil {
			return fmt.Errorf("row %d cannot be read: %w", line, err)
		}
		held, err := raw.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return fmt.Errorf("row %d cannot be read: %w", line, err)
		}
		last := len(texts)
		for last > 0 && strings.TrimSpace(texts[last-1]) == "" {
			last--
		}
		if room += last; room > mostCells || last > cells.Most {
			return fmt.Errorf("row %d: the sheet has more cells than any log", line)
		}
		if last == 0 {
			continue
		}
		if len(t.Rows) == rows {
			return fmt.Errorf("has more than %d rows", rows)
		}
		row := cells.Row{Line: line, Cells: make([]cells.Value, last)}
		for i := range row.Cells {
			row.Cells[i] = valueOf(texts[i], held, i)
		}
		t.Rows = append(t.Rows, row)
	}
	if err := shown.Error(); err != nil {
		return fmt.Errorf("its sheet %q cannot be read: %w", t.Sheet, err)
	}
	return nil
}

// valueOf is a cell by what is shown and what is held.
func valueOf(shown string, held []string, i int) cells.Value {
	v := cells.Value{Text: strings.TrimSpace(shown)}
	if i >= len(held) {
		return v
	}
	x, err := strconv.ParseFloat(held[i], 64)
	if err != nil || x-x != 0 {
		return v
	}
	v.Number = x
	if v.Is = cells.Number; moment(v.Text) {
		v.Is = cells.Moment
	}
	return v
}

// moment says whether a number is shown as a date or a time: with a colon, or as
// a day, a month and a year with marks between them.
func moment(s string) bool {
	if strings.Contains(s, ":") {
		return true
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("-/. ,", r) })
	if len(parts) < 3 {
		return false
	}
	if _, err := strconv.Atoi(parts[len(parts)-1]); err != nil {
		return false // 12.5 min
	}
	short, named := 0, 0 // parts that can be a day or a month, and names
	for _, p := range parts {
		if _, err := strconv.Atoi(p); err != nil {
			named++
		} else if len(p) <= 2 {
			short++
		}
	}
	return short >= 2 || short == 1 && named > 0
}
