package main

import (
	"github.com/spf13/cobra"

	"rollchange/scenarios"
	"rollchange/sim/match"
	"rollchange/sim/replicate"
)

// matched lays what the line really made beside what the model makes in periods as
// long; nil where the scenario has no records of an alternative that is asked for.
func (o *options) matched(cmd *cobra.Command, s *scenarios.Scenario) (*match.Answer, error) {
	bar := newProgress(cmd.ErrOrStderr(), "recorded periods", 0)
	defer bar.Done()
	a, err := match.Of(cmd.Context(), &s.Study, replicate.Options{Workers: o.workers, Progress: bar.Set})
	if err != nil {
		return nil, asError(cmd, err)
	}
	o.recorded = a
	return a, nil
}
