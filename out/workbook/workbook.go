package workbook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"maps"
	"math"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// Book is what a workbook is made of.
type Book struct {
	About   words.About
	Case    *savings.Case
	Results *replicate.Results
	At      int               // of the alternative in Results
	Sources map[string]string // the source notes of the scenario, by table
	Units   model.System
}

// Write writes a savings case as a workbook: the answer and the inputs, what was
// simulated and what differs by year as values with named cells, savings and cash flow
// as live formulas over them, uncertainty as values of the run, notes. Every formula cell
// holds its value too. The same case gives the same bytes.
func Write(w io.Writer, b Book) error {
	s := &sheets{f: excelize.NewFile(), formulas: map[string]map[string]string{}, Book: b, measures: measuresOf(b.Units)}
	defer s.f.Close()
	s.styles()
	for _, write := range []func(){s.answer, s.savings, s.cashFlow, s.byYear, s.results, s.uncertainty, s.notes, s.rates} {
		write()
	}
	s.text(9, 3, "unit", words.RatesDiffer)
	s.differ(10, 3)
	return s.finish(w)
}

// finish writes the sheets as a workbook.
func (s *sheets) finish(w io.Writer) error {
	s.must(s.f.DeleteSheet("Sheet1"))
	s.f.SetActiveSheet(0)
	const when = "2020-01-01T00:00:00Z" // of no file: the same case gives the same bytes
	s.must(s.f.SetDocProps(&excelize.DocProperties{Created: when, Modified: when, Creator: "rollchange", LastModifiedBy: "rollchange", Title: words.Shorten(legible.Line(s.About.Title), 200)}))
	if s.err != nil {
		return fmt.Errorf("workbook: %w", s.err)
	}
	raw, err := s.f.WriteToBuffer()
	if err != nil {
		return fmt.Errorf("workbook: %w", err)
	}
	return s.pack(w, raw.Bytes())
}

// sheets builds the workbook; the first error stays in err.
type sheets struct {
	Book
	f        *excelize.File
	sheet    string
	order    []string
	formulas map[string]map[string]string // sheet, cell: the value that it has
	style    map[string]int
	when     map[string]int // looks that hang on a condition
	err      error

	measures measures
	columns  int // of the sheet
	widths   []float64
	room     int      // characters of its width
	copies   []string // formulas of how many inputs differ from those of the run
	whole    *ledger
	parts    [2]*ledger // a half and three quarters of the saving
}

func (s *sheets) must(err error) {
	if s.err == nil {
		s.err = err
	}
}

// add begins a sheet with the given widths of its columns.
func (s *sheets) add(name string, widths ...float64) {
	_, err := s.f.NewSheet(name)
	s.must(err)
	s.sheet = name
	s.order = append(s.order, name)
	s.formulas[name] = map[string]string{}
	s.room = 0
	for i, w := range widths {
		c := letterOf(i + 1)
		s.must(s.f.SetColWidth(name, c, c, w))
		s.room += int(w)
	}
	s.columns, s.widths = len(widths), widths
	s.page()
}

func at(col, row int) string {
	c, _ := excelize.CoordinatesToCellName(col, row)
	return c
}

// text puts text into a cell; it is never taken for a formula, and control and
// direction marks are taken out.
func (s *sheets) text(col, row int, style, text string) {
	s.must(s.f.SetCellStr(s.sheet, at(col, row), words.Shorten(legible.Line(text), 4000)))
	s.look(col, row, style)
}

func (s *sheets) look(col, row int, style string) {
	if id, known := s.style[style]; known {
		s.must(s.f.SetCellStyle(s.sheet, at(col, row), at(col, row), id))
	}
}

// number puts a value into a cell, nothing when it does not exist.
func (s *sheets) number(col, row int, style string, x float64) {
	switch {
	case math.IsInf(x, 1):
		s.text(col, row, style, words.SheetNever)
		return
	case math.IsNaN(x):
		s.look(col, row, style)
		return
	}
	s.must(s.f.SetCellFloat(s.sheet, at(col, row), x, -1, 64))
	s.look(col, row, sized(style, x))
}

// formula puts a formula into a cell, with the value that it has: a float64 or a
// string.
func (s *sheets) formula(col, row int, style, formula string, holds any) {
	s.must(s.f.SetCellFormula(s.sheet, at(col, row), formula))
	x, _ := holds.(float64)
	s.look(col, row, sized(style, x))
	value := ""
	switch x := holds.(type) {
	case float64:
		value = words.SheetNever
		if !math.IsInf(x, 0) && !math.IsNaN(x) {
			value = strconv.FormatFloat(x, 'g', -1, 64)
		}
	case string:
		value = x
	}
	s.formulas[s.sheet][at(col, row)] = value
}

