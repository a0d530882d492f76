package workbook

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// causeFormulas are what each cause saves, from the cells of a year of both.
var causeFormulas = [savings.Causes]string{
	savings.Contribution: "price*((alternative_width-alternative_trim)*alternative_good-(first_width-first_trim)*first_good)*LONG/WIDTH",
	savings.Material:     "material_cost*(first_waste_area-alternative_waste_area)",
	savings.Disposal:     "disposal_cost*(first_waste_mass-alternative_waste_mass)",
	savings.WasteIncome:  "waste_income*(alternative_waste_mass-first_waste_mass)",
	savings.CrewHours:    "crew_cost*IF(first_operator_hours>alternative_operator_hours,crew_hours_saved,1)*(first_operator_hours-alternative_operator_hours)",
	savings.LineHours:    "line_cost*(first_line_hours-alternative_line_hours)",
	savings.Tape:         "tape_cost*(first_tape-alternative_tape)",
	savings.Maintenance:  "first_maintenance-alternative_maintenance",
}

// savings is the sheet of a year of both alternatives and what separates them,
// as live formulas.
func (s *sheets) savings() {
	c, m := s.Case, &s.measures
	s.add(words.SheetSavings, 40, 20, 20, 18, 18, 20, 70)
	s.title(words.SavingsTitle, words.SavingsSheetNote)
	s.alert(3)
	s.heads(4, false, words.SavingsYear, c.Against, c.Alternative, words.SheetDifference, words.SheetUnit, "", words.SheetFormula)
	row := 5
	year := func(is words.SheetRow, unit, name, formula string, of func(i int, y savings.Year) float64) {
		s.text(1, row, "", is.Label)
		for i, side := range []string{"first", "alternative"} {
			hours := []string{"first_hours_per_year", "hours_per_year"}[i]
			s.formula(2+i, row, "plain", m.reckoned(strings.NewReplacer("@", side+"_", "#", hours).Replace(formula)), of(i, c.Years[i]))
			s.name(2+i, row, side+"_"+name)
		}
		s.formula(4, row, "plain", fmt.Sprintf("C%d-B%d", row, row), of(1, c.Years[1])-of(0, c.Years[0]))
		s.text(5, row, "unit", unit)
		s.text(7, row, "remark", is.Remark)
		row++
	}
	long, area := m.long.SI, m.length*m.length
	year(words.RowPlanned, "h", "planned", "#", func(i int, _ savings.Year) float64 { return c.Hours[i] / 3600 })
	year(words.RowCapacity, m.long.Name, "capacity", "@good_speed*60*#/LONG", func(i int, _ savings.Year) float64 { return c.Capacity[i] / long })
	year(words.RowGood, m.long.Name, "good", "IF(ISNUMBER(demand),MIN(demand,@capacity),@capacity)", func(_ int, y savings.Year) float64 { return y.Good / long })
	year(words.RowHours, "h", "hours", "@good*LONG/(@good_speed*60)", func(_ int, y savings.Year) float64 { return y.Hours / 3600 })
	year(words.RowWasteTrimmed, m.long.Name, "waste", "@good*(1-@trim/@width)*@waste_share/(1-@waste_share)", func(_ int, y savings.Year) float64 { return y.Waste / long })
	year(words.RowWasteArea, m.area, "waste_area", "@waste*LONG*@width/WIDTH", func(_ int, y savings.Year) float64 { return y.WasteArea / area })
	year(words.RowWasteMass, m.mass, "waste_mass", "@waste_area*@grammage*GRAM", func(_ int, y savings.Year) float64 { return y.WasteMass / m.pound })
	year(words.RowOperatorHours, "h", "operator_hours", "@operators*@hours", func(_ int, y savings.Year) float64 { return y.OperatorHours / 3600 })
	year(words.RowLineHours, "h", "line_hours", "@lines*@hours", func(_ int, y savings.Year) float64 { return y.LineHours / 3600 })
	year(words.RowTape, m.base, "tape", "@tape_a_splice*@splices_an_hour*@hours", func(_ int, y savings.Year) float64 { return y.Tape / m.length })
	row = s.causes(row + 1)
	s.installation(row + 1)
}

