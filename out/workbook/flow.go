package workbook

import (
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"rollchange/out/words"
)

// The rows of the sheet of the cash flow: those of the measures, and that of year 0.
const (
	measuresFrom = 5
	flowFrom     = 32
	flowTo       = flowFrom + mostYears
)

// column is a column of the cash flow: its head, its formula of a year from 1, that of year 0
// (empty: the same), and its value as the ledger has it. In a formula @ is the row of
// the year, ~ that of the year before, # that on the sheet of what differs by year, $! the
// first and $? the last row.
type column struct {
	head, style   string
	formula, zero string
	value         func(r *line, t int) any
}

// yearsPrinted is for how many years at least there is room in print, so that a life that is
// typed may be longer than that of the run; years beyond the life are blank.
const yearsPrinted = 25

// printedColumns is how many columns are for people, the others help them.
const printedColumns = 12

func (s *sheets) columnsOf() []column {
	w := &s.Case.Worth
	number := func(of func(r *line) float64) func(*line, int) any {
		return func(r *line, _ int) any { return of(r) }
	}
	heads := words.FlowHeads(words.TaxWords(s.Case))
	list := []column{
		{},
		{"", "money", "IF(A@<=life_whole,first_investment*'" + words.SheetByYear + "'!B#-alternative_investment*'" + words.SheetByYear + "'!C#,0)", "", number(func(r *line) float64 { return r.invested })},
		{"", "money", "IF(A@<=life_whole,first_start_up*'" + words.SheetByYear + "'!D#-alternative_start_up*'" + words.SheetByYear + "'!E#,0)", "first_start_up*'" + words.SheetByYear + "'!D#-alternative_start_up*'" + words.SheetByYear + "'!E#-lost_production", number(func(r *line) float64 { return r.once })},
		{"", "money", "IF(A@<=life_whole,T@+saved_maintenance*(1+price_change)^A@,0)", "0", number(func(r *line) float64 { return r.saved })},
		{"", "money", "IF(A@<=life_whole,S~-IF(ISNUMBER(depreciation_years),IF(A@-1-depreciation_whole>=0,INDEX(S$!:S$?,A@-depreciation_whole),0),0),0)", "0", number(func(r *line) float64 { return r.depreciation })},
		{"", "money", "IF(A@=life_whole,salvage_extra,0)", "0", number(func(r *line) float64 { return r.salvage })},
		{"", "money", "-tax_rate*(D@-E@+C@)-tax_rate*IF(A@=life_whole,F@+SUM(B$!:B@)+SUM(E$!:E@),0)", "-tax_rate*C@", number(func(r *line) float64 { return r.tax })},
		{"", "money", "B@+C@+D@+F@+G@", "", number(func(r *line) float64 { return r.net })},
		{"", "money", "I~+H@", "H@", number(func(r *line) float64 { return r.cumulative })},
		{"", "factor", "(1+discount_rate)^(0-A@)", "", number(func(r *line) float64 { return r.factor })},
		{"", "money", "H@*J@", "", number(func(r *line) float64 { return r.present })},
		{"", "money", "L~+K@", "K@", number(func(r *line) float64 { return r.cumulativePresent })},
		// helpers
		{"", "years", "IF(AND(I~<0,I@>=0),A~-I~/H@,\"\")", "\"\"", crossed(func(r *line) float64 { return r.simple })},
		{"", "years", "IF(AND(L~<0,L@>=0),A~-L~/K@,\"\")", "\"\"", crossed(func(r *line) float64 { return r.discounted })},
		{"", "money", "IF(H@<0,-K@,0)", "", number(func(r *line) float64 { return r.outlay })},
		{"", "money", "IF(H@>0,H@*(1+discount_rate)^(life_whole-A@),0)", "", number(func(r *line) float64 { return r.returned })},
		{"", "money", "D@*(1-tax_rate)+tax_rate*E@", "", number(func(r *line) float64 { return r.operating })},
		{"", "money", "IF(AND(tax_rate>0,A@<life_whole),(-B@-" +
			"alternative_salvage*IF(alternative_invested_share>0,'" + words.SheetByYear + "'!C#/alternative_invested_share,0)+" +
			"first_salvage*IF(first_invested_share>0,'" + words.SheetByYear + "'!B#/first_invested_share,0))" +
			"/IF(ISNUMBER(depreciation_years),depreciation_whole,MAX(1,life_whole-A@)),0)", "", number(func(r *line) float64 { return r.charge })},
		{"", "money", "S~+R@", "R@", number(func(r *line) float64 { return r.charged })},
		{"", "money", "IF(A@<=life_whole,'" + words.SheetByYear + "'!F#*(saved_contribution*(1+change_of_output)^A@+(saved_waste_material+saved_waste_income+saved_tape)*(1+change_of_material)^A@+saved_crew_hours*(1+change_of_wages)^A@+(saved_waste_disposal+saved_line_hours)*(1+price_change)^A@),0)", "0", number(func(r *line) float64 { return r.reached })},
		{"", "plain", "IF(H@=0,U~,SIGN(H@))", "SIGN(H@)", number(func(r *line) float64 { return r.sign })},
		{"", "plain", "IF(U@*U~<0,1,0)", "0", number(func(r *line) float64 { return r.flips })},
		{"", "plain", "IF(W~<>0,W~,SIGN(-B@-C@))", "SIGN(-B@-C@)", number(func(r *line) float64 { return r.spends })},
		{"", "plain", "MIN(A@,life_whole)", "", func(_ *line, t int) any { return float64(min(t, w.Life)) }},
		{"", "money", "INDEX(I$!:I$?,X@+1)", "", func(_ *line, t int) any { return s.whole.rows[min(t, w.Life)].cumulative }},
		{"", "money", "INDEX(L$!:L$?,X@+1)", "", func(_ *line, t int) any { return s.whole.rows[min(t, w.Life)].cumulativePresent }},
	}
	for i := range list {
		list[i].head = heads[i]
	}
	return list
}

