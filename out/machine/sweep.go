package machine

import (
	"encoding/csv"
	"io"
	"strconv"

	"rollchange/out/words"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// SweepCSV writes one row for each point, alternative and metric, SI units.
func SweepCSV(w io.Writer, s *whatif.Sweep) error {
	c := csv.NewWriter(w)
	var head []string
	for _, a := range s.Axes {
		head = append(head, cell(a.Key))
	}
	_ = c.Write(append(head, "alternative", "metric", "unit", "mean", "half_width", "sd", "n", "limit_broken"))
	for i := range s.Points {
		p := &s.Points[i]
		if p.Results == nil {
			continue
		}
		for k, r := range p.Results.Alternatives {
			for _, name := range r.Names {
				var line []string
				for a, x := range p.At {
					line = append(line, full(s.Axes[a].Values[x]))
				}
				e := r.Metrics[name]
				line = append(line, cell(r.Alternative), cell(name), e.Unit, full(e.Mean), full(e.HalfWidth), full(e.SD), strconv.Itoa(e.N), "")
				for _, b := range p.Binds[k] {
					if b.Metric == name {
						line[len(line)-1] = b.Words
					}
				}
				_ = c.Write(line)
			}
		}
	}
	c.Flush()
	return c.Error()
}

type jsonAxis struct {
	Key    string    `json:"key"`
	Dim    string    `json:"measures"`
	Values []float64 `json:"values"`
	Texts  []string  `json:"texts"`
	Log    bool      `json:"log"`
}

type jsonPoint struct {
	At           []float64                   `json:"at"`
	LeftOut      *string                     `json:"left_out"`
	Alternatives []jsonPointOfOneAlternative `json:"alternatives"`
}

type jsonPointOfOneAlternative struct {
	Name    string                  `json:"name"`
	Metrics map[string]jsonEstimate `json:"metrics"`
	Broken  []whatif.Bound          `json:"limits_broken"`
}

// SweepJSON writes a sweep, SI units, full precision.
func SweepJSON(w io.Writer, about words.About, run replicate.RunInfo, s *whatif.Sweep) error {
	var axes []jsonAxis
	for _, a := range s.Axes {
		axes = append(axes, jsonAxis{a.Key, string(a.Dim), a.Values, a.Texts, a.Log})
	}
	points := []jsonPoint{}
	for i := range s.Points {
		p := &s.Points[i]
		j := jsonPoint{Alternatives: []jsonPointOfOneAlternative{}}
		for k, x := range p.At {
			j.At = append(j.At, s.Axes[k].Values[x])
		}
		if p.LeftOut != "" {
			j.LeftOut = &p.LeftOut
		}
		if p.Results != nil {
			for k, r := range p.Results.Alternatives {
				m := resultJSON(r, p.Results.Run).Metrics
				broken := append([]whatif.Bound{}, p.Binds[k]...)
				j.Alternatives = append(j.Alternatives, jsonPointOfOneAlternative{r.Alternative, m, broken})
			}
		}
		points = append(points, j)
	}
	return encode(w, struct {
		Tool     jsonTool       `json:"tool"`
		Scenario jsonScenario   `json:"scenario"`
		Run      jsonRun        `json:"run"`
		Axes     []jsonAxis     `json:"axes"`
		Limits   []whatif.Bound `json:"limits"`
		Points   []jsonPoint    `json:"points"`
	}{jsonTool{"rollchange", about.Version}, scenarioOf(about, ""), runJSON(run), axes, s.Limits.Bounds(), points})
}
