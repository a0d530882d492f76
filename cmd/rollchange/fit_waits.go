package main

import (
	"fmt"
	"math"
	"path/filepath"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
	"rollchange/scenarios/sheets"
	"rollchange/sim/match"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Of the passes that make modelled stops last as long as recorded ones.
const (
	mostPasses   = 6
	asLong       = 0.01 // of the recorded mean
	passLong     = 30 * 86400.
	passRepeated = 10
)

// waited writes the laws of a log into a scenario. Where a row lasts from leaving the
// speed until back at it, the line adds more to the work than walk and ramps: an operator
// may be busy, or was called ahead. It is simulated and taken off until the stops of the
// model last as long as the recorded ones.
func (x *fitFlags) waited(cmd *cobra.Command, s *scenarios.Scenario, l *learn.Line, how learn.How) (string, error) {
	dir := filepath.Dir(x.into)
	text, err := learn.Into(s, dir, l, words.LogComments{}, how)
	if err != nil {
		return "", fmt.Errorf("rollchange fit: --into: %w", err)
	}
	if how.Work {
		return string(text), nil
	}
	how.Waits = map[string]float64{}
	bar := newProgress(cmd.ErrOrStderr(), "waits of the line as it is", 0)
	defer bar.Done()
	var off []words.LastsLonger
	pass := 1
	for ; ; pass++ {
		now, err := scenarios.Parse(s.Name, text, dir)
		if err != nil {
			return "", err
		}
		study := now.Study
		study.Alternatives = study.Alternatives[:1]
		study.Run.Horizon, study.Run.Replications, study.Run.WarmUpAuto, study.Run.WarmUp = max(study.Run.Horizon, passLong), passRepeated, false, 0
		rs, err := replicate.Simulate(cmd.Context(), &study, replicate.Options{Progress: bar.Set})
		if err != nil {
			return "", asError(cmd, err)
		}
		line := &study.Alternatives[0].Line
		off = off[:0]
		for i := range l.Causes {
			c := &l.Causes[i]
			if !c.Repair.Given() || c.Repair.Mean() <= 0 {
				continue
			}
			lasts, by := modelled(c, line, rs.Alternatives[0].Metrics)
			if math.IsNaN(lasts) {
				continue
			}
			beyond := lasts - c.Repair.Mean()
			if math.Abs(beyond) > max(asLong*c.Repair.Mean(), by) {
				off = append(off, words.LastsLonger{Cause: c.Name(), Recorded: c.Repair.Mean(), Modelled: lasts})
				how.Waits[c.Name()] = max(-line.Crew.Reaction.Mean(), how.Waits[c.Name()]+beyond)
			}
		}
		if len(off) == 0 || pass == mostPasses {
			break
		}
		if text, err = learn.Into(s, dir, l, words.LogComments{}, how); err != nil {
			return "", fmt.Errorf("rollchange fit: --into: %w", err)
		}
	}
	bar.Done()
	fmt.Fprintln(cmd.ErrOrStderr(), words.LastsAsLong(off, asLong))
	return string(text), nil
}

// modelled is how long a stop of a cause lasts in the model, ramps included, s, and twice
// the standard error of that; NaN where none was seen.
func modelled(c *learn.Cause, line *model.Line, m replicate.Metrics) (lasts, by float64) {
	hold := match.HoldOf(c.Is, c.Name())
	still, often := m[metric.StoppedBy+hold], m[metric.BeginsBy+hold]
	if often.Mean <= 0 {
		return math.NaN(), 0
	}
	one := float64(max(1, line.Crew.Lines)) / often.Mean
	if !math.IsNaN(still.HalfWidth) {
		by = still.HalfWidth * one
	}
	return still.Mean*one + learn.Ramps(line), by
}

// given reads the scenario that laws go into, and takes what causes are from its records
// where the command line does not say it.
func (x *fitFlags) given(cmd *cobra.Command) (*scenarios.Scenario, error) {
	s, err := scenarios.Files{Workbook: sheets.Read}.Load(x.into, cmd.InOrStdin())
	if err != nil {
		return nil, err
	}
	if err := readsData(cmd, s); err != nil {
		return nil, err
	}
	said := map[string]bool{}
	for _, text := range x.is {
		if cause, _, err := learn.ParseMap(text); err == nil {
			said[cause] = true
		}
	}
	for _, c := range s.Study.Recorded.Causes {
		if !said[c.Text] && c.Is != model.RecordedStop {
			x.is = append(x.is, c.Text+"="+string(c.Is))
		}
	}
	return s, nil
}

// made reads the production figures of the period of a log; nil where there are none.
func (x *fitFlags) made(cmd *cobra.Command, log *records.Log, reading records.Options) (*records.Production, error) {
	if x.production == "" {
		return nil, nil
	}
	t, _, err := x.table(cmd, x.production)
	if err != nil {
		return nil, err
	}
	p, err := records.ReadProduction(t, reading)
	if err != nil {
		return nil, err
	}
	if what := p.SamePeriod(log.From, log.To); what != "" {
		return nil, fmt.Errorf("rollchange fit: --production: %s", what)
	}
	return p, nil
}
