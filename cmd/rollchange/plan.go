package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/out/files"
	"rollchange/out/machine"
	"rollchange/out/picture"
	"rollchange/out/table"
	"rollchange/out/workbook"
	"rollchange/sim/plan"
	"rollchange/sim/replicate"
)

// planning is what plan is asked for.
type planning struct {
	options
	improve, xlsx string
	keep          []string
}

func newPlan() *cobra.Command {
	var x planning
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
		RunE:    func(cmd *cobra.Command, args []string) error { return x.plan(cmd, args[0]) },
	}
	x.addScenario(cmd)
	f := cmd.Flags()
	f.BoolVar(&x.json, "json", false, "print JSON in SI units")
	f.BoolVar(&x.csv, "csv", false, "print CSV in SI units, a row for each order of each alternative")
	f.StringVar(&x.replications, "replications", "", "number of replications instead of the scenario's")
	f.StringVar(&x.plots, "plots", "", "draw the orders over time into this folder, as SVG and PNG")
	f.StringVar(&x.xlsx, "xlsx", "", "write a workbook of the plan to this file")
	f.StringVar(&x.improve, "improve", "", "propose a sequence with less of this: late (hours late), changeover, or done (end of the list)")
	f.StringArrayVar(&x.keep, "keep", nil, "with --improve: the order with this name keeps its place; repeat for more")
	x.addWork(cmd)
	cmd.MarkFlagsMutuallyExclusive("json", "csv")
	return cmd
}

// plan makes the plan of a scenario and writes it.
func (x *planning) plan(cmd *cobra.Command, file string) error {
	if err := x.checkFlags(); err != nil {
		return err
	}
	s, err := x.load(cmd, file)
	if err != nil {
		return err
	}
	if x.xlsx != "" {
		if err := x.willWriteBook(cmd, &s.Study); err != nil {
			return err
		}
	}
	if _, err := replicate.Prepare(cmd.Context(), &s.Study); err != nil {
		return asError(cmd, err)
	}
	if err := x.willDraw(cmd, []string{"plan"}); err != nil {
		return err
	}
	answer, proposals, err := x.find(cmd, &s.Study)
	if err != nil {
		return asError(cmd, err)
	}
	if x.plots != "" {
		if err := x.savePictures(cmd, map[string]*picture.Picture{"plan": picture.Plan(answer)}); err != nil {
			return err
		}
	}
	if x.xlsx != "" {
		book := workbook.PlanBook{About: about(s), Answer: answer, Proposals: proposals, Units: s.Study.Units}
		if err := save(cmd, x.xlsx, func(w io.Writer) error { return workbook.WritePlan(w, book) }); err != nil {
			return err
		}
	}
	return x.write(cmd, func(w io.Writer) error {
		switch {
		case x.json:
			return machine.PlanJSON(w, about(s), answer, proposals)
		case x.csv:
			return machine.PlanCSV(w, answer)
		}
		return table.Plan(w, about(s), answer, proposals, s.Study.Units, x.screen(cmd))
	})
}

// checkFlags says what is wrong with the flags, before anything is read.
func (x *planning) checkFlags() error {
	if x.improve != "" && !slices.Contains(plan.Targets(), x.improve) {
		return fmt.Errorf("rollchange plan: --improve: no target %q; choose %s", x.improve, strings.Join(plan.Targets(), ", "))
	}
	if x.improve == "" && len(x.keep) > 0 {
		return fmt.Errorf("rollchange plan: --keep: is for --improve")
	}
	if x.xlsx != "" && !files.Straight(x.xlsx) {
		if err := workbook.CheckName(x.xlsx); err != nil {
			return fmt.Errorf("rollchange plan: --xlsx: %w", err)
		}
	}
	return nil
}

// willWriteBook says that the workbook is written, if the plan fits into one.
func (x *planning) willWriteBook(cmd *cobra.Command, study *model.Study) error {
	if err := writes(cmd, x.xlsx, "--xlsx"); err != nil {
		return err
	}
	list := study.Alternatives[0].Line.Orders
	if list == nil {
		return nil
	}
	if err := workbook.CheckPlan(len(list.List), len(study.Alternatives)); err != nil {
		return fmt.Errorf("rollchange plan: --xlsx: %w", err)
	}
	return nil
}

// find simulates the list, and looks for another sequence of each alternative where one
// is asked for.
func (x *planning) find(cmd *cobra.Command, study *model.Study) (*plan.Answer, []*plan.Proposal, error) {
	bar := newProgress(cmd.ErrOrStderr(), "plan", len(study.Alternatives)*study.Run.Replications)
	defer bar.Done()
	answer, err := plan.Of(cmd.Context(), study, x.workers, bar.Set)
	if err != nil || x.improve == "" {
		return answer, nil, err
	}
	var proposals []*plan.Proposal
	for i := range study.Alternatives {
		p, err := plan.Improve(cmd.Context(), study, answer, i, plan.Target(x.improve), x.keep, x.workers, nil)
		if err != nil {
			return nil, nil, err
		}
		proposals = append(proposals, p)
	}
	return answer, proposals, nil
}
