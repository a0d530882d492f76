package machine

import (
	"io"
	"math"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// jsonEnd is one end of an input: the metric there, and what separates it from
// the base. Difference is in the unit of the metric, of a share in points.
type jsonEnd struct {
	Text       string   `json:"text"`
	Mean       *float64 `json:"mean"`
	Difference *float64 `json:"difference"`
	HalfWidth  *float64 `json:"difference_half_width"`
	Shown      *bool    `json:"shown"` // null: one replication, or no possible line
}

type jsonSwing struct {
	Key   string   `json:"key"`
	Base  string   `json:"base"`
	Low   jsonEnd  `json:"low"`
	High  jsonEnd  `json:"high"`
	Total *float64 `json:"total_effect"`
}

type jsonSensitivity struct {
	Metric string      `json:"metric"`
	Label  string      `json:"label"`
	Unit   string      `json:"unit"`
	Apart  string      `json:"difference_unit"`
	Base   *float64    `json:"base"`
	Half   *float64    `json:"half_width"`
	Inputs []jsonSwing `json:"inputs"`
	Varies *jsonVaries `json:"varies"` // null: not looked at, or not known
}

// jsonVaries is how a metric varies from period to period by chance; the share
// of a source is of the variance, with all interactions.
type jsonVaries struct {
	Period  float64      `json:"period_s"`
	SD      *float64     `json:"sd"`
	How     string       `json:"how"` // "split" by the known means of the draws, or each source "redrawn"
	Sources []jsonSource `json:"sources"`
	Rest    *jsonSource  `json:"rest,omitempty"` // of a split: what sources do together, and those whose effect is not known
}

type jsonSource struct {
	Key       string   `json:"key,omitempty"`
	Share     *float64 `json:"share"`
	HalfWidth *float64 `json:"half_width"`
}

// SensitivityJSON writes a sensitivity, SI units; differences of shares are in
// points, as in the table. What inputs are moved to stands in the units of sys.
func SensitivityJSON(w io.Writer, about words.About, s *whatif.Sensitivities, run replicate.RunInfo, sys model.System) error {
	metrics := []jsonSensitivity{}
	for _, name := range s.Metrics {
		list := s.Swings[name]
		unit, apart, scale := words.UnitOf(name), words.UnitOf(name), 1.0
		switch {
		case name == "savings":
			unit, apart = s.Currency+"/year", s.Currency+"/year"
		case name == "npv":
			unit, apart = s.Currency, s.Currency
		case name == "payback":
			unit, apart = "years", "years"
		case unit == "1":
			apart, scale = "points", 100
		}
		end := func(x whatif.Swing, k int) jsonEnd {
			at, half := [2]float64{x.Low, x.Up}[k], [2]float64{x.LowHalf, x.UpHalf}[k]
			j := jsonEnd{Text: words.SettingText(x.At[2*k], sys), Mean: orNull(at), Difference: orNull(scale * (at - x.Base)), HalfWidth: orNull(scale * half)}
			if shown := x.Shown(k); !math.IsNaN(at) && !math.IsNaN(half) {
				j.Shown = &shown
			}
			return j
		}
		m := jsonSensitivity{Metric: name, Label: words.StakeReading(s, name, 0, "").Label, Unit: unit, Apart: apart, Base: orNull(list[0].Base), Half: orNull(list[0].BaseHalf)}
		for _, x := range list {
			m.Inputs = append(m.Inputs, jsonSwing{x.Key, words.SettingText(x.At[1], sys), end(x, 0), end(x, 1), orNull(x.Total)})
		}
		if v, ok := s.Varies[name]; ok {
			m.Varies = &jsonVaries{Period: s.Period, SD: orNull(v.SD), How: "redrawn", Sources: []jsonSource{}}
			if v.Split {
				m.Varies.How, m.Varies.Rest = "split", &jsonSource{"", orNull(v.Rest.Share), orNull(v.Rest.Half)}
			}
			for _, x := range v.Sources {
				m.Varies.Sources = append(m.Varies.Sources, jsonSource{x.Key, orNull(x.Share), orNull(x.Half)})
			}
		}
		metrics = append(metrics, m)
	}
	return encode(w, struct {
		Tool     jsonTool          `json:"tool"`
		Scenario jsonScenario      `json:"scenario"`
		Against  string            `json:"against,omitempty"`
		Run      jsonRun           `json:"run"`
		MovedBy  float64           `json:"moved_by"`
		Metrics  []jsonSensitivity `json:"metrics"`
		Missed   *float64          `json:"total_missed,omitempty"` // share of the variance that the surface of the totals misses
		Skipped  []string          `json:"not_moved"`
		Lacking  []string          `json:"not_known,omitempty"`
	}{jsonTool{"rollchange", about.Version}, scenarioOf(about, s.Alternative), s.Against, runJSON(run), s.Share, metrics, orNull(s.Missed), words.UnmovedTexts(s), words.LackTexts(s)})
}
