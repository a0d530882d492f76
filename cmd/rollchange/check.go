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

// checking is what is known of a scenario before any simulation.
type checking struct {
	options
	rolls bool
}

func newCheck() *cobra.Command {
	var x checking
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
			s, err := x.load(cmd, args[0])
			if err != nil {
				return err
			}
			if err := x.write(cmd, func(w io.Writer) error { return x.facts(w, s, x.screen(cmd)) }); err != nil {
				return err
			}
			cautions(cmd.ErrOrStderr(), s, true)
			return nil
		},
	}
	x.addScenario(cmd)
	cmd.Flags().BoolVar(&x.rolls, "rolls", false, "also print the roll tables: length, diameter, mass and wraps in steps")
	return cmd
}

// facts writes what is known of each alternative.
func (x *checking) facts(w io.Writer, s *scenarios.Scenario, to table.Screen) error {
	if err := to.Set(w, about(s)); err != nil {
		return err
	}
	for i := range s.Study.Alternatives {
		if i > 0 {
			fmt.Fprintln(w)
		}
		a := &s.Study.Alternatives[i]
		if err := x.alternativeFacts(w, a, s.Study.Units, to); err != nil {
			return err
		}
		if r := &s.Study.Recorded; r.Hours > 0 && r.Of(&s.Study) == i {
			if err := table.Recorded(w, r, max(1, a.Line.Crew.Lines), model.Ceiling(&a.Line), s.Study.Units, to); err != nil {
				return err
			}
		}
	}
	return nil
}

// alternativeFacts writes what is known of an alternative, with each of its products.
func (x *checking) alternativeFacts(w io.Writer, a *model.Alternative, sys model.System, to table.Screen) error {
	if err := table.Facts(w, a.Name, model.FactsOf(&a.Line), sys, to); err != nil {
		return err
	}
	for k := range a.Line.Products {
		p := &a.Line.Products[k]
		fmt.Fprintln(w)
		if err := table.Facts(w, a.Name+": "+p.Name, model.FactsOf(p.Line), sys, to); err != nil {
			return err
		}
		if err := x.rollTables(w, p.Line, sys, to); err != nil {
			return err
		}
	}
	if a.Line.Orders != nil {
		return nil
	}
	return x.rollTables(w, &a.Line, sys, to)
}

// rollTables writes the roll tables of a line: those that were asked for, and those of
// rolls whose seam limits them.
func (x *checking) rollTables(w io.Writer, l *model.Line, sys model.System, to table.Screen) error {
	if !x.rolls && (l.Rewind.Change == model.None || !l.Rewind.Build.Given()) {
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
