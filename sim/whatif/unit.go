package whatif

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"

	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// pointJSON is a simulated point as written, every number to the last bit.
type pointJSON struct {
	LeftOut      string            `json:"left_out,omitempty"`
	Run          replicate.RunInfo `json:"run"`
	Alternatives []alternativeJSON `json:"alternatives,omitempty"`
}

type alternativeJSON struct {
	Name    string       `json:"name"`
	Metrics []metricJSON `json:"metrics"`
}

type metricJSON struct {
	Name string   `json:"name"`
	Unit string   `json:"unit"`
	Mean *float64 `json:"mean"`
	Half *float64 `json:"half_width"`
	SD   *float64 `json:"sd"`
	N    int      `json:"n"`
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`

	Why    estimate.Why `json:"why,omitempty"`
	Needed int          `json:"needed,omitempty"`
	Trials float64      `json:"trials,omitempty"`
	Unseen float64      `json:"unseen,omitempty"`
}

func known(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

func orNaN(x *float64) float64 {
	if x == nil {
		return math.NaN()
	}
	return *x
}

// PointData writes what a point came to, so that SetData gives the same.
func (w *Sweep) PointData(k int) (json.RawMessage, error) {
	p := &w.Points[k]
	j := pointJSON{LeftOut: p.LeftOut}
	if p.Results != nil {
		j.Run = p.Results.Run
		for _, r := range p.Results.Alternatives {
			a := alternativeJSON{Name: r.Alternative}
			for _, name := range r.Names {
				e := r.Metrics[name]
				a.Metrics = append(a.Metrics, metricJSON{name, e.Unit, known(e.Mean), known(e.HalfWidth), known(e.SD), e.N, known(e.Low), known(e.High), e.Why, e.Needed, e.Trials, e.Unseen})
			}
			j.Alternatives = append(j.Alternatives, a)
		}
	}
	return json.Marshal(j)
}

// SetData gives a point what PointData wrote of it.
func (w *Sweep) SetData(k int, data json.RawMessage) error {
	var j pointJSON
	if err := json.Unmarshal(data, &j); err != nil {
		return err
	}
	if j.LeftOut != "" {
		w.Points[k].LeftOut = j.LeftOut
		return nil
	}
	if len(j.Alternatives) != len(w.Alternatives) {
		return fmt.Errorf("%d alternatives in place of %d", len(j.Alternatives), len(w.Alternatives))
	}
	res := &replicate.Results{Run: j.Run}
	for i, a := range j.Alternatives {
		if a.Name != w.Alternatives[i] {
			return fmt.Errorf("alternative %q in place of %q", a.Name, w.Alternatives[i])
		}
		r := replicate.Result{Alternative: a.Name, Metrics: replicate.Metrics{}}
		for _, m := range a.Metrics {
			r.Names = append(r.Names, m.Name)
			r.Metrics[m.Name] = estimate.Estimate{Unit: m.Unit, Mean: orNaN(m.Mean), HalfWidth: orNaN(m.Half), SD: orNaN(m.SD), N: m.N, Low: orNaN(m.Low), High: orNaN(m.High), Why: m.Why, Needed: m.Needed, Trials: m.Trials, Unseen: m.Unseen}
		}
		res.Alternatives = append(res.Alternatives, r)
	}
	w.Set(k, res)
	return nil
}

// ReadSweep reads a sweep that was written as JSON: its axes, alternatives and
// limits, none of its points simulated.
func ReadSweep(data json.RawMessage) (*Sweep, error) {
	w := &Sweep{}
	if err := json.Unmarshal(data, w); err != nil {
		return nil, err
	}
	for _, a := range w.Axes {
		if len(a.Values) != len(a.Texts) {
			return nil, errors.New("an axis with values that are not written")
		}
	}
	return w, w.layout()
}

// limitsJSON writes a limit that is not asked for as null.
type limitsJSON struct {
	Risk                               Risk
	ButFailed                          bool `json:",omitempty"`
	NotReady, NotRefilled, Busy, Waste *float64
}

// MarshalJSON writes limits, null for one that is not asked for.
func (l Limits) MarshalJSON() ([]byte, error) {
	return json.Marshal(limitsJSON{l.Risk, l.ButFailed, known(l.NotReady), known(l.NotRefilled), known(l.Busy), known(l.Waste)})
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (l *Limits) UnmarshalJSON(data []byte) error {
	var j limitsJSON
	err := json.Unmarshal(data, &j)
	*l = Limits{j.Risk, j.ButFailed, orNaN(j.NotReady), orNaN(j.NotRefilled), orNaN(j.Busy), orNaN(j.Waste)}
	return err
}
