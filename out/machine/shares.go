package machine

import (
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// jsonShare is what a case comes to if only a share of the saving is reached.
type jsonShare struct {
	Share   float64   `json:"share"`
	Label   string    `json:"label"`
	Savings jsonMoney `json:"savings_per_year"`
	NPV     jsonMoney `json:"npv"`
	Payback jsonMoney `json:"simple_payback"`
	IRR     jsonMoney `json:"irr"`
}

func sharesJSON(c *savings.Case) []jsonShare {
	var list []jsonShare
	before, taxed := words.BeforeTax, words.TaxWords(c)
	for _, s := range c.Shares {
		j := jsonShare{s.Share, words.ShareLabel(s), moneyJSON(c.Currency+"/year", before, s.Saved, s.Savings), moneyJSON(c.Currency, taxed, s.Worth.NPV, s.NPV),
			ratioJSON("years", taxed, s.Worth.Simple, s.Payback), ratioJSON("1/year", taxed, s.Worth.IRR(), s.IRR)}
		j.Payback.Exists = orNull(s.Back)
		list = append(list, j)
	}
	return list
}
