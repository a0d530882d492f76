package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/out/machine"
	"rollchange/out/picture"
	"rollchange/out/table"
	"rollchange/scenarios"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// sizeOptions are the flags of the sizing questions.
type sizeOptions struct {
	options
	risk                   string
	most                   string
	station                string
	strands                string
	limits                 [4]string // not ready, not refilled, busy, waste
	lost, group            string
	lines                  bool
	count                  string
	mostReps               int
	webCost, runOut, short float64
	setPoint               bool
}

func newSize() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "size storage | speed | residual | crew | roll FILE",
		Short: "The least storage, the fastest line, the best residual, the fewest operators, the longest roll",
		Long: `Size finds the value that meets a target, with its interval, what binds, the closed
form where there is one, and the simulations it rests on. It brackets the value and
narrows the bracket, with the same random events at every value. Exit status 1: the
target cannot be met, or too little was simulated to show that it is; the answer then
says what is possible, what prevents more, and what it takes.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return fmt.Errorf("rollchange size: size what: storage, speed, residual, crew or roll?")
			}
			return fmt.Errorf("rollchange size: %q is not storage, speed, residual, crew or roll%s", args[0],
				scenarios.DidYouMean(args[0], []string{"storage", "speed", "residual", "crew", "roll"}))
		},
		RunE: func(cmd *cobra.Command, args []string) error { return nil },
	}
	cmd.FParseErrWhitelist.UnknownFlags = true // the wrong word is what is said, not the flag of the right one
	cmd.AddCommand(newSizeStorage(), newSizeSpeed(), newSizeResidual(), newSizeCrew(), newSizeRoll())
	return cmd
}

// question is one sizing question: ask answers it for a scenario of one alternative.
func (o *sizeOptions) command(use, short, long, example string, ask func(cmd *cobra.Command, s *scenarios.Scenario, opt whatif.Options) ([]*whatif.Answer, error)) *cobra.Command {
	cmd := &cobra.Command{Use: use, Short: short, Long: long, Example: example, Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := o.load(cmd, args[0])
			if err != nil {
				return err
			}
			if err := o.willDraw(cmd, []string{curvePicture(whatif.UnwindStorage), curvePicture(whatif.RewindStorage)}); err != nil {
				return err
			}
			bar := newProgress(cmd.ErrOrStderr(), cmd.Name(), 0)
			defer bar.Done()
			answers, err := ask(cmd, s, whatif.Options{Workers: o.workers, Progress: bar.Show, Most: o.mostReps})
			if err != nil {
				return asError(cmd, err)
			}
			bar.Done()
			run, err := replicate.Prepare(cmd.Context(), &s.Study) // the alternative that was asked for
			if err != nil {
				return asError(cmd, err)
			}
			pictures := map[string]*picture.Picture{}
			for _, a := range answers {
				if w := a.CurveSweep(run, s.Study.Units); w != nil {
					pictures[curvePicture(a.Of)] = picture.Sweep(w, a.Metric, s.Study.Units)
				}
			}
			if err := o.savePictures(cmd, pictures); err != nil {
				return err
			}
			err = o.write(cmd, func(w io.Writer) error {
				switch {
				case o.json:
					return machine.AnswersJSON(w, about(s), answers, run, s.Study.Units)
				case o.csv:
					return machine.AnswersCSV(w, answers)
				}
				for i, a := range answers {
					if i > 0 {
						fmt.Fprintln(w)
					}
					if err := table.Answer(w, about(s), a, run, s.Study.Units, o.screen(cmd)); err != nil {
						return err
					}
				}
				return nil
			})
			if err != nil {
				return err
			}
			cautions(cmd.ErrOrStderr(), s, true)
			for _, a := range answers {
				if !a.Met {
					return errNotMet
				}
			}
			return nil
		}}
	o.addScenario(cmd)
	f := cmd.Flags()
	f.BoolVar(&o.json, "json", false, "print JSON in SI units")
	f.BoolVar(&o.csv, "csv", false, "print CSV in SI units")
	f.StringVar(&o.replications, "replications", "", "number of replications instead of the scenario's")
	o.addWork(cmd)
	cmd.MarkFlagsMutuallyExclusive("json", "csv")
	return cmd
}

// curvePicture is the name of the picture of the chance over a storage.
func curvePicture(of whatif.Quantity) string {
	return map[whatif.Quantity]string{whatif.UnwindStorage: "unwind-storage", whatif.RewindStorage: "rewind-storage"}[of]
}

// keepWith leaves one alternative: the one that was named, else the first that
// fits, and says which when there are several.
func keepWith(cmd *cobra.Command, s *scenarios.Scenario, fits func(l *model.Line) bool, what string) error {
	list := s.Study.Alternatives
	for i := range list {
		if fits(&list[i].Line) {
			if len(list) > 1 {
				fmt.Fprintf(cmd.ErrOrStderr(), "%q, the first of %d alternatives %s; --alternative NAME takes another\n", list[i].Name, len(list), what)
			}
			s.Study.Alternatives = list[i : i+1]
			return nil
		}
	}
	return fmt.Errorf("rollchange size: no alternative %s", what)
}

func newSizeStorage() *cobra.Command {
	var o sizeOptions
	cmd := o.command("storage FILE", "The smallest storage for a risk of depletion",
		`Size storage finds the smallest unwind storage, and rewind storage if there is one,
