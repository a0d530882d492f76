package main

import (
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/out"
	"rollchange/scenarios"
	"rollchange/sim"
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
		Short: "Which input the answer hangs on",
		Long: `Sensitivity moves each number and quantity of one alternative on its own, the
first unless --alternative names another, and sorts them by what that does to
the good output, the waste and the risk of depletion. --total adds total effects,
with all interactions, on the first metric by a variance-based estimate.`,
		Example: "  rollchange sensitivity line.toml\n  rollchange sensitivity line.toml --by 20% --plots pictures\n  rollchange sensitivity line.toml --metric good_rate --total",
		Args:    oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := o.load(cmd, args[0])
			if err != nil {
				return err
			}
			share, err := model.ParseQuantity(by, model.Share)
			if err != nil || share <= 0 || share >= 1 {
				return fmt.Errorf("rollchange sensitivity: --by: %q: write a share between 0 %% and 100 %%, as in 10%%", by)
			}
			q := whatif.SensitivityQuestion{Metrics: metrics, Share: share, Inputs: inputs}
			if total {
				q.Total = points
			}
			if points < 8 || points > 65536 || inputs < 1 || inputs > whatif.MostSobol/2 {
				return fmt.Errorf("rollchange sensitivity: --points must be 8 to 65536 and --inputs 1 to %d", whatif.MostSobol/2)
			}
			if err := keepFirst(cmd, s); err != nil {
				return err
			}
			if err := knownMetrics(s, metrics); err != nil {
				return err
			}
			var names []string
			for _, m := range metrics {
				names = append(names, swingPicture(m))
			}
			if err := o.willDraw(cmd, names); err != nil {
				return err
			}
			run, err := sim.Prepare(cmd.Context(), &s.Study)
			if err != nil {
				return asError(cmd, err)
			}
			bar := out.NewSpinner(cmd.ErrOrStderr(), "simulations")
			defer bar.Done()
			answer, err := whatif.Sensitivity(cmd.Context(), s, q, whatif.Options{Workers: o.workers, Progress: bar.Set})
			if err != nil {
				return asError(cmd, err)
			}
			bar.Done()
			if o.plots != "" {
				pictures := map[string]*out.Picture{}
				for _, m := range answer.Metrics {
					list := answer.Swings[m]
					pictures[swingPicture(m)] = out.SwingPlot(list[:min(len(list), mostBars)], m, answer.Alternative, s.Study.Units)
				}
				if err := o.savePictures(cmd, pictures); err != nil {
					return err
				}
			}
			return o.write(cmd, func(w io.Writer) error {
				if o.json {
					return out.SensitivityJSON(w, about(s), answer, run)
				}
				return out.SensitivityTable(w, about(s), answer, run, s.Study.Units, o.color(cmd))
			})
		},
	}
	o.addScenario(cmd)
	f := cmd.Flags()
	f.BoolVar(&o.json, "json", false, "print JSON, SI units")
	f.StringVar(&o.replications, "replications", "", "number of replications instead of the scenario's")
	f.IntVar(&o.workers, "workers", 0, "replications at a time; 0: one for each processor (changes no result)")
	f.StringVar(&o.plots, "plots", "", "draw the pictures into this folder, SVG and PNG")
	f.StringSliceVar(&metrics, "metric", usualMetrics, "metrics that are looked at; the first also for total effects")
	f.StringVar(&by, "by", "10 %", "how far an input that does not vary is moved, each way")
	f.BoolVar(&total, "total", false, "add total effects with all interactions")
	f.IntVar(&points, "points", 64, "with --total: base points, a power of 2")
	f.IntVar(&inputs, "inputs", 6, "with --total: so many inputs, those with the largest swing")
	return cmd
}

// swingPicture is the name of the picture of a metric.
func swingPicture(metric string) string { return "sensitivity-" + metric }

// usualMetrics are looked at when none are named; a line may lack one of them.
var usualMetrics = []string{"good_rate", "waste.total", "splice.depletion"}

// knownMetrics says which name is no metric of the study.
func knownMetrics(s *scenarios.Scenario, metrics []string) error {
	for _, m := range metrics {
		if slices.Contains(usualMetrics, m) {
			continue
		}
		if err := whatif.CheckMetric(sim.OutlinesOf(&s.Study), m); err != nil {
			return fmt.Errorf("rollchange: --metric: %w", err)
		}
	}
	return nil
}
