package workbook

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"rollchange/out/words"
	"rollchange/sim/savings"
)

// names of the cells of the economic inputs, by key.
var cellNames = map[string]string{
	"economics.hours_per_year": "hours_per_year", "first.hours_per_year": "first_hours_per_year", "economics.demand": "demand", "economics.price": "price",
	"economics.material_cost": "material_cost", "economics.disposal_cost": "disposal_cost", "economics.waste_income": "waste_income", "economics.crew_cost": "crew_cost", "economics.crew_hours_saved": "crew_hours_saved",
	"economics.line_cost": "line_cost", "economics.tape_cost": "tape_cost", "economics.discount_rate": "discount_rate",
	"economics.life": "life_years", "economics.tax_rate": "tax_rate", "economics.depreciation_years": "depreciation_years",
	"economics.price_change": "price_change", "economics.output_price_change": "output_price_change", "economics.material_price_change": "material_price_change", "economics.wage_change": "wage_change",
	"first.investment": "first_investment", "first.maintenance": "first_maintenance", "first.salvage": "first_salvage", "first.start_up_cost": "first_start_up", "first.installation_time": "first_installation",
	"alternative.investment": "alternative_investment", "alternative.maintenance": "alternative_maintenance", "alternative.salvage": "alternative_salvage",
	"alternative.start_up_cost": "alternative_start_up", "alternative.installation_time": "alternative_installation",
}

// percentOf are what the inputs in per cent are of, where it is not a year.
var percentOf = map[string]string{"economics.tax_rate": words.InputsOfProfit, "economics.crew_hours_saved": words.InputsOfHours}

// source is the source note of the table that a key stands in.
func (s *sheets) source(key string) string {
	for table := key; ; {
		i := strings.LastIndexByte(table, '.')
		if i < 0 {
			return ""
		}
		table = table[:i]
		if note, ok := s.Sources[table]; ok {
			return note
		}
	}
}

// The columns of the first sheet.
const (
	colLabel = iota + 1
	colLive  // or the value of an input
	colUnit
	colMean // or the low end of an input
	colLow  // or the high end
	colHigh // or what an input was in the run
	colNote
)

// answer is the first sheet: what it comes to, as the formulas have it and as the draws of
// the run had it, and all that was given. A shaded cell that is changed is followed by all
// that is live.
func (s *sheets) answer() {
	c := s.Case
	s.add(words.SheetAnswer, 42, 17, 13, 17, 15, 16, 52)
	s.title(s.About.Title, fmt.Sprintf(words.AnswerNote, words.AlternativeName(c.Alternative), words.AlternativeName(c.Against)))
	s.alert(3)
	row := 4
	if set := s.About.SetSentence(); set != "" {
		s.text(1, row, "note", set)
		row++
	}
	row = s.figures(row)
	row = s.shares(row + 1)
	s.breaks(row + 1)
	row = s.inputs(row + 1)
	row = s.lineInputs(row + 1)
	s.text(1, row+1, "note", fmt.Sprintf(words.InputsLowHigh, 100*c.Run.Confidence))
	s.must(s.f.SetPanes(s.sheet, &excelize.Panes{Freeze: true, YSplit: 3, TopLeftCell: at(1, 4), ActivePane: "bottomLeft"}))
	s.printed("A1", at(colNote, row+1), 0)
}

