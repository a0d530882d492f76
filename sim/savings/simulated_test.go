package savings

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// The half width of a saving is that of the savings of the single replications,
// calculated one by one: what it hangs on is nearly linear in them.
func TestHalfWidthIsThatOfTheReplications(t *testing.T) {
	for _, x := range scenarios.Templates()[:effort.Of(1, 5, len(scenarios.Templates()))] {
		s, err := scenarios.Parse(x.Name, x.Text, ".", scenarios.Override{Key: "run.replications", Value: "25"}, scenarios.Override{Key: "run.controls", Value: "none"}, scenarios.Override{Key: "run.horizon", Value: "4 d"})
		require.NoError(t, err)
		study := &s.Study
		run, err := replicate.Prepare(context.Background(), study)
		require.NoError(t, err)
		all := replicate.NewGathering(run, replicate.OutlinesOf(study))
		var each []*replicate.Results
		err = replicate.Each(context.Background(), study, run, 0, study.Run.Replications, replicate.Options{}, func(_ int, samples []*sim.Sample) error {
			one := replicate.NewGathering(run, replicate.OutlinesOf(study))
			if err := one.Add(samples); err != nil {
				return err
			}
			each = append(each, one.Results())
			return all.Add(samples)
		})
		require.NoError(t, err)
		for i := 1; i < len(study.Alternatives); i++ {
			c, err := newCase(study, all.Results(), 0, i, Options{Draws: 100})
			require.NoError(t, err)
			c.point()
			var totals estimate.Moments
			for _, rs := range each {
				v := c.mean
				for k, name := range replicate.JointMetrics {
					v[k], v[int(good1)+k] = rs.Alternatives[0].Metrics[name].Mean, rs.Alternatives[i].Metrics[name].Mean
				}
				a := c.account(&v)
				totals.Add(a.total())
			}
			assert.InEpsilon(t, totals.HalfWidth(run.Confidence), c.Total.HalfWidth, 0.1, "%s, %s", x.Name, c.Alternative)
			assert.InDelta(t, totals.Mean(), c.Total.Value, totals.HalfWidth(run.Confidence)/2, "%s, %s", x.Name, c.Alternative)
		}
	}
}

// The waste that is calculated from good web and the waste share is that of the
// simulation's own books: processed less good, and rests; but for the web in
// the line.
func TestWasteIsThatOfTheBooks(t *testing.T) {
	for _, x := range effort.Some(scenarios.Templates(), 2) {
		s, err := scenarios.Parse(x.Name, x.Text, ".", scenarios.Override{Key: "run.replications", Value: "3"}, scenarios.Override{Key: "run.horizon", Value: "10 d"})
		require.NoError(t, err)
		rs, err := replicate.Simulate(context.Background(), &s.Study, replicate.Options{})
		require.NoError(t, err)
		for _, r := range rs.Alternatives {
			m := func(name string) float64 { return r.Metrics[name].Mean }
			supplied := (m("processed_rate") - m("good_rate")) / (m("waste.total") - m("waste.residual"))
			y := yearOf(&Fixed{}, m("good_rate"), m("waste.total"), 0, 1, math.Inf(1))
			assert.InEpsilon(t, m("waste.total")*supplied, y.Waste, 0.005, "%s, %s", x.Name, r.Alternative)
		}
	}
}