// crossed is the value of a column that is empty in all years but that of the payback.
func crossed(of func(r *line) float64) func(*line, int) any {
	return func(r *line, _ int) any {
		if x := of(r); !math.IsNaN(x) {
			return x
		}
		return ""
	}
}

// partColumns are those of a flow of which a part of the saving is reached: net, sum,
// payback, sign and its change.
func partColumns(share float64, at string) []column {
	col := func(i int) string { return letterOf(columnNumber(at) + i) } // from the first column on
	head := fmt.Sprintf(words.FlowOfShare, 100*share)
	return []column{
		{head + words.FlowNetOf, "money", fmt.Sprintf("H@-(1-%g)*(1-tax_rate)*T@", share), "", func(r *line, _ int) any { return r.net }},
		{head + words.FlowSumOf, "money", fmt.Sprintf("%s~+%s@", col(1), col(0)), col(0) + "@", func(r *line, _ int) any { return r.cumulative }},
		{head + words.FlowPaidOf, "years", fmt.Sprintf("IF(AND(%s~<0,%[1]s@>=0),A~-%[1]s~/%[2]s@,\"\")", col(1), col(0)), "\"\"", crossed(func(r *line) float64 { return r.simple })},
		{head + words.FlowSignOf, "plain", fmt.Sprintf("IF(%s@=0,%s~,SIGN(%[1]s@))", col(0), col(3)), fmt.Sprintf("SIGN(%s@)", col(0)), func(r *line, _ int) any { return r.sign }},
		{head + words.FlowTurnsOf, "plain", fmt.Sprintf("IF(%s@*%[1]s~<0,1,0)", col(3)), "0", func(r *line, _ int) any { return r.flips }},
	}
}

func columnNumber(name string) int {
	n, _ := excelize.ColumnNameToNumber(name)
	return n
}

// partsFrom are the first columns of the flows of a half and three quarters of the saving.
var partsFrom = [...]string{"AB", "AH"}

// cashFlow is the sheet of flows by year and what they are worth.
func (s *sheets) cashFlow() {
	c := s.Case
	s.add(words.SheetCashFlow, 48, 15, 15, 15, 15, 15, 15, 15, 15, 15, 15, 15)
	s.title(words.FlowTitle, fmt.Sprintf(words.FlowNote, words.Capital(words.MoneyNote(c)), mostYears))
	s.alert(3)
	s.whole = ledgerOf(c, 1)
	s.flowColumns(1, s.columnsOf(), s.whole)
	for i, at := range partsFrom {
		share := c.Shares[i].Share
		s.parts[i] = ledgerOf(c, share)
		s.flowColumns(columnNumber(at), partColumns(share, at), s.parts[i])
	}
	s.worth()
	s.beyond(flowFrom, flowTo, 1, columnNumber("AL"))
	s.must(s.f.SetRowHeight(s.sheet, flowFrom-1, 45))
	span := func(col string) string {
		return fmt.Sprintf("'%s'!$%s$%d:$%[2]s$%[4]d", s.sheet, col, flowFrom, flowTo)
	}
	var series []excelize.ChartSeries
	for i, col := range []string{"Y", "Z"} {
		series = append(series, excelize.ChartSeries{Name: fmt.Sprintf("'%s'!$%s$%d", s.sheet, col, flowFrom-1), Categories: span("X"), Values: span(col), Line: excelize.LineOptions{Width: 2, Type: excelize.LineSolid}, Fill: solid([]string{"B5651D", "2E6E62"}[i]),
			Marker: excelize.ChartMarker{Symbol: "circle", Size: 5, Fill: solid([]string{"B5651D", "2E6E62"}[i])}})
	}
	years, amounts := axis(false, false), axis(true, false)
	amounts.NumFmt = excelize.ChartNumFmt{CustomNumFmt: "#,##0"}
	years.Title = chartTitle(words.FlowYear)
	s.must(s.f.AddChart(s.sheet, at(6, measuresFrom), &excelize.Chart{Type: excelize.Scatter, Title: chartTitle(fmt.Sprintf(words.FlowChart, words.TaxWords(c), c.Currency)),
		Series: series, Legend: excelize.ChartLegend{Position: "bottom"}, XAxis: years, YAxis: amounts, Dimension: excelize.ChartDimension{Width: 760, Height: 430}}))
	s.printed("A1", at(printedColumns, flowFrom+max(c.Worth.Life, yearsPrinted)), flowFrom-1)
}