that runs out no more often than the risk: a chance for each change, or a number in
a running time. What counts is what a storage is for: a long dwell, a late roll, a
start before refill. Changes that fail and are made by hand are shown beside it;
--count failed counts them too.`,
		"  rollchange size storage line.toml --risk 1e-4\n  rollchange size storage line.toml --risk \"1 per year\" --strands 4..12",
		func(cmd *cobra.Command, s *scenarios.Scenario, opt whatif.Options) ([]*whatif.Answer, error) {
			err := keepWith(cmd, s, func(l *model.Line) bool {
				return l.Unwind.Change.Stores() && o.station != "rewind" || l.Rewind.Change.Stores() && o.station != "unwind"
			}, "with a storage"+map[string]string{"": "", "unwind": " at the unwind", "rewind": " at the rewind"}[o.station])
			if err != nil {
				return nil, err
			}
			line := &s.Study.Alternatives[0].Line
			q := whatif.StorageQuestion{}
			if q.CountFailed, err = o.countFailed(); err != nil {
				return nil, err
			}
			if q.Risk, err = whatif.ParseRisk(o.risk, whatif.Year(line)); err != nil {
				return nil, fmt.Errorf("--risk: %w", err)
			}
			if q.Most, err = model.ParseQuantity(o.most, model.Length); err != nil || q.Most <= 0 {
				return nil, fmt.Errorf("--most: %q: write a length above 0, as in \"1000 m\"", o.most)
			}
			if q.FewStrands, q.ManyStrands, err = parseStrands(o.strands); err != nil {
				return nil, err
			}
			if o.station != "" && o.station != "unwind" && o.station != "rewind" {
				return nil, fmt.Errorf("--station: %q is not unwind or rewind", o.station)
			}
			records, err := o.storageRecords(&s.Study)
			if err != nil {
				return nil, err
			}
			var answers []*whatif.Answer
			for _, rewind := range o.stores(line) {
				q.Rewind = rewind
				a, err := whatif.SizeStorage(cmd.Context(), s, q, opt)
				if err != nil {
					return nil, err
				}
				if records != nil {
					if err := whatif.SizeWithRecords(cmd.Context(), s, q, a, records, opt); err != nil {
						return nil, err
					}
				}
				answers = append(answers, a)
			}
			return answers, nil
		})
	o.addRecords(cmd)
	f := cmd.Flags()
	f.Lookup("records").Usage = "say which storage holds the risk over what the records leave open; --records=none: do not"
	f.StringVar(&o.risk, "risk", "1 per year", "depletions allowed: a chance for each change (1e-4) or a number in a period (\"1 per year\")")
	o.addRare(cmd)
	f.StringVar(&o.most, "most", "1000 m", "the largest storage to consider")
	f.StringVar(&o.station, "station", "", "unwind or rewind only")
	f.StringVar(&o.plots, "plots", "", "draw the chance over the capacity into this folder, as SVG and PNG")
	f.StringVar(&o.strands, "strands", "", "show the answer for this many strands, as in 8 or 4..12")
	return cmd
}

// addRare adds the flags of a target that may be rare.
func (o *sizeOptions) addRare(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.count, "count", "", "failed: also count changes that fail and are made by hand")
	f.IntVar(&o.mostReps, "most-replications", 0, "most replications to show that a rare target is met; 0: as many as a few seconds allow")
}

// countFailed reads --count, and sees that the replications can be.
func (o *sizeOptions) countFailed() (bool, error) {
	if o.mostReps < 0 || o.mostReps > whatif.MostReplications {
		return false, fmt.Errorf("--most-replications: %d: write 1 to %d, or 0 for as many as a few seconds allow", o.mostReps, whatif.MostReplications)
	}
	if o.count != "" && o.count != "failed" {
		return false, fmt.Errorf("--count: %q: write failed", o.count)
	}
	return o.count == "failed", nil
}

// parseStrands reads "8" or "4..12"; "" is 0.
func parseStrands(s string) (few, many int, err error) {
	if s == "" {
		return 0, 0, nil
	}
	a, b, ok := strings.Cut(s, "..")
	if !ok {
		b = a
	}
	few, errA := strconv.Atoi(strings.TrimSpace(a))
	many, errB := strconv.Atoi(strings.TrimSpace(b))
	if errA != nil || errB != nil || few < 1 || many < few || many > 1000 {
		return 0, 0, fmt.Errorf("--strands: %q: write a number of strands or a range, as in 8 or 4..12", s)
	}
	return few, many, nil
}

func newSizeSpeed() *cobra.Command {
	var o sizeOptions
	cmd := o.command("speed FILE", "The fastest line for which every limit holds, and what binds next",
		`Size speed finds the fastest line speed at which every limit holds, the speed above
