package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/out/files"
	"rollchange/out/machine"
	"rollchange/out/picture"
	"rollchange/out/table"
	"rollchange/out/workbook"
	"rollchange/sim/plan"
	"rollchange/sim/replicate"
)

func newPlan() *cobra.Command {
	var o options
	var improve, xlsx string
	var keep []string
	cmd := &cobra.Command{
		Use:   "plan FILE",
		Short: "When each order of a list is made, and which are late",
		Long: `Plan runs the list of orders of the scenario, [orders] with its file, with every
alternative and the same random events. It says when each order begins and ends, how
likely it is to be late, where its hours go, what web, rolls, splices and tape it
takes, when the whole list is done, and what each alternative changes against the
first.

--improve proposes another sequence for each alternative: one with fewer hours late,
less changeover or an earlier end. It is judged on random events other than those it
was found with. --keep leaves an order in its place.`,
		Example: "  rollchange plan week.toml\n  rollchange plan week.toml --csv -o plan.csv\n  rollchange plan week.toml --xlsx plan.xlsx\n  rollchange plan week.toml --improve late --keep 1001",
		Args:    oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			if improve != "" && !slices.Contains(plan.Targets(), improve) {
				return fmt.Errorf("rollchange plan: --improve: no target %q; choose %s", improve, strings.Join(plan.Targets(), ", "))
			}
			if improve == "" && len(keep) > 0 {
				return fmt.Errorf("rollchange plan: --keep: is for --improve")
			}
			if xlsx != "" && !files.Straight(xlsx) {
				if err := workbook.CheckName(xlsx); err != nil {
					return fmt.Errorf("rollchange plan: --xlsx: %w", err)
				}
			}
			s, err := o.load(cmd, args[0])
			if err != nil {
				return err
			}
			if xlsx != "" {
				if err := writes(cmd, xlsx, "--xlsx"); err != nil {
					return err
				}
				if list := s.Study.Alternatives[0].Line.Orders; list != nil {
					if err := workbook.CheckPlan(len(list.List), len(s.Study.Alternatives)); err != nil {
						return fmt.Errorf("rollchange plan: --xlsx: %w", err)
					}
				}
			}
			if _, err := replicate.Prepare(cmd.Context(), &s.Study); err != nil {
				return asError(cmd, err)
			}
			if err := o.willDraw(cmd, []string{"plan"}); err != nil {
				return err
			}
			bar := newProgress(cmd.ErrOrStderr(), "plan", len(s.Study.Alternatives)*s.Study.Run.Replications)
			defer bar.Done()
			answer, err := plan.Of(cmd.Context(), &s.Study, o.workers, bar.Set)
			if err != nil {
				return asError(cmd, err)
			}
			var proposals []*plan.Proposal
			for i := 0; improve != "" && i < len(s.Study.Alternatives); i++ {
				p, err := plan.Improve(cmd.Context(), &s.Study, answer, i, plan.Target(improve), keep, o.workers, nil)
				if err != nil {
					return asError(cmd, err)
				}
				proposals = append(proposals, p)
			}
			bar.Done()
			if o.plots != "" {
				if err := o.savePictures(cmd, map[string]*picture.Picture{"plan": picture.Plan(answer)}); err != nil {
					return err
				}
			}
			if xlsx != "" {
				book := workbook.PlanBook{About: about(s), Answer: answer, Proposals: proposals, Units: s.Study.Units}
				if err := save(cmd, xlsx, func(w io.Writer) error { return workbook.WritePlan(w, book) }); err != nil {
					return err
				}
			}
			return o.write(cmd, func(w io.Writer) error {
				switch {
				case o.json:
					return machine.PlanJSON(w, about(s), answer, proposals)
				case o.csv:
					return machine.PlanCSV(w, answer)
				}
				return table.Plan(w, about(s), answer, proposals, s.Study.Units, o.screen(cmd))
			})
		},
	}
	o.addScenario(cmd)
	f := cmd.Flags()
	f.BoolVar(&o.json, "json", false, "print JSON in SI units")
	f.BoolVar(&o.csv, "csv", false, "print CSV in SI units, a row for each order of each alternative")
	f.StringVar(&o.replications, "replications", "", "number of replications instead of the scenario's")
	f.StringVar(&o.plots, "plots", "", "draw the orders over time into this folder, as SVG and PNG")
	f.StringVar(&xlsx, "xlsx", "", "write a workbook of the plan to this file")
	f.StringVar(&improve, "improve", "", "propose a sequence with less of this: late (hours late), changeover, or done (end of the list)")
	f.StringArrayVar(&keep, "keep", nil, "with --improve: the order with this name keeps its place; repeat for more")
	o.addWork(cmd)
	cmd.MarkFlagsMutuallyExclusive("json", "csv")
	return cmd
}
