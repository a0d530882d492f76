package whatif

import (
	"rollchange/model"
	"rollchange/sim"
)

// Axis is a key that is varied and the values that it takes.
type Axis struct {
	Key    string          // of the scenario, "line.speed"
	Dim    model.Dimension // what it measures
	Values []float64       // SI, rising
	Texts  []string        // the same as they would be written in the scenario
	Log    bool            // spaced by ratio
}

// Point is one point of a sweep.
type Point struct {
	At      []int        // index of the value on each axis
	LeftOut string       // why it is not a possible line; empty when it was simulated
	Results *sim.Results // nil when left out
	Binds   [][]Bound    // for each alternative, the limits that do not hold here
}

// Sweep is a whole sweep: one axis or two, the points with the last axis
// running fastest.
type Sweep struct {
	Axes         []Axis
	Alternatives []string
	Limits       Limits
	Points       []Point
}

// At returns the point with the given indices.
func (s *Sweep) At(index ...int) *Point {
	k := 0
	for i, x := range index {
		k = k*len(s.Axes[i].Values) + x
	}
	return &s.Points[k]
}
