package main

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/out/machine"
	"rollchange/out/picture"
	"rollchange/out/table"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/sim/metric"
	"rollchange/sim/parts"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

func newSweep() *cobra.Command {
	var o options
	var vary []string
	var named, risk string
	var log bool
	cmd := &cobra.Command{
		Use:   "sweep FILE",
		Short: "Vary one key or two, and show which limit binds where",
		Long: `Sweep varies one or two keys of the scenario over a range and simulates every
alternative at each point with the same random events. The table and the pictures
show output, waste, risk and crew, and mark where a limit no longer holds: depletion
above the risk, a roll not armed in time, storage not refilled before the next
splice, a crew more than 90 % busy.

Any number or quantity of the scenario can be varied, with its unit; rollchange keys
lists them. An element of an array goes by its number or its name, stop[0].repair or
stop[plate cleaning].repair. The value replaces a distribution; KEY.mean and KEY.sd
move one parameter of it. Without --vary the first [[sweep]] of the file is run.`,
		Example: "  rollchange sweep line.toml --vary line.speed=\"100 m/min..250 m/min/7\"\n" +
			"  rollchange sweep line.toml --vary unwind.storage.capacity=\"20 m,40 m,80 m\" --plots pictures\n" +
			"  rollchange sweep line.toml --vary line.speed=\"100 m/min..250 m/min/8\" --vary crew.operators=1,2,3 --json",
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := o.load(cmd, args[0])
			if err != nil {
				return err
			}
			axes, err := sweepAxes(cmd, s, vary, named, log)
			if err != nil {
				return err
			}
			limits := whatif.Usual()
			if risk != "" {
				if limits.Risk, err = whatif.ParseRisk(risk, whatif.Year(&s.Study.Alternatives[0].Line)); err != nil {
					return fmt.Errorf("rollchange sweep: --risk: %w", err)
				}
			}
			w, err := whatif.NewSweep(s, axes, limits)
			if err != nil {
				return fmt.Errorf("rollchange sweep: %w", err)
			}
			return o.sweep(cmd, s, w)
		},
	}
	o.addRun(cmd)
	o.addPrecision(cmd)
	o.addParts(cmd)
	o.alonePrecision(cmd)
	f := cmd.Flags()
	f.StringArrayVar(&vary, "vary", nil, "KEY=FROM..TO/STEPS or KEY=A,B,C; twice for two keys")
	f.StringVar(&named, "sweep", "", "run the [[sweep]] of the file with this name, instead of --vary")
	f.BoolVar(&log, "log", false, "steps of equal ratio")
	f.StringVar(&risk, "risk", "", "depletions allowed: a chance for each splice (1e-4) or a number in a period (\"1 per year\")")
	cmd.MarkFlagsMutuallyExclusive("vary", "sweep")
	return cmd
}

// sweepAxes are the axes that the flags, or the scenario, ask for.
func sweepAxes(cmd *cobra.Command, s *scenarios.Scenario, vary []string, named string, log bool) ([]whatif.Axis, error) {
	if len(vary) == 0 {
		if len(s.Study.Sweeps) == 0 {
			return nil, fmt.Errorf("rollchange sweep: nothing to vary: give --vary KEY=FROM..TO/STEPS, or a [[sweep]] in the scenario")
		}
		pick := s.Study.Sweeps[0]
		var names []string
		for _, x := range s.Study.Sweeps {
			if x.Name == named {
				pick = x
			}
			names = append(names, x.Name)
		}
		if named != "" && pick.Name != named {
			return nil, fmt.Errorf("rollchange sweep: --sweep: no [[sweep]] %q; the scenario has %q", named, names)
		}
		vary, log = []string{pick.Vary}, pick.Log
		if pick.Against != "" {
			vary = append(vary, pick.Against)
		}
	}
	var axes []whatif.Axis
	for _, v := range vary {
		a, err := whatif.ParseAxis(s, v, log)
		if err != nil {
			return nil, fmt.Errorf("rollchange sweep: %w", err)
		}
		if !scenarios.IsParameter(a.Key) && s.Varies(a.Key) {
			fmt.Fprintf(cmd.ErrOrStderr(), "warning: %s is a distribution in the scenario and a single value in the sweep; %s.mean moves its mean\n", a.Key, a.Key)
		}
		axes = append(axes, a)
	}
	return axes, nil
}

// sweeping is a sweep as it is run.
type sweeping struct {
	*options
	cmd     *cobra.Command
	s       *scenarios.Scenario
	w       *whatif.Sweep
	run     replicate.RunInfo
	until   *whatif.Precision // nil: as many replications as the scenario says
	reached []whatif.Reached
}

// sweep simulates the points that are asked for and writes the answer.
func (o *options) sweep(cmd *cobra.Command, s *scenarios.Scenario, w *whatif.Sweep) error {
	if err := o.willDraw(cmd, sweepPictures(w)); err != nil {
		return err
	}
	x := &sweeping{options: o, cmd: cmd, s: s, w: w}
	if err := x.prepare(); err != nil {
		return err
	}
	h, err := x.header()
	if err != nil {
		return err
	}
	units, err := x.points(h)
	if err != nil {
		return asError(cmd, err)
	}
	x.tellReached()
	if o.part != "" {
		if err := o.write(cmd, func(x io.Writer) error { return parts.Write(x, h, units) }); err != nil {
			return err
		}
		return o.finish(cmd)
	}
	if err := takePoints(cmd, w, units); err != nil {
		return err
	}
	return x.answer()
}

