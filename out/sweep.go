package out

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/whatif"
)

// sweptColumns are the metrics of the table of a sweep; those that no point of
// an alternative has are left out.
var sweptColumns = []struct{ metric, head string }{
	{"good_rate", "good web"},
	{"waste.total", "waste"},
	{"splice.depletion", "depletion"},
	{"transfer.overfill", "overfill"},
	{"time.stopped", "stopped"},
	{"crew.utilisation", "crew busy"},
}

// SweepTable writes a sweep for people: a block for each alternative, a row for
// each point, the figures with their half widths and which limits do not hold there.
func SweepTable(w io.Writer, about About, s *whatif.Sweep, sys model.System, color bool) error {
	var b strings.Builder
	fmt.Fprintln(&b, bold(shorten(safe(about.Title), 100), color))
	if run, ok := runOf(s); ok {
		fmt.Fprintln(&b, wrap("Each point: "+head(run), 100))
	}
	keys := &limitKey{}
	for i, name := range s.Alternatives {
		fmt.Fprintf(&b, "\n%s\n", bold(shorten(safe(name), 100), color))
		sweepBlock(&b, s, i, sys, keys)
	}
	for _, k := range keys.list {
		fmt.Fprintf(&b, "\n%s %s", k.mark, wrap(k.words, 96))
	}
	if len(keys.list) > 0 {
		fmt.Fprintln(&b)
	}
	n := 0
	for _, p := range s.Points {
		if p.LeftOut == "" {
			continue
		}
		if n++; n == 1 {
			fmt.Fprint(&b, "\nLeft out, no possible line:\n")
		}
		fmt.Fprintf(&b, "  %s: %s\n", shorten(pointName(s, &p), 60), shorten(safe(p.LeftOut), 120))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// limitKey numbers the limits that do not hold somewhere, in order of appearance.
type limitKey struct {
	list []struct{ mark, words string }
}

func (k *limitKey) mark(words string) string {
	for _, x := range k.list {
		if x.words == words {
			return x.mark
		}
	}
	m := fmt.Sprintf("[%d]", len(k.list)+1)
	k.list = append(k.list, struct{ mark, words string }{m, words})
	return m
}

func sweepBlock(b *strings.Builder, s *whatif.Sweep, alternative int, sys model.System, keys *limitKey) {
	first := 0
	for i := range s.Points {
		first = max(first, columns(pointName(s, &s.Points[i])))
	}
	first = min(first, 36)
	type column struct {
		metric, head string
		unit         model.Unit
	}
	var cols []column
	for _, c := range sweptColumns {
		largest, unit := math.NaN(), ""
		for i := range s.Points {
			if r := s.Points[i].Results; r != nil {
				if e, ok := r.Alternatives[alternative].Metrics[c.metric]; ok {
					largest, unit = math.Max(orZero(largest), math.Abs(e.Mean)), e.Unit
				}
			}
		}
		if math.IsNaN(largest) || largest == 0 && c.metric == "transfer.overfill" {
			continue
		}
		u := shown(unit, largest, sys)
		cols = append(cols, column{c.metric, c.head + ", " + u.Name, u})
	}
	const width = 16
	fmt.Fprint(b, pad("", first+2))
	for _, c := range cols {
		fmt.Fprint(b, padLeft(c.head, width))
	}
	fmt.Fprintln(b)
	for i := range s.Points {
		p := &s.Points[i]
		if p.Results == nil {
			continue
		}
		fmt.Fprint(b, "  "+pad(shorten(pointName(s, p), first), first))
		for _, c := range cols {
			text := "–"
			if e, ok := p.Results.Alternatives[alternative].Metrics[c.metric]; ok {
				text = figure(e, c.unit)
				if e.Unit == "1" && e.Mean > 0 && e.Mean < 1e-5 {
					text = shareText(e.Mean)
				}
			}
			if columns(text) > width-1 {
				e := p.Results.Alternatives[alternative].Metrics[c.metric]
				if text = limits(e, c.unit); e.Why != estimate.Skewed {
					text = fmt.Sprintf("%.4g ± %.1g", c.unit.From(e.Mean), c.unit.From(e.HalfWidth))
				}
			}
			fmt.Fprint(b, padLeft(shorten(text, width-1), width))
		}
		for _, bound := range p.Binds[alternative] {
			fmt.Fprint(b, " "+keys.mark(bound.Words))
		}
		fmt.Fprintln(b)
	}
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// pointName is where a point is: "line.speed 150 m/min, crew.operators 2".
func pointName(s *whatif.Sweep, p *whatif.Point) string {
	var parts []string
	for i, x := range p.At {
		parts = append(parts, s.Axes[i].Key+" "+safe(s.Axes[i].Texts[x]))
	}
	return strings.Join(parts, ", ")
}

// runOf is how the points of a sweep were simulated.
func runOf(s *whatif.Sweep) (sim.RunInfo, bool) {
	for i := range s.Points {
		if r := s.Points[i].Results; r != nil {
			return r.Run, true
		}
	}
	return sim.RunInfo{}, false
}

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
func SweepJSON(w io.Writer, about About, run sim.RunInfo, s *whatif.Sweep) error {
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
