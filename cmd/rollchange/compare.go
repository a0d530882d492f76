package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"rollchange/out/machine"
	"rollchange/out/report"
	"rollchange/out/table"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

func newCompare() *cobra.Command {
	var o options
	cmd := &cobra.Command{
		Use:   "compare FILE",
		Short: "Compare all alternatives side by side",
		Long: `Compare simulates all alternatives of the scenario with common random numbers and
prints them side by side against the first, or against --base. Differences are paired by replication;
one whose interval covers zero is marked ~. If the scenario gives prices, the
savings and worth of each alternative follow, and by steps of investment which of
them to choose; payback shows the calculation.`,
		Example: "  rollchange compare line.toml\n  rollchange compare line.toml --csv -o compare.csv\n  rollchange compare line.toml --plots pictures",
		Args:    oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := o.load(cmd, args[0])
			if err != nil {
				return err
			}
			if len(s.Study.Alternatives) == 1 {
				fmt.Fprintln(cmd.ErrOrStderr(), "warning: one alternative only, nothing to compare it with")
			}
			return o.answer(cmd, s, func(w io.Writer, rs *replicate.Results) error {
				if o.csv {
					return machine.CompareCSV(w, rs)
				}
				cases, reasons, rank := report.Cases(&s.Study, rs)
				for _, err := range reasons { // what is missing is no fault: the prices are for those who want them
					if differ := (*savings.DifferError)(nil); errors.As(err, &differ) {
						fmt.Fprintf(cmd.ErrOrStderr(), "warning: no savings of %q: %v\n", differ.Alternative, err)
					}
				}
				if o.json {
					return machine.CompareJSON(w, about(s), rs, rank, cases)
				}
				if err := table.Compare(w, about(s), rs, s.Study.Units, o.screen(cmd)); err != nil {
					return err
				}
				return table.Savings(w, cases, rank, o.screen(cmd))
			})
		},
	}
	o.addRun(cmd)
	o.addRecords(cmd)
	o.addPrecision(cmd)
	o.addBase(cmd)
	return cmd
}
