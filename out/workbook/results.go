package workbook

import (
	"fmt"

	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// results is the sheet of what was simulated, as values: those that the
// formulas use, with named cells that may be changed, then all of them.
func (s *sheets) results() {
	c, rs, m := s.Case, s.Results, &s.measures
	s.add(words.SheetResults, 44, 18, 14, 18, 14, 18, 14, 12)
	s.title(words.ResultsTitle, fmt.Sprintf(words.ResultsNote, words.Head(c.Run)))
	s.alert(3)
	s.heads(4, true, words.ResultsResult, c.Against, words.SheetPlusMinus, c.Alternative, words.SheetPlusMinus, words.SheetDifference, words.SheetPlusMinus, words.SheetUnit)
	row := 5
	s.text(1, row, "bold", words.ResultsUsed)
	put := func(x words.Compared, unit string, scale float64, first, second string) {
		s.text(1, row, "", words.LabelOf(x.Name).Text)
		a, b := x.Cells[0], x.Cells[s.At]
		if b.Alone {
			b.Difference = nil
		}
		for i, e := range []*estimate.Estimate{a.Figure, b.Figure, b.Difference} {
			if e == nil {
				continue
			}
			style := []string{first, first, second}[i]
			s.number(2+2*i, row, style, e.Mean*scale)
			s.number(3+2*i, row, second, e.HalfWidth*scale)
		}
		s.text(8, row, "unit", unit)
	}
	rows := words.Compare(rs, s.Units)
	byName := rows.ByName()
	names := []string{"good_speed", "waste_share", "splices_an_hour"}
	units := []string{m.speed, words.ResultsOfWeb, "/h"}
	scales := []float64{60 / m.length, 1, 3600}
	from := row + 1
	for k, name := range replicate.JointMetrics {
		row++
		put(byName[name], units[k], scales[k], "input-exact", "six")
		for i, col := range []int{2, 4} {
			s.name(col, row, []string{"first_", "alternative_"}[i]+names[k])
			s.number(10+i, row, "run-exact", c.Simulated(i, k)*scales[k])
		}
	}
	s.asOfTheRun(at(3, from), at(3, row))
	s.asOfTheRun(at(5, from), at(7, row))
	s.copied(at(2, from), at(10, from), 3)
	s.copied(at(4, from), at(11, from), 3)
	s.between(fmt.Sprintf("B%d:B%d D%d:D%d", from, row, from, row), 0, 1e9, words.BoundsNotBelow)
	s.text(10, from-1, "head", words.AsOfTheRun)
	row += 2
	s.text(1, row, "bold", words.ResultsAll)
	for _, x := range rows {
		if x.Cells[0].Figure == nil && x.Cells[s.At].Figure == nil {
			continue
		}
		row++
		put(x, x.Shown.Name, 1/x.Shown.SI, "plain", "plain")
	}
	if rs.Open != nil {
		row++
		s.text(1, row, "note", words.ResultsAlone)
	}
	s.printed("A1", at(8, row), 4)
}
