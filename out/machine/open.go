package machine

import (
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// jsonOpen is which records stand behind the second half widths, and which part each has
// of the variance that they leave of the good web.
type jsonOpen struct {
	Draws int              `json:"draws"`
	Laws  []jsonOpenRecord `json:"laws"`
}

type jsonOpenRecord struct {
	Key      string             `json:"key"`
	Observed int                `json:"observed"`
	Good     map[string]float64 `json:"share_of_good_rate"`                      // by alternative
	Against  map[string]float64 `json:"share_of_good_rate_difference,omitempty"` // of its difference from the first
}

// openJSON is what the records leave open, of the alternatives named or all; nil where
// that was not looked for.
func openJSON(rs *replicate.Results, only ...int) *jsonOpen {
	o := rs.Open
	if o == nil {
		return nil
	}
	if only == nil {
		for i := range rs.Alternatives {
			only = append(only, i)
		}
	}
	j := &jsonOpen{Draws: o.Draws, Laws: []jsonOpenRecord{}}
	for k, r := range o.Records {
		x := jsonOpenRecord{Key: r.Key, Observed: r.Observed, Good: map[string]float64{}, Against: map[string]float64{}}
		for _, i := range only {
			if p := o.Good[i].Parts; k < len(p) {
				x.Good[rs.Alternatives[i].Alternative] = p[k]
			}
			if p := o.Against[i].Parts; k < len(p) {
				x.Against[rs.Alternatives[i].Alternative] = p[k]
			}
		}
		j.Laws = append(j.Laws, x)
	}
	return j
}

// jsonNeed is the storage that holds a target over what the records leave open.
type jsonNeed struct {
	Storage    *float64 `json:"storage_m"` // null: not known
	Observed   int      `json:"observed"`
	Confidence float64  `json:"confidence"`
	Beyond     bool     `json:"rarer_than_observed"` // no data speak of the target
	Law        string   `json:"dist,omitempty"`
	Rival      string   `json:"rival_dist,omitempty"` // that as many values fit as well
	RivalValue *float64 `json:"rival_storage_m,omitempty"`
	Draws      int      `json:"draws,omitempty"` // of all records, where waits decide
}

func needJSON(a *whatif.Answer) *jsonNeed {
	for _, n := range a.Notes {
		if r, ok := n.(whatif.RecordsNeed); ok {
			j := &jsonNeed{orNull(r.Value), r.Observed, r.Confidence, r.Decides && r.Beyond(), string(r.Law), string(r.Rival), nil, r.Draws}
			if r.Rival != "" {
				j.RivalValue = orNull(r.RivalValue)
			}
			return j
		}
	}
	return nil
}