// sized is the style of a figure: from 1000 on without decimals.
func sized(style string, x float64) string {
	if (style == "plain" || style == "input" || style == "run" || style == "ends") && math.Abs(x) >= 1000 {
		return style + "-whole"
	}
	return style
}

// name gives a cell a name for formulas.
func (s *sheets) name(col, row int, name string) {
	c, _ := excelize.CoordinatesToCellName(col, row, true)
	s.must(s.f.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: "'" + s.sheet + "'!" + c}))
}

// title heads a sheet.
func (s *sheets) title(title, note string) {
	s.text(1, 1, "title", title)
	if words.Columns(note) > s.room {
		s.wide(2, note)
		return
	}
	s.text(1, 2, "note", note)
}

// heads writes a row of column heads and keeps it in sight.
func (s *sheets) heads(row int, freeze bool, heads ...string) {
	for i, h := range heads {
		style := "head-figures"
		switch {
		case i == 0:
			style = "head"
		case slices.Contains([]string{words.SheetUnit, words.SheetFormula, words.SheetSource}, h):
			style = "head-unit"
		}
		s.text(i+1, row, style, h)
	}
	s.must(s.f.SetRowHeight(s.sheet, row, s.headHeight(heads)))
	if freeze {
		s.must(s.f.SetPanes(s.sheet, &excelize.Panes{Freeze: true, YSplit: row, TopLeftCell: at(1, row+1), ActivePane: "bottomLeft"}))
	}
}

// headHeight is the height of a row of heads, each broken into lines at its words.
func (s *sheets) headHeight(heads []string) float64 {
	most := 2
	for i, h := range heads {
		if i >= len(s.widths) {
			break
		}
		lines, used := 1, 0.0
		for _, w := range strings.Fields(h) {
			n := 1.15 * float64(words.Columns(w)) // bold
			if used > 0 && used+1+n > s.widths[i] {
				lines, used = lines+1, 0
			}
			used += n + 1
		}
		most = max(most, lines)
	}
	return 15 * float64(min(most, 6))
}

// breaks begins a printed page at a row.
func (s *sheets) breaks(row int) { s.must(s.f.InsertPageBreak(s.sheet, at(1, row))) }

func (s *sheets) styles() {
	s.style = map[string]int{}
	const ink, pale, line = "1F2A30", "EEF1F0", "9AA5A3"
	format := func(f string) *string { return &f }
	under := []excelize.Border{{Type: "bottom", Color: line, Style: 1}}
	over := []excelize.Border{{Type: "top", Color: line, Style: 1}}
	all := map[string]*excelize.Style{
		"title":        {Font: &excelize.Font{Bold: true, Size: 14, Color: ink}},
		"note":         {Font: &excelize.Font{Italic: true, Color: "5B6866"}},
		"remark":       {Font: &excelize.Font{Italic: true, Color: "5B6866"}, Alignment: &excelize.Alignment{Horizontal: "left", Indent: 1}},
		"head":         {Font: &excelize.Font{Bold: true, Color: ink}, Border: under, Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"}},
		"head-figures": {Font: &excelize.Font{Bold: true, Color: ink}, Border: under, Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom", Horizontal: "right"}},
		"head-unit":    {Font: &excelize.Font{Bold: true, Color: ink}, Border: under, Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom", Horizontal: "left", Indent: 1}},
		"year":         {Alignment: &excelize.Alignment{Horizontal: "left"}},
		"wrap":         {Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}},
		"plain":        {CustomNumFmt: format("#,##0.###")},
		"exact":        {CustomNumFmt: format("0.000000000")},
		"money":        {CustomNumFmt: format("#,##0;-#,##0;0")},
		"share":        {CustomNumFmt: format("0.0%")},
		"years":        {CustomNumFmt: format("0.00")},
		"clock":        {CustomNumFmt: format("yyyy-mm-dd hh:mm")},
		"input":        {CustomNumFmt: format("#,##0.####"), Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{pale}}, Border: under},
		"plain-whole":  {CustomNumFmt: format("#,##0")},
		"ends":         {CustomNumFmt: format("#,##0.####")},
		"ends-whole":   {CustomNumFmt: format("#,##0")},
		"input-whole":  {CustomNumFmt: format("#,##0"), Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{pale}}, Border: under},
		"unit":         {Alignment: &excelize.Alignment{Horizontal: "left", Indent: 1}},
		"inputs":       {CustomNumFmt: format("0.0#%"), Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{pale}}, Border: under},
		"total":        {CustomNumFmt: format("#,##0;-#,##0;0"), Font: &excelize.Font{Bold: true}, Border: over},
		"bold":         {Font: &excelize.Font{Bold: true}, Border: over},
		"years-bold":   {CustomNumFmt: format("0.00"), Font: &excelize.Font{Bold: true, Size: 12, Color: ink}},
		"note-wrap":    {Font: &excelize.Font{Italic: true, Color: "5B6866"}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}},
		"alert":        {Font: &excelize.Font{Bold: true, Color: "9C2A10"}},
		"factor":       {CustomNumFmt: format("0.0000")},
		"power":        {CustomNumFmt: format("0.00E+00")},
		"six":          {CustomNumFmt: format("0.000000")},
		"input-exact":  {CustomNumFmt: format("0.000000"), Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{pale}}, Border: under},
		"run":          {CustomNumFmt: format("#,##0.####"), Font: &excelize.Font{Italic: true, Color: "5B6866"}},
		"run-whole":    {CustomNumFmt: format("#,##0"), Font: &excelize.Font{Italic: true, Color: "5B6866"}},
		"run-share":    {CustomNumFmt: format("0.0#%"), Font: &excelize.Font{Italic: true, Color: "5B6866"}},
		"run-exact":    {CustomNumFmt: format("0.000000"), Font: &excelize.Font{Italic: true, Color: "5B6866"}},
	}
	for _, name := range slices.Sorted(maps.Keys(all)) {
		id, err := s.f.NewStyle(all[name])
		s.must(err)
		s.style[name] = id
	}
	s.when = map[string]int{}
	white := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FFFFFF"}}
	for _, look := range []struct {
		name string
		is   excelize.Style
	}{{"grey", excelize.Style{Font: &excelize.Font{Color: "B4BBB9"}}},
		{"blank", excelize.Style{Font: &excelize.Font{Color: "FFFFFF"}, Fill: white, Border: []excelize.Border{{Type: "bottom", Color: "FFFFFF", Style: 1}}}}} {
		id, err := s.f.NewConditionalStyle(&look.is)
		s.must(err)
		s.when[look.name] = id
	}
}

