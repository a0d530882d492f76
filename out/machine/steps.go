package machine

import (
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// jsonStep is one step of investment: what separates an alternative from the last one
// accepted before it.
type jsonStep struct {
	Alternative string    `json:"alternative"`
	Against     string    `json:"against"`
	Verdict     string    `json:"verdict"` // "accepted", "not_shown", "loses"
	Investment  jsonMoney `json:"extra_investment"`
	Savings     jsonMoney `json:"savings_per_year"`
	NPV         jsonMoney `json:"npv"`
	AboveZero   float64   `json:"chance_of_npv_above_0"`
	IRR         jsonMoney `json:"irr"`
	Simple      jsonMoney `json:"simple_payback"`
	Discounted  jsonMoney `json:"discounted_payback"`
}

// jsonRecommended is the alternative that the steps of investment recommend, null when
// they recommend none.
type jsonRecommended struct {
	Alternative *string  `json:"alternative"`
	Says        string   `json:"says"`
	Judged      string   `json:"judged"`     // how
	Left        []string `json:"not_a_step"` // alternatives without savings, or with prices of their own
}

// jsonSteps are the keys that a savings case and a comparison have where there are several
// alternatives to choose from.
type jsonSteps struct {
	Recommended *jsonRecommended `json:"recommended,omitempty"`
	Steps       []jsonStep       `json:"steps,omitempty"`
}

func stepsJSON(s *savings.Steps) (j jsonSteps) {
	if !s.Several() {
		return j
	}
	j.Recommended = &jsonRecommended{Says: words.StepsSentence(s), Judged: words.StepsNote(s), Left: append([]string{}, s.Left...)}
	for _, x := range s.List {
		j.Steps = append(j.Steps, stepJSON(x))
		if x.To == s.Recommended {
			j.Recommended.Alternative = &x.Case.Alternative
		}
	}
	return j
}

func stepJSON(x savings.Step) jsonStep {
	c := x.Case
	r, w := c.Random, &c.Worth
	before, taxed := words.BeforeTax, words.TaxWords(c)
	j := jsonStep{Alternative: c.Alternative, Against: c.Against, Verdict: x.Verdict.Key(), AboveZero: r.Gains,
		Investment: moneyJSON(c.Currency, before, w.Investment, r.Investment), Savings: moneyJSON(c.Currency+"/year", before, c.Total.Value, r.Total), NPV: moneyJSON(c.Currency, taxed, w.NPV, r.NPV),
		IRR: ratioJSON("1/year", taxed, w.IRR(), r.IRR), Simple: ratioJSON("years", taxed, w.Simple, r.Simple), Discounted: ratioJSON("years", taxed, w.Discounted, r.Discounted)}
	j.Savings.HalfWidth = orNull(c.Total.HalfWidth)
	if c.Records {
		j.Savings.Records = orNull(c.Total.Records)
	}
	j.Simple.Exists, j.Discounted.Exists = orNull(r.PaysBack.Simple), orNull(r.PaysBack.Discounted)
	return j
}

// stepRows are the rows of the steps in a CSV of a savings case.
func stepRows(s *savings.Steps, row func(alternative, against, name string, j jsonMoney), share func(alternative, against, name string, x float64)) {
	for _, x := range stepsJSON(s).Steps {
		put := func(name string, j jsonMoney) { row(x.Alternative, x.Against, "step."+name, j) }
		put("extra_investment", x.Investment)
		put("savings.total", x.Savings)
		put("npv", x.NPV)
		put("irr", x.IRR)
		put("simple_payback", x.Simple)
		put("discounted_payback", x.Discounted)
		share(x.Alternative, x.Against, "step.chance_of_npv_above_0", x.AboveZero)
		accepted := 0.
		if x.Verdict == savings.Pays.Key() {
			accepted = 1
		}
		share(x.Alternative, x.Against, "step.accepted", accepted)
	}
}
