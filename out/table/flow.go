package table

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// flowHead stands over the cash flow; what is before and what after tax its columns say.
func flowHead(c *savings.Case) string {
	if c.Taxed() {
		return words.HeadCashFlow
	}
	return words.HeadCashFlowBefore
}

func flowTable(b *strings.Builder, c *savings.Case, _ model.System, to Screen) {
	with := c.Taxed()
	g := grid{label: words.HeadYear, heads: []string{words.HeadYearSaved, words.HeadNet, words.HeadCumulative, words.HeadNetRange}}
	if with {
		g.heads = []string{words.HeadYearSavedTaxed, words.HeadDepreciation, words.HeadTax, words.HeadNetTaxed, words.HeadCumulTaxed, words.HeadNetRangeTaxed}
	}
	sum, largest := 0.0, 0.0
	for _, y := range words.MeanFlows(c) {
		largest = max(largest, math.Abs(y.Net))
	}
	show := func(x float64) string { return words.Money(x, largest/100) } // one place for all, so that they add up
	for t, y := range words.MeanFlows(c) {
		sum += y.Net
		cells := []string{show(y.Savings), show(y.Net), show(sum), words.MoneySpan(c.Random.Flow[t])}
		if with {
			cells = []string{show(y.Savings), show(y.Depreciation), show(y.Tax), show(y.Net), show(sum), words.MoneySpan(c.Random.Flow[t])}
		}
		g.add(fmt.Sprint(t), cells...)
		g.rows[len(g.rows)-1].below = strings.Join(included(c, y, show), "\n")
	}
	g.write(b, to)
}

// included is what of a year's net flow no column shows.
func included(c *savings.Case, y finance.Year, show func(float64) string) []string {
	var list []string
	if y.Year > 0 && y.Investment != 0 {
		list = append(list, fmt.Sprintf(words.IncludingSpent, show(-y.Investment)))
	}
	switch lost := c.Random.Lost.Mean; {
	case y.Year == 0 && lost != 0:
		list = append(list, fmt.Sprintf(words.IncludingLost, show(-y.Expense-lost), show(lost)))
	case y.Expense != 0:
		list = append(list, fmt.Sprintf(words.IncludingExpense, show(-y.Expense)))
	}
	if y.Salvage != 0 {
		list = append(list, fmt.Sprintf(words.IncludingSalvage, show(y.Salvage)))
	}
	return list
}
