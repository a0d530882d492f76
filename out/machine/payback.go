package machine

import (
	"encoding/csv"
	"io"
	"strconv"

	"rollchange/out/words"
	"rollchange/sim/savings"
)

// jsonMoney is a figure of a savings case. Value is the one that is told first:
// the mean of the draws of an amount, the median of a rate, a ratio or a
// payback, which some draws may lack. At_means is the figure at the means of all
// inputs, as the formulas of the workbook have it, half_width of the simulation
// alone about that; mean, median, low and high are over the draws. What does
// not exist is null.
type jsonMoney struct {
	Unit      string   `json:"unit"`
	Value     *float64 `json:"value"`
	Is        string   `json:"value_is"` // "mean" or "median"
	AtMeans   *float64 `json:"at_means"`
	HalfWidth *float64 `json:"half_width,omitempty"`
	Records   *float64 `json:"half_width_records,omitempty"` // with what the records leave open
	Mean      *float64 `json:"mean"`
	Median    *float64 `json:"median"`
	Low       *float64 `json:"low"`
	High      *float64 `json:"high"`
	Exists    *float64 `json:"exists,omitempty"` // share of the draws in which it does, where not all; of a payback always
	Formula   string   `json:"formula,omitempty"`
	Note      string   `json:"note,omitempty"`
	Tax       string   `json:"tax"` // on which side of tax it is
}

func moneyJSON(unit, tax string, atMeans float64, s savings.Spread) jsonMoney {
	j := jsonMoney{Unit: unit, Tax: tax, Value: orNull(s.Mean), Is: "mean", AtMeans: orNull(atMeans), Mean: orNull(s.Mean), Median: orNull(s.Median), Low: orNull(s.Low), High: orNull(s.High)}
	if s.Known < 1 {
		j.Exists = orNull(s.Known)
	}
	return j
}

// ratioJSON is moneyJSON of a rate, a ratio or a payback.
func ratioJSON(unit, tax string, atMeans float64, s savings.Spread) jsonMoney {
	j := moneyJSON(unit, tax, atMeans, s)
	j.Value, j.Is, j.Mean = j.Median, "median", orNull(words.MeanOf(s))
	return j
}

