package sim_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/scenarios/random"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
)

// A class of stops split into two that each come half as often is the same: the
// gaps between stops that come by chance alone have no memory.
//
// Honest exception: a stop that falls due while one of its own class is on is
// lost, one of the other half is not. Such stops fall into the ramps down only;
// the class here comes so rarely that they are one in a thousand.
//
// The paired difference of good output over its standard error is about standard
// normal on each line; the sum of squares over n lines is chi-square with n
// degrees of freedom, which exceeds n + 6 sqrt(2n) by chance once in more than
// 10^5 trials (and the seeds are fixed).
func TestTwoHalvesOfAStopAreTheWhole(t *testing.T) {
	t.Parallel()
	want := effort.Of(3, 8, 40)
	n, sum := 0, 0.0
	for seed := uint64(1); n < want && seed < 1000; seed++ {
		s, parsed, err := random.Draw(seed)
		if err != nil || endsWell(s) != nil || random.Events(&parsed.Study)/float64(parsed.Study.Run.Replications) > 3000 || len(parsed.Study.Alternatives) > 1 {
			continue
		}
		l := &parsed.Study.Alternatives[0].Line
		every := max(parsed.Study.Run.Horizon/20, 500*l.Process.Speed/l.Process.Decel)
		if every > parsed.Study.Run.Horizon/3 {
			continue
		}
		split := func(parts int) *model.Line {
			add := map[string]random.Value{}
			for i := range parts {
				p := fmt.Sprintf("stop[%d].", 90+i)
				add[p+"name"] = random.Value{Word: fmt.Sprintf("%q", fmt.Sprint("half ", i))}
				add[p+"every"] = random.Value{Law: "exponential", Nums: []random.Num{{Name: "mean", X: []float64{every * float64(parts)}, Unit: "s", Dim: model.Time}}}
				add[p+"repair"] = quantity(every/10, "s", model.Time)
			}
			parsed, err := s.With(add).Parse()
			if err != nil {
				return nil
			}
			return &parsed.Study.Alternatives[0].Line
		}
		whole, halves := split(1), split(2)
		if whole == nil || halves == nil {
			continue
		}
		study := &model.Study{Run: parsed.Study.Run, Alternatives: []model.Alternative{{Name: "whole", Line: *whole}, {Name: "halves", Line: *halves}}}
		study.Run.Replications, study.Run.WarmUp, study.Run.WarmUpAuto = 200, 0, false
		r, err := simulate(study, replicate.Options{})
		if err != nil {
			continue
		}
		d := r.Differences[1]["good_rate"]
		if se := d.SD / math.Sqrt(200); se > 1e-6*r.Alternatives[0].Metrics["processed_rate"].Mean {
			n++
			sum += d.Mean * d.Mean / (se * se)
		}
	}
	assert.Equal(t, want, n, "lines tried")
	assert.Less(t, sum, float64(n)+6*math.Sqrt(2*float64(n)), "sum of squares over %d lines", n)
	t.Logf("%.1f over %d lines", sum, n)
}
