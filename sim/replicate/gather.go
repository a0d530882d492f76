package replicate

import (
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/metric"
)

// MetricName is a metric as it is gathered: Kind says how the figures of the
// replications make an estimate, Unseen how large a share can be of which nothing
// was seen.
type MetricName struct {
	Name   string      `json:"name"`
	Unit   string      `json:"unit"`
	Kind   metric.Kind `json:"kind,omitempty"`
	Unseen float64     `json:"unseen,omitempty"`
}

// Outline is what the samples of one alternative hold: its metrics, in their
// order, and the capacity of its unwind and rewind storage, m, 0 for none.
type Outline struct {
	Name     string       `json:"name"`
	Metrics  []MetricName `json:"metrics"`
	Capacity [2]float64   `json:"capacity_m"`
}

// OutlinesOf are the outlines of the alternatives of a study.
func OutlinesOf(study *model.Study) []Outline {
	var list []Outline
	for i := range study.Alternatives {
		a := &study.Alternatives[i]
		o := Outline{Name: a.Name}
		for _, g := range sim.GaugesOf(&a.Line) {
			m, _ := metric.Of(g.Name)
			o.Metrics = append(o.Metrics, MetricName{g.Name, m.Unit, m.Estimate, g.Unseen})
		}
		if a.Line.Unwind.Change.Stores() {
			o.Capacity[0] = a.Line.Unwind.Storage.Capacity
		}
		if a.Line.Rewind.Change.Stores() {
			o.Capacity[1] = a.Line.Rewind.Storage.Capacity
		}
		list = append(list, o)
	}
	return list
}

// Value is metric i in one replication alone: NaN when nothing happened that it
// could be counted per, and for a time between events.
func (o *Outline) Value(x *sim.Sample, i int) float64 {
	if o.Metrics[i].Kind == metric.Interval {
		return math.NaN()
	}
	return x.Figures[i].Num / x.Figures[i].Den
}

// Gathering adds up samples, one slice for each replication in order, and turns
// them into results.
type Gathering struct {
	run        RunInfo
	collectors []*collector
	pairs      []*pair
	together   *joint
}

// NewGathering begins to gather for alternatives of the given outlines.
func NewGathering(run RunInfo, outlines []Outline) *Gathering {
	g := &Gathering{run: run}
	for i := range outlines {
		g.collectors = append(g.collectors, newCollector(&outlines[i]))
		g.pairs = append(g.pairs, nil)
		if i > 0 {
			g.pairs[i] = newPair(g.collectors[0], g.collectors[i])
		}
	}
	g.together = newJoint(g.collectors)
	return g
}

// Add takes one replication: the samples of all alternatives. It returns an
// error when they do not fit the outlines.
func (g *Gathering) Add(samples []*sim.Sample) error {
	if len(samples) != len(g.collectors) {
		return fmt.Errorf("%d alternatives in place of %d", len(samples), len(g.collectors))
	}
	for i, x := range samples {
		c := g.collectors[i]
		if x == nil || len(x.Figures) != len(c.metrics) || (x.Low[0] == nil) != (c.low[0] == nil) || (x.Low[1] == nil) != (c.low[1] == nil) {
			return fmt.Errorf("a sample that does not fit alternative %q", c.name)
		}
	}
	g.together.add(samples)
	for i, x := range samples {
		g.collectors[i].add(x)
		if i > 0 {
			g.pairs[i].add(samples[0], x)
		}
	}
	return nil
}

// Replications is the number of replications added.
func (g *Gathering) Replications() int { return g.collectors[0].n }

// Results turns what was gathered so far into estimates and paired differences.
func (g *Gathering) Results() *Results {
	g.settle()
	res := &Results{Run: g.run, Differences: make([]Metrics, len(g.collectors)), Joint: g.together.result()}
	res.Run.Replications = g.Replications()
	if res.Joint != nil {
		jointOf(res.Joint, g.collectors, g.run.Confidence)
	}
	for i, c := range g.collectors {
		r := c.result(g.run.Confidence)
		res.Alternatives = append(res.Alternatives, r)
		res.Run.narrow(r.Narrowed)
		if i > 0 {
			res.Differences[i] = g.pairs[i].result(g.collectors[0], c, g.run.Confidence)
		}
	}
	return res
}
