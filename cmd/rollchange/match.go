package main

import (
	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/scenarios/observed"
	"rollchange/sim/match"
	"rollchange/sim/replicate"
)

// matched lays what the line really made beside what the model makes in periods as
// long; nil where the scenario has no records of an alternative that is asked for. The
// periods hold what the records of the laws leave open wherever a law says how much was
// observed, also where the other figures do not: the line that was recorded has the true
// laws, and not those of the log. --records=none leaves it out.
func (o *options) matched(cmd *cobra.Command, s *scenarios.Scenario) (*match.Answer, error) {
	var records replicate.Records // not a nil pointer in it
	if r := observed.Of(&s.Study); s.Study.Run.Records == model.RecordsObserved && r != nil || s.Study.Run.Records == model.RecordsByCommand && r.Said() {
		records = r
	}
	bar := newProgress(cmd.ErrOrStderr(), "recorded periods", 0)
	defer bar.Done()
	a, err := match.Of(cmd.Context(), &s.Study, records, replicate.Options{Workers: o.workers, Progress: bar.Set})
	if err != nil {
		return nil, asError(cmd, err)
	}
	o.recorded = a
	return a, nil
}
