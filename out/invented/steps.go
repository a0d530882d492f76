package invented

import (
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// Steps are three alternatives of which the dearest is worth most in the mean and not
// shown to be worth its step, changed as a test needs it: their ranking and cases.
func Steps(t testing.TB, change func(*model.Study, *replicate.Results)) (savings.Ranking, []*savings.Case) {
	t.Helper()
	study, rs := Study(), Results()
	flying := study.Alternatives[1]
	flying.Name, flying.Investment, flying.Maintenance = "flying", model.Const(190000), model.Const(6000)
	study.Alternatives = append(study.Alternatives, flying)
	m := replicate.Metrics{}
	for k, e := range rs.Alternatives[1].Metrics {
		m[k] = e
	}
	m["good_rate"] = Speed(60*m["good_rate"].Mean+4, 1)
	rs.Alternatives = append(rs.Alternatives, replicate.Result{Alternative: flying.Name, Metrics: m, Names: rs.Alternatives[1].Names})
	rs.Differences = append(rs.Differences, rs.Differences[1])
	if change != nil {
		change(study, rs)
	}
	opt := savings.Options{Draws: 400}
	cases := make([]*savings.Case, len(study.Alternatives))
	for i := 1; i < len(cases); i++ {
		c, err := savings.New(study, rs, i, opt)
		require.NoError(t, err)
		cases[i] = c
	}
	r := savings.Rank(study, rs, cases, opt)
	cases[r.Steps.Shown()].Steps = &r.Steps
	return r, cases
}
