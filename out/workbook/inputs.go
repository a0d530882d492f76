package workbook

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// names of the cells of the economic inputs, by key.
var cellNames = map[string]string{
	"economics.hours_per_year": "hours_per_year", "first.hours_per_year": "first_hours_per_year", "economics.demand": "demand_m", "economics.price": "price_per_m2",
	"economics.material_cost": "material_cost_per_m2", "economics.disposal_cost": "disposal_cost_per_kg", "economics.crew_cost": "crew_cost_per_h",
	"economics.line_cost": "line_cost_per_h", "economics.tape_cost": "tape_cost_per_m", "economics.discount_rate": "discount_rate",
	"economics.life": "life_years", "economics.tax_rate": "tax_rate", "economics.depreciation_years": "depreciation_years",
	"first.investment": "first_investment", "first.maintenance": "first_maintenance", "first.salvage": "first_salvage",
	"alternative.investment": "alternative_investment", "alternative.maintenance": "alternative_maintenance", "alternative.salvage": "alternative_salvage",
}

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

// answer puts what is told first above the inputs, as values: they are means
// over draws, which no formula follows. It returns the row of what comes next.
func (s *sheets) answer(row int) int {
	c, r := s.Case, s.Case.Random
	s.heads(row, true, words.InputsAnswerHeads...)
	for _, x := range []struct {
		label, style, unit, name, remark string
		value                            float64
		r                                savings.Spread
	}{
		{words.SheetSavedBefore, "money", c.Currency, "answer_saved_a_year", "", r.Total.Mean, r.Total},
		{fmt.Sprintf(words.SheetNPVTaxed, words.TaxWords(c)), "money", c.Currency, "answer_npv", "", r.NPV.Mean, r.NPV},
		{fmt.Sprintf(words.InputsPayback, words.TaxWords(c)), "years", words.SheetYears, "answer_payback", words.InputsPaybackNote, r.Simple.Median, r.Simple},
	} {
		row++
		s.text(1, row, "", x.label)
		s.number(2, row, x.style, x.value)
		s.text(3, row, "unit", x.unit)
		s.number(4, row, x.style, x.r.Low)
		s.number(5, row, x.style, x.r.High)
		s.text(6, row, "remark", x.remark)
		s.name(2, row, x.name)
	}
	for _, note := range []string{
		fmt.Sprintf(words.InputsOverDraws,
			words.Grouped(float64(r.Draws)), 100*c.Run.Confidence),
		words.CaseKind(c, model.Metric), words.CoveredSentence(c)} {
		row++
		s.text(1, row, "note", note)
	}
	return row + 2
}