// flowColumns writes columns of the cash flow from one on.
func (s *sheets) flowColumns(from int, list []column, l *ledger) {
	for i, col := range list {
		style := "head-figures"
		if from+i == 1 {
			style = "head"
		}
		s.text(from+i, flowFrom-1, style, col.head)
		for t := range l.rows {
			row := flowFrom + t
			if col.formula == "" {
				s.number(from+i, row, "year", float64(t))
				continue
			}
			formula := col.formula
			if t == 0 && col.zero != "" {
				formula = col.zero
			}
			formula = strings.NewReplacer("@", fmt.Sprint(row), "~", fmt.Sprint(row-1), "#", fmt.Sprint(sharesFrom+t), "$!", fmt.Sprint("$", flowFrom), "$?", fmt.Sprint("$", flowTo)).Replace(formula)
			s.formula(from+i, row, col.style, formula, col.value(&l.rows[t], t))
		}
	}
}

// worth is what the flows are worth.
func (s *sheets) worth() {
	c, w := s.Case, &s.Case.Worth
	row := measuresFrom
	col := func(letter string) string { return fmt.Sprintf("%s%d:%[1]s%[3]d", letter, flowFrom, flowTo) }
	put := func(is words.SheetRow, style, name, formula string, holds any) {
		s.text(1, row, "", is.Label)
		s.formula(2, row, style, formula, holds)
		s.name(2, row, name)
		s.text(3, row, "remark", is.Remark)
		row++
	}
	amount := func(is words.SheetRow, tax, style, name, formula string, holds any) {
		is.Label = fmt.Sprintf(words.SheetOfCurrency, is.Label+tax, c.Currency)
		put(is, style, name, formula, holds)
	}
	before, taxed := " "+words.BeforeTax, " "+words.TaxWords(c)
	g := c.Growth()
	put(words.RowLife, "plain", "life_whole", fmt.Sprintf("MIN(%d,MAX(1,ROUND(life_years,0)))", mostYears), float64(w.Life))
	put(words.RowDepreciation, "plain", "depreciation_whole", fmt.Sprintf("IF(ISNUMBER(depreciation_years),MIN(%d,MAX(1,ROUND(depreciation_years,0))),life_whole)", mostYears), s.depreciation())
	for i, x := range []struct{ name, of string }{{"change_of_output", "output_price_change"}, {"change_of_material", "material_price_change"}, {"change_of_wages", "wage_change"}} {
		put(words.RowChanges[i], "share", x.name, fmt.Sprintf("IF(ISNUMBER(%s),%[1]s,price_change)", x.of), g[i])
	}
	amount(words.RowInvestment, before, "money", "investment_extra", fmt.Sprintf("-SUM(%s)", col("B")), w.Investment)
	amount(words.RowOnce, before, "money", "once_extra", fmt.Sprintf("-SUM(%s)", col("C")), s.once())
	amount(words.RowSalvage, before, "money", "salvage_extra", "IF(alternative_invested_share>0,alternative_salvage,0)-IF(first_invested_share>0,first_salvage,0)", w.Salvage)
	put(words.RowSigns, "plain", "sign_changes", fmt.Sprintf("SUM(%s)", col("V")), s.whole.changes())
	amount(words.RowNPV, taxed, "total", "npv", fmt.Sprintf("SUM(%s)", col("K")), w.NPV)
	amount(words.RowNPVByFunction, taxed, "money", "npv_function", fmt.Sprintf("H%d+NPV(discount_rate,H%d:H%d)", flowFrom, flowFrom+1, flowTo), w.NPV)
	amount(words.RowAnnual, taxed, "money", "npv_a_year", "IF(discount_rate=0,npv/life_whole,npv*discount_rate/(1-(1+discount_rate)^-life_whole))", w.PerYear)
	labelled := func(is words.SheetRow, unit string) words.SheetRow {
		is.Label = fmt.Sprintf(words.SheetOfCurrency, is.Label+taxed, unit)
		if unit == "" {
			is.Label = strings.TrimSuffix(is.Label, ", ")
		}
		return is
	}
	put(labelled(words.RowIRR, ""), "share", "internal_rate", s.rate("H", "sign_changes", "rates_found", "rate_guess"), rateOf(w))
	put(labelled(words.RowMIRR, ""), "share", "modified_rate", fmt.Sprintf("IF(SUM(%s)*SUM(%s)=0,%q,(SUM(%[1]s)/SUM(%[2]s))^(1/life_whole)-1)", col("P"), col("O"), words.SheetNone), orText(w.MIRR, words.SheetNone))
	put(labelled(words.RowSimple, words.SheetYears), "years-bold", "simple_payback", payback(col("M"), "I"), years(w.Simple))
	put(labelled(words.RowDiscounted, words.SheetYears), "years", "discounted_payback", payback(col("N"), "L"), years(w.Discounted))
	gain := fmt.Sprintf("SUMPRODUCT(%s,%s)", col("Q"), col("J"))
	put(labelled(words.RowSIR, ""), "years", "savings_to_investment", fmt.Sprintf("IF(%s-npv>0,%s/(%s-npv),%q)", gain, gain, gain, words.SheetNotInvested), orText(w.SIR, words.SheetNotInvested))
	for i, from := range partsFrom {
		x := c.Shares[i]
		first := columnNumber(from)
		letter := func(k int) string { return letterOf(first + k) }
		of := fmt.Sprintf(words.RowOfShare, words.ShareLabel(x))
		put(words.SheetRow{Label: fmt.Sprintf(words.SheetOfCurrency, of+words.SheetNPV+taxed, c.Currency)}, "money", "npv"+shareNames[i], fmt.Sprintf("SUMPRODUCT(%s,%s)", col(letter(0)), col("J")), x.Worth.NPV)
		put(words.SheetRow{Label: fmt.Sprintf(words.SheetOfCurrency, of+words.SheetPayback+taxed, words.SheetYears)}, "years", "simple_payback"+shareNames[i], payback(col(letter(2)), letter(1)), years(x.Worth.Simple))
		put(words.SheetRow{Label: of + words.SheetIRR + taxed}, "share", "internal_rate"+shareNames[i], s.rate(letter(0), fmt.Sprintf("SUM(%s)", col(letter(4))), "rates_found"+shareNames[i], "rate_guess"+shareNames[i]), rateOf(&x.Worth))
	}
}

