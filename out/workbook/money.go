package workbook

import (
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"rollchange/model/finance"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// savings is the sheet of a year of both alternatives and what separates them,
// as live formulas.
func (s *sheets) savings() {
	c := s.Case
	s.add(words.SheetSavings, 40, 20, 20, 18, 18, 20, 70)
	s.title(words.SavingsTitle, words.SavingsSheetNote)
	s.heads(4, false, words.SavingsYear, c.Against, c.Alternative, words.SheetDifference, words.SheetUnit, "", words.SheetFormula)
	row := 5
	year := func(is words.SheetRow, unit, name, formula string, of func(i int, y savings.Year) float64) {
		s.text(1, row, "", is.Label)
		for i, side := range []string{"first", "alternative"} {
			hours := []string{"first_hours_per_year", "hours_per_year"}[i]
			s.formula(2+i, row, "plain", strings.NewReplacer("@", side+"_", "#", hours).Replace(formula), of(i, c.Years[i]))
			s.name(2+i, row, side+"_"+name)
		}
		s.formula(4, row, "plain", fmt.Sprintf("C%d-B%d", row, row), of(1, c.Years[1])-of(0, c.Years[0]))
		s.text(5, row, "unit", unit)
		s.text(7, row, "remark", is.Remark)
		row++
	}
	year(words.RowCapacity, "m", "capacity", "@good_rate_m_s*#*3600", func(i int, _ savings.Year) float64 { return c.Capacity[i] })
	year(words.RowGood, "m", "good", "IF(ISNUMBER(demand_m),MIN(demand_m,@capacity),@capacity)", func(_ int, y savings.Year) float64 { return y.Good })
	year(words.RowHours, "h", "hours", "@good/@good_rate_m_s/3600", func(_ int, y savings.Year) float64 { return y.Hours / 3600 })
	waste, formula := words.RowWaste, "@good*@waste_share/(1-@waste_share)"
	sold := "price_per_m2*(alternative_width_m*alternative_good-first_width_m*first_good)"
	if c.Trimmed() {
		waste, formula = words.RowWasteTrimmed, "@good*(1-@trim_m/@width_m)*@waste_share/(1-@waste_share)"
		sold = "price_per_m2*((alternative_width_m-alternative_trim_m)*alternative_good-(first_width_m-first_trim_m)*first_good)"
	}
	year(waste, "m", "waste", formula, func(_ int, y savings.Year) float64 { return y.Waste })
	year(words.RowWasteArea, "m2", "waste_area", "@waste*@width_m", func(_ int, y savings.Year) float64 { return y.WasteArea })
	year(words.RowWasteMass, "kg", "waste_mass", "@waste_area*@grammage_kg", func(_ int, y savings.Year) float64 { return y.WasteMass })
	year(words.RowOperatorHours, "h", "operator_hours", "@operators*@hours", func(_ int, y savings.Year) float64 { return y.OperatorHours / 3600 })
	year(words.RowLineHours, "h", "line_hours", "@lines_shared*@hours", func(_ int, y savings.Year) float64 { return y.LineHours / 3600 })
	year(words.RowTape, "m", "tape", "@tape_m_a_splice*@splices_per_s*@hours*3600", func(_ int, y savings.Year) float64 { return y.Tape })
	row++
	s.heads(row, false, append([]string{fmt.Sprintf(words.SavingsFor, c.Currency)}, words.SavingsHeads...)...)
	row++
	from := row
	for k, formula := range []string{
		sold,
		"material_cost_per_m2*(first_waste_area-alternative_waste_area)",
		"disposal_cost_per_kg*(first_waste_mass-alternative_waste_mass)",
		"crew_cost_per_h*(first_operator_hours-alternative_operator_hours)",
		"line_cost_per_h*(first_line_hours-alternative_line_hours)",
		"tape_cost_per_m*(first_tape-alternative_tape)",
		"first_maintenance-alternative_maintenance",
	} {
		x, r := c.Save[k], c.Random.Save[k]
		s.text(1, row, "", words.CauseLabel(x.Cause))
		s.formula(2, row, "money", formula, x.Value)
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
	s.text(1, row+1, "note", fmt.Sprintf(words.SavingsHalf, 100*c.Run.Confidence, words.Grouped(float64(c.Random.Draws))))
	s.must(s.f.AddChart(s.sheet, at(1, row+3), &excelize.Chart{Type: excelize.Bar, Title: chartTitle(fmt.Sprintf(words.SavingsChart, c.Currency)),
		Series:    []excelize.ChartSeries{{Name: words.SavingsSeries, Categories: fmt.Sprintf("%s!$A$%d:$A$%d", s.sheet, from, row-1), Values: fmt.Sprintf("%s!$B$%d:$B$%d", s.sheet, from, row-1), Fill: solid("2E6E62")}},
		Legend:    excelize.ChartLegend{Position: "none"},
		YAxis:     axis(true, false),
		XAxis:     axis(false, true),
		Dimension: excelize.ChartDimension{Width: 760, Height: 320}}))
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

// cashFlow is the sheet of flows by year and what they are worth.
func (s *sheets) cashFlow() {
	c, w := s.Case, &s.Case.Worth
	s.add(words.SheetCashFlow, 34, 15, 15, 15, 15, 15, 15, 15, 15, 17, 15, 15, 15, 15, 15, 15, 15)
	s.title(words.FlowTitle, fmt.Sprintf(words.FlowNote, words.Capital(words.MoneyNote(c)), s.years()))
	const measures = 4
	const first = measures + 19 // row of year 0
	last := first + s.years()
	col := func(letter string) string { return fmt.Sprintf("%s%d:%s%d", letter, first, letter, last) }
	row := measures
	put := func(is words.SheetRow, style, name, formula string, holds any) {
		s.text(1, row, "", is.Label)
		s.formula(2, row, style, formula, holds)
		s.name(2, row, name)
		s.text(3, row, "remark", is.Remark)
		row++
	}
	amount := func(is words.SheetRow, style, name, formula string, holds any) {
		is.Label = fmt.Sprintf(words.SheetOfCurrency, is.Label, c.Currency)
		put(is, style, name, formula, holds)
	}
	amount(words.RowInvestment, "money", "investment_extra", "alternative_investment-first_investment", w.Investment)
	amount(words.RowSalvage, "money", "salvage_extra", "alternative_salvage-first_salvage", w.Salvage)
	put(words.RowLife, "plain", "life_whole", "MAX(1,ROUND(life_years,0))", float64(w.Life))
	put(words.RowDepreciation, "plain", "depreciation_whole", "IF(ISNUMBER(depreciation_years),MAX(1,ROUND(depreciation_years,0)),life_whole)", s.depreciation())
	amount(words.RowCharge, "money", "depreciation_charge", "IF(tax_rate>0,(investment_extra-salvage_extra)/depreciation_whole,0)", w.Flow[1].Depreciation)
	put(words.RowSigns, "plain", "sign_changes", fmt.Sprintf("SUM(%s)", col("N")), float64(s.changes()))
	amount(words.RowNPV, "total", "npv", fmt.Sprintf("SUM(%s)", col("P")), w.NPV)
	put(words.RowNPVByFunction, "money", "npv_function", fmt.Sprintf("G%d+NPV(discount_rate,G%d:G%d)", first, first+1, last), w.NPV)
	amount(words.RowAnnual, "money", "npv_a_year", "IF(discount_rate=0,npv/life_whole,npv*discount_rate/(1-(1+discount_rate)^-life_whole))", w.PerYear)
	var rate any = w.IRR()
	guess := w.IRR()
	if len(w.Rates) != 1 {
		rate, guess = words.SheetNone, 0.1
	}
	if s.changes() > 1 {
		rate = words.SheetNotUnique
	}
	irr := fmt.Sprintf("IRR(%s,%.6g)", col("G"), guess)
	put(words.RowIRR, "share", "internal_rate", fmt.Sprintf("IF(sign_changes>1,%q,IFERROR(IRR(%s,%s),%q))", words.SheetNotUnique, col("G"), irr, words.SheetNone), rate)
	var mirr any = w.MIRR
	if math.IsNaN(w.MIRR) {
		mirr = words.SheetNone
	}
	put(words.RowMIRR, "share", "modified_rate", fmt.Sprintf("IF(SUM(%s)*SUM(%s)=0,%q,(SUM(%s)/SUM(%s))^(1/life_whole)-1)", col("M"), col("L"), words.SheetNone, col("M"), col("L")), mirr)
	put(words.RowSimple, "years", "simple_payback", payback(col("J"), first), years(w.Simple))
	put(words.RowDiscounted, "years", "discounted_payback", payback(col("K"), first), years(w.Discounted))
	gain := fmt.Sprintf("SUMPRODUCT(%s,%s)", col("O"), col("I"))
	put(words.RowSIR, "years", "savings_to_investment", fmt.Sprintf("IF(%s-npv>0,%s/(%s-npv),%q)", gain, gain, gain, words.SheetNotInvested), orText(w.SIR, words.SheetNotInvested))
	s.heads(first-1, false, words.FlowHeads...)
	for t := 0; t <= s.years(); t++ {
		s.year(t, first+t, first)
	}
	shown := first + w.Life
	s.must(s.f.AddChart(s.sheet, at(1, last+2), &excelize.Chart{Type: excelize.Col, Title: chartTitle(fmt.Sprintf(words.FlowChart, words.TaxWords(c), c.Currency)),
		Series: []excelize.ChartSeries{{Name: fmt.Sprintf("'%s'!$G$%d", s.sheet, first-1), Categories: fmt.Sprintf("'%s'!$A$%d:$A$%d", s.sheet, first, shown), Values: fmt.Sprintf("'%s'!$G$%d:$G$%d", s.sheet, first, shown), Fill: solid("2E6E62")}},
		Legend: excelize.ChartLegend{Position: "bottom"}, XAxis: axis(false, false), YAxis: axis(true, false), Dimension: excelize.ChartDimension{Width: 760, Height: 320}},
		&excelize.Chart{Type: excelize.Line, Series: []excelize.ChartSeries{{Name: fmt.Sprintf("'%s'!$H$%d", s.sheet, first-1), Categories: fmt.Sprintf("'%s'!$A$%d:$A$%d", s.sheet, first, shown), Values: fmt.Sprintf("'%s'!$H$%d:$H$%d", s.sheet, first, shown), Line: excelize.LineOptions{Width: 2}, Fill: solid("B5651D")}},
			Legend: excelize.ChartLegend{Position: "bottom"}, XAxis: axis(false, false), YAxis: axis(true, false)}))
}

// payback is the formula of a payback from its column of crossings.
func payback(crossings string, first int) string {
	return fmt.Sprintf("IF(G%d>=0,%q,IF(COUNT(%s)=0,%q,MIN(%s)))", first, words.SheetNotInvested, crossings, words.SheetNever, crossings)
}

func years(x float64) any { return orText(x, words.SheetNotInvested) }

func orText(x float64, text string) any {
	switch {
	case math.IsNaN(x):
		return text
	case math.IsInf(x, 1):
		return words.SheetNever
	}
	return x
}

// years is how many years the sheet has room for.
func (s *sheets) years() int { return max(25, s.Case.Worth.Life) }

// depreciation is the whole years of depreciation, the life when not given.
func (s *sheets) depreciation() float64 {
	if n := s.Case.DepreciationYears(); n > 0 {
		return float64(n)
	}
	return float64(s.Case.Worth.Life)
}

// changes counts the changes of sign of the net flow.
func (s *sheets) changes() int {
	n, last := 0, 0.0
	for _, y := range s.Case.Worth.Flow {
		if y.Net != 0 {
			if last != 0 && (y.Net > 0) != (last > 0) {
				n++
			}
			last = y.Net
		}
	}
	return n
}

// year writes the row of year t.
func (s *sheets) year(t, row, first int) {
	w := &s.Case.Worth
	var y finance.Year
	if t < len(w.Flow) {
		y = w.Flow[t]
	}
	net := func(t int) float64 {
		if t < 0 || t >= len(w.Flow) {
			return 0
		}
		return w.Flow[t].Net
	}
	sum, present, presentBefore := 0.0, 0.0, 0.0
	for i := 0; i <= t; i++ {
		sum += net(i)
		presentBefore = present
		present += net(i) * finance.SPV(w.Rate, float64(i))
	}
	f := func(col int, style, formula string, holds any) {
		s.formula(col, row, style, strings.NewReplacer("@", fmt.Sprint(row), "~", fmt.Sprint(row-1), "!", fmt.Sprint(first)).Replace(formula), holds)
	}
	factor := finance.SPV(w.Rate, float64(t))
	s.number(1, row, "", float64(t))
	if t == 0 {
		f(2, "money", "-investment_extra", y.Investment)
		for _, c := range []int{3, 4, 5, 6} {
			s.number(c, row, "money", 0)
		}
		s.number(14, row, "plain", 0)
	} else {
		s.number(2, row, "money", 0)
		f(3, "money", "IF(A@<=life_whole,saved_a_year,0)", y.Savings)
		f(4, "money", "IF(AND(A@<=life_whole,A@<=depreciation_whole),depreciation_charge,0)", y.Depreciation)
		f(5, "money", "IF(A@=life_whole,salvage_extra,0)", y.Salvage)
		f(6, "money", "-tax_rate*(C@-D@)-tax_rate*IF(A@=life_whole,E@-Q@,0)", y.Tax)
		crossed := func(before, after, flow float64) any {
			if t < len(w.Flow) && before < 0 && after >= 0 {
				return float64(t-1) - before/flow
			}
			return ""
		}
		f(10, "years", "IF(AND(A@<=life_whole,H~<0,H@>=0),A~-H~/G@,\"\")", crossed(sum-net(t), sum, net(t)))
		f(11, "years", "IF(AND(A@<=life_whole,SUM(P$!:P~)<0,SUM(P$!:P@)>=0),A~-SUM(P$!:P~)/P@,\"\")",
			crossed(presentBefore, present, net(t)*factor))
		flips := 0.0
		if net(t)*net(t-1) < 0 {
			flips = 1
		}
		f(14, "plain", "IF(G@*G~<0,1,0)", flips)
	}
	f(7, "money", "B@+C@+E@+F@", y.Net)
	f(8, "money", "SUM(G$!:G@)", sum)
	f(9, "exact", "(1+discount_rate)^(0-A@)", factor)
	f(12, "money", "IF(G@<0,-G@*I@,0)", max(0, -net(t)*factor))
	f(13, "money", "IF(G@>0,G@*(1+discount_rate)^(life_whole-A@),0)", max(0, net(t)*math.Pow(1+w.Rate, float64(w.Life-t))))
	book := w.Investment - w.Flow[1].Depreciation*math.Min(s.depreciation(), float64(t))
	f(17, "money", "investment_extra-depreciation_charge*MIN(depreciation_whole,A@)", book)
	f(16, "money", "G@*I@", net(t)*factor)
	f(15, "money", "C@*(1-tax_rate)+tax_rate*D@", y.Operating)
}
