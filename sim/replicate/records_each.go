package replicate

import (
	"cmp"
	"context"
	"sync/atomic"

	"rollchange/model"
	"rollchange/sim"
)

// EachDrawn is Each with all records drawn anew for every replication, by its number, so
// that its samples spread by chance and by what the records leave open together. The
// outlines are those of the lines drawn. It keeps the samples of all replications.
func EachDrawn(ctx context.Context, study *model.Study, run RunInfo, records Records, first, end int, opt Options, fold func(outlines []Outline, samples []*sim.Sample) error) error {
	type drawn struct {
		outlines []Outline
		samples  []*sim.Sample
	}
	all := make([]drawn, end-first)
	errs := make([]error, len(all))
	done := &counter{tell: opt.Progress, total: len(all)}
	var failed atomic.Bool // one has: the others would most likely too
	err := Spread(ctx, opt.Workers, len(all), func(i int) {
		if failed.Load() {
			return
		}
		s := *study
		s.Alternatives, _ = records.Draw(first + i)
		errs[i] = Each(ctx, &s, run, first+i, first+i+1, Options{Workers: 1}, func(_ int, x []*sim.Sample) error {
			all[i] = drawn{OutlinesOf(&s), x}
			return nil
		})
		if errs[i] != nil {
			failed.Store(true)
		}
		done.add()
	})
	if err = cmp.Or(append(errs, err)...); err != nil {
		return err
	}
	for _, d := range all {
		if err := fold(d.outlines, d.samples); err != nil {
			return err
		}
	}
	return nil
}
