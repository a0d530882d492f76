package table

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// shareTable is what the case comes to if only a part of the saving is reached.
func shareTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	taxed := words.TaxWords(c)
	g := grid{heads: []string{words.HeadSavedBefore, fmt.Sprintf(words.HeadNPVTaxed, taxed), fmt.Sprintf(words.SharesPayback, taxed), fmt.Sprintf(words.SharesIRR, taxed)}}
	for _, s := range c.Shares {
		g.add(words.ShareLabel(s), words.Money(s.Savings.Mean, words.HalfOf(s.Savings)), words.Money(s.NPV.Mean, words.HalfOf(s.NPV)), words.Payback(s.Payback.Median), words.Percent(s.IRR.Median))
		if s.Savings.Low == s.Savings.High && s.NPV.Low == s.NPV.High {
			continue // the same in every draw
		}
		g.add("", words.MoneySpan(s.Savings), words.MoneySpan(s.NPV), words.PaybackSpan(s.Payback), words.PercentSpan(s.IRR))
	}
	g.write(b, to)
	fmt.Fprintln(b, to.indented(words.SharesNote, 2))
}