// causes is what is saved by cause. It returns the row of what comes next.
func (s *sheets) causes(row int) int {
	c := s.Case
	s.heads(row, false, append([]string{fmt.Sprintf(words.SavingsFor, c.Currency)}, words.SavingsHeads...)...)
	row++
	from := row
	for k, formula := range causeFormulas {
		x, r := c.Save[k], c.Random.Save[k]
		s.text(1, row, "", words.CauseLabel(x.Cause))
		s.formula(2, row, "money", s.measures.reckoned(formula), x.Value)
		s.name(2, row, "saved_"+x.Cause.Key())
		s.number(3, row, "money", x.HalfWidth)
		s.number(4, row, "money", r.Low)
		s.number(5, row, "money", r.High)
		s.number(6, row, "money", r.Mean)
		s.text(7, row, "remark", words.CauseFormula(c, x.Cause))
		row++
	}
	s.text(1, row, "bold", words.SheetTotal)
	s.formula(2, row, "total", fmt.Sprintf("SUM(B%d:B%d)", from, row-1), c.Total.Value)
	s.name(2, row, "saved_a_year")
	s.number(3, row, "total", c.Total.HalfWidth)
	s.number(4, row, "total", c.Random.Total.Low)
	s.number(5, row, "total", c.Random.Total.High)
	s.number(6, row, "total", c.Random.Total.Mean)
	s.asOfTheRun(at(3, from), at(6, row))
	s.wide(row+1, fmt.Sprintf(words.SavingsHalf, 100*c.Run.Confidence, words.Grouped(float64(c.Random.Draws))))
	amounts := axis(true, false)
	amounts.NumFmt = excelize.ChartNumFmt{CustomNumFmt: "#,##0"}
	s.must(s.f.AddChart(s.sheet, at(1, row+12), &excelize.Chart{Type: excelize.Bar, Title: chartTitle(fmt.Sprintf(words.SavingsChart, c.Currency)),
		Series:    []excelize.ChartSeries{{Name: words.SavingsSeries, Categories: fmt.Sprintf("%s!$A$%d:$A$%d", s.sheet, from, row-1), Values: fmt.Sprintf("%s!$B$%d:$B$%d", s.sheet, from, row-1), Fill: solid("2E6E62")}},
		Legend:    excelize.ChartLegend{Position: "none"},
		YAxis:     amounts,
		XAxis:     axis(false, true),
		Dimension: excelize.ChartDimension{Width: 760, Height: 320}}))
	s.printed("A1", at(7, row+29), 0)
	return row + 2
}

// installation is what is lost in year 0 while the line of today stands.
func (s *sheets) installation(row int) {
	c, m := s.Case, &s.measures
	s.heads(row, false, words.InstallHeads(c.Against, c.Alternative)...)
	line := func(is words.SheetRow, style, unit, name, formula string, of func(i int) float64) {
		row++
		s.text(1, row, "", is.Label)
		for i, side := range []string{"first", "alternative"} {
			s.formula(2+i, row, style, m.reckoned(strings.ReplaceAll(formula, "@", side+"_")), of(i))
			s.name(2+i, row, side+"_"+name)
		}
		s.text(5, row, "unit", unit)
		s.text(7, row, "remark", is.Remark)
	}
	standing := func(i int) savings.Standing { return c.StandingOf(i) }
	line(words.RowLeft, "plain", "h", "left", "MAX(0,first_hours_per_year-@installation)", func(i int) float64 { return standing(i).Left / 3600 })
	line(words.RowLost, "plain", m.long.Name, "lost_good", "first_good-IF(ISNUMBER(demand),MIN(demand,first_good_speed*60*@left/LONG),first_good_speed*60*@left/LONG)",
		func(i int) float64 { return standing(i).Good / m.long.SI })
	line(words.RowLostMoney, "money", c.Currency, "lost", "price*(first_width-first_trim)/WIDTH*@lost_good*LONG-(material_cost*first_waste_area+(disposal_cost-waste_income)*first_waste_mass+line_cost*first_line_hours+tape_cost*first_tape)*@lost_good/first_good",
		func(i int) float64 { return standing(i).Money })
	row++
	s.text(1, row, "bold", words.RowLostExtra.Label)
	s.formula(3, row, "total", "alternative_lost-first_lost", c.AtMeans().Lost)
	s.name(3, row, "lost_production")
	s.text(5, row, "unit", c.Currency)
	s.text(7, row, "remark", words.RowLostExtra.Remark)
}

// axis is the look of the axes of every chart.
func axis(grid, reverse bool) excelize.ChartAxis {
	return excelize.ChartAxis{MajorGridLines: grid, ReverseOrder: reverse, TickLabelPosition: excelize.ChartTickLabelLow, Font: excelize.Font{Color: "1F2A30", Size: 9}}
}

func chartTitle(s string) excelize.ChartTitle {
	return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: words.Shorten(legible.Line(s), 80)}}}
}

func solid(color string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}
}
