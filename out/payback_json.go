package out

import (
	"encoding/csv"
	"io"
	"strconv"

	"rollchange/model"
	"rollchange/sim/savings"
)

// jsonMoney is a figure of a savings case. Value is at the means of all inputs,
// as the workbook has it; half_width is of the simulation alone; mean, median,
// low and high are over the draws. What does not exist is null.
type jsonMoney struct {
	Unit      string   `json:"unit"`
	Value     *float64 `json:"value"`
	HalfWidth *float64 `json:"half_width,omitempty"`
	Mean      *float64 `json:"mean"`
	Median    *float64 `json:"median"`
	Low       *float64 `json:"low"`
	High      *float64 `json:"high"`
	Exists    *float64 `json:"exists,omitempty"` // share of the draws in which it does, where not all; of a payback always
	Formula   string   `json:"formula,omitempty"`
	Note      string   `json:"note,omitempty"`
}

func moneyJSON(unit string, value float64, s savings.Spread) jsonMoney {
	j := jsonMoney{Unit: unit, Value: orNull(value), Mean: orNull(s.Mean), Median: orNull(s.Median), Low: orNull(s.Low), High: orNull(s.High)}
	if s.Known < 1 {
		j.Exists = orNull(s.Known)
	}
	return j
}

type jsonFlow struct {
	Year         int       `json:"year"`
	Investment   float64   `json:"investment"`
	Savings      float64   `json:"savings"`
	Depreciation float64   `json:"depreciation"`
	Salvage      float64   `json:"salvage"`
	Tax          float64   `json:"tax"`
	Net          jsonMoney `json:"net"`
	Cumulative   jsonMoney `json:"cumulative"`
}

type jsonChance struct {
	Year       int      `json:"year"`
	Simple     *float64 `json:"simple"`
	Discounted *float64 `json:"discounted"`
}

type jsonYear struct {
	Good          float64 `json:"good_m"`
	Hours         float64 `json:"hours_s"`
	Waste         float64 `json:"waste_m"`
	OperatorHours float64 `json:"operator_hours_s"`
	LineHours     float64 `json:"line_hours_s"`
	Tape          float64 `json:"tape_m"`
}

type jsonInput struct {
	Key   string  `json:"key"`
	Label string  `json:"label"`
	Unit  string  `json:"unit"`
	Value float64 `json:"value"`
	Drawn bool    `json:"drawn"`
}

type jsonCase struct {
	Alternative string               `json:"alternative"`
	Against     string               `json:"against"`
	Currency    string               `json:"currency"`
	Case        map[string]any       `json:"case"`
	Years       map[string]jsonYear  `json:"year"`
	Savings     map[string]jsonMoney `json:"savings_per_year"`
	Investment  jsonMoney            `json:"investment"`
	CashFlow    []jsonFlow           `json:"cash_flow"`
	NPV         jsonMoney            `json:"npv"`
	Quantiles   map[string]*float64  `json:"npv_quantiles"`
	AboveZero   float64              `json:"chance_of_npv_above_0"`
	PerYear     jsonMoney            `json:"npv_per_year"`
	IRR         jsonMoney            `json:"irr"`
	IRRs        []float64            `json:"irr_all"`
	MIRR        jsonMoney            `json:"mirr"`
	Simple      jsonMoney            `json:"simple_payback"`
	Discounted  jsonMoney            `json:"discounted_payback"`
	SIR         jsonMoney            `json:"savings_to_investment"`
	Chance      map[string]any       `json:"chance_of_payback"`
	Moves       map[string]any       `json:"what_moves_npv"`
	Others      []map[string]any     `json:"other_cases"`
	Inputs      []jsonInput          `json:"inputs"`
	Warnings    []map[string]string  `json:"warnings"`
	Draws       int                  `json:"draws"`
}

