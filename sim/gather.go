package sim

import (
	"encoding/json"
	"fmt"
	"math"

	"rollchange/model"
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
		for _, g := range gaugesOf(&a.Line) {
			m, _ := metric.Of(g.name)
			o.Metrics = append(o.Metrics, MetricName{g.name, m.Unit, m.Estimate, g.unseen})
		}
		if a.Line.Unwind.Change == model.ZeroSpeed {
			o.Capacity[0] = a.Line.Unwind.Storage.Capacity
		}
		if a.Line.Rewind.Change == model.ZeroSpeed {
			o.Capacity[1] = a.Line.Rewind.Storage.Capacity
		}
		list = append(list, o)
	}
	return list
}

// Sample is what one replication of one alternative came to.
type Sample struct {
	figures []figure
	low     [2]*Histogram // margins of the storages at their least, by cycle
	balance Balance
	events  int64
}

// sampleJSON is a sample as written: every number to the last bit, of the
// histograms the bins that are not empty.
type sampleJSON struct {
	Figures [][]float64   `json:"figures"` // num, den, and where they are not 0 counted, exposed
	Low     [2][][2]int64 `json:"low"`
	Max     [2]float64    `json:"max"`
	Balance [2]float64    `json:"balance"`
	Events  int64         `json:"events"`
}

// MarshalJSON writes a sample so that UnmarshalJSON gives the same one.
func (x *Sample) MarshalJSON() ([]byte, error) {
	j := sampleJSON{Figures: make([][]float64, len(x.figures)), Balance: [2]float64{x.balance.Metres, x.balance.Seconds}, Events: x.events}
	for i, f := range x.figures {
		j.Figures[i] = []float64{f.Num, f.Den}
		if f.Counted != 0 || f.Exposed != 0 {
			j.Figures[i] = append(j.Figures[i], f.Counted, f.Exposed)
		}
	}
	for k, h := range x.low {
		if h == nil {
			continue
		}
		j.Max[k] = h.Max
		for i, n := range h.Count {
			if n > 0 {
				j.Low[k] = append(j.Low[k], [2]int64{int64(i), n})
			}
		}
	}
	return json.Marshal(j)
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (x *Sample) UnmarshalJSON(data []byte) error {
	var j sampleJSON
	if err := json.Unmarshal(data, &j); err != nil {
		return err
	}
	*x = Sample{figures: make([]figure, len(j.Figures)), balance: Balance{Metres: j.Balance[0], Seconds: j.Balance[1]}, events: j.Events}
	for i, f := range j.Figures {
		switch len(f) {
		case 2:
			x.figures[i] = figure{Num: f[0], Den: f[1]}
		case 4:
			x.figures[i] = figure{Num: f[0], Den: f[1], Counted: f[2], Exposed: f[3]}
		default:
			return fmt.Errorf("a figure of %d numbers in place of 2 or 4", len(f))
		}
	}
	for k, top := range j.Max {
		if !(top > 0) || math.IsInf(top, 1) {
			continue
		}
		x.low[k] = newHistogram(top)
		for _, c := range j.Low[k] {
			if c[0] < 0 || c[0] >= bins || c[1] < 0 {
				return fmt.Errorf("no bin %d of %d", c[0], bins)
			}
			x.low[k].Count[c[0]] = c[1]
		}
	}
	return nil
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
func (g *Gathering) Add(samples []*Sample) error {
	if len(samples) != len(g.collectors) {
		return fmt.Errorf("%d alternatives in place of %d", len(samples), len(g.collectors))
	}
	for i, x := range samples {
		c := g.collectors[i]
		if x == nil || len(x.figures) != len(c.metrics) || (x.low[0] == nil) != (c.low[0] == nil) || (x.low[1] == nil) != (c.low[1] == nil) {
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
	res := &Results{Run: g.run, Differences: make([]Metrics, len(g.collectors)), Joint: g.together.result()}
	res.Run.Replications = g.Replications()
	for i, c := range g.collectors {
		res.Alternatives = append(res.Alternatives, c.result(g.run.Confidence))
		if i > 0 {
			res.Differences[i] = g.pairs[i].result(g.collectors[0], c, g.run.Confidence)
		}
	}
	return res
}
