package machine

import (
	"strconv"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// caseJSON is a savings case.
func caseJSON(c *savings.Case) jsonCase {
	r, w, cur := c.Random, &c.Worth, c.Currency
	before, taxed := words.BeforeTax, words.TaxWords(c)
	a := cur + "/year"
	j := jsonCase{Alternative: c.Alternative, Against: c.Against, Currency: cur, Draws: r.Draws,
		Case: map[string]any{"kind": c.Kind, "why": words.CaseKind(c, model.Metric), "demand_m": orNull(c.Demand), "capacity_m": map[string]float64{"first": c.Capacity[0], "alternative": c.Capacity[1]},
			"share_of_draws": r.Kinds},
		Years: map[string]jsonYear{}, AtMeans: map[string]jsonYear{}, Savings: map[string]jsonMoney{},
		Covered: words.CoveredSentence(c), Tax: "savings_per_year before tax, all else " + taxed,
		Investment: moneyJSON(cur, before, w.Investment, r.Investment), NPV: moneyJSON(cur, taxed, w.NPV, r.NPV), PerYear: moneyJSON(a, taxed, w.PerYear, r.PerYear),
		IRR: ratioJSON("1/year", taxed, w.IRR(), r.IRR), IRRs: append([]float64{}, w.Rates...), MIRR: ratioJSON("1/year", taxed, w.MIRR, r.MIRR),
		Simple: ratioJSON("years", taxed, w.Simple, r.Simple), Discounted: ratioJSON("years", taxed, w.Discounted, r.Discounted), SIR: ratioJSON("1", taxed, w.SIR, r.SIR),
		Quantiles: map[string]*float64{}, AboveZero: r.Gains, Shares: sharesJSON(c)}
	j.byYear(c)
	j.years(c)
	j.savings(c)
	j.exceptions(c)
	j.flow(c)
	for _, q := range r.NPVAt {
		j.Quantiles[strconv.FormatFloat(q.P, 'g', -1, 64)] = orNull(q.Value)
	}
	j.chances(r)
	j.moves(c)
	j.beside(c)
	return j
}

// years is what both alternatives make and use in a year.
func (j *jsonCase) years(c *savings.Case) {
	for i, name := range []string{"first", "alternative"} {
		of := func(y savings.Year) jsonYear {
			return jsonYear{c.Hours[i], y.Good, y.Hours, y.Waste, y.OperatorHours, y.LineHours, y.Tape}
		}
		j.Years[name], j.AtMeans[name] = of(c.Random.Year[i]), of(c.Years[i])
	}
}

// savings is what is saved a year, by cause and in all.
func (j *jsonCase) savings(c *savings.Case) {
	of := func(s *savings.Saving, drawn savings.Spread) jsonMoney {
		x := moneyJSON(c.Currency+"/year", words.BeforeTax, s.Value, drawn)
		x.HalfWidth = orNull(s.HalfWidth)
		if c.Records {
			x.Records = orNull(s.Records)
		}
		return x
	}
	for i := range c.Save {
		s := &c.Save[i]
		if s.Cause == savings.WasteIncome && !s.Given {
			continue
		}
		x := of(s, c.Random.Save[s.Cause])
		x.Formula = words.CauseFormula(c, s.Cause)
		j.Savings[s.Cause.Key()] = x
	}
	j.Savings["total"] = of(&c.Total, c.Random.Total)
}

// exceptions notes what does not exist, or not once.
func (j *jsonCase) exceptions(c *savings.Case) {
	switch n := len(c.Worth.Rates); {
	case n == 0:
		j.IRR.Note = "with mean inputs there is no internal rate of return"
	case n > 1:
		j.IRR.Note = "with mean inputs the internal rate of return is not unique"
	}
	j.Simple.Exists, j.Discounted.Exists = orNull(c.Random.PaysBack.Simple), orNull(c.Random.PaysBack.Discounted)
	if c.Random.Invests == 0 {
		j.Simple.Note, j.Discounted.Note = "nothing is invested", "nothing is invested"
	}
}

// flow is the cash flow, year by year.
func (j *jsonCase) flow(c *savings.Case) {
	r, w, taxed := c.Random, &c.Worth, words.TaxWords(c)
	for t, y := range r.Tally.Flow {
		var expense *float64
		if r.StartUp.Mean != 0 || c.Standing() > 0 {
			expense = &y.Expense
		}
		j.CashFlow = append(j.CashFlow, jsonFlow{y.Year, y.Investment, expense, y.Savings, y.Depreciation, y.Salvage, y.Tax,
			moneyJSON(c.Currency, taxed, atMeans(w, t, false), r.Flow[t]), moneyJSON(c.Currency, taxed, atMeans(w, t, true), r.Cumulative[t])})
	}
}

// chances is the chance that the investment is paid back, within the life and by year.
func (j *jsonCase) chances(r *savings.Random) {
	of := func(x savings.Chance) jsonChance {
		return jsonChance{x.Year, orNull(x.Simple), orNull(x.Discounted)}
	}
	var by []jsonChance
	for _, x := range r.ByYear {
		by = append(by, of(x))
	}
	j.Chance = map[string]any{"within_life": of(r.PaysBack), "by_year": by}
}

// moves is what the net present value depends on.
func (j *jsonCase) moves(c *savings.Case) {
	drivers, swings := []map[string]any{}, []map[string]any{}
	for _, d := range c.Drivers {
		drivers = append(drivers, map[string]any{"key": d.Key, "label": words.DriverLabel(d), "rank_correlation": orNull(d.Rank), "share": orNull(d.Share)})
	}
	for _, s := range c.Swings {
		swings = append(swings, map[string]any{"key": s.Key, "label": words.SwungLabel(s), "unit": s.Unit, "own_interval": s.Given, "low": orNull(s.Low), "high": orNull(s.High),
			"mean_npv_at_low": orNull(s.AtLow), "mean_npv_at_high": orNull(s.AtHigh)})
	}
	j.Moves = map[string]any{"drivers": drivers, "one_at_a_time": swings}
}

// beside is what stands beside a case: other cases, inputs, warnings.
func (j *jsonCase) beside(c *savings.Case) {
	j.Others, j.Warnings = []map[string]any{}, []jsonWarning{}
	for _, o := range c.Others {
		j.Others = append(j.Others, map[string]any{"kind": o.Kind, "if": words.OtherCondition(c, o), "total": orNull(o.Total), "npv": orNull(o.NPV)})
	}
	for _, in := range c.Inputs {
		j.Inputs = append(j.Inputs, jsonInput{in.Key, words.InputLabel(&in), in.Unit, in.Value, in.Varies()})
	}
	for _, x := range c.Warnings {
		j.Warnings = append(j.Warnings, jsonWarning{x.Doubt.Key(), words.WarningText(c, x), orNull(x.Share)})
	}
}

// atMeans is the net flow of a year at the means of all inputs, 0 after the
// life, or the sum of all to that year.
func atMeans(w *savings.Worth, t int, sum bool) float64 {
	x := 0.0
	for i := range w.Flow {
		if i == t || sum && i < t {
			x += w.Flow[i].Net
		}
	}
	return x
}
