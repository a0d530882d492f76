package main

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/out/machine"
	"rollchange/out/picture"
	"rollchange/out/report"
	"rollchange/out/table"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
	"rollchange/sim/whatif"
)

// mostBars is how many inputs a picture shows.
const mostBars = 15

// moving is what sensitivity is asked for.
type moving struct {
	options
	metrics        []string
	by             string
	total          bool
	points, inputs int
}

func newSensitivity() *cobra.Command {
	var x moving
	cmd := &cobra.Command{
		Use:   "sensitivity FILE",
		Short: "Which input the answer depends on",
		Long: `Sensitivity moves each number and quantity of one alternative on its own (the first
unless --alternative names another) and sorts them by their effect on the good
output, the waste and the risk of depletion. It moves what is not known exactly:
settings, and the means of distributions. Random variation follows: how much each
source adds to the spread from period to period. --total adds total effects of the
inputs on the first metric, with all interactions, by a variance-based estimate.

--metric savings, npv and payback compare an alternative with the first: each input
of the line is moved in both, and prices are moved too. Without --alternative the
one that the steps of investment recommend is taken (see payback).`,
		Example: "  rollchange sensitivity line.toml\n  rollchange sensitivity line.toml --by 20% --plots pictures\n  rollchange sensitivity line.toml --metric good_rate --total\n  rollchange sensitivity line.toml --metric npv,payback --alternative \"automatic unwind\"",
		Args:    oneFile,
		RunE:    func(cmd *cobra.Command, args []string) error { return x.sensitivity(cmd, args[0]) },
	}
	x.addScenario(cmd)
	x.addBase(cmd)
	f := cmd.Flags()
	f.BoolVar(&x.json, "json", false, "print JSON in SI units")
	f.StringVar(&x.replications, "replications", "", "number of replications instead of the scenario's")
	x.addWork(cmd)
	f.StringVar(&x.plots, "plots", "", "draw the pictures into this folder, as SVG and PNG")
	f.StringSliceVar(&x.metrics, "metric", usualMetrics, "metrics to look at, also savings, npv and payback; total effects are of the first")
	f.StringVar(&x.by, "by", "10 %", "how far to move an input each way; a distribution by its mean")
	f.BoolVar(&x.total, "total", false, "add total effects, with all interactions")
	f.IntVar(&x.points, "points", 64, "with --total: base points, a power of 2")
	f.IntVar(&x.inputs, "inputs", 6, "with --total: how many inputs, those with the largest swing first")
	return cmd
}

// sensitivity moves the inputs of a scenario and writes what that changes.
func (x *moving) sensitivity(cmd *cobra.Command, file string) error {
	s, q, err := x.read(cmd, file)
	if err != nil {
		return err
	}
	var names []string
	for _, m := range x.metrics {
		names = append(names, swingPicture(m))
	}
	if err := x.willDraw(cmd, names); err != nil {
		return err
	}
	run, err := replicate.Prepare(cmd.Context(), &s.Study)
	if err != nil {
		return asError(cmd, err)
	}
	answer, err := x.find(cmd, s, q)
	if err != nil {
		return moneyError(cmd, err, s.Study.Units)
	}
	if x.plots != "" {
		pictures := map[string]*picture.Picture{}
		for _, m := range answer.Metrics {
			pictures[swingPicture(m)] = picture.Stakes(answer, m, mostBars, s.Study.Units)
		}
		if err := x.savePictures(cmd, pictures); err != nil {
			return err
		}
	}
	return x.write(cmd, func(w io.Writer) error {
		if x.json {
			return machine.SensitivityJSON(w, about(s), answer, run, s.Study.Units)
		}
		return table.Sensitivity(w, about(s), answer, run, s.Study.Units, x.screen(cmd))
	})
}

