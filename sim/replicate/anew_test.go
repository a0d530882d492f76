package replicate

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/invented"
)

// Any one source drawn anew makes other figures, a source that there is not the same.
func TestReplicationsWithOneSourceAnew(t *testing.T) {
	l := invented.EveryChance()
	study := &model.Study{Run: model.Run{Horizon: 40000, Replications: 3, Seed: 1, Confidence: 0.95}, Alternatives: []model.Alternative{{Name: "a", Line: l}}}
	run, err := Prepare(context.Background(), study)
	require.NoError(t, err)
	values := func(of func(fold func(int, []*sim.Sample) error) error) string {
		var all []float64
		require.NoError(t, of(func(_ int, x []*sim.Sample) error {
			o := &OutlinesOf(study)[0]
			for i := range o.Metrics {
				all = append(all, o.Value(x[0], i))
			}
			return nil
		}))
		return fmt.Sprint(all)
	}
	base := values(func(fold func(int, []*sim.Sample) error) error {
		return Each(context.Background(), study, run, 0, 3, Options{}, fold)
	})
	for _, source := range append(sim.SourcesOf(&l), "no such") {
		again := values(func(fold func(int, []*sim.Sample) error) error {
			return EachAnew(context.Background(), study, run, source, 0, 3, Options{}, fold)
		})
		assert.Equal(t, source == "no such", again == base, source)
	}
}
