package replicate

import (
	"context"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
)

// fewReplications is how many are too few for controls.
const fewReplications = 10

// manyEvents is how many events a replication has in the mean for their number to
// be near enough to normal for controls.
const manyEvents = 10

// weighs says whether a study uses controls.
func weighs(study *model.Study) bool {
	return !study.Run.NoControls && study.Run.Replications >= fewReplications
}

// lend are the weights for a study that varies the one of r; nil where they do not fit, or
// none are used.
func (r *RunInfo) lend(study *model.Study) []*sim.Weights {
	if r == nil || len(r.weights) != len(study.Alternatives) || !weighs(study) {
		return nil
	}
	list := r.drawn(study).weights
	if slices.Contains(list, nil) {
		return nil
	}
	return list
}

// weigh finds the weights of the controls of every alternative, by a replication
// outside the sample; nil where they are not used.
func weigh(ctx context.Context, study *model.Study, run *RunInfo) ([]*sim.Weights, error) {
	if !weighs(study) {
		return nil, nil
	}
	memory, prints := remembered(ctx, study)
	list := make([]*sim.Weights, len(study.Alternatives))
	for i := range list {
		outside := sim.Replication{Seed: run.Seed, Number: -1, Horizon: run.Horizon, WarmUp: run.WarmUp}
		known := false
		if memory != nil {
			list[i], known = memory.recallWeights(occasion{prints[i], outside})
		}
		if known {
			continue
		}
		w, err := sim.Weigh(ctx, &study.Alternatives[i].Line, outside)
		if err != nil {
			return nil, err
		}
		list[i] = w
		if memory != nil {
			memory.keepWeights(occasion{prints[i], outside}, w)
		}
	}
	if slices.Contains(list, nil) { // all or none, see settle
		return nil, nil
	}
	return list, nil
}

// Shares are what each source of chance of an alternative brings to its controls; nil
// where it has none.
func (r *RunInfo) Shares(alternative int) []sim.Share {
	if alternative >= len(r.weights) || r.weights[alternative] == nil {
		return nil
	}
	return r.weights[alternative].Shares()
}

// controlled are the samples of a replication with their controls. What is
// remembered of them stays as it is.
func (r *RunInfo) controlled(samples []*sim.Sample) []*sim.Sample {
	if len(r.weights) != len(samples) {
		return samples
	}
	for i, x := range samples {
		if w := r.weights[i]; w != nil {
			y := *x
			y.Controls = w.Controls(x)
			samples[i] = &y
		}
	}
	return samples
}

// addControls adds those of a sample to its group. One sample without them makes
// all useless.
func (c *collector) addControls(group int, x *[2]float64) {
	switch {
	case x == nil:
		c.known = nil
	case c.n > 0 && c.known == nil:
	case group == len(c.known):
		c.known = append(c.known, *x)
	default:
		c.known[group][0] += x[0]
		c.known[group][1] += x[1]
	}
}

// controls are those of what was gathered; nil where they are not used.
func (c *collector) controls() *estimate.Controls {
	if c.plain || len(c.known) == 0 || len(c.known) != len(c.sizes) {
		return nil
	}
	return estimate.NewControls(c.known, c.sizes)
}

// lent says whether slopes from other replications can be used.
func (c *collector) lent() bool {
	return !c.plain && c.slopes != nil && c.n > 0 && len(c.known) == len(c.sizes)
}

// settle uses the controls of all alternatives or of none: one with them and one without
// share no chance any more, and their difference would be less sure than it seems.
func (g *Gathering) settle() {
	plain := false
	for _, c := range g.collectors {
		c.plain = false
		plain = plain || c.controls() == nil && !c.lent()
	}
	for _, c := range g.collectors {
		c.plain = plain
		c.addUp(g.run.Confidence)
	}
}

