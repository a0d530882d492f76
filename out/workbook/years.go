package workbook

import (
	"fmt"

	"rollchange/out/words"
)

// sharesFrom is the row of year 0 on the sheet of what differs by year.
const sharesFrom = 11

// byYear is the sheet of what is spent and learned in each year, as shares.
func (s *sheets) byYear() {
	c := s.Case
	s.add(words.SheetByYear, 10, 17, 17, 17, 17, 17, 3, 13, 13, 13, 13, 13)
	s.title(words.ByYearTitle, words.ByYearNote)
	s.alert(3)
	s.wide(4, words.ByYearHow)
	first := sharesFrom
	s.heads(first-1, true, words.ByYearHeads(words.AlternativeName(c.Against), words.AlternativeName(c.Alternative))...)
	list := c.Learning()
	for t := range mostYears + 1 {
		row := first + t
		s.number(1, row, "year", float64(t))
		learned := 1.
		if t-1 < len(list) && t > 0 {
			learned = list[t-1]
		}
		a, b := c.Spending(0, t)
		d, e := c.Spending(1, t)
		for i, x := range []float64{a, d, b, e, learned} {
			if i == 4 && t == 0 {
				continue
			}
			s.number(2+i, row, "inputs", x)
			s.number(8+i, row, "run-share", x)
		}
	}
	last := first + mostYears
	for i := range 5 {
		s.copied(at(2+i, first), at(8+i, first), mostYears+1)
	}
	s.between(fmt.Sprintf("B%d:F%d", first, last), 0, 1, words.BoundsShare)
	s.beyond(first, last, 1, 12)
	for i, name := range []string{"first_invested_share", "alternative_invested_share"} {
		col := []string{"B", "C"}[i]
		s.text(1, 6+i, "", []string{words.ByYearFirstSum, words.ByYearOtherSum}[i])
		s.formula(6, 6+i, "share", fmt.Sprintf("SUMIF(A%d:A%d,\"<=\"&life_whole,%s%d:%s%d)", first, last, col, first, col, last), s.within(i))
		s.name(6, 6+i, name)
	}
	s.printed("A1", at(12, first+max(s.Case.Worth.Life, yearsPrinted)), first-1)
}

// within is the share of the investment of a side that is spent within the life.
func (s *sheets) within(side int) float64 {
	sum := 0.0
	for t := range s.Case.Worth.Life + 1 {
		x, _ := s.Case.Spending(side, t)
		sum += x
	}
	return sum
}