// figures are the answer: live, and as of the run. It returns the row of what comes next.
func (s *sheets) figures(row int) int {
	c, r, w := s.Case, s.Case.Random, &s.Case.Worth
	s.heads(row, false, words.AnswerHeads...)
	taxed := words.TaxWords(c)
	from := row + 1
	for _, x := range []struct {
		label, style, unit, formula, name, remark string
		live                                      any
		value                                     float64
		r                                         savings.Spread
	}{
		{fmt.Sprintf(words.AnswerPayback, taxed), "years-bold", words.SheetYears, "simple_payback", "answer_payback", words.AnswerMedian, years(w.Simple), r.Simple.Median, r.Simple},
		{fmt.Sprintf(words.AnswerDiscounted, taxed), "years", words.SheetYears, "discounted_payback", "", words.AnswerMedian, years(w.Discounted), r.Discounted.Median, r.Discounted},
		{words.SheetSavedBefore, "money", c.Currency, "saved_a_year", "answer_saved_a_year", "", c.Total.Value, r.Total.Mean, r.Total},
		{fmt.Sprintf(words.SheetNPVTaxed, taxed), "money", c.Currency, "npv", "answer_npv", "", w.NPV, r.NPV.Mean, r.NPV},
		{fmt.Sprintf(words.AnswerIRR, taxed), "share", words.SheetPerYear, "internal_rate", "", words.AnswerMedian, rateOf(w), r.IRR.Median, r.IRR},
		{words.AnswerInvested, "money", c.Currency, "investment_extra", "", "", w.Investment, r.Investment.Mean, r.Investment},
	} {
		row++
		s.text(colLabel, row, "", x.label)
		s.formula(colLive, row, x.style, x.formula, x.live)
		s.text(colUnit, row, "unit", x.unit)
		style := strings.TrimSuffix(x.style, "-bold")
		s.number(colMean, row, style, x.value)
		s.number(colLow, row, style, x.r.Low)
		s.number(colHigh, row, style, x.r.High)
		s.text(colNote, row, "remark", x.remark)
		if x.name != "" {
			s.name(colMean, row, x.name)
		}
	}
	s.asOfTheRun(at(colMean, from), at(colHigh, row))
	sentences := row + 1
	for _, note := range []string{fmt.Sprintf(words.AnswerOverDraws, words.Grouped(float64(r.Draws)), 100*c.Run.Confidence), words.CaseKind(c, s.Units), words.InstallationSentence(c, s.Units), words.CoveredSentence(c)} {
		if note == "" {
			continue
		}
		row++
		s.wide(row, note)
	}
	s.asOfTheRun(at(1, sentences), at(1, row))
	return row + 1
}

// shares is what it comes to if only a part of the saving is reached, live.
func (s *sheets) shares(row int) int {
	c := s.Case
	taxed := words.TaxWords(c)
	s.heads(row, false, words.HeadShares, words.SheetSavedBefore, "", fmt.Sprintf(words.SheetNPVTaxed, taxed), fmt.Sprintf(words.SharesPayback, taxed), fmt.Sprintf(words.AnswerIRR, taxed))
	for i, x := range c.Shares {
		row++
		name := shareNames[i]
		s.text(colLabel, row, "", words.ShareLabel(x))
		s.formula(colLive, row, "money", fmt.Sprintf("saved_maintenance+%g*(saved_a_year-saved_maintenance)", x.Share), x.Saved)
		s.name(colLive, row, "saved_at"+name)
		s.text(colUnit, row, "unit", c.Currency)
		s.formula(colMean, row, "money", "npv"+flowName(i), x.Worth.NPV)
		s.formula(colLow, row, "years", "simple_payback"+flowName(i), years(x.Worth.Simple))
		s.formula(colHigh, row, "share", "internal_rate"+flowName(i), rateOf(&x.Worth))
	}
	row++
	s.wide(row, words.AnswerShares)
	return row + 1
}

// shareNames are the ends of the names of what is saved at each share.
var shareNames = [...]string{"_half", "_three_quarters", "_all"}

// flowName is the end of the names of a flow: that of the whole saving has none.
func flowName(i int) string {
	if i == len(shareNames)-1 {
		return ""
	}
	return shareNames[i]
}

// rateOf is an internal rate of return, or why there is none.
func rateOf(w *savings.Worth) any {
	switch len(w.Rates) {
	case 0:
		return words.SheetNone
	case 1:
		return w.Rates[0]
	}
	return words.SheetNotUnique
}

