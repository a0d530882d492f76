package workbook

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// typed is one cell that a person changes, and the same change of the case behind it.
type typed struct {
	name      string
	low, high float64 // SI
	per       float64 // what one SI is in the cell
	blank     bool    // the cell may be emptied
	whole     bool
	set       func(s *model.Study, rs *replicate.Results, x float64)
}

// typedOf are all inputs of a workbook.
func typedOf(sys model.System) []typed {
	m := measuresOf(sys)
	both := func(of func(e *model.Economics) *model.Dist) func(*model.Study, *replicate.Results, float64) {
		return func(s *model.Study, _ *replicate.Results, x float64) {
			for i := range s.Alternatives {
				d := model.Dist{Law: model.Fixed, A: x, Signed: true}
				if math.IsNaN(x) {
					d = model.Dist{}
				}
				*of(&s.Alternatives[i].Line.Economics) = d
			}
		}
	}
	list := []typed{
		{"hours_per_year", 1000 * 3600, 8000 * 3600, 1. / 3600, false, false, both(func(e *model.Economics) *model.Dist { return &e.HoursPerYear })},
		{"demand", 5e6, 60e6, 1 / m.long.SI, true, false, both(func(e *model.Economics) *model.Dist { return &e.Demand })},
		{"price", 0, 1, m.length * m.length, false, false, both(func(e *model.Economics) *model.Dist { return &e.Price })},
		{"material_cost", 0, 2, m.length * m.length, false, false, both(func(e *model.Economics) *model.Dist { return &e.MaterialCost })},
		{"disposal_cost", 0, 0.5, m.pound, false, false, both(func(e *model.Economics) *model.Dist { return &e.DisposalCost })},
		{"waste_income", 0, 0.3, m.pound, false, false, both(func(e *model.Economics) *model.Dist { return &e.WasteIncome })},
		{"crew_cost", 0, 80, 1, false, false, both(func(e *model.Economics) *model.Dist { return &e.CrewCost })},
		{"crew_hours_saved", 0, 1, 1, false, false, both(func(e *model.Economics) *model.Dist { return &e.CrewHoursSaved })},
		{"line_cost", 0, 100, 1, false, false, both(func(e *model.Economics) *model.Dist { return &e.LineCost })},
		{"tape_cost", 0, 2, m.length, false, false, both(func(e *model.Economics) *model.Dist { return &e.TapeCost })},
		{"discount_rate", 0, 0.3, 1, false, false, both(func(e *model.Economics) *model.Dist { return &e.DiscountRate })},
		{"life_years", 1, 100, 1, false, false, both(func(e *model.Economics) *model.Dist { return &e.Life })},
		{"tax_rate", 0, 0.6, 1, false, false, both(func(e *model.Economics) *model.Dist { return &e.TaxRate })},
		{"depreciation_years", 1, 40, 1, true, false, both(func(e *model.Economics) *model.Dist { return &e.DepreciationYears })},
		{"price_change", -0.05, 0.05, 1, false, false, both(func(e *model.Economics) *model.Dist { return &e.PriceChange })},
		{"output_price_change", -0.05, 0.05, 1, true, false, both(func(e *model.Economics) *model.Dist { return &e.OutputPriceChange })},
		{"material_price_change", -0.05, 0.05, 1, true, false, both(func(e *model.Economics) *model.Dist { return &e.MaterialPriceChange })},
		{"wage_change", -0.05, 0.05, 1, true, false, both(func(e *model.Economics) *model.Dist { return &e.WageChange })},
	}
	for i, side := range []string{"first_", "alternative_"} {
		alt := func(of func(a *model.Alternative, x float64)) func(*model.Study, *replicate.Results, float64) {
			return func(s *model.Study, _ *replicate.Results, x float64) { of(&s.Alternatives[i], x) }
		}
		sim := func(k int, scale float64) func(*model.Study, *replicate.Results, float64) {
			return func(_ *model.Study, rs *replicate.Results, x float64) {
				name := replicate.JointMetrics[k]
				rs.Alternatives[i].Metrics[name] = estimate.Estimate{Unit: rs.Alternatives[i].Metrics[name].Unit, Mean: x * scale, N: 10}
			}
		}
		most := []float64{5e4, 6e5}[i]
		list = append(list,
			typed{side + "investment", 0, most, 1, false, false, alt(func(a *model.Alternative, x float64) { a.Investment = model.Const(x) })},
			typed{side + "maintenance", 0, 2e4, 1, false, false, alt(func(a *model.Alternative, x float64) { a.Maintenance = model.Const(x) })},
			typed{side + "salvage", 0, most / 5, 1, false, false, alt(func(a *model.Alternative, x float64) { a.Salvage = model.Const(x) })},
			typed{side + "start_up", 0, most / 5, 1, false, false, alt(func(a *model.Alternative, x float64) { a.StartUp = model.Const(x) })},
			typed{side + "installation", 0, 500 * 3600, 1. / 3600, false, false, alt(func(a *model.Alternative, x float64) { a.Installation = model.Const(x) })},
			typed{side + "operators", 1, 5, 1, false, true, alt(func(a *model.Alternative, x float64) { a.Line.Crew.Operators = int(x) })},
			typed{side + "lines", 1, 3, 1, false, true, alt(func(a *model.Alternative, x float64) { a.Line.Crew.Lines = int(x) })},
			typed{side + "width", 0.2, 2, m.widths(1), false, false, alt(func(a *model.Alternative, x float64) { a.Line.Web.Width = x })},
			typed{side + "trim", 0, 0.1, m.widths(1), false, false, alt(func(a *model.Alternative, x float64) { a.Line.Rewind.Trim = x })},
			typed{side + "grammage", 0.02, 0.3, 1000, false, false, alt(func(a *model.Alternative, x float64) { a.Line.Web.Grammage = x })},
			typed{side + "tape_a_splice", 0, 3, 1 / m.length, false, false, alt(func(a *model.Alternative, x float64) { a.Line.Unwind.TapePerSplice = x })},
			typed{side + "good_speed", 0.5, 4, 60 / m.length, false, false, sim(0, 1)},
			typed{side + "waste_share", 0.001, 0.2, 1, false, false, sim(1, 1)},
			typed{side + "splices_an_hour", 1e-5, 1e-2, 3600, false, false, sim(2, 1)},
		)
	}
	return list
}

