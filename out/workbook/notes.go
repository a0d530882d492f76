package workbook

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// uncertainty is the sheet of what the draws came to, as values.
func (s *sheets) uncertainty() {
	c, r, w := s.Case, s.Case.Random, &s.Case.Worth
	s.add("Uncertainty", 44, 16, 16, 16, 16, 16, 14)
	s.title("How sure it is", fmt.Sprintf("%s draws. Values of the case as calculated; they do not follow the formulas.", words.Grouped(float64(r.Draws))))
	s.heads(4, false, "Figure", "mean", "median", "low", "high", "with mean inputs", "Unit")
	row := 5
	for _, x := range []struct {
		label, style, unit string
		value              float64
		r                  savings.Spread
	}{
		{"saved a year before tax", "money", c.Currency, c.Total.Value, r.Total}, {"investment", "money", c.Currency, w.Investment, r.Investment},
		{"net present value " + words.TaxWords(c), "money", c.Currency, w.NPV, r.NPV}, {"equivalent annual value", "money", c.Currency, w.PerYear, r.PerYear},
		{"internal rate of return", "share", "a year", w.IRR(), r.IRR}, {"modified rate of return", "share", "a year", w.MIRR, r.MIRR},
		{"simple payback", "years", "years", w.Simple, r.Simple}, {"discounted payback", "years", "years", w.Discounted, r.Discounted}, {"savings to investment", "years", "", w.SIR, r.SIR},
	} {
		s.text(1, row, "", x.label)
		for i, v := range []float64{words.MeanOf(x.r), x.r.Median, x.r.Low, x.r.High, x.value} {
			s.number(2+i, row, x.style, v)
		}
		s.text(7, row, "unit", x.unit)
		row++
	}
	s.text(1, row, "", "chance of a positive net present value")
	s.number(2, row, "share", r.Gains)
	row += 2
	s.heads(row, false, "Paid back "+words.TaxWords(c)+" by the end of year", "simple", "at present value")
	from := row + 1
	paid := row // of the heads
	for _, x := range r.ByYear {
		row++
		s.number(1, row, "", float64(x.Year))
		s.number(2, row, "share", x.Simple)
		s.number(3, row, "share", x.Discounted)
	}
	last := row
	row += 2
	s.heads(row, false, "What moves the mean net present value", "low", "high", "value at low", "value at high", "", "Unit")
	for _, x := range c.Swings {
		row++
		label := words.SwungLabel(x)
		if !x.Given {
			label += " (±10 %)"
		}
		s.text(1, row, "", label)
		s.number(2, row, "plain", x.Low)
		s.number(3, row, "plain", x.High)
		s.number(4, row, "money", x.AtLow)
		s.number(5, row, "money", x.AtHigh)
		s.text(7, row, "unit", words.UnitText(x.Unit))
	}
	for i, x := range c.Drivers {
		if i == 0 {
			row += 2
			s.heads(row, false, "Share of the spread", "share", "rank correlation")
		}
		row++
		s.text(1, row, "", words.DriverLabel(x))
		s.number(2, row, "share", x.Share)
		s.number(3, row, "years", x.Rank)
	}
	if c.Random.PaysBack.Simple == c.Random.PaysBack.Simple {
		s.must(s.f.AddChart(s.sheet, at(9, 4), &excelize.Chart{Type: excelize.Line, Title: chartTitle("Chance of payback by the end of a year"),
			Series: []excelize.ChartSeries{
				{Name: fmt.Sprintf("Uncertainty!$B$%d", paid), Categories: fmt.Sprintf("Uncertainty!$A$%d:$A$%d", from, last), Values: fmt.Sprintf("Uncertainty!$B$%d:$B$%d", from, last), Line: excelize.LineOptions{Width: 2}, Fill: solid("B5651D")},
				{Name: fmt.Sprintf("Uncertainty!$C$%d", paid), Categories: fmt.Sprintf("Uncertainty!$A$%d:$A$%d", from, last), Values: fmt.Sprintf("Uncertainty!$C$%d:$C$%d", from, last), Line: excelize.LineOptions{Width: 2}, Fill: solid("2E6E62")}},
			Legend: excelize.ChartLegend{Position: "bottom"}, XAxis: axis(false, false), YAxis: shares(), Dimension: excelize.ChartDimension{Width: 640, Height: 320}}))
	}
}

// notes is the sheet of the answer in words, the conventions, the cautions, and
// what made the workbook.
func (s *sheets) notes() {
	c := s.Case
	s.add("Notes", 100)
	s.title("Notes", "")
	row := 3
	add := func(head string, lines ...string) {
		if len(lines) == 0 {
			return
		}
		s.text(1, row, "head", head)
		row++
		for _, l := range lines {
			s.text(1, row, "wrap", l)
			s.must(s.f.SetRowHeight(s.sheet, row, 15*float64(1+min(20, words.Columns(l)/95)))) // the text of so many lines
			row++
		}
		row++
	}
	add("The answer, mean of the draws", words.CaseSentences(c, s.Units)...)
	var warnings []string
	for _, w := range c.Warnings {
		warnings = append(warnings, words.WarningText(c, w))
	}
	add("Before you use these figures", warnings...)
	add("How it is calculated",
		"End-of-year flows; year 0 is the investment (NIST Handbook 135; ASTM E917, E1057, E1074, E1121). Within the year of recovery the payback is linear.",
		words.Capital(words.MoneyNote(c))+".",
		"Price is the contribution of a square metre of good web: what it sells for less what is spent only because it is made, waste apart.",
		"Savings to investment: savings after tax over the investment less what it is sold for after tax, all at present value.",
		"A taxable loss saves tax on other profits.",
		"The waste of a year is good web × waste share / (1 − waste share): web that is still in the line at the end counts as good.")
	add("Cautions", model.Safety)
	add("How it was made", fmt.Sprintf("rollchange %s, scenario %s (SHA-256 %s), %s", s.About.Version, s.About.File, s.About.SHA256, words.Head(c.Run)))
}

// shares is the axis of a chance.
func shares() excelize.ChartAxis {
	a, most := axis(true, false), 1.0
	a.Maximum, a.NumFmt = &most, excelize.ChartNumFmt{CustomNumFmt: "0%"}
	return a
}
