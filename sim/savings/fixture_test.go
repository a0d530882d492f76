package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// studyOf is an invented study of two alternatives with round figures: 2 and
// 3 m/s of good web in 1000 h a year, that is 7200 and 10800 km.
func studyOf() (*model.Study, *replicate.Results) {
	e := model.Economics{Currency: "EUR", HoursPerYear: model.Const(1000 * 3600), Price: model.Const(0.2), MaterialCost: model.Const(0.5),
		DisposalCost: model.Const(0.1), CrewCost: model.Const(40), LineCost: model.Const(60), TapeCost: model.Const(0.25),
		DiscountRate: model.Const(0.1), Life: model.Const(10)}
	line := model.Line{Web: model.Web{Width: 0.5, Grammage: 0.1}, Crew: model.Crew{Operators: 2, Lines: 1}, Economics: e,
		Unwind: model.Unwind{TapePerSplice: 1}, Stops: []model.Stop{{Name: "jam"}}}
	study := &model.Study{Run: model.Run{Replications: 20, Seed: 1, Confidence: 0.95}, Alternatives: []model.Alternative{
		{Name: "by hand", Line: line}, {Name: "automatic", Line: line, Investment: model.Const(500000), Maintenance: model.Const(5000)}}}
	est := func(unit string, mean, sd float64) estimate.Estimate {
		h := math.NaN()
		if sd >= 0 {
			h = sd * estimate.StudentT(0.975, 19) / math.Sqrt(20)
		}
		return estimate.Estimate{Unit: unit, Mean: mean, SD: sd, HalfWidth: h, N: 20, Low: mean - h, High: mean + h}
	}
	metrics := func(g, w, s float64) replicate.Metrics {
		return replicate.Metrics{"good_rate": est("m/s", g, 0.05), "waste.total": est("1", w, 0.002), "splice_rate": est("1/s", s, 1e-5)}
	}
	rs := &replicate.Results{Run: replicate.RunInfo{Seed: 1, Replications: 20, Confidence: 0.95, Horizon: 86400},
		Alternatives: []replicate.Result{{Alternative: "by hand", Metrics: metrics(2, 0.1, 1e-3)}, {Alternative: "automatic", Metrics: metrics(3, 0.04, 1.5e-3)}},
		Differences:  []replicate.Metrics{nil, {"good_rate": est("m/s", 1, 0.03), "waste.total": est("1", -0.06, 0.001), "splice_rate": est("1/s", 5e-4, 1e-5)}}}
	return study, rs
}

func caseOf(t testing.TB, change func(*model.Study, *replicate.Results)) *Case {
	t.Helper()
	return caseOfDraws(t, effort.Of(500, 1000, 2000), change)
}

func caseOfDraws(t testing.TB, draws int, change func(*model.Study, *replicate.Results)) *Case {
	t.Helper()
	study, rs := studyOf()
	if change != nil {
		change(study, rs)
	}
	c, err := New(study, rs, 1, Options{Draws: draws})
	require.NoError(t, err)
	return c
}

// economics changes the prices of both alternatives.
func economics(change func(*model.Economics)) func(*model.Study, *replicate.Results) {
	return func(s *model.Study, _ *replicate.Results) {
		for i := range s.Alternatives {
			change(&s.Alternatives[i].Line.Economics)
		}
	}
}