// inputs are the economic inputs: their value, between what they lie, and what they were
// in the run.
func (s *sheets) inputs(row int) int {
	c := s.Case
	s.heads(row, false, words.InputsHeads...)
	tail := (1 - c.Run.Confidence) / 2
	from := row + 1
	for _, in := range c.AllInputs() {
		name, ok := cellNames[in.Key]
		if !ok {
			continue
		}
		row++
		unit, per := s.measures.shown(in.Unit)
		style, unshaded, copied := "input", "plain", "run"
		if in.Unit == "%" {
			style, unshaded, copied, unit = "inputs", "share", "run-share", words.SheetPerYear
			if of, other := percentOf[in.Key]; other {
				unit = of
			}
		}
		s.text(colLabel, row, "", words.InputLabel(&in))
		s.text(colUnit, row, "unit", unit)
		remark := ""
		switch {
		case in.Given:
			s.number(colLive, row, style, in.Value*per)
			s.number(colHigh, row, copied, in.Value*per)
		case in.Key == "first.hours_per_year":
			s.formula(colLive, row, unshaded, "hours_per_year", in.Value)
			s.formula(colHigh, row, copied, "hours_per_year", in.Value)
			remark = words.InputsSameHours
		case in.Key == "economics.demand":
			s.look(colLive, row, style)
			remark = words.InputsAllSold
		case in.Key == "economics.depreciation_years":
			s.look(colLive, row, style)
			remark = words.InputsOverLife
		case in.Key == "economics.crew_hours_saved":
			s.number(colLive, row, style, 1)
			s.number(colHigh, row, copied, 1)
			remark = words.InputsAllLeave
		case strings.HasSuffix(in.Key, "_change") && in.Key != "economics.price_change":
			s.look(colLive, row, style)
			remark = words.InputsAllPrices
		default:
			s.number(colLive, row, style, 0)
			s.number(colHigh, row, copied, 0)
			remark = words.InputsNotGiven
		}
		if in.Given && in.Varies() {
			low, high := in.Between(tail)
			ends := "ends"
			if in.Unit == "%" {
				ends = unshaded
			}
			s.number(colMean, row, ends, low*per)
			s.number(colLow, row, ends, high*per)
		}
		if note := s.source(in.Key); in.Given && note != "" {
			remark = note
		}
		s.text(colNote, row, "remark", remark)
		s.name(colLive, row, name)
		s.bounds(in.Key, at(colLive, row))
	}
	s.copied(at(colLive, from), at(colHigh, from), row-from+1)
	return row + 1
}

// bounds refuses what an input cannot be when it is typed.
func (s *sheets) bounds(key, cell string) {
	low, high, say := 0.0, 1e12, words.BoundsNotBelow
	switch key {
	case "economics.life", "economics.depreciation_years":
		low, high, say = 1, mostYears, fmt.Sprintf(words.BoundsYears, mostYears)
	case "economics.discount_rate", "economics.tax_rate", "economics.crew_hours_saved":
		high, say = 1, words.BoundsShare
	case "economics.price_change", "economics.output_price_change", "economics.material_price_change", "economics.wage_change":
		low, high, say = -0.5, 0.5, words.BoundsChange
	case "first.salvage", "alternative.salvage":
		return
	}
	s.between(cell, low, high, say)
}

// between refuses numbers outside a range.
func (s *sheets) between(cells string, low, high float64, say string) {
	v := excelize.NewDataValidation(true)
	v.SetSqref(cells)
	s.must(v.SetRange(low, high, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween))
	v.SetError(excelize.DataValidationErrorStyleStop, words.BoundsTitle, say)
	s.must(s.f.AddDataValidation(s.sheet, v))
}

// lineInputs are what of the two lines the formulas use.
func (s *sheets) lineInputs(row int) int {
	c, m := s.Case, &s.measures
	s.heads(row, false, words.InputsLineHeads...)
	from := row + 1
	for _, x := range []struct {
		label, unit, name, key string
		of                     func(l savings.Fixed) float64
	}{
		{words.InputsOperators, "", "operators", "crew.operators", func(l savings.Fixed) float64 { return l.Operators }},
		{words.InputsLines, "", "lines", "crew.lines", func(l savings.Fixed) float64 { return l.Lines }},
		{words.InputsWidth, m.width, "width", "web.width", func(l savings.Fixed) float64 { return m.widths(l.Width) }},
		{words.InputsTrim, m.width, "trim", "rewind.trim", func(l savings.Fixed) float64 { return m.widths(l.Trim) }},
		{words.InputsGrammage, "g/m2", "grammage", "web.grammage", func(l savings.Fixed) float64 { return l.Grammage * 1000 }},
		{words.InputsTape, m.base, "tape_a_splice", "unwind.tape_per_splice", func(l savings.Fixed) float64 { return l.Tape / m.length }},
	} {
		row++
		s.text(colLabel, row, "", x.label)
		s.text(colUnit, row, "unit", x.unit)
		for i, col := range []int{colLive, colMean} {
			s.number(col, row, "input", x.of(c.Line(i)))
			s.number([]int{colLow, colHigh}[i], row, "run", x.of(c.Line(i)))
			s.name(col, row, []string{"first_", "alternative_"}[i]+x.name)
		}
		s.text(colNote, row, "remark", s.source(x.key))
		s.between(at(colLive, row)+" "+at(colMean, row), 0, 1e12, words.BoundsNotBelow)
	}
	s.copied(at(colLive, from), at(colLow, from), row-from+1)
	s.copied(at(colMean, from), at(colHigh, from), row-from+1)
	return row + 1
}
