package workbook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
)

// The payback stands on the first sheet and is live; a life of more years than there are
// rows is refused when it is typed.
func TestFirstSheetIsLive(t *testing.T) {
	c, rs := invented.Case(t, invented.Cases()["by year"])
	f := open(t, workbookOf(t, c, rs))
	first := f.GetSheetList()[0]
	live := map[string]bool{}
	for row := 1; row < 60; row++ {
		formula, err := f.GetCellFormula(first, at(colLive, row))
		require.NoError(t, err)
		live[formula] = true
	}
	for _, name := range []string{"simple_payback", "discounted_payback", "npv", "saved_a_year", "internal_rate", "investment_extra"} {
		assert.True(t, live[name], name)
	}
	sheet, cell := cellOf(t, f, "life_years")
	assert.Equal(t, first, sheet)
	bounds, err := f.GetDataValidations(sheet)
	require.NoError(t, err)
	found := false
	for _, b := range bounds {
		if b.Sqref == cell {
			found = true
			assert.Equal(t, "1", b.Formula1)
			assert.Equal(t, "100", b.Formula2)
			assert.True(t, b.ShowErrorMessage)
			assert.Contains(t, *b.Error, "1 to 100 years")
		}
	}
	assert.True(t, found)
}

// Every sheet is printed landscape, as wide as its page, on the paper of its units; what helps the
// formulas is not printed.
func TestWorkbookIsFitToPrint(t *testing.T) {
	c, rs := invented.Case(t, nil)
	for sys, paper := range map[model.System]int{model.Metric: 9, model.Imperial: 1} {
		f := open(t, workbookIn(t, c, rs, sys))
		areas := map[string]string{}
		for _, d := range f.GetDefinedName() {
			if d.Name == "_xlnm.Print_Area" {
				areas[d.Scope] = d.RefersTo
			}
		}
		for _, sheet := range f.GetSheetList() {
			page, err := f.GetPageLayout(sheet)
			require.NoError(t, err)
			assert.Equal(t, "landscape", *page.Orientation, sheet)
			assert.Equal(t, paper, *page.Size, sheet)
			assert.Equal(t, 1, *page.FitToWidth, sheet)
			assert.NotEmpty(t, areas[sheet], sheet)
		}
		assert.Equal(t, fmt.Sprintf("'Cash flow'!$A$1:$L$%d", flowFrom+yearsPrinted), areas[words.SheetCashFlow])
		assert.Equal(t, "'Rates'!$A$1:$H$3", areas[words.SheetRates])
	}
}

// What is not live goes grey when an input differs: the limits of the answer, of what is
// saved, and all that the draws came to.
func TestWhatIsOfTheRunGoesGrey(t *testing.T) {
	c, rs := invented.Case(t, nil)
	f := open(t, workbookOf(t, c, rs))
	grey := func(sheet, cell string) bool {
		formats, err := f.GetConditionalFormats(sheet)
		require.NoError(t, err)
		col, row, err := excelize.CellNameToCoordinates(cell)
		require.NoError(t, err)
		for span, list := range formats {
			from, to, _ := strings.Cut(span, ":")
			c1, r1, err := excelize.CellNameToCoordinates(from)
			require.NoError(t, err)
			c2, r2, err := excelize.CellNameToCoordinates(to)
			require.NoError(t, err)
			if list[0].Criteria == "inputs_differ>0" && c1 <= col && col <= c2 && r1 <= row && row <= r2 {
				return true
			}
		}
		return false
	}
	for _, name := range []string{"answer_payback", "answer_npv", "answer_saved_a_year"} {
		sheet, cell := cellOf(t, f, name)
		assert.True(t, grey(sheet, cell), name)
	}
	for _, name := range []string{"simple_payback", "npv", "price", "first_good", "saved_crew_hours"} {
		sheet, cell := cellOf(t, f, name)
		assert.False(t, grey(sheet, cell), "%s is live", name)
	}
	sheet, cell := cellOf(t, f, "saved_crew_hours")
	for col := 3; col <= 6; col++ {
		_, row, err := excelize.CellNameToCoordinates(cell)
		require.NoError(t, err)
		assert.True(t, grey(sheet, at(col, row)), "limits of what is saved")
	}
	assert.True(t, grey(words.SheetUncertainty, "B6"))
	assert.True(t, grey(words.SheetNotes, "A4"))
	assert.Equal(t, "0", named(t, f, "inputs_differ"), "as it was written nothing differs")
}

// A page of the first sheet begins with the heads of the inputs, one of the sheet of uncertainty with what
// moves the net present value; rows of heads are as high as their text.
func TestPagesOfTheWorkbookBeginWithHeads(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	for _, years := range []float64{5, 25} {
		c, rs := invented.Case(t, invented.Prices(func(e *model.Economics) { e.Life = model.Const(years) }))
		data := workbookOf(t, c, rs)
		f := open(t, data)
		for sheet, head := range map[string]string{words.SheetAnswer: words.InputsHeads[0], words.SheetUncertainty: "What moves the mean net present value after tax"} {
			rows := pageBreaks(t, data, slices.Index(f.GetSheetList(), sheet)+2)
			require.Len(t, rows, 1, "%s, %g years", sheet, years)
			text, err := f.GetCellValue(sheet, at(1, rows[0]))
			require.NoError(t, err)
			assert.Equal(t, head, text)
		}
	}
	s := &sheets{widths: []float64{10, 17}}
	assert.Equal(t, 30., s.headHeight([]string{"Year", "of the saving"}))
	assert.Equal(t, 60., s.headHeight([]string{"Year", `start-up, "automatic splicing at both ends"`}))
}

// pageBreaks are the rows of a sheet, by the number of its part, that a printed page begins with.
func pageBreaks(t *testing.T, data []byte, part int) (rows []int) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	f, err := z.Open(fmt.Sprintf("xl/worksheets/sheet%d.xml", part))
	require.NoError(t, err)
	defer f.Close()
	text, err := io.ReadAll(f)
	require.NoError(t, err)
	for _, m := range regexp.MustCompile(`<brk id="([0-9]+)"`).FindAllSubmatch(text, -1) {
		after, err := strconv.Atoi(string(m[1]))
		require.NoError(t, err)
		rows = append(rows, after+1)
	}
	return rows
}