func caseJSON(c *savings.Case) jsonCase {
	r, w, cur := c.Random, &c.Worth, c.Currency
	a := cur + "/year"
	j := jsonCase{Alternative: c.Alternative, Against: c.Against, Currency: cur, Draws: r.Draws,
		Case: map[string]any{"kind": c.Kind, "why": CaseKind(c, model.Metric), "demand_m": orNull(c.Demand), "capacity_m": map[string]float64{"first": c.Capacity[0], "alternative": c.Capacity[1]},
			"share_of_draws": r.Kinds},
		Years: map[string]jsonYear{}, Savings: map[string]jsonMoney{},
		Investment: moneyJSON(cur, w.Investment, r.Investment), NPV: moneyJSON(cur, w.NPV, r.NPV), PerYear: moneyJSON(a, w.PerYear, r.PerYear),
		IRR: moneyJSON("1/year", w.IRR(), r.IRR), IRRs: append([]float64{}, w.Rates...), MIRR: moneyJSON("1/year", w.MIRR, r.MIRR),
		Simple: moneyJSON("years", w.Simple, r.Simple), Discounted: moneyJSON("years", w.Discounted, r.Discounted), SIR: moneyJSON("1", w.SIR, r.SIR),
		Quantiles: map[string]*float64{}, AboveZero: r.Gains}
	for i, name := range []string{"first", "alternative"} {
		y := c.Years[i]
		j.Years[name] = jsonYear{y.Good, y.Hours, y.Waste, y.OperatorHours, y.LineHours, y.Tape}
	}
	for _, s := range c.Save {
		x := moneyJSON(a, s.Value, r.Save[s.Cause])
		x.HalfWidth, x.Formula = orNull(s.HalfWidth), s.Cause.Formula()
		j.Savings[s.Cause.Key()] = x
	}
	total := moneyJSON(a, c.Total.Value, r.Total)
	total.HalfWidth = orNull(c.Total.HalfWidth)
	j.Savings["total"] = total
	switch n := len(w.Rates); {
	case n == 0:
		j.IRR.Note = "there is no internal rate of return"
	case n > 1:
		j.IRR.Note = "the internal rate of return is not unique"
	}
	j.Simple.Exists, j.Discounted.Exists = orNull(r.PaysBack.Simple), orNull(r.PaysBack.Discounted)
	if w.Simple != w.Simple {
		j.Simple.Note, j.Discounted.Note = "nothing is invested", "nothing is invested"
	}
	sum := 0.0
	for t, y := range w.Flow {
		sum += y.Net
		j.CashFlow = append(j.CashFlow, jsonFlow{y.Year, y.Investment, y.Savings, y.Depreciation, y.Salvage, y.Tax,
			moneyJSON(cur, y.Net, r.Flow[t]), moneyJSON(cur, sum, r.Cumulative[t])})
	}
	for _, q := range r.NPVAt {
		j.Quantiles[strconv.FormatFloat(q.P, 'g', -1, 64)] = orNull(q.Value)
	}
	chance := func(x savings.Chance) jsonChance {
		return jsonChance{x.Year, orNull(x.Simple), orNull(x.Discounted)}
	}
	var by []jsonChance
	for _, x := range r.ByYear {
		by = append(by, chance(x))
	}
	j.Chance = map[string]any{"within_life": chance(r.PaysBack), "by_year": by}
	drivers, swings := []map[string]any{}, []map[string]any{}
	for _, d := range c.Drivers {
		drivers = append(drivers, map[string]any{"key": d.Key, "label": d.Label, "rank_correlation": orNull(d.Rank), "share": orNull(d.Share)})
	}
	for _, s := range c.Swings {
		swings = append(swings, map[string]any{"key": s.Key, "label": s.Label, "unit": s.Unit, "own_interval": s.Given, "low": orNull(s.Low), "high": orNull(s.High),
			"npv_at_low": orNull(s.AtLow), "npv_at_high": orNull(s.AtHigh)})
	}
	j.Moves = map[string]any{"drivers": drivers, "one_at_a_time": swings}
	j.Others, j.Warnings = []map[string]any{}, []map[string]string{}
	for _, o := range c.Others {
		j.Others = append(j.Others, map[string]any{"kind": o.Kind, "if": o.If, "total": orNull(o.Total), "npv": orNull(o.NPV)})
	}
	for _, in := range c.Inputs {
		j.Inputs = append(j.Inputs, jsonInput{in.Key, in.Label, in.Unit, in.Value, in.Varies()})
	}
	for _, x := range c.Warnings {
		j.Warnings = append(j.Warnings, map[string]string{"name": x.Name, "text": x.Text})
	}
	return j
}

