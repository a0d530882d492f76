package savings

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// The figures are those of the case, and an input moved by a factor is the case
// with that input.
func TestFiguresAreThoseOfTheCase(t *testing.T) {
	c := caseOfDraws(t, 2000, around)
	f := c.Figures()
	assert.InEpsilon(t, c.Random.Total.Mean, f.Value[0], 1e-12)
	assert.InEpsilon(t, c.Random.NPV.Mean, f.Value[1], 1e-12)
	assert.Equal(t, c.Random.Simple.Median, f.Value[2])
	for i, in := range c.AllInputs() {
		if in.Key != "economics.price" {
			continue
		}
		dearer := caseOfDraws(t, 2000, func(s *model.Study, rs *replicate.Results) {
			around(s, rs)
			economics(func(e *model.Economics) { e.Price = model.Const(0.2 * 1.1) })(s, rs)
		})
		moved := c.Figures(Moved{i, 1.1})
		assert.InEpsilon(t, dearer.Random.Total.Mean, moved.Value[0], 1e-12)
		assert.InEpsilon(t, dearer.Random.NPV.Mean, moved.Value[1], 1e-12)
		assert.Equal(t, dearer.Random.Simple.Median, moved.Value[2])
	}
	study, rs := studyOf()
	study.Alternatives[1].Investment = model.Dist{}
	g, err := new(Draws).FiguresOf(study, rs, 0, 1, Options{Draws: 100})
	require.NoError(t, err)
	assert.True(t, math.IsNaN(g.Value[2]), "nothing is invested")
}

// Half widths, of a figure and of the difference of two, are those of the
// figures of the single replications, calculated one by one: the figures are
// nearly linear in what is simulated.
func TestHalfWidthsOfFigures(t *testing.T) {
	text := ""
	for _, x := range scenarios.Templates() {
		if x.Name == "label_press" {
			text = string(x.Text)
		}
	}
	s, err := scenarios.Parse("a", []byte(text), ".", scenarios.Override{Key: "run.replications", Value: "25"}, scenarios.Override{Key: "run.controls", Value: "none"}, scenarios.Override{Key: "run.horizon", Value: "4 d"})
	require.NoError(t, err)
	c, err := s.Again(scenarios.Override{Key: "line.speed", Factor: 1.1})
	require.NoError(t, err)
	study := s.Study
	study.Alternatives = append(append([]model.Alternative{}, s.Study.Alternatives[:2]...), c.Study.Alternatives[:2]...)
	run, err := replicate.Prepare(context.Background(), &study)
	require.NoError(t, err)
	all := replicate.NewGathering(run, replicate.OutlinesOf(&study))
	var each []*replicate.Results
	err = replicate.Each(context.Background(), &study, run, 0, 25, replicate.Options{}, func(_ int, x []*sim.Sample) error {
		one := replicate.NewGathering(run, replicate.OutlinesOf(&study))
		if err := one.Add(x); err != nil {
			return err
		}
		each = append(each, one.Results())
		return all.Add(x)
	})
	require.NoError(t, err)
	of := func(rs *replicate.Results, from int) (*Case, Figures) {
		part := *rs
		part.Alternatives = rs.Alternatives[from : from+2]
		part.Differences = []replicate.Metrics{nil, rs.Differences[1]}
		part.Joint = nil
		if rs.Joint != nil {
			n := len(replicate.JointMetrics)
			part.Joint = &replicate.Joint{N: rs.Joint.N}
			for _, r := range rs.Joint.Cov[from*n : (from+2)*n] {
				part.Joint.Cov = append(part.Joint.Cov, r[from*n:(from+2)*n])
			}
		}
		two := study
		two.Alternatives = study.Alternatives[from : from+2]
		c, err := newCase(&two, &part, 0, 1, Options{Draws: 1000})
		require.NoError(t, err)
		c.drawn = c.sample()
		return c, c.Figures()
	}
	rs := all.Results()
	_, was := of(rs, 0)
	_, now := of(rs, 2)
	var single, difference [2]estimate.Moments
	for _, one := range each {
		a, _ := of(one, 0)
		b, _ := of(one, 2)
		x, y := a.valued(1, func(*vector) {}), b.valued(1, func(*vector) {})
		for m := range single {
			single[m].Add(x[m])
			difference[m].Add(y[m] - x[m])
		}
	}
	own, apart := was.HalfWidths(rs, 1), now.HalfWidthsFrom(&was, rs, [2]int{2, 3}, [2]int{0, 1})
	for m := range single {
		assert.InEpsilon(t, single[m].HalfWidth(0.95), own[m], 0.1, FigureNames[m])
		assert.InEpsilon(t, difference[m].HalfWidth(0.95), apart[m], 0.1, FigureNames[m])
		assert.Less(t, apart[m], own[m], "they move together")
	}
	for n := range 10 { // the same figures, but for the rounding of their slopes
		near := was
		for m := range near.grad {
			for k := range near.grad[m] {
				near.grad[m][k] *= 1 + 1e-10*float64((k+n)%7)
			}
		}
		assert.Zero(t, near.HalfWidthsFrom(&was, rs, [2]int{0, 1}, [2]int{0, 1}))
	}
	rs.Run.Replications = 1
	assert.True(t, math.IsNaN(was.HalfWidths(rs, 1)[0]))
}
