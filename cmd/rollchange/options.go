package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"rollchange/model"
	"rollchange/out/table"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/scenarios/sheets"
	"rollchange/sim/match"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// options are the flags that several commands share. A flag that was not given
// leaves the scenario as it is.
type options struct {
	json, csv    bool
	output       string
	seed         string
	replications string
	horizon      string
	controls     string
	records      string
	recordsUsual bool // without a flag: where a law says how much was observed
	workers      int
	alternative  string
	base         string   // the alternative that the others are compared with
	set          []string // KEY=VALUE laid over the scenario
	units        string
	risk         string // the target that pictures over a key show; empty: none
	plots        string
	part         string
	resume       string
	precision    string
	most         int
	anywhere     bool // data files outside the scenario's folder may be read
	noCache      bool // what earlier runs have simulated is not used
	notMet       bool // the precision that was asked for

	recorded *match.Answer // what the line really made beside the model; nil: not known
}

func (o *options) addScenario(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.seed, "seed", "", "random seed instead of the scenario's")
	f.StringVar(&o.horizon, "horizon", "", `simulated time instead of the scenario's, e.g. "30 d"`)
	f.StringVar(&o.alternative, "alternative", "", "only the alternative with this name")
	f.StringArrayVar(&o.set, "set", nil, "KEY=VALUE instead of the scenario's, in every alternative; repeat for more")
	f.StringVar(&o.units, "units", "", "units of tables and pictures: metric or imperial")
	f.BoolVar(&o.anywhere, "read-anywhere", false, "let the scenario read data files outside its own folder")
	f.StringVarP(&o.output, "output", "o", "", "write the answer to this file, whole or not at all")
}

func (o *options) addRun(cmd *cobra.Command) {
	o.addAnswer(cmd)
	cmd.Flags().StringVar(&o.plots, "plots", "", "draw the pictures into this folder, as SVG and PNG")
}

// addAnswer adds the flags of a command that simulates.
func (o *options) addAnswer(cmd *cobra.Command) {
	o.addScenario(cmd)
	f := cmd.Flags()
	f.BoolVar(&o.json, "json", false, "print JSON in SI units")
	f.BoolVar(&o.csv, "csv", false, "print CSV in SI units")
	o.addSimulation(cmd)
	cmd.MarkFlagsMutuallyExclusive("json", "csv")
}

func (o *options) addSimulation(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.replications, "replications", "", "number of replications instead of the scenario's")
	f.StringVar(&o.controls, "controls", "", "whether the known means of the draws narrow the figures: draws, or none for plain means")
	o.addWork(cmd)
}

// addWork adds the flags that say how to simulate, and change no result.
func (o *options) addWork(cmd *cobra.Command) {
	f := cmd.Flags()
	f.IntVar(&o.workers, "workers", 0, "replications run at the same time; 0: one for each processor (results stay the same)")
	f.BoolVar(&o.noCache, "no-cache", false, "simulate everything again, and keep nothing for the next run (results stay the same)")
}

// loadAll is load for a command whose --alternative names one of several that
// are all simulated.
func (o *options) loadAll(cmd *cobra.Command, path string) (*scenarios.Scenario, error) {
	name := o.alternative
	o.alternative = ""
	s, err := o.load(cmd, path)
	if err == nil && name != "" {
		study := s.Study
		err = keepAlternative(&study, name)
	}
	return s, err
}

// load reads the scenario of a command with its flags laid over it, and warns
// on stderr.
func (o *options) load(cmd *cobra.Command, path string) (*scenarios.Scenario, error) {
	if err := o.declare(cmd, path); err != nil {
		return nil, err
	}
	if o.workers < 0 {
		return nil, fmt.Errorf("rollchange: --workers: %d is below 0", o.workers)
	}
	if o.noCache {
		cmd.SetContext(replicate.WithoutStore(cmd.Context()))
	}
	over, err := o.overrides(cmd)
	if err != nil {
		return nil, err
	}
	s, err := scenarios.Files{Anywhere: o.anywhere, Workbook: sheets.Read}.Load(path, cmd.InOrStdin(), over...)
	if err != nil {
		return nil, err
	}
	if err := readsData(cmd, s); err != nil {
		return nil, err
	}
	for _, w := range s.Warnings {
		fmt.Fprintln(cmd.ErrOrStderr(), "warning:", w)
	}
	o.tellSet(cmd, s)
	if err := o.arrange(&s.Study); err != nil {
		return nil, err
	}
	return s, nil
}