// once is what is spent and lost once, in all.
func (s *sheets) once() float64 {
	sum := 0.0
	for i := range s.whole.rows {
		sum -= s.whole.rows[i].once
	}
	return sum
}

// rate is the formula of an internal rate of return of the flows in a column, which is one
// where their sign changes once or the net present value does over all rates tried.
// IRR is asked twice, since it stops a little before the rate.
func (s *sheets) rate(col, changes, found, guess string) string {
	flows := fmt.Sprintf("%s%d:%[1]s%[3]d", col, flowFrom, flowTo)
	return fmt.Sprintf("IF(%s=0,%q,IF(OR(%[1]s=1,%[3]s=1),IFERROR(IRR(%[4]s,IRR(%[4]s,%[5]s)),%[2]q),IF(%[3]s=0,%[2]q,%[6]q)))", changes, words.SheetNone, found, flows, guess, words.SheetNotUnique)
}

// payback is the formula of a payback from its column of crossings and that of the sums.
func payback(crossings, sums string) string {
	return fmt.Sprintf("IF(W%d<=0,%q,IF(COUNT(%s)>0,MIN(%[3]s),IF(%[4]s%[1]d<0,%[5]q,0)))", flowTo, words.SheetNotInvested, crossings, sums, words.SheetNever)
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

// depreciation is the whole years of depreciation, the life when not given.
func (s *sheets) depreciation() float64 {
	if n := s.Case.DepreciationYears(); n > 0 {
		return float64(n)
	}
	return float64(s.Case.Worth.Life)
}

// beyond lets rows of years beyond the life be blank.
func (s *sheets) beyond(first, last, from, to int) {
	id := s.when["blank"]
	s.must(s.f.SetConditionalFormat(s.sheet, at(from, first)+":"+at(to, last), []excelize.ConditionalFormatOptions{{Type: "formula", Criteria: fmt.Sprintf("$A%d>life_whole", first), Format: &id}}))
}
