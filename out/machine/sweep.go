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
						line[len(line)-1] = words.BoundText(b)
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
	Broken  []jsonBound             `json:"limits_broken"`
}

type jsonBound struct {
	Metric string  `json:"metric"`
	Most   float64 `json:"most"`
	Rate   bool    `json:"rate,omitempty"`
	Words  string  `json:"words"`
	Asked  string  `json:"asked,omitempty"`
}

func boundsJSON(bounds []whatif.Bound) []jsonBound {
	list := []jsonBound{}
	for _, b := range bounds {
		list = append(list, jsonBound{b.Metric, b.Most, b.Rate, words.BoundText(b), b.Asked})
	}
	return list
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
				m := resultJSON(r, false).Metrics
				j.Alternatives = append(j.Alternatives, jsonPointOfOneAlternative{r.Alternative, m, boundsJSON(p.Binds[k])})
			}
		}
		points = append(points, j)
	}
	return encode(w, struct {
		Tool     jsonTool     `json:"tool"`
		Scenario jsonScenario `json:"scenario"`
		Run      jsonRun      `json:"run"`
		Axes     []jsonAxis   `json:"axes"`
		Limits   []jsonBound  `json:"limits"`
		Points   []jsonPoint  `json:"points"`
	}{jsonTool{"rollchange", about.Version}, scenarioOf(about, ""), runJSON(run), axes, boundsJSON(s.Limits.Bounds()), points})
}