which each limit by itself no longer does, and the speed at which the line makes
most good web, which is not the same. Depletions by changes that fail and are made
by hand do not count unless --count failed.`,
		"  rollchange size speed line.toml\n  rollchange size speed line.toml --risk \"12 per year\" --busy 80% --waste 3%",
		func(cmd *cobra.Command, s *scenarios.Scenario, opt whatif.Options) ([]*whatif.Answer, error) {
			if err := keepFirst(cmd, s); err != nil {
				return nil, err
			}
			limits := whatif.Usual()
			failed, err := o.countFailed()
			if err != nil {
				return nil, err
			}
			limits.ButFailed = !failed
			if limits.Risk, err = whatif.ParseRisk(o.risk, whatif.Year(&s.Study.Alternatives[0].Line)); err != nil {
				return nil, fmt.Errorf("--risk: %w", err)
			}
			for i, f := range []struct {
				flag string
				to   *float64
			}{{"not-ready", &limits.NotReady}, {"not-refilled", &limits.NotRefilled}, {"busy", &limits.Busy}, {"waste", &limits.Waste}} {
				switch o.limits[i] {
				case "":
				case "none":
					*f.to = math.NaN()
				default:
					x, err := model.ParseQuantity(o.limits[i], model.Share)
					if err != nil || x <= 0 || x > 1 {
						return nil, fmt.Errorf("--%s: %q: write a share above 0 %%, as in 5%%, or none", f.flag, o.limits[i])
					}
					*f.to = x
				}
			}
			a, err := whatif.SizeSpeed(cmd.Context(), s, limits, opt)
			return []*whatif.Answer{a}, err
		})
	f := cmd.Flags()
	f.StringVar(&o.risk, "risk", "0.1 %", "depletions allowed: a chance for each change (1e-4) or a number in a period (\"1 per year\")")
	o.addRare(cmd)
	f.StringVar(&o.limits[0], "not-ready", "", "most changes whose next roll or core is not ready in time, default 1 %; none: no limit")
	f.StringVar(&o.limits[1], "not-refilled", "", "most changes that begin before the storage is back at its run level, default 1 %")
	f.StringVar(&o.limits[2], "busy", "", "how busy the crew may be, default 90 %")
	f.StringVar(&o.limits[3], "waste", "", "most waste, default no limit")
	return cmd
}

// keepFirst leaves the first alternative, and says so when there are several.
func keepFirst(cmd *cobra.Command, s *scenarios.Scenario) error {
	if n := len(s.Study.Alternatives); n > 1 {
		fmt.Fprintf(cmd.ErrOrStderr(), "%q, the first of %d alternatives; --alternative NAME takes another\n", s.Study.Alternatives[0].Name, n)
		s.Study.Alternatives = s.Study.Alternatives[:1]
	}
	return nil
}

func newSizeResidual() *cobra.Command {
	var o sizeOptions
	cmd := o.command("residual FILE", "The residual set point that costs least",
		`Size residual weighs the web left on every core against the rolls that run out
