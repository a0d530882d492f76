package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/out/files"
	"rollchange/out/machine"
	"rollchange/out/table"
	"rollchange/out/words"
	"rollchange/out/workbook"
	"rollchange/scenarios"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// paybackOptions are the flags of payback that no other command has.
type paybackOptions struct {
	options
	draws, years int
	solve        []string
	target       string
	xlsx         string
}

func newPayback() *cobra.Command {
	var o paybackOptions
	cmd := &cobra.Command{
		Use:   "payback FILE",
		Short: "What an alternative saves a year, and when it pays back",
		Long: `Payback simulates the first alternative of the scenario and another, and puts a value
on the difference: savings by cause, cash flow by year, net present value, internal
rate of return, payback, and how sure they are. It needs [economics] in the scenario.
Without --alternative it judges all by steps of investment, each against the last one
that was accepted, and shows the one that they recommend.

If economics.demand is given and both can meet it, the saving is the same good web in
fewer hours; otherwise the extra good web is sold. Every economic input may be a
distribution: each draw takes a value of every one, and of the simulated figures
within their intervals, and calculates the case. The headline is the mean of the
draws. It covers how well the line itself is known only with --records, and only for
laws with observed values; see also sensitivity --metric savings,npv,payback.

--solve KEY finds the value at which the net present value is 0: economics.price,
hours_per_year, demand, investment and so on. Any key of the line works too: give the
range to search, KEY=LOW..HIGH; the line is simulated again for each value, with the
key set in all alternatives, or in one: alternative[flying].unwind.dwell. --for sets another target for all of them: "npv 100000",
"payback 2 years", "discounted payback 3 years" or "irr 15 %"; a payback and a rate
are medians of the draws, as in the table.`,
		Example: "  rollchange payback line.toml\n  rollchange payback line.toml --alternative \"flying\" --years 5\n  rollchange payback line.toml --solve price --solve \"unwind.splice_success=80 %..100 %\"\n  rollchange payback line.toml --solve investment --for \"payback 2 years\"\n  rollchange payback line.toml --xlsx savings.xlsx --json -o savings.json",
		Args:    oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			return o.run(cmd, args[0])
		},
	}
	o.addAnswer(cmd)
	o.addBase(cmd)
	o.addRecords(cmd)
	f := cmd.Flags()
	f.Lookup("alternative").Usage = "the alternative to compare with the first"
	f.IntVar(&o.draws, "draws", savings.DefaultDraws, "draws of the economic inputs that vary and of the noise of the simulation")
	f.IntVar(&o.years, "years", 0, "years of life instead of the scenario's")
	f.StringArrayVar(&o.solve, "solve", nil, "find the value of this key at which the net present value is 0")
	f.StringVar(&o.target, "for", "npv 0", "what --solve is to reach: npv AMOUNT, payback YEARS years, discounted payback YEARS years, irr SHARE %")
	f.StringVar(&o.xlsx, "xlsx", "", "write a workbook with live formulas to this file")
	return cmd
}

// check names everything that is wrong with the flags.
func (o *paybackOptions) check(cmd *cobra.Command) error {
	var errs []error
	bad := func(format string, a ...any) { errs = append(errs, fmt.Errorf("rollchange payback: "+format, a...)) }
	if o.draws < 100 || o.draws > 1000000 {
		bad("--draws: %d is not within 100 to 1000000", o.draws)
	}
	if cmd.Flags().Changed("years") && (o.years < 1 || o.years > 100) {
		bad("--years: %d is not within 1 to 100", o.years)
	}
	if o.xlsx != "" && !files.Straight(o.xlsx) {
		if err := workbook.CheckName(o.xlsx); err != nil {
			bad("--xlsx: %w", err)
		}
	}
	if _, err := parseTarget(o.target, ""); err != nil && !errors.Is(err, errCurrency) {
		bad("--for: %w", err)
	}
	if cmd.Flags().Changed("for") && len(o.solve) == 0 {
		bad("--for: says what --solve is to reach: give --solve KEY, such as --solve investment")
	}
	for _, s := range o.solve {
		if _, err := newAim(s); err != nil {
			bad("--solve: %w", err)
		}
	}
	return errors.Join(errs...)
}

