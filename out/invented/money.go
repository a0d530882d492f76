package invented

import (
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// Study is an invented study that goes with invented(): what the line is
// does not matter here, only what is calculated from it.
func Study() *model.Study {
	line := model.Line{Web: model.Web{Width: 0.33, Grammage: 0.195}, Crew: model.Crew{Operators: 2, Lines: 1}, Unwind: model.Unwind{TapePerSplice: 0.8},
		Stops: []model.Stop{{Name: "plate cleaning"}},
		Economics: model.Economics{Currency: "EUR", HoursPerYear: model.Const(4000 * 3600), Demand: model.Dist{Law: model.Triangular, A: 20e6, B: 22e6, C: 26e6},
			Price: model.Const(0.28), MaterialCost: model.Dist{Law: model.Lognormal, A: 0.55, B: 0.05}, DisposalCost: model.Const(0.09), CrewCost: model.Const(34),
			LineCost: model.Const(21), TapeCost: model.Const(0.25), DiscountRate: model.Const(0.08), Life: model.Const(10), TaxRate: model.Const(0.25),
			DepreciationYears: model.Const(8)}}
	return &model.Study{Title: "Invented line", Run: model.Run{Replications: 10, Seed: 7, Confidence: 0.95}, Alternatives: []model.Alternative{
		{Name: "by hand", Line: line},
		{Name: "zero-speed, 60 m", Line: line, Investment: model.Dist{Law: model.Triangular, A: 150000, B: 160000, C: 190000}, Maintenance: model.Const(4000), Salvage: model.Const(12000)}}}
}

// Case is the savings case of the fixture, changed as a test needs it.
func Case(t testing.TB, change func(*model.Study, *replicate.Results)) (*savings.Case, *replicate.Results) {
	t.Helper()
	c, rs := Valued(t, change)
	c.Explain()
	return c, rs
}

// Valued is Case without what its value hangs on.
func Valued(t testing.TB, change func(*model.Study, *replicate.Results)) (*savings.Case, *replicate.Results) {
	t.Helper()
	study, rs := Study(), Results()
	if change != nil {
		change(study, rs)
	}
	for i := range study.Alternatives {
		rs.Alternatives[i].Alternative = study.Alternatives[i].Name
	}
	c, err := savings.Valued(study, rs, 1, savings.Options{Draws: 400})
	require.NoError(t, err)
	return c, rs
}

// Prices changes the prices of both alternatives.
func Prices(change func(*model.Economics)) func(*model.Study, *replicate.Results) {
	return func(s *model.Study, _ *replicate.Results) {
		for i := range s.Alternatives {
			change(&s.Alternatives[i].Line.Economics)
		}
	}
}

// Cases are cases of every kind.
func Cases() map[string]func(*model.Study, *replicate.Results) {
	return map[string]func(*model.Study, *replicate.Results){
		"as it is":   nil,
		"no demand":  Prices(func(e *model.Economics) { e.Demand = model.Dist{} }),
		"between":    Prices(func(e *model.Economics) { e.Demand = model.Const(27e6) }),
		"no tax":     Prices(func(e *model.Economics) { e.TaxRate, e.DepreciationYears = model.Dist{}, model.Dist{} }),
		"sold early": Prices(func(e *model.Economics) { e.Life, e.DepreciationYears = model.Const(4), model.Const(12) }),
		"trimmed": func(s *model.Study, _ *replicate.Results) {
			s.Alternatives[0].Line.Rewind.Trim, s.Alternatives[1].Line.Rewind.Trim = 0.012, 0.02
		},
		"over the life":    Prices(func(e *model.Economics) { e.DepreciationYears = model.Dist{} }),
		"life not whole":   Prices(func(e *model.Economics) { e.Life = model.Dist{Law: model.Triangular, A: 5, B: 7, C: 10} }),
		"a long life":      Prices(func(e *model.Economics) { e.Life = model.Const(40) }),
		"never":            func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Investment = model.Const(5e6) },
		"nothing invested": func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Investment = model.Dist{} },
		"costs more":       func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Maintenance = model.Const(200000) },
		"by year": func(s *model.Study, _ *replicate.Results) {
			for i := range s.Alternatives {
				e := &s.Alternatives[i].Line.Economics
				e.WasteIncome, e.CrewHoursSaved, e.PriceChange = model.Const(0.05), model.Dist{Law: model.Uniform, A: 0.4, B: 0.8}, model.Const(0.01)
				e.MaterialPriceChange, e.WageChange = model.Const(0.02), model.Dist{Law: model.Uniform, A: 0, B: 0.04, Signed: true}
			}
			a := &s.Alternatives[1]
			a.InvestmentByYear, a.StartUp, a.StartUpByYear = []float64{0.6, 0.3, 0, 0.1}, model.Const(12000), []float64{0.5, 0.5}
			a.Installation, a.Learning = model.Const(600*3600), []float64{0.5, 0.85}
			s.Alternatives[0].Investment, s.Alternatives[0].InvestmentByYear = model.Const(20000), []float64{0, 0, 1}
		},
		"once": func(_ *model.Study, rs *replicate.Results) {
			*rs = *Once()
		},
	}
}
