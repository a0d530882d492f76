package workbook

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// uncertainty is the sheet of what the draws came to, as values.
// What moves the net present value begins a printed page.
func (s *sheets) uncertainty() {
	c, r, w := s.Case, s.Case.Random, &s.Case.Worth
	s.add(words.SheetUncertainty, 44, 16, 16, 16, 16, 16, 14)
	s.title(words.UncertaintyTitle, fmt.Sprintf(words.UncertaintyNote, words.Grouped(float64(r.Draws))))
	s.alert(3)
	s.heads(4, false, words.UncertaintyHeads...)
	row := 5
	taxed := " " + words.TaxWords(c)
	for _, x := range []struct {
		label, style, unit string
		value              float64
		r                  savings.Spread
	}{
		{words.SheetSavedBefore, "money", c.Currency, c.Total.Value, r.Total}, {words.SheetInvestment + " " + words.BeforeTax, "money", c.Currency, w.Investment, r.Investment},
		{fmt.Sprintf(words.SheetNPVTaxed, words.TaxWords(c)), "money", c.Currency, w.NPV, r.NPV}, {words.SheetAnnual + taxed, "money", c.Currency, w.PerYear, r.PerYear},
		{words.SheetIRR + taxed, "share", words.SheetPerYear, w.IRR(), r.IRR}, {words.SheetMIRR + taxed, "share", words.SheetPerYear, w.MIRR, r.MIRR},
		{words.SheetPaybackSimple + taxed, "years", words.SheetYears, w.Simple, r.Simple}, {words.UncertaintyDiscount + taxed, "years", words.SheetYears, w.Discounted, r.Discounted}, {words.SheetSIR + taxed, "years", "", w.SIR, r.SIR},
	} {
		s.text(1, row, "", x.label)
		for i, v := range []float64{words.MeanOf(x.r), x.r.Median, x.r.Low, x.r.High, x.value} {
			s.number(2+i, row, x.style, v)
		}
		s.text(7, row, "unit", x.unit)
		row++
	}
	s.text(1, row, "", words.UncertaintyGains)
	s.number(2, row, "share", r.Gains)
	row += 2
	s.heads(row, false, append([]string{fmt.Sprintf(words.UncertaintyPaid, words.TaxWords(c))}, words.UncertaintyPaidHeads...)...)
	from := row + 1
	paid := row // of the heads
	for _, x := range r.ByYear {
		row++
		s.number(1, row, "year", float64(x.Year))
		s.number(2, row, "share", x.Simple)
		s.number(3, row, "share", x.Discounted)
	}
	last := row
	row = max(row, paid+13) + 2 // below the chart
	s.breaks(row)
	s.heads(row, false, words.UncertaintyMoves(words.TaxWords(c))...)
	for _, x := range c.Swings {
		row++
		label := words.SwungLabel(x)
		if !x.Given {
			label = fmt.Sprintf(words.SheetMovedByTenth, label)
		}
		unit, per := s.measures.moved(x.Unit)
		s.text(1, row, "", label)
		s.number(2, row, "ends", x.Low*per)
		s.number(3, row, "ends", x.High*per)
		s.number(4, row, "money", x.AtLow)
		s.number(5, row, "money", x.AtHigh)
		s.text(7, row, "unit", words.UnitText(unit))
	}
	for i, x := range c.Drivers {
		if i == 0 {
			row += 2
			s.heads(row, false, words.UncertaintyShareHeads...)
		}
		row++
		s.text(1, row, "", words.DriverLabel(x))
		s.number(2, row, "share", x.Share)
		s.number(3, row, "years", x.Rank)
	}
	s.asOfTheRun(at(2, 5), at(7, row))
	if c.Random.PaysBack.Simple == c.Random.PaysBack.Simple {
		s.must(s.f.AddChart(s.sheet, at(4, paid), &excelize.Chart{Type: excelize.Line, Title: chartTitle(words.UncertaintyChart),
			Series: []excelize.ChartSeries{
				{Name: fmt.Sprintf("%s!$B$%d", s.sheet, paid), Categories: fmt.Sprintf("%s!$A$%d:$A$%d", s.sheet, from, last), Values: fmt.Sprintf("%s!$B$%d:$B$%d", s.sheet, from, last), Line: excelize.LineOptions{Width: 2}, Fill: solid("B5651D")},
				{Name: fmt.Sprintf("%s!$C$%d", s.sheet, paid), Categories: fmt.Sprintf("%s!$A$%d:$A$%d", s.sheet, from, last), Values: fmt.Sprintf("%s!$C$%d:$C$%d", s.sheet, from, last), Line: excelize.LineOptions{Width: 2}, Fill: solid("2E6E62")}},
			Legend: excelize.ChartLegend{Position: "bottom"}, XAxis: axis(false, false), YAxis: shares(), Dimension: excelize.ChartDimension{Width: 460, Height: 260}}))
	}
	s.printed("A1", at(7, row), 0)
}

// notes is the sheet of the answer in words, the conventions, the cautions, and
// what made the workbook.
func (s *sheets) notes() {
	c := s.Case
	add := s.noteSheet()
	s.alert(2)
	add(words.NotesAnswer, words.CaseSentences(c, s.Units)...)
	var warnings []string
	for _, w := range c.Warnings {
		warnings = append(warnings, words.WarningText(c, w))
	}
	s.asOfTheRun("A3", at(1, add(words.NotesBefore, warnings...)))
	add(words.NotesCalculated, words.NotesFlows, words.Capital(words.MoneyNote(c))+".", words.NotesPrice, words.NotesSIR, words.NotesLoss, words.NotesWaste)
	add(words.NotesCautions, model.Safety)
	add(words.NotesMade, fmt.Sprintf(words.NotesTool, s.About.Version, s.About.File, s.About.SHA256, words.Head(c.Run)))
	if set := s.About.SetSentence(); set != "" {
		add(words.NotesDiffers, set+".")
	}
	s.printed("A1", at(1, add("")-2), 0)
}

// noteSheet begins the sheet of notes. What it returns adds a head with lines of text
// below it, and nothing without lines; it gives the row of what comes next.
func (s *sheets) noteSheet() func(head string, lines ...string) int {
	s.add(words.SheetNotes, 102) // a single column, which LibreOffice does not shrink to the page
	s.title(words.SheetNotes, "")
	row := 3
	return func(head string, lines ...string) int {
		if len(lines) == 0 {
			return row
		}
		s.text(1, row, "head", head)
		row++
		for _, l := range lines {
			s.text(1, row, "wrap", l)
			s.must(s.f.SetRowHeight(s.sheet, row, 15*float64(1+min(20, words.Columns(l)/108)))) // the text of so many lines
			row++
		}
		row++
		return row
	}
}

// shares is the axis of a chance.
func shares() excelize.ChartAxis {
	a, most := axis(true, false), 1.0
	a.Maximum, a.NumFmt = &most, excelize.ChartNumFmt{CustomNumFmt: "0%"}
	return a
}
