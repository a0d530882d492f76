package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/out/table"
	"rollchange/scenarios"
)

func newCheck() *cobra.Command {
	var o options
	var rolls bool
	cmd := &cobra.Command{
		Use:   "check FILE",
		Short: "Check a scenario and show what is known before any simulation",
		Long: `Check lists every error in a scenario at once, each with its line and how to write
it. For a correct scenario it prints, for each alternative, what is known before
any simulation: rolls, what a splice draws from the storage and the margin to the
interlock, refill, arming time, crew load, the ceiling on output. With --rolls, and
where [rewind.build] stands, also the roll tables: length, diameter, mass and wraps
of parent and finished roll in steps. Cautions go to standard error.`,
		Example: "  rollchange check line.toml\n  rollchange check line.toml --units imperial\n  rollchange check line.toml --rolls",
		Args:    oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := o.load(cmd, args[0])
			if err != nil {
				return err
			}
			err = o.write(cmd, func(w io.Writer) error {
				if err := o.screen(cmd).Set(w, about(s)); err != nil {
					return err
				}
				for i := range s.Study.Alternatives {
					a := &s.Study.Alternatives[i]
					if i > 0 {
						fmt.Fprintln(w)
					}
					if err := table.Facts(w, a.Name, model.FactsOf(&a.Line), s.Study.Units, o.screen(cmd)); err != nil {
						return err
					}
					for k := range a.Line.Products {
						p := &a.Line.Products[k]
						fmt.Fprintln(w)
						if err := table.Facts(w, a.Name+": "+p.Name, model.FactsOf(p.Line), s.Study.Units, o.screen(cmd)); err != nil {
							return err
						}
						if err := rollTables(w, p.Line, rolls, s.Study.Units, o.screen(cmd)); err != nil {
							return err
						}
					}
					if a.Line.Orders == nil {
						if err := rollTables(w, &a.Line, rolls, s.Study.Units, o.screen(cmd)); err != nil {
							return err
						}
					}
					if r := &s.Study.Recorded; r.Hours > 0 && r.Of(&s.Study) == i {
						if err := table.Recorded(w, r, max(1, a.Line.Crew.Lines), model.Ceiling(&a.Line), s.Study.Units, o.screen(cmd)); err != nil {
							return err
						}
					}
				}
				return nil
			})
			if err != nil {
				return err
			}
			cautions(cmd.ErrOrStderr(), s, true)
			return nil
		},
	}
	o.addScenario(cmd)
	cmd.Flags().BoolVar(&rolls, "rolls", false, "also print the roll tables: length, diameter, mass and wraps in steps")
	return cmd
}

// rollTables writes the roll tables of a line: those that were asked for, and those of
// rolls whose seam limits them.
func rollTables(w io.Writer, l *model.Line, asked bool, sys model.System, to table.Screen) error {
	if !asked && (l.Rewind.Change == model.None || !l.Rewind.Build.Given()) {
		return nil
	}
	return table.Rolls(w, l, sys, to)
}

// cautions writes what should be known of a study: each caution once, with the
// alternatives that it holds for. The caution of safety is written when all is asked for.
func cautions(w io.Writer, s *scenarios.Scenario, all bool) {
	for _, c := range model.CautionsOfAll(s.Study.Alternatives, s.Study.Units) {
		of := ""
		if len(c.Of) > 0 {
			of = fmt.Sprintf(" (%s)", strings.Join(c.Of, "; "))
		}
		fmt.Fprintf(w, "caution: %s%s\n", c.Text, of)
	}
	if all {
		fmt.Fprintf(w, "caution: %s\n", model.Safety)
	}
}