// declare says which files the command reads and writes, for its scenario and
// its answer.
func (o *options) declare(cmd *cobra.Command, scenario string) error {
	if err := reads(cmd, scenario, "the scenario"); err != nil {
		return err
	}
	if o.resume != "" {
		if err := reads(cmd, o.resume, "the journal of --resume"); err != nil {
			return err
		}
	}
	if o.output == "" {
		return named(filesOf(cmd).Answers())
	}
	return writes(cmd, o.output, "--output")
}

// keepAlternative leaves only the alternative of the given name in the study.
func keepAlternative(study *model.Study, name string) error {
	for _, a := range study.Alternatives {
		if a.Name == name {
			study.Alternatives = []model.Alternative{a}
			return nil
		}
	}
	return noAlternative("--alternative", name, study.Alternatives)
}

// addPrecision adds the flags of a run that goes on until a figure is sure enough.
func (o *options) addPrecision(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.precision, "precision", "", "add replications until the half width of good_rate is this share of the mean, or METRIC=10%")
	f.IntVar(&o.most, "most-replications", 2000, "with --precision: the most replications")
}

// alonePrecision keeps the precision from a run in parts, whose replications are given.
func (o *options) alonePrecision(cmd *cobra.Command) {
	for _, other := range []string{"part", "resume"} {
		cmd.MarkFlagsMutuallyExclusive("precision", other)
	}
}

// until is the precision that was asked for; nil: none.
func (o *options) until() (*whatif.Precision, error) {
	if o.precision == "" {
		return nil, nil
	}
	p, err := whatif.ParsePrecision(o.precision, o.most)
	if err != nil {
		return nil, fmt.Errorf("rollchange: --precision: %w", err)
	}
	return &p, nil
}

// simulate runs a study with a progress bar on stderr, on a terminal only.
func (o *options) simulate(cmd *cobra.Command, study *model.Study) (*replicate.Results, error) {
	if o.precision != "" {
		return o.simulateUntil(cmd, study)
	}
	bar := newProgress(cmd.ErrOrStderr(), "alternatives", len(study.Alternatives)*study.Run.Replications)
	defer bar.Done()
	res, err := replicate.Simulate(cmd.Context(), study, replicate.Options{Workers: o.workers, Progress: bar.Set})
	if err != nil && cmd.Context().Err() == nil {
		return nil, fmt.Errorf("rollchange: %w", err)
	}
	return res, err
}

// simulateUntil runs a study until a figure is as sure as is asked for, and says
// how sure it is. When the limit comes first, o.notMet is set.
func (o *options) simulateUntil(cmd *cobra.Command, study *model.Study) (*replicate.Results, error) {
	p, err := o.until()
	if err != nil {
		return nil, err
	}
	bar := newProgress(cmd.ErrOrStderr(), "alternatives", len(study.Alternatives)*study.Run.Replications)
	defer bar.Done()
	rs, got, err := p.Simulate(cmd.Context(), study, replicate.Options{Workers: o.workers, Progress: bar.Set})
	if err != nil {
		return nil, asError(cmd, err)
	}
	bar.Done()
	fmt.Fprintln(cmd.ErrOrStderr(), words.PrecisionSentence(got))
	o.notMet = !got.Enough
	return rs, nil
}

// write sends the answer to the output file, or to stdout.
func (o *options) write(cmd *cobra.Command, answer func(w io.Writer) error) error {
	if o.output != "" {
		return saveText(cmd, o.output, answer)
	}
	err := answer(cmd.OutOrStdout())
	var p *os.PathError
	switch {
	case errors.Is(err, os.ErrClosed):
		return nil
	case errors.As(err, &p):
		return fmt.Errorf("rollchange: cannot write standard output: %w", p.Err)
	}
	return err
}

// screen is what the answer is written for: a terminal of some width, else 80
// columns without colour.
func (o *options) screen(cmd *cobra.Command) table.Screen {
	out := cmd.OutOrStdout()
	f := terminal(out)
	if o.output != "" || f == nil {
		return table.Screen{}
	}
	columns, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		columns = 0
	}
	return table.Screen{Columns: screenColumns(os.Getenv("COLUMNS"), columns), Color: useColor(out)}
}

// screenColumns is the width of a terminal: what the user says in COLUMNS goes
// before what the terminal says.
func screenColumns(said string, terminal int) int {
	if n, err := strconv.Atoi(said); err == nil && n > 0 {
		return n
	}
	return terminal
}