// solutionJSON is a break-even value; null where there is none.
func solutionJSON(s savings.Solution) map[string]any {
	return map[string]any{"key": s.Key, "unit": s.Unit, "value": orNull(s.Value), "scenario": orNull(s.Base), "gain_above": s.GainsAbove,
		"tried": []*float64{orNull(s.Low), orNull(s.High)}}
}

// PaybackJSON writes a savings case, and the break-even values that were asked for.
func PaybackJSON(w io.Writer, about About, c *savings.Case, solved ...savings.Solution) error {
	type all struct {
		Tool     jsonTool     `json:"tool"`
		Scenario jsonScenario `json:"scenario"`
		Run      jsonRun      `json:"run"`
		jsonCase
		Solved []map[string]any `json:"break_even,omitempty"`
	}
	j := all{Tool: jsonTool{"rollchange", about.Version}, Scenario: about.scenario(c.Alternative), Run: runJSON(c.Run), jsonCase: caseJSON(c)}
	for _, s := range solved {
		j.Solved = append(j.Solved, solutionJSON(s))
	}
	return encode(w, j)
}

// PaybackCSV writes a savings case as CSV: one row a figure, full precision.
func PaybackCSV(w io.Writer, c *savings.Case) error {
	out := csv.NewWriter(w)
	_ = out.Write([]string{"alternative", "figure", "year", "unit", "value", "half_width", "mean", "median", "low", "high"})
	row := func(name, year, unit string, value, half float64, s savings.Spread, simulated bool) {
		h := ""
		if simulated {
			h = full(half)
		}
		_ = out.Write([]string{cell(c.Alternative), name, year, cell(unit), full(value), h, full(s.Mean), full(s.Median), full(s.Low), full(s.High)})
	}
	r, v, cur := c.Random, &c.Worth, c.Currency
	for _, s := range c.Save {
		row("savings."+s.Cause.Key(), "", cur+"/year", s.Value, s.HalfWidth, r.Save[s.Cause], true)
	}
	row("savings.total", "", cur+"/year", c.Total.Value, c.Total.HalfWidth, r.Total, true)
	row("investment", "", cur, v.Investment, 0, r.Investment, false)
	row("npv", "", cur, v.NPV, 0, r.NPV, false)
	row("npv_per_year", "", cur+"/year", v.PerYear, 0, r.PerYear, false)
	row("irr", "", "1/year", v.IRR(), 0, r.IRR, false)
	row("mirr", "", "1/year", v.MIRR, 0, r.MIRR, false)
	row("simple_payback", "", "years", v.Simple, 0, r.Simple, false)
	row("discounted_payback", "", "years", v.Discounted, 0, r.Discounted, false)
	row("savings_to_investment", "", "1", v.SIR, 0, r.SIR, false)
	for t, y := range v.Flow {
		row("cash_flow", strconv.Itoa(t), cur, y.Net, 0, r.Flow[t], false)
	}
	for _, x := range r.ByYear {
		_ = out.Write([]string{cell(c.Alternative), "chance_of_payback.simple", strconv.Itoa(x.Year), "1", full(x.Simple), "", "", "", "", ""})
		_ = out.Write([]string{cell(c.Alternative), "chance_of_payback.discounted", strconv.Itoa(x.Year), "1", full(x.Discounted), "", "", "", "", ""})
	}
	out.Flush()
	return out.Error()
}
