package workbook

import (
	"fmt"
	"math"

	"github.com/xuri/excelize/v2"

	"rollchange/out/words"
)

// ratesTried are the rates at which the net present value of each flow is reckoned, to find
// how many internal rates of return there are: 1/(1 + rate) by equal ratios from a
// millionth to 20 (-95 %). At a factor below 0.001 later years than the fortieth are worth
// nothing, and their powers would be no numbers any more.
const (
	ratesTried = 181
	ratesFrom  = 6
	factorLow  = 1e-6
	factorHigh = 20
)

// rates is the sheet that finds whether an internal rate of return is the only one, and
// where to begin to look for it.
func (s *sheets) rates() {
	s.add(words.SheetRates, 14, 14, 18, 12, 18, 12, 18, 12)
	s.title(words.RatesTitle, words.RatesNote)
	s.heads(ratesFrom-1, true, words.RatesHeads...)
	last := ratesFrom + ratesTried - 1
	flows := []struct {
		name, col string
		l         *ledger
	}{{"", "H", s.whole}, {shareNames[0], partsFrom[0], s.parts[0]}, {shareNames[1], partsFrom[1], s.parts[1]}}
	found, begin := make([]float64, len(flows)), make([]float64, len(flows))
	for i := range ratesTried {
		row := ratesFrom + i
		x := factorLow * math.Pow(factorHigh/factorLow, float64(i)/(ratesTried-1))
		s.number(1, row, "power", x)
		s.formula(2, row, "power", fmt.Sprintf("1/A%d-1", row), 1/x-1)
		for k, f := range flows {
			v := letterOf(3 + 2*k)
			to := flowTo
			if x < 0.001 {
				to = flowFrom + 40
			}
			s.formula(3+2*k, row, "power", fmt.Sprintf("SUMPRODUCT('%s'!%s$%d:%[2]s$%[4]d,$A%[5]d^'%[1]s'!$A$%[3]d:$A$%[4]d)", words.SheetCashFlow, f.col, flowFrom, to, row), f.l.worth(x))
			turn := 0.
			if i == 0 {
				s.number(4+2*k, row, "plain", 0)
				continue
			}
			if before := factorLow * math.Pow(factorHigh/factorLow, float64(i-1)/(ratesTried-1)); sign(f.l.worth(before))*sign(f.l.worth(x)) < 0 {
				turn = 1
				if found[k]++; found[k] == 1 {
					begin[k] = 1/x - 1
				}
			}
			s.formula(4+2*k, row, "plain", fmt.Sprintf("IF(SIGN(%s%d)*SIGN(%[1]s%[3]d)<0,1,0)", v, row, row-1), turn)
		}
	}
	for k, f := range flows {
		d := letterOf(4 + 2*k)
		span := fmt.Sprintf("%s%d:%[1]s%[3]d", d, ratesFrom, last)
		if found[k] == 0 { // above all that were tried it is about what the first year brings
			begin[k] = 0.1
			if first := f.l.rows[0].net; first < 0 {
				begin[k] = max(0.1, -f.l.rows[1].net/first-1)
			}
		}
		above := fmt.Sprintf("IF('%s'!%s%d<0,MAX(0.1,-'%[1]s'!%[2]s%[4]d/'%[1]s'!%[2]s%[3]d-1),0.1)", words.SheetCashFlow, f.col, flowFrom, flowFrom+1)
		s.formula(3+2*k, 3, "plain", fmt.Sprintf("SUM(%s)", span), found[k])
		s.name(3+2*k, 3, "rates_found"+f.name)
		s.formula(4+2*k, 3, "share", fmt.Sprintf("IF(%s3>0,INDEX(B%d:B%d,MATCH(1,%s,0)),%s)", letterOf(3+2*k), ratesFrom, last, span, above), begin[k])
		s.name(4+2*k, 3, "rate_guess"+f.name)
	}
	s.text(1, 3, "", words.RatesFound)
	s.printed("A1", at(8, 3), 0) // the figures below it help to find the rate
}

func letterOf(col int) string {
	c, _ := excelize.ColumnNumberToName(col)
	return c
}

// worth is the net present value at a factor of a year.
func (l *ledger) worth(factor float64) float64 {
	sum, power := 0.0, 1.0
	for _, x := range l.outlook {
		sum += x * power
		power *= factor
	}
	return sum
}
