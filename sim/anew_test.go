package sim

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

// aLine is a line whose splices are made at rest out of storage, with chance of
// every sort; two of them share the crew.
func aLine() model.Line {
	law := func(mean float64) model.Dist { return model.Dist{Law: model.Exponential, A: mean} }
	return model.Line{
		Process: model.Process{Speed: 2, RatedSpeed: 2, Accel: 0.25, Decel: 0.5, RestartScrap: law(5)},
		Unwind: model.Unwind{Change: model.ZeroSpeed, Roll: model.RollSize{Length: law(1500)}, Residual: 5, Load: law(60), Prepare: model.Const(30),
			Dwell: model.Dist{Law: model.Gamma, A: 16, B: 0.5}, Decel: 1, Accel: 0.5, MaxSpeed: 4, SpliceSuccess: 0.98, Recover: law(90),
			Storage: model.Storage{Capacity: 60, RunLevel: 60, RestartLevel: 30}},
		Rewind:    model.Rewind{Change: model.None},
		Crew:      model.Crew{Operators: 1, Lines: 2, Reaction: law(10), Duties: []model.Duty{{Name: "patrol", Every: law(3600), Takes: law(60)}}},
		Stops:     []model.Stop{{Name: "jam", Every: law(3600), Repair: law(120), NeedsOperator: true}},
		WebBreaks: &model.WebBreaks{MeanLength: 20000, AtSpeed: 2, Repair: law(300)},
	}
}

// All that varies is a source, once, whatever the line and the task; what
// cannot happen is none.
func TestSourcesOfALine(t *testing.T) {
	l := aLine()
	assert.Equal(t, []string{"crew.reaction", "every duty patrol", "line.restart_scrap", "stop.every jam", "stop.repair jam", "takes duty patrol", "unwind.dwell", "unwind.load", "unwind.recover",
		"unwind.roll_length", "unwind.splice_success", "web_breaks", "web_breaks.repair"}, SourcesOf(&l))
	l.WebBreaks, l.Stops, l.Crew.Duties, l.Unwind.SpliceSuccess = nil, nil, nil, 1
	assert.Equal(t, []string{"crew.reaction", "line.restart_scrap", "unwind.dwell", "unwind.load", "unwind.recover", "unwind.roll_length"}, SourcesOf(&l))
}

// Drawn anew is one source alone, on both lines: every other draw stays.
func TestOneSourceIsDrawnAnew(t *testing.T) {
	l := aLine()
	for _, anew := range SourcesOf(&l) {
		for _, name := range []string{"unwind.dwell", "unwind.dwell\tline 2", "unwind.recover", "unwind.recover joining", "unwind.recover run-out\tline 2", "reaction stop jam", "stop.every jam", "web_breaks", "web_breaks.repair", "every duty patrol", "unwind.splice_success"} {
			was, now := streams{seed: 3, replication: 4}, streams{seed: 3, replication: 4, anew: anew}
			d := model.Dist{Law: model.Uniform, A: 0, B: 1}
			a, b := was.source(d, name), now.source(d, name)
			assert.Equal(t, sourceKey(name) == anew, a.draw() != b.draw(), "%s anew, %s", anew, name)
		}
	}
	study := &model.Study{Run: model.Run{Horizon: 40000, Replications: 3, Seed: 1, Confidence: 0.95}, Alternatives: []model.Alternative{{Name: "a", Line: l}}}
	run, err := Prepare(context.Background(), study)
	require.NoError(t, err)
	values := func(of func(fold func(int, []*Sample) error) error) string {
		var all []float64
		require.NoError(t, of(func(_ int, x []*Sample) error {
			for i, m := range OutlinesOf(study)[0].Metrics {
				all = append(all, x[0].Value(i, m))
			}
			return nil
		}))
		return fmt.Sprint(all)
	}
	base := values(func(fold func(int, []*Sample) error) error {
		return Replicate(context.Background(), study, run, 0, 3, Options{}, fold)
	})
	for _, source := range append(SourcesOf(&l), "no such") {
		again := values(func(fold func(int, []*Sample) error) error {
			return ReplicateAnew(context.Background(), study, run, source, 0, 3, Options{}, fold)
		})
		assert.Equal(t, source == "no such", again == base, source)
	}
}
