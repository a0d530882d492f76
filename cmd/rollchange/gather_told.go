package main

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"rollchange/out/report"
	"rollchange/scenarios"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// addTarget is the flag of the one target that pictures over a key show.
func (o *options) addTarget(cmd *cobra.Command) {
	cmd.Flags().StringVar(&o.risk, "risk", "", "target to show in pictures over speed and storage: a chance for each splice (1e-4) or a number in a period (\"1 per year\"); without it none is shown")
}

// limits are what pictures over a key are held against: what was asked for, nothing else.
func (o *options) limits(cmd *cobra.Command, s *scenarios.Scenario) (whatif.Limits, error) {
	l := whatif.Limits{NotReady: math.NaN(), NotRefilled: math.NaN(), Busy: math.NaN(), Waste: math.NaN()}
	if o.risk == "" {
		return l, nil
	}
	var err error
	if l.Risk, err = whatif.ParseRisk(o.risk, whatif.Year(&s.Study.Alternatives[0].Line)); err != nil {
		return l, fmt.Errorf("%s: --risk: %w", cmd.CommandPath(), err)
	}
	return l, nil
}

// shareBase puts what inputs move beside the figures of the answer: few replications tell
// the difference that an input makes, many the figure itself.
func shareBase(c *report.Content) {
	at := map[string]whatif.Swing{}
	if c.Results != nil {
		good := c.Results.Alternatives[c.Answer].Metrics[metric.GoodRate]
		at[metric.GoodRate] = whatif.Swing{Base: good.Mean, BaseHalf: good.HalfWidth}
	}
	if c.Answer < len(c.Cases) && c.Cases[c.Answer] != nil {
		at["npv"] = whatif.Swing{Base: c.Cases[c.Answer].Random.NPV.Mean, BaseHalf: math.NaN()}
	}
	for name, to := range at {
		for i := range c.Stakes.Swings[name] {
			s := &c.Stakes.Swings[name][i]
			by := to.Base - s.Base // what is not finite stays so
			s.Low, s.Up, s.Base, s.BaseHalf = s.Low+by, s.Up+by, to.Base, to.BaseHalf
		}
	}
}

// pin gives the points at which every line has what it has now the figures of the answer.
func pin(w *whatif.Sweep, rs *replicate.Results, places []int) {
	if w == nil || rs == nil {
		return
	}
	for i := range w.Points {
		p := &w.Points[i]
		if !w.Own(i) {
			continue
		}
		own := *rs
		own.Alternatives, own.Differences, p.Binds = nil, nil, nil
		for k, a := range places {
			own.Alternatives = append(own.Alternatives, rs.Alternatives[a])
			d := replicate.Metrics{}
			if k > 0 {
				d = rs.Differences[a]
			}
			own.Differences = append(own.Differences, d)
			p.Binds = append(p.Binds, w.Limits.Broken(rs.Alternatives[a].Metrics))
		}
		own.Joint, own.Open = nil, nil
		p.Results = &own
	}
}
