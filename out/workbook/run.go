package workbook

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"rollchange/model/legible"
	"rollchange/out/words"
)

// What was so in the run and is not live: it is marked, and goes grey when an input differs
// from what it was.

// copied remembers n cells below one another whose value of the run stands beside them,
// from the two first cells.
func (s *sheets) copied(live, run string, n int) {
	span := func(cell string) string {
		col, row, _ := excelize.CellNameToCoordinates(cell)
		from, _ := excelize.CoordinatesToCellName(col, row, true)
		to, _ := excelize.CoordinatesToCellName(col, row+n-1, true)
		return fmt.Sprintf("'%s'!%s:%s", s.sheet, from, to)
	}
	s.copies = append(s.copies, fmt.Sprintf("SUMPRODUCT(--(%s<>%s))", span(live), span(run)))
}

// asOfTheRun lets cells that are not live go grey when an input differs.
func (s *sheets) asOfTheRun(from, to string) {
	id := s.when["grey"]
	s.must(s.f.SetConditionalFormat(s.sheet, from+":"+to, []excelize.ConditionalFormatOptions{{Type: "formula", Criteria: "inputs_differ>0", Format: &id}}))
}

// alert is a line that says when inputs differ from those of the run.
func (s *sheets) alert(row int) {
	s.formula(1, row, "alert", fmt.Sprintf("IF(inputs_differ>0,%q,\"\")", words.RunDiffers), "")
}

// differ puts the number of inputs that differ from the run into a cell.
func (s *sheets) differ(col, row int) {
	s.formula(col, row, "plain", strings.Join(s.copies, "+"), 0.)
	s.name(col, row, "inputs_differ")
}

// wide is a line of text over the whole width of the sheet.
func (s *sheets) wide(row int, text string) {
	s.text(1, row, "note-wrap", text)
	s.must(s.f.MergeCell(s.sheet, at(1, row), at(s.columns, row)))
	s.must(s.f.SetRowHeight(s.sheet, row, 15*float64(1+min(6, words.Columns(text)*10/(s.room*11)))))
}

// printed is what of a sheet is printed; the first rows stand on every page.
func (s *sheets) printed(from, to string, repeat int) {
	abs := func(cell string) string {
		col, row, _ := excelize.CellNameToCoordinates(cell)
		a, _ := excelize.CoordinatesToCellName(col, row, true)
		return a
	}
	s.must(s.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: fmt.Sprintf("'%s'!%s:%s", s.sheet, abs(from), abs(to)), Scope: s.sheet}))
	if repeat > 0 {
		s.must(s.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$%d:$%d", s.sheet, repeat, repeat), Scope: s.sheet}))
	}
}

// page is how a sheet is printed: landscape, as wide as the page, its title and number at
// the foot.
func (s *sheets) page() {
	landscape, any, one, paper := "landscape", 0, 1, 9 // A4
	if s.measures.base == "ft" {
		paper = 1 // Letter
	}
	yes, side, end := true, 0.4, 0.6
	s.must(s.f.SetPageLayout(s.sheet, &excelize.PageLayoutOptions{Size: &paper, Orientation: &landscape, FitToHeight: &any, FitToWidth: &one}))
	s.must(s.f.SetSheetProps(s.sheet, &excelize.SheetPropsOptions{FitToPage: &yes}))
	s.must(s.f.SetPageMargins(s.sheet, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &end, Bottom: &end}))
	title := strings.ReplaceAll(words.Shorten(legible.Line(s.About.Title), 60), "&", "&&")
	s.must(s.f.SetHeaderFooter(s.sheet, &excelize.HeaderFooterOptions{OddFooter: fmt.Sprintf("&L%s&C%s&R&P / &N", title, s.sheet)}))
}
