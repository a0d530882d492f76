package sim

import (
	"encoding/json"
	"fmt"
	"math"

	"rollchange/sim/estimate"
)

// Sample is what one replication of one line came to: Figures in the order of
// GaugesOf the line. It is written as JSON by its own methods, without loss.
type Sample struct {
	Figures []estimate.Figure
	Low     [2]*Histogram // margins of unwind and rewind storage at their least, by cycle; nil for none
	Balance Balance
	Events  int64
	Cycles  [2][]*Cycles // changes out of the storage of unwind and rewind, by line; nil where they were not asked for, and never written

	// Controls are two sums with mean 0 that go with its good web and its waste, m; nil:
	// none. They come from what its draws were beyond their means, see Weights.
	Controls *[2]float64
	excess   []excess
}

// sampleJSON is a sample as written: every number to the last bit, of the
// histograms the bins that are not empty.
type sampleJSON struct {
	Figures [][]float64   `json:"figures"` // num, den, and where they are not 0 counted, exposed
	Low     [2][][2]int64 `json:"low"`
	Max     [2]float64    `json:"max"`
	Balance [2]float64    `json:"balance"`
	Events  int64         `json:"events"`

	Controls *[2]float64 `json:"controls,omitempty"`
}

// MarshalJSON writes a sample so that UnmarshalJSON gives the same one.
func (x *Sample) MarshalJSON() ([]byte, error) {
	j := sampleJSON{Figures: make([][]float64, len(x.Figures)), Balance: [2]float64{x.Balance.Metres, x.Balance.Seconds}, Events: x.Events, Controls: x.Controls}
	for i, f := range x.Figures {
		j.Figures[i] = []float64{f.Num, f.Den}
		if f.Counted != 0 || f.Exposed != 0 {
			j.Figures[i] = append(j.Figures[i], f.Counted, f.Exposed)
		}
	}
	for k, h := range x.Low {
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
	*x = Sample{Figures: make([]figure, len(j.Figures)), Balance: Balance{Metres: j.Balance[0], Seconds: j.Balance[1]}, Events: j.Events, Controls: j.Controls}
	for i, f := range j.Figures {
		switch len(f) {
		case 2:
			x.Figures[i] = figure{Num: f[0], Den: f[1]}
		case 4:
			x.Figures[i] = figure{Num: f[0], Den: f[1], Counted: f[2], Exposed: f[3]}
		default:
			return fmt.Errorf("a figure of %d numbers in place of 2 or 4", len(f))
		}
	}
	for k, top := range j.Max {
		if !(top > 0) || math.IsInf(top, 1) {
			continue
		}
		x.Low[k] = NewHistogram(top)
		for _, c := range j.Low[k] {
			if c[0] < 0 || c[0] >= bins || c[1] < 0 {
				return fmt.Errorf("no bin %d of %d", c[0], bins)
			}
			x.Low[k].Count[c[0]] = c[1]
		}
	}
	return nil
}
