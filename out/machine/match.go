package machine

import "rollchange/sim/match"

// jsonMatch is what the line really made beside what the model makes.
type jsonMatch struct {
	Alternative string         `json:"alternative"`
	Hours       float64        `json:"planned_s"`
	Lines       int            `json:"lines"`
	Periods     int            `json:"periods"`
	Confidence  float64        `json:"confidence"`
	Records     bool           `json:"with_records"`
	Figures     []jsonMatchRow `json:"figures"`
}

type jsonMatchRow struct {
	Figure   string   `json:"figure"`
	Hold     string   `json:"hold,omitempty"`
	Unit     string   `json:"unit"`
	Recorded *float64 `json:"recorded"`
	Mean     *float64 `json:"mean"`
	Low      *float64 `json:"prediction_low"`
	High     *float64 `json:"prediction_high"`
	Agrees   bool     `json:"agrees"`
	Fitted   bool     `json:"fitted"`
	Missing  bool     `json:"not_in_model,omitempty"`
}

func matchJSON(a *match.Answer) *jsonMatch {
	if a == nil {
		return nil
	}
	j := &jsonMatch{Alternative: a.Alternative, Hours: a.Hours, Lines: a.Lines, Periods: a.Periods, Confidence: a.Confidence, Records: a.Records, Figures: []jsonMatchRow{}}
	for _, r := range a.Rows {
		j.Figures = append(j.Figures, jsonMatchRow{string(r.Figure), r.Hold, r.Unit, orNull(r.Recorded), orNull(r.Mean), orNull(r.Low), orNull(r.High), r.Agrees(), r.Fitted, r.Missing})
	}
	return j
}
