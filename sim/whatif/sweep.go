package whatif

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/replicate"
)

// Axis is a key that is varied and the values that it takes.
type Axis struct {
	Key    string          // of the scenario, "line.speed"
	Dim    model.Dimension // what it measures
	Values []float64       // SI, rising
	Texts  []string        // the same as they would be written in the scenario
	Log    bool            // spaced by ratio
	Of     string          `json:",omitempty"` // the stop or duty that the key belongs to: "plate cleaning"
	Now    map[int]float64 `json:",omitempty"` // the present value by alternative, SI, where it has one
}

// Point is one point of a sweep.
type Point struct {
	At       []int              // index of the value on each axis
	LeftOut  string             // why it is not a possible line; empty when it was simulated
	Results  *replicate.Results // nil when left out; without histograms
	Reckoned bool               `json:",omitempty"` // not simulated: from the records of a neighbour (SweepStorage)
	Binds    [][]Bound          // for each alternative, the limits that do not hold here
}

// Sweep is a whole sweep: one axis or two, the points with the last axis
// running fastest.
type Sweep struct {
	Axes         []Axis
	Alternatives []string
	Places       []int `json:",omitempty"` // of the alternatives in the study; nil: as they come
	Limits       Limits
	Points       []Point `json:"-"`
}

// Own says whether point i of a sweep over one key was simulated and every line has there
// what it has now.
func (w *Sweep) Own(i int) bool {
	p, axis := &w.Points[i], &w.Axes[0]
	own := len(w.Axes) == 1 && p.Results != nil && !p.Reckoned
	for a := range w.Alternatives {
		now, known := axis.Now[a]
		own = own && known && axis.Values[p.At[0]] == now
	}
	return own
}

// mostPoints is the most points of a sweep.
const mostPoints = 10000

// NewSweep lays out the points of a sweep, none of them simulated yet.
func NewSweep(s *scenarios.Scenario, axes []Axis, limits Limits) (*Sweep, error) {
	w := &Sweep{Axes: axes, Limits: limits}
	for i := range w.Axes {
		w.Axes[i].situate(s)
	}
	for i := range s.Study.Alternatives {
		w.Alternatives = append(w.Alternatives, s.Study.Alternatives[i].Name)
	}
	return w, w.layout()
}

// layout makes the points of the axes, none of them simulated yet.
func (w *Sweep) layout() error {
	n := 1
	for i, a := range w.Axes {
		n *= min(len(a.Values), mostPoints+1)
		if i > 0 && a.Key == w.Axes[0].Key {
			return fmt.Errorf("%s is varied twice", a.Key)
		}
	}
	switch {
	case len(w.Axes) == 0:
		return errors.New("a sweep needs a key to vary")
	case len(w.Axes) > 2:
		return errors.New("a sweep varies one key or two")
	case n > mostPoints:
		return fmt.Errorf("%d points: the most is %d", n, mostPoints)
	}
	w.Points = nil
	for k := range n {
		at := make([]int, len(w.Axes))
		for i, rest := len(w.Axes)-1, k; i >= 0; i-- {
			at[i], rest = rest%len(w.Axes[i].Values), rest/len(w.Axes[i].Values)
		}
		w.Points = append(w.Points, Point{At: at})
	}
	return nil
}

// At returns the point with the given indices.
func (w *Sweep) At(index ...int) *Point {
	k := 0
	for i, x := range index {
		k = k*len(w.Axes[i].Values) + x
	}
	return &w.Points[k]
}

// Simulate simulates one point. A point that is no possible line is left out
// and says why; the error is that of the context or of the simulation.
func (w *Sweep) Simulate(ctx context.Context, s *scenarios.Scenario, k int, opt replicate.Options) error {
	return w.simulate(s, k, func(study *model.Study) (*replicate.Results, error) { return replicate.Simulate(ctx, study, opt) })
}

// SimulateUntil is Simulate in as many replications as make a metric sure enough at
// this point. It has reached nothing at a point that is left out.
func (w *Sweep) SimulateUntil(ctx context.Context, s *scenarios.Scenario, k int, p Precision, opt replicate.Options) (Reached, error) {
	var got Reached
	err := w.simulate(s, k, func(study *model.Study) (res *replicate.Results, err error) {
		res, got, err = p.Simulate(ctx, study, opt)
		return res, err
	})
	return got, err
}

func (w *Sweep) simulate(s *scenarios.Scenario, k int, by func(*model.Study) (*replicate.Results, error)) error {
	p := &w.Points[k]
	var over []scenarios.Override
	for i, x := range p.At {
		over = append(over, scenarios.Override{Key: w.Axes[i].Key, Value: w.Axes[i].Texts[x]})
	}
	c, err := s.Again(over...)
	var res *replicate.Results
	if err == nil {
		res, err = by(&c.Study)
	}
	var impossible *scenarios.Errors
	if errors.As(err, &impossible) {
		p.LeftOut = reason(impossible)
		return nil
	}
	if err != nil {
		return err
	}
	for i := range res.Alternatives {
		res.Alternatives[i].Lowest, res.Alternatives[i].Highest = nil, nil
	}
	w.Set(k, res)
	return nil
}

// Set gives a point its results.
func (w *Sweep) Set(k int, res *replicate.Results) {
	p := &w.Points[k]
	p.Results, p.Binds = res, nil
	for i := range res.Alternatives {
		p.Binds = append(p.Binds, w.Limits.Broken(res.Alternatives[i].Metrics))
	}
}

// AllLeftOut is an error when no point is a possible line, with the reason of the first.
func (w *Sweep) AllLeftOut() error {
	for i := range w.Points {
		if w.Points[i].LeftOut == "" {
			return nil
		}
	}
	return fmt.Errorf("no point is possible; at %s: %s", strings.Join(w.where(0), ", "), w.Points[0].LeftOut)
}

// where is a point in words: "line.speed 150 m/min".
func (w *Sweep) where(k int) []string {
	var words []string
	for i, x := range w.Points[k].At {
		words = append(words, w.Axes[i].Key+" "+w.Axes[i].Texts[x])
	}
	return words
}

// reason is the first problem of a scenario in short.
func reason(e *scenarios.Errors) string {
	p := e.Problems[0]
	if i := strings.Index(p.What, " (alternative "); i > 0 {
		p.What = p.What[:i]
	}
	if p.Key == "" {
		return p.What
	}
	return p.Key + " " + p.What
}

// simulate simulates a scenario with overrides.
func simulate(ctx context.Context, s *scenarios.Scenario, opt replicate.Options, over ...scenarios.Override) (*replicate.Results, error) {
	c, err := s.Again(over...)
	if err != nil {
		return nil, err
	}
	return replicate.Simulate(ctx, &c.Study, opt)
}
