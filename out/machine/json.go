package machine

import (
	"io"
	"math"
	"strconv"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/match"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

type jsonTool struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

type jsonScenario struct {
	Title       string            `json:"title"`
	File        string            `json:"file"`
	SHA256      string            `json:"sha256"` // of the file, without what was set
	Alternative string            `json:"alternative,omitempty"`
	Set         map[string]string `json:"set,omitempty"` // on the command line, by key
}

type jsonRun struct {
	Seed         uint64  `json:"seed"`
	Replications int     `json:"replications"`
	Confidence   float64 `json:"confidence"`
	Horizon      float64 `json:"horizon_s"`
	WarmUp       float64 `json:"warm_up_s"`
	Controls     string  `json:"controls"`
}

type jsonEstimate struct {
	Unit          string             `json:"unit"`
	Mean          *float64           `json:"mean"`
	HalfWidth     *float64           `json:"half_width"`
	Why           string             `json:"half_width_reason,omitempty"` // there is none
	Low           *float64           `json:"low"`
	High          *float64           `json:"high"`
	HalfRecords   *float64           `json:"half_width_records,omitempty"` // these with what the records leave open
	LowRecords    *float64           `json:"low_records,omitempty"`
	HighRecords   *float64           `json:"high_records,omitempty"`
	Needed        int                `json:"replications_needed,omitempty"`
	SD            *float64           `json:"sd"`
	N             int                `json:"n"`
	Quantiles     map[string]float64 `json:"quantiles,omitempty"`
	QuantileError *float64           `json:"quantile_error,omitempty"`
}

type jsonBalance struct {
	Metres  float64 `json:"metres"`
	Seconds float64 `json:"seconds"`
}

type jsonResult struct {
	Name    string                  `json:"name,omitempty"`
	Metrics map[string]jsonEstimate `json:"metrics"`
	Balance jsonBalance             `json:"balance"`
	Narrow  *float64                `json:"narrowed,omitempty"` // half width of good_rate over that without controls
}

type jsonDifference struct {
	Alternative string                  `json:"alternative"`
	Against     string                  `json:"against"`
	Metrics     map[string]jsonEstimate `json:"metrics"`
}

// orNull is nil, null in JSON, for a figure that is not known.
//
// It is called from many places: in line it would make the engine of a page larger.
//
//go:noinline
func orNull(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

func toJSON(e estimate.Estimate, withRecords bool) jsonEstimate {
	j := jsonEstimate{Unit: e.Unit, Mean: orNull(e.Mean), HalfWidth: orNull(e.HalfWidth), Why: reason(e), Low: orNull(e.Low), High: orNull(e.High), Needed: e.Needed, SD: orNull(e.SD), N: e.N}
	if withRecords {
		w := e.WithRecords()
		j.HalfRecords, j.LowRecords, j.HighRecords = orNull(w.HalfWidth), orNull(w.Low), orNull(w.High)
	}
	return j
}

// reason says why an estimate has no half width.
func reason(e estimate.Estimate) string {
	switch e.Why {
	case estimate.OneReplication:
		return "one replication says nothing of the spread"
	case estimate.TooFew:
		return "too few events carry the figure for an interval of so few replications"
	case estimate.NotSeen:
		return "it was 0 in every replication"
	case estimate.Same:
		return "it was the same in every replication"
	case estimate.Skewed:
		return "the interval is not symmetric: low, high"
	}
	return ""
}

// quantiles are the chances at which the distribution of storage content is given.
var quantiles = []float64{0.001, 0.01, 0.05, 0.5, 0.95, 0.99, 0.999}

func resultJSON(r replicate.Result, withRecords bool) jsonResult {
	j := jsonResult{Name: r.Alternative, Metrics: map[string]jsonEstimate{},
		Balance: jsonBalance{r.Balance.Metres, r.Balance.Seconds}, Narrow: orNull(r.Narrowed)}
	for name, e := range r.Metrics {
		x := toJSON(e, withRecords)
		h := map[string]*sim.Histogram{metric.UnwindLowest: r.Lowest, metric.RewindHighest: r.Highest}[name]
		if h != nil && h.Total() > 0 {
			x.Quantiles = map[string]float64{}
			for _, p := range quantiles {
				x.Quantiles[strconv.FormatFloat(p, 'g', -1, 64)] = h.Quantile(p)
			}
			x.QuantileError = orNull(h.Width())
		}
		j.Metrics[name] = x
	}
	return j
}

func scenarioOf(a words.About, alternative string) jsonScenario {
	j := jsonScenario{Title: a.Title, File: a.File, SHA256: a.SHA256, Alternative: alternative}
	for _, x := range a.Set {
		if j.Set == nil {
			j.Set = map[string]string{}
		}
		j.Set[x[0]] = x[1]
	}
	return j
}

func runJSON(r replicate.RunInfo) jsonRun {
	controls := "draws"
	if r.NoControls {
		controls = "none"
	}
	return jsonRun{r.Seed, r.Replications, r.Confidence, r.Horizon, r.WarmUp, controls}
}

// RunJSON writes one alternative as
// {"tool","scenario","run","metrics","balance"}, SI units, full precision; "recorded"
// where what the line really made was compared.
func RunJSON(w io.Writer, about words.About, rs *replicate.Results, alternative int, recorded *match.Answer) error {
	r := resultJSON(rs.Alternatives[alternative], rs.Open != nil)
	return encode(w, struct {
		Tool     jsonTool                `json:"tool"`
		Scenario jsonScenario            `json:"scenario"`
		Run      jsonRun                 `json:"run"`
		Metrics  map[string]jsonEstimate `json:"metrics"`
		Balance  jsonBalance             `json:"balance"`
		Records  *jsonOpen               `json:"records,omitempty"`
		Recorded *jsonMatch              `json:"recorded,omitempty"`
	}{jsonTool{"rollchange", about.Version}, scenarioOf(about, r.Name), runJSON(rs.Run), r.Metrics, r.Balance, openJSON(rs, alternative), matchJSON(recorded)})
}

// CompareJSON writes all alternatives, their paired differences from the first,
// the savings cases that could be calculated, null when there is none, which
// of them is worth most, and the steps of investment between them. Cases are by alternative, nil where there is none.
func CompareJSON(w io.Writer, about words.About, rs *replicate.Results, rank savings.Ranking, cases []*savings.Case) error {
	var economics []jsonCase
	for _, c := range cases {
		if c != nil {
			economics = append(economics, caseJSON(c))
		}
	}
	var alternatives []jsonResult
	differences := []jsonDifference{}
	rows := words.Compare(rs, model.Metric)
	for i, r := range rs.Alternatives {
		alternatives = append(alternatives, resultJSON(r, rs.Open != nil))
		if i == 0 {
			continue
		}
		d := jsonDifference{r.Alternative, rs.Alternatives[0].Alternative, map[string]jsonEstimate{}}
		for _, row := range rows {
			if x := row.Cells[i]; x.Difference != nil && !x.Alone {
				d.Metrics[row.Name] = toJSON(*x.Difference, rs.Open != nil)
			}
		}
		differences = append(differences, d)
	}
	return encode(w, struct {
		Tool         jsonTool         `json:"tool"`
		Scenario     jsonScenario     `json:"scenario"`
		Run          jsonRun          `json:"run"`
		Alternatives []jsonResult     `json:"alternatives"`
		Differences  []jsonDifference `json:"differences"`
		Economics    []jsonCase       `json:"economics"`
		Ranking      *jsonRanking     `json:"worth_most"`
		jsonSteps
		Records *jsonOpen `json:"records,omitempty"`
	}{jsonTool{"rollchange", about.Version}, scenarioOf(about, ""), runJSON(rs.Run), alternatives, differences, economics, rankJSON(rank, cases), stepsJSON(&rank.Steps), openJSON(rs)})
}
