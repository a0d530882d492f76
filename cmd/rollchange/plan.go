package main

import (
	"io"

	"github.com/spf13/cobra"

	"rollchange/out/machine"
	"rollchange/out/table"
	"rollchange/sim/plan"
	"rollchange/sim/replicate"
)

func newPlan() *cobra.Command {
	var o options
	cmd := &cobra.Command{
		Use:   "plan FILE",
		Short: "When each order of a list is made, and which are late",
		Long: `Plan runs the list of orders of the scenario, [orders] with its file, with every
alternative and the same random events. It says when each order begins and ends, how
likely it is to be late, where its hours go and what web, rolls, splices and tape it
takes, and when the whole list is done; and what an alternative changes against the
first.`,
		Example: "  rollchange plan week.toml\n  rollchange plan week.toml --csv -o plan.csv",
		Args:    oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := o.load(cmd, args[0])
			if err != nil {
				return err
			}
			if _, err := replicate.Prepare(cmd.Context(), &s.Study); err != nil {
				return asError(cmd, err)
			}
			bar := newProgress(cmd.ErrOrStderr(), "plan", len(s.Study.Alternatives)*s.Study.Run.Replications)
			defer bar.Done()
			answer, err := plan.Of(cmd.Context(), &s.Study, o.workers, bar.Set)
			if err != nil {
				return asError(cmd, err)
			}
			bar.Done()
			return o.write(cmd, func(w io.Writer) error {
				switch {
				case o.json:
					return machine.PlanJSON(w, about(s), answer)
				case o.csv:
					return machine.PlanCSV(w, answer)
				}
				return table.Plan(w, about(s), answer, s.Study.Units, o.screen(cmd))
			})
		},
	}
	o.addScenario(cmd)
	f := cmd.Flags()
	f.BoolVar(&o.json, "json", false, "print JSON in SI units")
	f.BoolVar(&o.csv, "csv", false, "print CSV in SI units, a row for each order of each alternative")
	f.StringVar(&o.replications, "replications", "", "number of replications instead of the scenario's")
	o.addWork(cmd)
	cmd.MarkFlagsMutuallyExclusive("json", "csv")
	return cmd
}