// jsonFlow is a year of the cash flow, its parts in the mean of the draws.
type jsonFlow struct {
	Year         int       `json:"year"`
	Investment   float64   `json:"investment"`
	Expense      *float64  `json:"start_up_and_lost,omitempty"` // where there is any
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
	Planned       float64 `json:"planned_hours_s"`
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

// jsonWarning has the share of the draws in which it holds, null where it does
// not hang on them.
type jsonWarning struct {
	Name  string   `json:"name"`
	Text  string   `json:"text"`
	Share *float64 `json:"share_of_draws"`
}

type jsonCase struct {
	Alternative string               `json:"alternative"`
	Against     string               `json:"against"`
	Currency    string               `json:"currency"`
	Case        map[string]any       `json:"case"`
	Years       map[string]jsonYear  `json:"year"`          // means over the draws
	AtMeans     map[string]jsonYear  `json:"year_at_means"` // as the formulas of the workbook have it
	Savings     map[string]jsonMoney `json:"savings_per_year"`
	Investment  jsonMoney            `json:"investment"`
	StartUp     *jsonMoney           `json:"start_up,omitempty"`
	Lost        *jsonLost            `json:"lost_production,omitempty"`
	Learning    []float64            `json:"learning,omitempty"` // share of the saving in year 1, 2, …
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
	Shares      []jsonShare          `json:"if_only_a_share_is_saved"`
	Chance      map[string]any       `json:"chance_of_payback"`
	Moves       map[string]any       `json:"what_moves_npv"`
	Others      []map[string]any     `json:"other_cases"`
	Inputs      []jsonInput          `json:"inputs"`
	Warnings    []jsonWarning        `json:"warnings"`
	Covered     string               `json:"limits_cover"`
	Tax         string               `json:"tax"` // savings_per_year are before it; the rest is after it, or before too
	Draws       int                  `json:"draws"`
}

// PaybackJSON writes a savings case, and the break-even values that were asked for.
func PaybackJSON(w io.Writer, about words.About, c *savings.Case, solved ...savings.Solution) error {
	type all struct {
		Tool     jsonTool     `json:"tool"`
		Scenario jsonScenario `json:"scenario"`
		Run      jsonRun      `json:"run"`
		jsonCase
		jsonSteps
		Solved []map[string]any `json:"break_even,omitempty"`
	}
	j := all{Tool: jsonTool{"rollchange", about.Version}, Scenario: scenarioOf(about, c.Alternative), Run: runJSON(c.Run), jsonCase: caseJSON(c), jsonSteps: stepsJSON(c.Steps)}
	for _, s := range solved {
		j.Solved = append(j.Solved, solutionJSON(s, c))
	}
	return encode(w, j)
}

// PaybackCSV writes a savings case as CSV, and the steps of investment that it was chosen
// by: one row a figure, full precision.
// value is what is told first: the mean of the draws of an amount, the median
// of a rate, a ratio or a payback.
func PaybackCSV(w io.Writer, c *savings.Case) error {
	x := &paybackRows{csv.NewWriter(w), c}
	_ = x.out.Write([]string{"alternative", "figure", "year", "unit", "value", "at_means", "half_width", "mean", "median", "low", "high", "against", "tax"})
	j := caseJSON(c)
	x.figures(j)
	x.shares(j)
	for t, y := range j.CashFlow {
		x.row("cash_flow", strconv.Itoa(t), y.Net)
	}
	for _, y := range c.Random.ByYear {
		x.chance(c.Alternative, c.Against, "chance_of_payback.simple", strconv.Itoa(y.Year), y.Simple)
		x.chance(c.Alternative, c.Against, "chance_of_payback.discounted", strconv.Itoa(y.Year), y.Discounted)
	}
	stepRows(c.Steps, func(a, against, name string, j jsonMoney) { x.put(a, against, name, "", j) },
		func(a, against, name string, p float64) { x.chance(a, against, name, "", p) })
	x.out.Flush()
	return x.out.Error()
}

// paybackRows writes the rows of a case. The writer keeps its first error.
type paybackRows struct {
	out *csv.Writer
	c   *savings.Case
}

// put writes a figure of an alternative against another.
func (x *paybackRows) put(alternative, against, name, year string, j jsonMoney) {
	cells := []string{cell(alternative), name, year, cell(j.Unit)}
	for _, x := range []*float64{j.Value, j.AtMeans, j.HalfWidth, j.Mean, j.Median, j.Low, j.High} {
		text := ""
		if x != nil {
			text = full(*x)
		}
		cells = append(cells, text)
	}
	_ = x.out.Write(append(cells, cell(against), j.Tax))
}

// row writes a figure of the case itself.
func (x *paybackRows) row(name, year string, j jsonMoney) {
	x.put(x.c.Alternative, x.c.Against, name, year, j)
}

// chance writes a chance.
func (x *paybackRows) chance(alternative, against, name, year string, p float64) {
	_ = x.out.Write([]string{cell(alternative), name, year, "1", full(p), "", "", "", "", "", "", cell(against), words.TaxWords(x.c)})
}

// figures writes what is saved, by cause, and what comes of it.
func (x *paybackRows) figures(j jsonCase) {
	for _, s := range x.c.Save {
		if y, told := j.Savings[s.Cause.Key()]; told {
			x.row("savings."+s.Cause.Key(), "", y)
		}
	}
	x.row("savings.total", "", j.Savings["total"])
	x.row("investment", "", j.Investment)
	if j.StartUp != nil {
		x.row("start_up", "", *j.StartUp)
	}
	if j.Lost != nil {
		x.row("lost_production", "", j.Lost.jsonMoney)
	}
	x.row("npv", "", j.NPV)
	x.row("npv_per_year", "", j.PerYear)
	x.row("irr", "", j.IRR)
	x.row("mirr", "", j.MIRR)
	x.row("simple_payback", "", j.Simple)
	x.row("discounted_payback", "", j.Discounted)
	x.row("savings_to_investment", "", j.SIR)
}

// shares writes what comes of a part of the saving; the whole stands above.
func (x *paybackRows) shares(j jsonCase) {
	for _, s := range j.Shares {
		if s.Share == 1 {
			continue
		}
		of := "_at_" + full(s.Share) + "_of_the_saving"
		x.row("savings"+of, "", s.Savings)
		x.row("npv"+of, "", s.NPV)
		x.row("simple_payback"+of, "", s.Payback)
		x.row("irr"+of, "", s.IRR)
	}
}