(unwind.residual_error), and finds the set point of unwind.residual that costs
least. Costs come from [economics] unless given here.`,
		"  rollchange size residual line.toml\n  rollchange size residual line.toml --web-cost 0.5 --run-out-cost 100",
		func(cmd *cobra.Command, s *scenarios.Scenario, opt whatif.Options) ([]*whatif.Answer, error) {
			if err := keepFirst(cmd, s); err != nil {
				return nil, err
			}
			q := whatif.ResidualQuestion{Web: math.NaN(), RunOut: math.NaN(), SetPoint: o.setPoint}
			for _, f := range []struct {
				flag string
				from float64
				to   *float64
			}{{"web-cost", o.webCost, &q.Web}, {"run-out-cost", o.runOut, &q.RunOut}, {"short-cost", o.short, &q.Short}} {
				if cmd.Flags().Changed(f.flag) {
					if !(f.from > 0) || math.IsInf(f.from, 1) {
						return nil, fmt.Errorf("--%s: %g: a cost must be above 0", f.flag, f.from)
					}
					*f.to = f.from
				}
			}
			a, err := whatif.SizeResidual(cmd.Context(), s, q, opt)
			return []*whatif.Answer{a}, err
		})
	f := cmd.Flags()
	f.Float64Var(&o.webCost, "web-cost", 0, "cost of a metre of web left on the core")
	f.Float64Var(&o.runOut, "run-out-cost", 0, "cost of a roll that runs out")
	f.Float64Var(&o.short, "short-cost", 0, "cost of each metre that the web falls short, instead of --run-out-cost")
	f.BoolVar(&o.setPoint, "by-set-point", false, "charge the web of the set point, not what is really left")
	cmd.MarkFlagsMutuallyExclusive("run-out-cost", "short-cost")
	return cmd
}

func newSizeCrew() *cobra.Command {
	var o sizeOptions
	cmd := o.command("crew FILE", "The fewest operators, or the most lines for them",
		`Size crew finds the fewest operators with which no more good web is lost than the
target, compared with a crew so large that nobody waits; with --lines, the most
lines that the operators of the scenario can tend. Of a crew in groups --group says
whose operators are looked for; the others, and all shifts, stay as they are.`,
		"  rollchange size crew line.toml --lost 2%\n  rollchange size crew line.toml --lines\n  rollchange size crew line.toml --group handlers",
		func(cmd *cobra.Command, s *scenarios.Scenario, opt whatif.Options) ([]*whatif.Answer, error) {
			if err := keepFirst(cmd, s); err != nil {
				return nil, err
			}
			x, err := model.ParseQuantity(o.lost, model.Share)
			if err != nil || x <= 0 || x >= 1 {
				return nil, fmt.Errorf("--lost: %q: write a share between 0 %% and 100 %%, as in 2%%", o.lost)
			}
			a, err := whatif.SizeCrew(cmd.Context(), s, whatif.CrewQuestion{Lost: x, Lines: o.lines, Group: o.group}, opt)
			return []*whatif.Answer{a}, err
		})
	f := cmd.Flags()
	f.StringVar(&o.lost, "lost", "2 %", "most good web that may be lost for want of an operator")
	f.BoolVar(&o.lines, "lines", false, "find the most lines for the operators of the scenario")
	f.StringVar(&o.group, "group", "", "look for the operators of the group of this name")
	cmd.MarkFlagsMutuallyExclusive("lines", "group")
	return cmd
}
