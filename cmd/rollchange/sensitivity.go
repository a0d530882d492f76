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

func newSensitivity() *cobra.Command {
	var o options
	var metrics []string
	var by string
	var total bool
	var points, inputs int
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
		RunE: func(cmd *cobra.Command, args []string) error {
			name := o.alternative
			money := slices.ContainsFunc(metrics, whatif.IsMoney)
			if money {
				o.alternative = "" // the first is needed too
			}
			if o.base != "" && !money {
				return fmt.Errorf("rollchange sensitivity: --base: only savings, npv and payback compare alternatives: give --metric npv")
			}
			s, err := o.load(cmd, args[0])
			if err != nil {
				return err
			}
			share, err := model.ParseQuantity(by, model.Share)
			if err != nil || share <= 0 || share >= 1 {
				return fmt.Errorf("rollchange sensitivity: --by: %q: write a share between 0 %% and 100 %%, as in 10%%", by)
			}
			q := whatif.SensitivityQuestion{Metrics: metrics, Share: share, Inputs: inputs, Chance: true}
			if total {
				q.Total = points
			}
			if points < 8 || points > 65536 || inputs < 1 || inputs > whatif.MostSobol/2 {
				return fmt.Errorf("rollchange sensitivity: --points must be 8 to 65536 and --inputs 1 to %d", whatif.MostSobol/2)
			}
			if err := knownMetrics(s, metrics); err != nil {
				return err
			}
			if money {
				err = o.keepPair(cmd, s, name)
			} else {
				err = keepFirst(cmd, s)
			}
			if err != nil {
				return err
			}
			var names []string
			for _, m := range metrics {
				names = append(names, swingPicture(m))
			}
			if err := o.willDraw(cmd, names); err != nil {
				return err
			}
			run, err := replicate.Prepare(cmd.Context(), &s.Study)
			if err != nil {
				return asError(cmd, err)
			}
			bar := newProgress(cmd.ErrOrStderr(), "inputs moved", 0)
			defer bar.Done()
			answer, err := whatif.Sensitivity(cmd.Context(), s, q, whatif.Options{Workers: o.workers, Progress: bar.Show})
			if err != nil {
				return moneyError(cmd, err, s.Study.Units)
			}
			bar.Done()
			if o.plots != "" {
				pictures := map[string]*picture.Picture{}
				for _, m := range answer.Metrics {
					pictures[swingPicture(m)] = picture.Stakes(answer, m, mostBars, s.Study.Units)
				}
				if err := o.savePictures(cmd, pictures); err != nil {
					return err
				}
			}
			return o.write(cmd, func(w io.Writer) error {
				if o.json {
					return machine.SensitivityJSON(w, about(s), answer, run, s.Study.Units)
				}
				return table.Sensitivity(w, about(s), answer, run, s.Study.Units, o.screen(cmd))
			})
		},
	}
	o.addScenario(cmd)
	o.addBase(cmd)
	f := cmd.Flags()
	f.BoolVar(&o.json, "json", false, "print JSON in SI units")
	f.StringVar(&o.replications, "replications", "", "number of replications instead of the scenario's")
	o.addWork(cmd)
	f.StringVar(&o.plots, "plots", "", "draw the pictures into this folder, as SVG and PNG")
	f.StringSliceVar(&metrics, "metric", usualMetrics, "metrics to look at, also savings, npv and payback; total effects are of the first")
	f.StringVar(&by, "by", "10 %", "how far to move an input each way; a distribution by its mean")
	f.BoolVar(&total, "total", false, "add total effects, with all interactions")
	f.IntVar(&points, "points", 64, "with --total: base points, a power of 2")
	f.IntVar(&inputs, "inputs", 6, "with --total: how many inputs, those with the largest swing first")
	return cmd
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