// read reads the scenario, with the alternatives that the metrics are of, two for money,
// else one, and what the flags ask for.
func (x *moving) read(cmd *cobra.Command, file string) (s *scenarios.Scenario, q whatif.SensitivityQuestion, err error) {
	name, money := x.alternative, slices.ContainsFunc(x.metrics, whatif.IsMoney)
	if money {
		x.alternative = "" // the first is needed too
	}
	if x.base != "" && !money {
		return nil, q, fmt.Errorf("rollchange sensitivity: --base: only savings, npv and payback compare alternatives: give --metric npv")
	}
	if s, err = x.load(cmd, file); err != nil {
		return nil, q, err
	}
	if q, err = x.question(); err != nil {
		return nil, q, err
	}
	if err := knownMetrics(s, x.metrics); err != nil {
		return nil, q, err
	}
	if money {
		return s, q, x.keepPair(cmd, s, name)
	}
	return s, q, keepFirst(cmd, s)
}

// question is what the flags ask for.
func (x *moving) question() (q whatif.SensitivityQuestion, err error) {
	share, err := model.ParseQuantity(x.by, model.Share)
	if err != nil || share <= 0 || share >= 1 {
		return q, fmt.Errorf("rollchange sensitivity: --by: %q: write a share between 0 %% and 100 %%, as in 10%%", x.by)
	}
	if x.points < 8 || x.points > 65536 || x.inputs < 1 || x.inputs > whatif.MostSobol/2 {
		return q, fmt.Errorf("rollchange sensitivity: --points must be 8 to 65536 and --inputs 1 to %d", whatif.MostSobol/2)
	}
	q = whatif.SensitivityQuestion{Metrics: x.metrics, Share: share, Inputs: x.inputs, Chance: true}
	if x.total {
		q.Total = x.points
	}
	return q, nil
}

// find moves the inputs, with a progress bar.
func (x *moving) find(cmd *cobra.Command, s *scenarios.Scenario, q whatif.SensitivityQuestion) (*whatif.Sensitivities, error) {
	bar := newProgress(cmd.ErrOrStderr(), "inputs moved", 0)
	defer bar.Done()
	return whatif.Sensitivity(cmd.Context(), s, q, whatif.Options{Workers: x.workers, Progress: bar.Show})
}

// swingPicture is the name of the picture of a metric.
func swingPicture(metric string) string { return "sensitivity-" + metric }

// keepPair leaves the first alternative and the one of a name; without one the
// one that the steps of investment recommend, else the one with the highest mean
// net present value.
func (o *options) keepPair(cmd *cobra.Command, s *scenarios.Scenario, name string) error {
	if err := withFirst(&s.Study, name); err != nil {
		return err
	}
	n := len(s.Study.Alternatives)
	if n == 2 {
		return nil
	}
	rs, err := o.simulate(cmd, &s.Study)
	if err != nil {
		return err
	}
	_, reasons, rank := report.Cases(&s.Study, rs)
	at := rank.Steps.Shown()
	if at == 0 {
		return moneyError(cmd, reasons[1], s.Study.Units)
	}
	fmt.Fprintln(cmd.ErrOrStderr(), words.StepsShown(&rank.Steps)+"; --alternative NAME takes another")
	s.Study.Alternatives = []model.Alternative{s.Study.Alternatives[0], s.Study.Alternatives[at]}
	return nil
}

// moneyError is asError, with how keys that are missing are written in the units of a
// system.
func moneyError(cmd *cobra.Command, err error, system model.System) error {
	var lacks *savings.NeedsError
	if errors.As(err, &lacks) {
		return needs(err, system)
	}
	return asError(cmd, err)
}

// usualMetrics are looked at when none are named; a line may lack one of them.
var usualMetrics = []string{metric.GoodRate, metric.Waste, metric.Depletion}

// knownMetrics says which name is no metric of the study.
func knownMetrics(s *scenarios.Scenario, metrics []string) error {
	for _, m := range metrics {
		if slices.Contains(usualMetrics, m) || whatif.IsMoney(m) {
			continue
		}
		if err := whatif.CheckMetric(replicate.OutlinesOf(&s.Study), m); err != nil {
			return fmt.Errorf("rollchange: --metric: %w", err)
		}
	}
	return nil
}