var formulaCell = regexp.MustCompile(`<c r="([A-Z]+[0-9]+)"([^>]*?)(?: t="str")?><f>(.*?)</f>(?:<v>[^<]*</v>|<v/>|<v></v>)?</c>`)

// pack writes the parts of the workbook in the order of their names with no
// time in them, and the values into the formula cells.
func (s *sheets) pack(w io.Writer, raw []byte) error {
	in, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		return err
	}
	files := append([]*zip.File{}, in.File...)
	sort.Slice(files, func(i, j int) bool { return files[i].Name < files[j].Name })
	z := zip.NewWriter(w)
	for _, f := range files {
		r, err := f.Open()
		if err != nil {
			return err
		}
		data, err := io.ReadAll(r)
		r.Close()
		if err != nil {
			return err
		}
		var n int
		if _, err := fmt.Sscanf(f.Name, "xl/worksheets/sheet%d.xml", &n); err == nil && n >= 2 && n-2 < len(s.order) { // sheet1 was taken out
			data = s.held(s.order[n-2], data)
		}
		if f.Name == "[Content_Types].xml" {
			data = inOrder(data)
		}
		part, err := z.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Deflate})
		if err != nil {
			return err
		}
		if _, err := part.Write(data); err != nil {
			return err
		}
	}
	return z.Close()
}

var contentType = regexp.MustCompile(`<(?:Override|Default) [^>]*>(?:</(?:Override|Default)>)?`)

// inOrder sorts the list of parts, which comes in no order.
func inOrder(data []byte) []byte {
	var parts []string
	for _, p := range contentType.FindAll(data, -1) {
		parts = append(parts, string(p))
	}
	slices.Sort(parts)
	i := 0
	return contentType.ReplaceAllFunc(data, func([]byte) []byte { i++; return []byte(parts[i-1]) })
}

// held puts the values into the formula cells of a sheet.
func (s *sheets) held(sheet string, data []byte) []byte {
	return formulaCell.ReplaceAllFunc(data, func(c []byte) []byte {
		m := formulaCell.FindSubmatch(c)
		value, kind := s.formulas[sheet][string(m[1])], ""
		if _, err := strconv.ParseFloat(value, 64); err != nil {
			kind = ` t="str"`
			value = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(value)
		}
		return []byte(fmt.Sprintf(`<c r="%s"%s%s><f>%s</f><v>%s</v></c>`, m[1], m[2], kind, m[3], value))
	})
}