// addUp finds the families of figures that add up, times and waste by cause, of which one
// would be less than nothing with controls. The whole family goes without them then, so
// that its parts still make its total.
func (c *collector) addUp(confidence float64) {
	c.without = nil
	controls := c.controls()
	for i, m := range c.metrics {
		family := metric.FamilyOf(m.Name)
		if family == "" || slices.Contains(c.without, family) {
			continue
		}
		if p := c.adjusted(i, controls, confidence); p != nil && p.All < 0 {
			c.without = append(c.without, family)
		}
	}
}

// pseudo is metric i as controls make it, in the unit of its figures for a mean and
// a second for a count; nil where they are not used for it: it does not vary, it is
// no mean, too few events are in it, or what it or one of its family counts would be less
// than nothing.
func (c *collector) pseudo(i int, controls *estimate.Controls, confidence float64) *estimate.Pseudo {
	p := c.adjusted(i, controls, confidence)
	if p == nil || p.All < 0 || slices.Contains(c.without, metric.FamilyOf(c.metrics[i].Name)) {
		return nil
	}
	c.perSecond(i, p)
	return p
}

// adjusted is pseudo in the unit of the figures, also where it is less than nothing.
func (c *collector) adjusted(i int, controls *estimate.Controls, confidence float64) *estimate.Pseudo {
	m := &c.moments[i]
	slope, lent := c.slopes[c.metrics[i].Name]
	lent = lent && controls == nil && c.lent()
	if controls == nil && !lent || !c.metrics[i].byReplication() || m.SD() <= 1e-13*math.Abs(m.Mean()) || c.metrics[i].Kind == metric.Count && m.Mean() < manyEvents {
		return nil
	}
	var p estimate.Pseudo
	if lent {
		p = estimate.SlopedPseudo(c.sums[i], c.known, c.sizes, slope)
	} else {
		p = controls.Pseudo(c.sums[i], confidence)
	}
	return &p
}

// Lend gives the slopes of the controls of the alternatives of g to another gathering of
// variants of them, whose first few replications are too few to find their own: its
// alternative i is a variant of i modulo those of g.
func (g *Gathering) Lend(to *Gathering, first int) {
	g.settle()
	n := len(g.collectors) - first
	for i, c := range to.collectors {
		if slopes := g.collectors[first+i%n].slopesOf(g.run.Confidence); slopes != nil {
			c.slopes = slopes
		}
	}
}

// slopesOf are the slopes of every metric on the controls; nil where they are not used.
func (c *collector) slopesOf(confidence float64) map[string][2]float64 {
	controls := c.controls()
	if controls == nil {
		return nil
	}
	slopes := map[string][2]float64{}
	for k := range c.metrics {
		if c.pseudo(k, controls, confidence) != nil {
			slopes[c.metrics[k].Name] = controls.Slope(c.sums[k])
		}
	}
	return slopes
}

// Only is how a study of some of the alternatives is run, each with the controls that it
// has here.
func (r RunInfo) Only(places []int) RunInfo {
	if r.weights == nil {
		return r
	}
	all := r.weights
	r.weights = nil
	for _, i := range places {
		r.weights = append(r.weights, all[i])
	}
	return r
}

// perSecond turns counts into rates.
func (c *collector) perSecond(i int, p *estimate.Pseudo) {
	if c.metrics[i].Kind != metric.Count {
		return
	}
	span := c.ratios[i][0].Den
	p.All /= span
	for g := range p.Values {
		p.Values[g] /= span
	}
}

// pseudoOrPlain is the pseudo-values given, or those without controls.
func (c *collector) pseudoOrPlain(i int, p *estimate.Pseudo) estimate.Pseudo {
	if p != nil {
		return *p
	}
	plain := estimate.PlainPseudo(c.sums[i], c.sizes)
	c.perSecond(i, &plain)
	return plain
}

// narrow takes in by how much controls narrow one alternative.
func (r *RunInfo) narrow(by float64) {
	switch {
	case math.IsNaN(by):
	case r.Narrowed[1] == 0:
		r.Narrowed = [2]float64{by, by}
	default:
		r.Narrowed = [2]float64{min(r.Narrowed[0], by), max(r.Narrowed[1], by)}
	}
}
