package report

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"rollchange/model"
	"rollchange/out/machine"
	"rollchange/out/words"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/savings"
	"rollchange/sim/whatif"
)

type estimateJSON struct {
	Unit string
	Mean *float64
	Half *float64 `json:"half_width"`
	Low  *float64
	High *float64
	Why  string `json:"half_width_reason"`
}

func (e estimateJSON) estimate() estimate.Estimate {
	why := map[string]estimate.Why{"": estimate.Symmetric, "it was 0": estimate.NotSeen, "it was t": estimate.Same, "too few ": estimate.TooFew, "the inte": estimate.Skewed, "one repl": estimate.OneReplication}
	return estimate.Estimate{Unit: e.Unit, Mean: orNaN(e.Mean), HalfWidth: orNaN(e.Half), Low: orNaN(e.Low), High: orNaN(e.High), Why: why[e.Why[:min(8, len(e.Why))]]}
}

func orNaN(x *float64) float64 {
	if x == nil {
		return math.NaN()
	}
	return *x
}

type metricsJSON struct {
	Metrics map[string]estimateJSON
}

type moneyJSON struct {
	Value, Mean, Median, Low, High *float64
	AtMeans                        *float64 `json:"at_means"`
	Half                           *float64 `json:"half_width"`
}

func (m moneyJSON) spread() savings.Spread {
	return savings.Spread{Low: orNaN(m.Low), High: orNaN(m.High), Median: orNaN(m.Median)}
}

// jsons are what the commands print of the same content.
type jsons struct {
	compare struct {
		Alternatives, Differences []metricsJSON
		Steps                     []map[string]json.RawMessage
	}
	sweeps map[string]struct {
		Points []struct{ Alternatives []metricsJSON }
	}
	cases []map[string]json.RawMessage
}

func jsonsOf(t *testing.T, c *Content) *jsons {
	j := &jsons{sweeps: map[string]struct {
		Points []struct{ Alternatives []metricsJSON }
	}{}}
	var b bytes.Buffer
	require.NoError(t, machine.CompareJSON(&b, c.About, c.Results, c.Rank, c.Cases))
	require.NoError(t, json.Unmarshal(b.Bytes(), &j.compare))
	for name, w := range map[string]*whatif.Sweep{"speed": c.Speed, "storage": c.Storage} {
		b.Reset()
		require.NoError(t, machine.SweepJSON(&b, c.About, c.Results.Run, w))
		x := j.sweeps[name]
		require.NoError(t, json.Unmarshal(b.Bytes(), &x))
		j.sweeps[name] = x
	}
	for _, k := range c.Cases {
		var m map[string]json.RawMessage
		if k != nil {
			b.Reset()
			require.NoError(t, machine.PaybackJSON(&b, c.About, k))
			require.NoError(t, json.Unmarshal(b.Bytes(), &m))
		}
		j.cases = append(j.cases, m)
	}
	return j
}

// Every figure in a table of the page says where it stands in the JSON; there
// it is found, and rounded once it reads as on the page.
func TestFiguresAreThoseOfTheJSON(t *testing.T) {
	effort.NotInRace(t)
	for _, name := range effort.Some([]string{"label_press", "laminator"}, 1) {
		t.Run(name, func(t *testing.T) {
			c := made(t, shipped(t, name))
			j := jsonsOf(t, c)
			n := parsed(t, written(t, c))
			units := unitsByRow(n)
			seen := map[string]int{}
			each(n, func(k *html.Node) {
				of := attr(k, "data-of")
				if of == "" {
					return
				}
				parts := strings.SplitN(of, ".", 2)
				seen[parts[0]]++
				text := textOf(k)
				assert.Equal(t, j.text(t, of, units[k], c), text, of)
			})
			for what, least := range map[string]int{"alternatives": 60, "differences": 40, "case": 60, "steps": 20, "speed": 15, "storage": 5} {
				assert.Greater(t, seen[what], least, what)
			}
		})
	}
}

// unitsByRow is the unit in the head of the row of each figure, or in that of
// its column.
func unitsByRow(n *html.Node) map[*html.Node][]string {
	units := map[*html.Node][]string{}
	each(n, func(table *html.Node) {
		if table.Data != "table" {
			return
		}
		var heads []string
		each(table, func(k *html.Node) {
			if k.Data == "th" && attr(k, "scope") == "col" {
				heads = append(heads, textOf(k))
			}
		})
		each(table, func(r *html.Node) {
			if r.Data != "tr" {
				return
			}
			row, col := "", 0
			for k := r.FirstChild; k != nil; k = k.NextSibling {
				switch k.Data {
				case "th":
					row = textOf(k.FirstChild)
				case "td":
					col++
					u := []string{last(row)}
					if col < len(heads) {
						u = append(u, last(heads[col]))
					}
					each(k, func(x *html.Node) { units[x] = u })
				}
			}
		})
	})
	return units
}

func last(s string) string {
	if i := strings.LastIndex(s, ", "); i >= 0 {
		return strings.NewReplacer("²", "2").Replace(s[i+2:])
	}
	return ""
}

// text is how a figure of the JSON reads.
func (j *jsons) text(t *testing.T, of string, unit []string, c *Content) string {
	parts := strings.Split(of, ".")
	at := func(i int) int {
		n, err := strconv.Atoi(parts[i])
		require.NoError(t, err, of)
		return n
	}
	read := func(m map[string]estimateJSON, metric string) (estimate.Estimate, model.Unit) {
		e, ok := m[metric]
		require.True(t, ok, "%s is not in the JSON", of)
		return e.estimate(), known(t, e.Unit, unit)
	}
	switch parts[0] {
	case "alternatives":
		e, u := read(j.compare.Alternatives[at(1)].Metrics, strings.Join(parts[2:], "."))
		return words.Figure(e, u)
	case "differences":
		metric := strings.Join(parts[2:], ".")
		m := j.compare.Differences[at(1)-1].Metrics
		if _, both := m[metric]; !both { // one of the two cannot have that hold
			e, ok := j.compare.Alternatives[at(1)].Metrics[metric]
			sign := 1.0
			if !ok {
				e, sign = j.compare.Alternatives[0].Metrics[metric], -1
			}
			d := e.estimate()
			d.Mean *= sign
			if !d.Shown() {
				return "~"
			}
			return words.Difference(d, known(t, e.Unit, unit))
		}
		e, u := read(m, metric)
		if !e.Shown() {
			return "~"
		}
		return words.Difference(e, u)
	case "speed", "storage":
		e, u := read(j.sweeps[parts[0]].Points[at(1)].Alternatives[at(2)].Metrics, strings.Join(parts[3:], "."))
		if e.Unit == "1" && e.Mean > 0 && e.Mean < 1e-5 {
			return words.Chance(e.Mean)
		}
		return words.Figure(e, u)
	case "case":
		return j.money(t, j.cases[at(1)], parts[2:], c)
	case "steps":
		return stepText(t, j.compare.Steps[at(1)], parts[2:])
	}
	t.Fatalf("%s: from nowhere", of)
	return ""
}

// known is the unit of an SI unit that has one of the names.
func known(t *testing.T, si string, names []string) model.Unit {
	for _, largest := range []float64{1e-12, 1e-9, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 0.1, 1, 10, 100, 1e4, 1e6} {
		if u := words.ShownUnit(si, largest, model.Metric); slices.Contains(names, u.Name) {
			return u
		}
	}
	t.Fatalf("no unit of %q among %q", si, names)
	return model.Unit{}
}