// prepare prepares the run, and reads the precision that was asked for.
func (x *sweeping) prepare() (err error) {
	if x.run, err = replicate.Prepare(x.cmd.Context(), &x.s.Study); err != nil {
		return asError(x.cmd, err)
	}
	if x.until, err = x.options.until(); err != nil || x.until == nil {
		return err
	}
	if err := whatif.CheckMetric(replicate.OutlinesOf(&x.s.Study), x.until.Metric); err != nil {
		return fmt.Errorf("rollchange sweep: --precision: %w", err)
	}
	return nil
}

// header says what a part file is part of.
func (x *sweeping) header() (parts.Header, error) {
	layout, err := json.Marshal(x.w)
	if err != nil {
		return parts.Header{}, err
	}
	return x.newHeader(x.s, "sweep", x.run, len(x.w.Points), partDetails{Sweep: layout})
}

// points simulates the points of a part, with a progress bar.
func (x *sweeping) points(h parts.Header) ([]parts.Unit, error) {
	first, end := h.Range()
	each := len(x.s.Study.Alternatives) * x.run.Replications
	bar := newProgress(x.cmd.ErrOrStderr(), "sweep", (end-first)*each)
	defer bar.Done()
	return x.work(x.cmd, h, func(from, end int, keep func(int, json.RawMessage) error) error {
		for k := from; k < end; k++ {
			show := func(done, total int) { bar.Set((k-first)*each+done, (end-k-1)*each+(k-first)*each+total) }
			if err := x.point(k, replicate.Options{Workers: x.workers, Progress: show}); err != nil {
				return err
			}
			data, err := x.w.PointData(k)
			if err != nil {
				return err
			}
			if err := keep(k, data); err != nil {
				return err
			}
		}
		return nil
	})
}

// point simulates a point.
func (x *sweeping) point(k int, opt replicate.Options) error {
	if x.until == nil {
		return x.w.Simulate(x.cmd.Context(), x.s, k, opt)
	}
	got, err := x.w.SimulateUntil(x.cmd.Context(), x.s, k, *x.until, opt)
	if got.Replications > 0 {
		x.reached = append(x.reached, got)
	}
	return err
}

// tellReached says how many replications the precision took.
func (x *sweeping) tellReached() {
	if len(x.reached) == 0 {
		return
	}
	fmt.Fprintln(x.cmd.ErrOrStderr(), words.PrecisionOfMany(x.reached))
	x.run.Replications = x.reached[0].Replications // of the points at least
	for _, r := range x.reached {
		x.run.Replications, x.notMet = min(x.run.Replications, r.Replications), x.notMet || !r.Enough
	}
}

// takePoints takes the points of a sweep from what was simulated of them.
func takePoints(cmd *cobra.Command, w *whatif.Sweep, units []parts.Unit) error {
	for _, u := range units {
		if err := w.SetData(u.Unit, u.Data); err != nil {
			return fmt.Errorf("rollchange %s: point %d cannot be read: %w", cmd.Name(), u.Unit+1, err)
		}
	}
	if err := w.AllLeftOut(); err != nil {
		return fmt.Errorf("rollchange %s: %w", cmd.Name(), err)
	}
	return nil
}

// answer draws the pictures and writes the table.
func (x *sweeping) answer() error {
	if x.plots != "" {
		if err := x.savePictures(x.cmd, drawSweep(x.w, x.s.Study.Units)); err != nil {
			return err
		}
	}
	err := x.write(x.cmd, func(to io.Writer) error {
		switch {
		case x.json:
			return machine.SweepJSON(to, about(x.s), x.run, x.w)
		case x.csv:
			return machine.SweepCSV(to, x.w)
		}
		return table.Sweep(to, about(x.s), x.w, x.s.Study.Units, x.screen(x.cmd))
	})
	if err != nil {
		return err
	}
	if x.notMet {
		return errNotMet
	}
	return x.finish(x.cmd)
}

// sweptPictures are the metrics that a sweep is drawn for.
var sweptPictures = []string{metric.GoodRate, metric.Waste, metric.Depletion, metric.Overfill, metric.CrewBusy}

// sweepPicture is the name of a picture of a sweep; of a map each
// alternative has its own.
func sweepPicture(w *whatif.Sweep, metric string, alternative int) string {
	if !isMap(w) {
		return "sweep-" + metric
	}
	return fmt.Sprintf("sweep-%s-%d", metric, alternative+1)
}

// isMap says whether a sweep is drawn as a map: over two keys that take more than
// one value each.
func isMap(w *whatif.Sweep) bool {
	return len(w.Axes) == 2 && len(w.Axes[0].Values) > 1 && len(w.Axes[1].Values) > 1
}

// sweepPictures are the names of the pictures of a sweep.
func sweepPictures(w *whatif.Sweep) []string {
	var names []string
	for _, metric := range sweptPictures {
		for i := range w.Alternatives {
			if name := sweepPicture(w, metric, i); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// drawSweep draws the pictures of a sweep, by their names.
func drawSweep(w *whatif.Sweep, sys model.System) map[string]*picture.Picture {
	pictures := map[string]*picture.Picture{}
	for _, metric := range sweptPictures {
		if !isMap(w) {
			pictures[sweepPicture(w, metric, 0)] = picture.Sweep(w, metric, sys)
			continue
		}
		for i := range w.Alternatives {
			pictures[sweepPicture(w, metric, i)] = picture.Contours(w, i, metric, sys)
		}
	}
	return pictures
}