// inputs is the sheet of all that was given: change a shaded cell and the
// savings and the cash flow follow.
func (s *sheets) inputs() {
	c := s.Case
	s.add(words.SheetInputs, 40, 16, 12, 14, 14, 60)
	s.title(s.About.Title, fmt.Sprintf(words.InputsNote, words.AlternativeName(c.Alternative), words.AlternativeName(c.Against)))
	first := 4
	if set := s.About.SetSentence(); set != "" {
		s.text(1, first, "note", set)
		first++
	}
	row := s.answer(first)
	s.heads(row, true, words.InputsHeads...)
	row++
	tail := (1 - c.Run.Confidence) / 2
	for _, in := range c.AllInputs() {
		name, ok := cellNames[in.Key]
		if !ok {
			continue
		}
		style, unshaded, unit, scale := "input", "plain", in.Unit, 1.0
		if unit == "%" {
			style, unshaded, unit, scale = "inputs", "share", words.SheetPerYear, 0.01
			if in.Key == "economics.tax_rate" {
				unit = words.InputsOfProfit
			}
		}
		s.text(1, row, "", words.InputLabel(&in))
		s.text(3, row, "unit", unit)
		switch {
		case in.Given:
			s.number(2, row, style, in.Value*scale)
		case in.Key == "first.hours_per_year":
			s.formula(2, row, unshaded, "hours_per_year", in.Value*scale)
			s.text(6, row, "remark", words.InputsSameHours)
		case in.Key == "economics.demand":
			s.look(2, row, style)
			s.text(6, row, "remark", words.InputsAllSold)
		case in.Key == "economics.depreciation_years":
			s.look(2, row, style)
			s.text(6, row, "remark", words.InputsOverLife)
		default:
			s.number(2, row, style, 0)
			s.text(6, row, "remark", words.InputsNotGiven)
		}
		if in.Given && in.Varies() {
			low, high := in.Between(tail)
			s.number(4, row, unshaded, low*scale)
			s.number(5, row, unshaded, high*scale)
		}
		if note := s.source(in.Key); in.Given && note != "" {
			s.text(6, row, "unit", note)
		}
		s.name(2, row, name)
		row++
	}
	row++
	s.heads(row, false, words.InputsLineHeads...)
	row++
	type ofLine struct {
		label, unit, name, key string
		of                     func(i int) float64
	}
	list := []ofLine{
		{words.InputsOperators, "", "operators", "crew.operators", func(i int) float64 { return c.Line(i).Operators }},
		{words.InputsLines, "", "lines_shared", "crew.lines", func(i int) float64 { return c.Line(i).Lines }},
		{words.InputsWidth, "m", "width_m", "web.width", func(i int) float64 { return c.Line(i).Width }},
		{words.InputsGrammage, "kg/m2", "grammage_kg", "web.grammage", func(i int) float64 { return c.Line(i).Grammage }},
		{words.InputsTape, "m", "tape_m_a_splice", "unwind.tape_per_splice", func(i int) float64 { return c.Line(i).Tape }},
	}
	if c.Trimmed() {
		list = append(list, ofLine{words.InputsTrim, "m", "trim_m", "rewind.trim", func(i int) float64 { return c.Line(i).Trim }})
	}
	for _, x := range list {
		s.text(1, row, "", x.label)
		s.text(3, row, "unit", x.unit)
		for i, col := range []int{2, 4} {
			s.number(col, row, "input", x.of(i))
			s.name(col, row, []string{"first_", "alternative_"}[i]+x.name)
		}
		s.text(6, row, "unit", s.source(x.key))
		row++
	}
	s.text(1, row+1, "note", fmt.Sprintf(words.InputsLowHigh, 100*c.Run.Confidence))
}

// results is the sheet of what was simulated, as values: those that the
// formulas use, with named cells, then all of them.
func (s *sheets) results() {
	c, rs := s.Case, s.Results
	s.add(words.SheetResults, 44, 18, 14, 18, 14, 18, 14, 12)
	s.title(words.ResultsTitle, fmt.Sprintf(words.ResultsNote, words.Head(c.Run)))
	s.heads(4, true, words.ResultsResult, c.Against, words.SheetPlusMinus, c.Alternative, words.SheetPlusMinus, words.SheetDifference, words.SheetPlusMinus, words.SheetUnit)
	row := 5
	s.text(1, row, "bold", words.ResultsUsed)
	row++
	cells := []string{"good_rate_m_s", "waste_share", "splices_per_s"}
	put := func(x words.Compared, unit string, scale float64, style string) {
		s.text(1, row, "", words.LabelOf(x.Name).Text)
		first, other := x.Cells[0], x.Cells[s.At]
		if other.Alone {
			other.Difference = nil
		}
		for i, e := range []*estimate.Estimate{first.Figure, other.Figure, other.Difference} {
			if e == nil {
				continue
			}
			s.number(2+2*i, row, style, e.Mean*scale)
			s.number(3+2*i, row, style, e.HalfWidth*scale)
		}
		s.text(8, row, "unit", unit)
	}
	rows := words.Compare(rs, s.Units)
	byName := rows.ByName()
	for k, name := range replicate.JointMetrics {
		put(byName[name], byName[name].Unit, 1, "exact")
		s.name(2, row, "first_"+cells[k])
		s.name(4, row, "alternative_"+cells[k])
		row++
	}
	row++
	s.text(1, row, "bold", words.ResultsAll)
	row++
	for _, x := range rows {
		if x.Cells[0].Figure == nil && x.Cells[s.At].Figure == nil {
			continue
		}
		put(x, x.Shown.Name, 1/x.Shown.SI, "plain")
		row++
	}
	if rs.Open != nil {
		s.text(1, row+1, "note", words.ResultsAlone)
	}
}
