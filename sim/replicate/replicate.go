package replicate

import (
	"context"
	"fmt"

	"rollchange/model"
	"rollchange/sim"
)

// Options are what may be chosen about a simulation that changes nothing in
// its results, but for Like.
type Options struct {
	Like     *RunInfo              // of the study that this one varies, whose weights of the controls serve; nil: it finds its own
	Workers  int                   // goroutines; 0: one for each processor
	Progress func(done, total int) // called from one goroutine at a time; may be nil
	Cycles   bool                  // samples keep their changes out of storage (sim.Cycles)
	Stored   bool                  // with Cycles: those that a store knows come without
	Watch    func(sim.State) error // called after every event, from each worker; an error ends the run; may be nil
}

// Simulate runs every alternative of a study for all its replications, on
// common random numbers, and returns the estimates and the paired differences
// from the first alternative. The results do not depend on Workers. It returns
// the error of ctx at once when that ends, and an error when a line makes no
// progress or its books do not balance.
func Simulate(ctx context.Context, study *model.Study, opt Options) (*Results, error) {
	run, err := PrepareLike(ctx, study, opt.Like)
	if err != nil {
		return nil, err
	}
	g := NewGathering(run, OutlinesOf(study))
	err = Each(ctx, study, run, 0, study.Run.Replications, opt, func(_ int, samples []*sim.Sample) error { return g.Add(samples) })
	if err != nil {
		return nil, err
	}
	return g.Results(), nil
}

// Prepare checks that a study can be run and settles how: the warm-up is found
// when the scenario leaves it to the output.
func Prepare(ctx context.Context, study *model.Study) (RunInfo, error) {
	return PrepareLike(ctx, study, nil)
}

// PrepareLike is Prepare of a study that varies another, which was prepared: the weights
// of its controls serve where they fit, so that no replication is simulated for new ones.
func PrepareLike(ctx context.Context, study *model.Study, like *RunInfo) (RunInfo, error) {
	run, err := settled(study)
	if err != nil {
		return run, err
	}
	if study.Run.WarmUpAuto {
		if run.WarmUp, err = autoWarmUp(ctx, study); err != nil {
			return run, err
		}
	}
	if run.weights = like.lend(study); run.weights == nil {
		run.weights, err = weigh(ctx, study, &run)
	}
	return run, err
}

// settled is how a study that can be run is run, as far as nothing has to be simulated
// for it.
func settled(study *model.Study) (RunInfo, error) {
	r := study.Run
	run := RunInfo{Seed: r.Seed, Replications: r.Replications, Confidence: r.Confidence, Horizon: r.Horizon, WarmUp: r.WarmUp, WarmUpFound: r.WarmUpAuto, NoControls: r.NoControls}
	if len(study.Alternatives) == 0 {
		return run, fmt.Errorf("a study needs an alternative")
	}
	for i := range study.Alternatives {
		if n := len(study.Alternatives[i].Line.Stops); n > sim.MaxStops {
			return run, fmt.Errorf("%d stops: the most is %d", n, sim.MaxStops)
		}
	}
	if o := study.Alternatives[0].Line.Orders; o != nil && !o.Repeat {
		run.Listed = len(o.List)
	}
	return run, nil
}

// Each runs the replications from first to before end and hands their
// samples to fold, one slice for each replication, in order. It keeps no more
// than a block of them.
func Each(ctx context.Context, study *model.Study, run RunInfo, first, end int, opt Options, fold func(replication int, samples []*sim.Sample) error) error {
	return replicate(ctx, study, run, "", first, end, opt, fold)
}

// replicate is Each with one source of chance drawn anew, none when anew is empty.
func replicate(ctx context.Context, study *model.Study, run RunInfo, anew string, first, end int, opt Options, fold func(replication int, samples []*sim.Sample) error) error {
	k := len(study.Alternatives)
	lines := make([]*sim.Prepared, k)
	for i := range lines {
		lines[i] = sim.Prepare(&study.Alternatives[i].Line)
	}
	memory, prints := remembered(ctx, study)
	if opt.Watch != nil {
		memory = nil
	}
	block := max(8, 4*workersOf(opt.Workers))
	done := &counter{tell: opt.Progress, total: (end - first) * k}
	for from := first; from < end; from += block {
		to := min(end, from+block)
		samples := make([]*sim.Sample, (to-from)*k)
		errs := make([]error, len(samples))
		err := Spread(ctx, opt.Workers, len(samples), func(i int) {
			alt := i % k
			here := sim.Replication{Seed: run.Seed, Number: from + i/k, Anew: anew, Horizon: run.Horizon, WarmUp: run.WarmUp, Cycles: opt.Cycles}
			if memory != nil {
				samples[i] = memory.recall(occasion{prints[alt], here}, opt.Stored)
			}
			if samples[i] == nil {
				samples[i], errs[i] = lines[alt].Run(ctx, here, opt.watching(alt, here.Number))
				if memory != nil && errs[i] == nil {
					memory.keep(occasion{prints[alt], here}, samples[i])
				}
			}
			done.add()
		})
		if err != nil {
			return err
		}
		for i, err := range errs {
			if err != nil {
				return fmt.Errorf("alternative %q, replication %d: %w", study.Alternatives[i%k].Name, from+i/k+1, err)
			}
		}
		for r := 0; r < to-from; r++ {
			if err := fold(from+r, run.controlled(samples[r*k:(r+1)*k])); err != nil {
				return err
			}
		}
	}
	return nil
}

// watching is Watch for one replication of one alternative.
func (o Options) watching(alternative, replication int) func(sim.State) error {
	if o.Watch == nil {
		return nil
	}
	return func(x sim.State) error {
		x.Alternative, x.Replication = alternative, replication
		return o.Watch(x)
	}
}

// EachAnew is Each with one source of chance (a name of sim.SourcesOf) drawn anew in
// every replication, all others as Each draws them.
func EachAnew(ctx context.Context, study *model.Study, run RunInfo, source string, first, end int, opt Options, fold func(replication int, samples []*sim.Sample) error) error {
	return replicate(ctx, study, run, source, first, end, opt, fold)
}
