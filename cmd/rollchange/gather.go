package main

import (
	"fmt"
	"math"
	"strconv"

	"github.com/spf13/cobra"

	"rollchange/out/report"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/sim/metric"
	"rollchange/sim/plan"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// mostSwept is the most replications of a point of the pictures over one key:
// they show a course, and the table of the alternatives the figures.
const mostSwept = 3

// Of the pictures of many inputs: replications, about how many events one has at most,
// periods for what chance adds, and how far an input is moved.
const (
	mostMoved    = 3
	movedEvents  = 12_000
	leastPeriods = 12
	movedBy      = 0.1
)

// gather simulates what pictures need. name is the alternative that is told of
// in full, empty to choose it by its worth.
func (o *options) gather(cmd *cobra.Command, s *scenarios.Scenario, needs report.Needs, name string) (*report.Content, error) {
	c := &report.Content{About: about(s), Scenario: s, Lang: "en", Answer: -1}
	limits, err := o.limits(cmd, s)
	if err != nil {
		return nil, err
	}
	all := s.Study.Alternatives
	for i := range all {
		if all[i].Name == name {
			c.Answer = i
		}
	}
	if c.Answer < 0 && len(all) > 1 && needs != report.NeedPlan { // which shows all of them
		needs |= report.NeedCases
	}
	if needs&report.NeedCases != 0 {
		needs |= report.NeedResults
	}
	if needs&report.NeedResults != 0 {
		if c.Results, err = o.simulate(cmd, &s.Study); err == nil {
			err = o.leaveOpen(cmd, &s.Study, c.Results)
		}
		if err != nil {
			return nil, err
		}
	}
	if needs&report.NeedCases != 0 {
		c.Cases, c.NoCase, c.Rank = report.Cases(&s.Study, c.Results)
	}
	if c.Answer < 0 {
		c.Answer = 0
		if c.Results != nil {
			c.Answer = report.Choose(c.Results, &c.Rank.Steps)
		}
	}
	if c.Answer < len(c.Cases) && c.Cases[c.Answer] != nil {
		c.Cases[c.Answer].Explain()
	}
	if needs&report.NeedMatch != 0 {
		if c.Match, err = o.matched(cmd, s); err != nil {
			return nil, err
		}
	}
	if needs&report.NeedPlan != 0 && s.Study.Listed() {
		if c.Results == nil { // whatever is simulated first says what cannot be
			if _, err := replicate.Prepare(cmd.Context(), &s.Study); err != nil {
				return nil, asError(cmd, err)
			}
		}
		if c.Plan, err = plan.Of(cmd.Context(), &s.Study, o.workers, nil); err != nil {
			return nil, asError(cmd, err)
		}
	}
	if needs&report.NeedCycle != 0 {
		c.CycleOf = nearest(c.Answer, len(all), func(i int) int { return whatif.Tells(&all[i].Line) })
		if c.Cycle, err = whatif.RollChange(cmd.Context(), &all[c.CycleOf].Line, s.Study.Run); err != nil {
			return nil, asError(cmd, err)
		}
	}
	if needs&report.NeedSwings != 0 {
		if err := o.gatherSwings(cmd, s, c); err != nil {
			return nil, err
		}
	}
	return c, o.gatherSweeps(cmd, s, c, needs, limits)
}

// fewer is a scenario with so many replications at most.
func fewer(s *scenarios.Scenario, most int) (*scenarios.Scenario, error) {
	if s.Study.Run.Replications <= most {
		return s, nil
	}
	return s.Again(scenarios.Override{Key: "run.replications", Value: strconv.Itoa(most)})
}

// shorter is a scenario with replications of so many events of a line at most, in whole
// days and a week at least. A list of orders, and a warm-up that the output tells, stay
// as they are.
func shorter(s *scenarios.Scenario, rs *replicate.Results, most float64) (*scenarios.Scenario, error) {
	const day, week = 86400, 7 * 86400
	run := s.Study.Run
	events := 0.0
	for _, a := range rs.Alternatives {
		events = max(events, float64(a.Events)/float64(rs.Run.Replications))
	}
	if events <= most || s.Study.Listed() || run.WarmUpAuto {
		return s, nil
	}
	horizon := run.WarmUp + max(week, day*math.Ceil((run.Horizon-run.WarmUp)*most/events/day))
	if horizon >= run.Horizon {
		return s, nil
	}
	return s.Again(scenarios.Override{Key: "run.horizon", Value: strconv.FormatFloat(horizon, 'f', -1, 64) + " s"})
}

// gatherSwings moves every input of the answer on its own: for its output, and
// where there is a savings case for its net present value against the first.
func (o *options) gatherSwings(cmd *cobra.Command, s *scenarios.Scenario, c *report.Content) error {
	few, err := fewer(s, mostMoved)
	if err == nil {
		few, err = shorter(few, c.Results, movedEvents)
	}
	if err != nil {
		return err
	}
	bar := newProgress(cmd.ErrOrStderr(), "inputs moved", 0)
	defer bar.Done()
	looked, metrics := whatif.Only(few, c.Answer), []string{metric.GoodRate}
	if c.Answer < len(c.Cases) && c.Cases[c.Answer] != nil {
		looked, metrics = whatif.Pair(few, c.Answer), append(metrics, "npv")
	}
	c.Stakes, err = whatif.Sensitivity(cmd.Context(), looked, whatif.SensitivityQuestion{Metrics: metrics, Share: movedBy, Most: report.MostInputs}, whatif.Options{Workers: o.workers, Progress: bar.Show})
	if err != nil {
		return asError(cmd, err)
	}
	shareBase(c)
	bar.Done()
	bar = newProgress(cmd.ErrOrStderr(), "sources of chance", 0)
	defer bar.Done()
	if c.Chance, err = whatif.ChanceOf(cmd.Context(), whatif.Only(s, c.Answer), []string{metric.GoodRate}, leastPeriods, whatif.Options{Workers: o.workers, Progress: bar.Show}); err != nil {
		return asError(cmd, err)
	}
	run := c.Results.Run
	run.Replications, run.Horizon = few.Study.Run.Replications, few.Study.Run.Horizon
	c.SwungHow = words.Head(run)
	return nil
}

// nearest is the alternative of the highest rank: the answer, else the first.
func nearest(answer, n int, rank func(int) int) int {
	best := answer
	for i := range n {
		if rank(i) > rank(best) {
			best = i
		}
	}
	return best
}

// gatherSweeps varies line speed and storage.
func (o *options) gatherSweeps(cmd *cobra.Command, s *scenarios.Scenario, c *report.Content, needs report.Needs, limits whatif.Limits) error {
	if needs&(report.NeedSpeed|report.NeedStorage) == 0 {
		return nil
	}
	few, err := fewer(s, mostSwept)
	if err != nil {
		return err
	}
	if needs&report.NeedSpeed != 0 {
		var axis whatif.Axis
		axis, c.SpeedEnds, err = whatif.SpeedAxis(few)
		if err != nil {
			c.SpeedEnds = err.Error()
		} else if c.Speed, err = o.swept(cmd, few, axis, limits); err != nil {
			return err
		}
	}
	if needs&report.NeedStorage != 0 {
		all := s.Study.Alternatives
		c.StorageOf = nearest(c.Answer, len(all), func(i int) int { return whatif.Tells(&all[i].Line) / 2 })
		one := whatif.Only(few, c.StorageOf)
		axis, ok, err := whatif.StorageAxis(one, 0)
		if ok && err == nil {
			by := o.sweptStorage
			if axis.Key == "rewind.storage.capacity" && one.Study.Alternatives[0].Line.Rewind.LateSpeed > 0 {
				by = o.swept // each value on its own: see size storage
			}
			if c.Storage, err = by(cmd, one, axis, limits); err != nil {
				return err
			}
			c.Storage.Places = []int{c.StorageOf}
		}
	}
	for _, w := range []*whatif.Sweep{c.Speed, c.Storage} {
		if w == nil {
			continue
		}
		for i := range w.Points {
			if r := w.Points[i].Results; r != nil {
				c.SweptHow = words.Head(r.Run)
			}
		}
	}
	all := make([]int, len(s.Study.Alternatives))
	for i := range all {
		all[i] = i
	}
	pin(c.Speed, c.Results, all)
	pin(c.Storage, c.Results, []int{c.StorageOf})
	return nil
}

// sweptStorage finds the risk over the capacity of a storage from few simulations.
func (o *options) sweptStorage(cmd *cobra.Command, s *scenarios.Scenario, axis whatif.Axis, limits whatif.Limits) (*whatif.Sweep, error) {
	w, err := whatif.NewSweep(s, []whatif.Axis{axis}, limits)
	if err != nil {
		return nil, fmt.Errorf("rollchange: %w", err)
	}
	bar := newProgress(cmd.ErrOrStderr(), "storages", 0)
	defer bar.Done()
	if err = whatif.SweepStorage(cmd.Context(), s, w, whatif.Options{Workers: o.workers, Progress: bar.Show}); err != nil {
		return nil, asError(cmd, err)
	}
	return w, nil
}

// swept simulates every point of a sweep over one key.
func (o *options) swept(cmd *cobra.Command, s *scenarios.Scenario, axis whatif.Axis, limits whatif.Limits) (*whatif.Sweep, error) {
	w, err := whatif.NewSweep(s, []whatif.Axis{axis}, limits)
	if err != nil {
		return nil, fmt.Errorf("rollchange: %w", err)
	}
	each := len(s.Study.Alternatives) * s.Study.Run.Replications
	bar := newProgress(cmd.ErrOrStderr(), "speeds", len(w.Points)*each)
	defer bar.Done()
	for k := range w.Points {
		show := func(done, _ int) { bar.Set(k*each+done, 0) }
		if err := w.Simulate(cmd.Context(), s, k, replicate.Options{Workers: o.workers, Progress: show}); err != nil {
			return nil, asError(cmd, err)
		}
	}
	return w, nil
}