// edited is a workbook in which every input is typed anew, and what it then has to hold.
func edited(t *testing.T, r *rand.Rand, sys model.System) ([]byte, map[string]*float64) {
	t.Helper()
	c, rs := invented.Case(t, invented.Cases()["by year"])
	f := open(t, workbookIn(t, c, rs, sys))
	list := typedOf(sys)
	values := make([]float64, len(list))
	for i, x := range list {
		values[i] = x.low + (x.high-x.low)*r.Float64()
		switch {
		case x.whole:
			values[i] = x.low + float64(r.IntN(int(x.high-x.low)+1))
		case x.blank && r.Float64() < 0.3:
			values[i] = math.NaN()
		case r.Float64() < 0.1:
			values[i] = x.low
		}
		sheet, cell := cellOf(t, f, x.name)
		if math.IsNaN(values[i]) {
			require.NoError(t, f.SetCellValue(sheet, cell, nil))
			continue
		}
		require.NoError(t, f.SetCellFloat(sheet, cell, values[i]*x.per, -1, 64))
	}
	own := math.NaN() // planned hours of the first
	if r.Float64() < 0.5 {
		own = 3600 * (1000 + 7000*r.Float64())
		sheet, cell := cellOf(t, f, "first_hours_per_year")
		require.NoError(t, f.SetCellFormula(sheet, cell, ""))
		require.NoError(t, f.SetCellFloat(sheet, cell, own/3600, -1, 64))
	}
	years := yearsTyped(t, r, f)
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	changed, _ := invented.Case(t, func(s *model.Study, rs *replicate.Results) {
		invented.Cases()["by year"](s, rs)
		for i, x := range list {
			x.set(s, rs, values[i])
		}
		if !math.IsNaN(own) {
			s.Alternatives[0].Line.Economics.HoursPerYear = model.Const(own)
		}
		for i := range s.Alternatives {
			s.Alternatives[i].InvestmentByYear, s.Alternatives[i].StartUpByYear = years[i], years[2+i]
		}
		s.Alternatives[1].Learning = years[4]
	})
	return b.Bytes(), figures(t, changed, sys)
}

// yearsTyped types what differs by year: what the first and the alternative invest, what
// starting them up costs, and what is learned.
func yearsTyped(t *testing.T, r *rand.Rand, f *excelize.File) [5][]float64 {
	t.Helper()
	var years [5][]float64
	for k, col := range []int{2, 3, 4, 5, 6} {
		n := 1 + r.IntN(7)
		sum := 0.0
		for range n {
			x := r.Float64()
			years[k] = append(years[k], x)
			sum += x
		}
		for y := range mostYears + 1 {
			x := 0.0
			switch {
			case k < 4 && y < n:
				years[k][y] /= sum
				x = years[k][y]
			case k == 4 && y == 0:
				continue
			case k == 4 && y-1 < n:
				x = years[k][y-1]
			case k == 4:
				x = 1
			}
			require.NoError(t, f.SetCellFloat("By year", at(col, sharesFrom+y), x, -1, 64))
		}
	}
	return years
}

// edits are workbooks with every input typed anew, and what they then have to hold.
func edits(t *testing.T) map[string]booked {
	t.Helper()
	r := rand.New(rand.NewPCG(13, 4))
	list := map[string]booked{}
	for i := range effort.Of(1, 2, 30) {
		data, want := edited(t, r, []model.System{model.Metric, model.Imperial}[i%2])
		list[fmt.Sprint("edit ", i)] = booked{data, want}
	}
	return list
}

// Every economic input has a cell that is typed in the edits above.
func TestEveryInputIsTyped(t *testing.T) {
	named := map[string]bool{"first_hours_per_year": true}
	for _, x := range typedOf(model.Metric) {
		named[x.name] = true
	}
	c, _ := invented.Case(t, nil)
	for _, in := range c.AllInputs() {
		if in.Simulated() || in.Key == "first.crew_hours_saved" { // of what leaves of the first there is none
			continue
		}
		cell, ok := cellNames[in.Key]
		require.True(t, ok, in.Key)
		assert.True(t, named[cell], cell)
	}
}