func (o *paybackOptions) run(cmd *cobra.Command, path string) error {
	if err := o.check(cmd); err != nil {
		return err
	}
	name := o.alternative
	o.alternative = "" // the first is needed too
	s, err := o.load(cmd, path)
	if err != nil {
		return err
	}
	if o.xlsx != "" {
		if err := writes(cmd, o.xlsx, "--xlsx"); err != nil {
			return err
		}
	}
	if err := withFirst(&s.Study, name); err != nil {
		return err
	}
	if _, err := o.recordsOf(&s.Study); err != nil { // before any work
		return err
	}
	cautions(cmd.ErrOrStderr(), s, false)
	rs, err := o.simulate(cmd, &s.Study)
	if err == nil {
		err = o.leaveOpen(cmd, &s.Study, rs)
	}
	if err != nil {
		return err
	}
	c, at, err := o.chosen(&s.Study, rs)
	if err != nil {
		return err
	}
	if c.Steps != nil {
		fmt.Fprintln(cmd.ErrOrStderr(), words.StepsShown(c.Steps)+"; --alternative NAME shows another")
	}
	if o.json || o.csv { // the table has them
		for _, w := range c.Warnings {
			fmt.Fprintln(cmd.ErrOrStderr(), "warning:", words.WarningText(c, w))
		}
	}
	solved, err := o.solveAll(cmd, s, c, at)
	if err != nil {
		return err
	}
	if o.xlsx != "" {
		book := workbook.Book{About: about(s), Case: c, Results: rs, At: at, Sources: s.Sources, Units: s.Study.Units}
		if err := save(cmd, o.xlsx, func(w io.Writer) error { return workbook.Write(w, book) }); err != nil {
			return err
		}
	}
	return o.write(cmd, func(w io.Writer) error {
		switch {
		case o.json:
			return machine.PaybackJSON(w, about(s), c, solved...)
		case o.csv:
			return machine.PaybackCSV(w, c)
		}
		if err := table.Payback(w, about(s), c, s.Study.Units, o.screen(cmd)); err != nil {
			return err
		}
		return table.Solve(w, c, solved, s.Study.Units, o.screen(cmd))
	})
}

// withFirst leaves the first alternative of a study and the one of the given
// name, all when the name is empty.
func withFirst(study *model.Study, name string) error {
	all := study.Alternatives
	if len(all) < 2 {
		return fmt.Errorf("rollchange: a saving compares an alternative with the first, and the scenario has only one: add [[alternative]]")
	}
	if name == "" {
		return nil
	}
	if name == all[0].Name {
		return fmt.Errorf("rollchange: --alternative: %q is what the others are compared with; --base NAME takes another for that", name)
	}
	if err := keepAlternative(study, name); err != nil {
		return err
	}
	study.Alternatives = append([]model.Alternative{all[0]}, study.Alternatives...)
	return nil
}

// chosen is the case that the steps of investment recommend, else the one with the
// highest mean net present value, and its number.
func (o *paybackOptions) chosen(study *model.Study, rs *replicate.Results) (*savings.Case, int, error) {
	cases, reasons := savings.Cases(study, rs, o.savings())
	for _, err := range reasons {
		if err != nil {
			return nil, 0, needs(err, study.Units)
		}
	}
	steps := savings.StepsOf(study, rs, cases, o.savings())
	c := cases[steps.Shown()]
	c.Explain()
	if steps.Several() {
		c.Steps = &steps
	}
	return c, steps.Shown(), nil
}

func (o *paybackOptions) savings() savings.Options {
	return savings.Options{Draws: o.draws, Years: o.years}
}

// needs adds to an error that names missing keys how they are written, in the units of a
// system.
func needs(err error, system model.System) error {
	var e *savings.NeedsError
	if !errors.As(err, &e) {
		return fmt.Errorf("rollchange: %w", err)
	}
	keys := map[string]*scenarios.Key{}
	for _, k := range scenarios.Keys() {
		keys[k.Path] = &k
	}
	var lines []string
	for _, n := range e.Needs {
		line := fmt.Sprintf("rollchange: %s is needed: %s", n.Key, words.NeedText(n))
		if k := keys[n.Key]; k != nil {
			table, _, _ := strings.Cut(n.Key, ".")
			line += fmt.Sprintf("\n  write: %s under [%s]", k.ExampleIn(system), table)
		}
		lines = append(lines, line)
	}
	return errors.New(strings.Join(lines, "\n"))
}
