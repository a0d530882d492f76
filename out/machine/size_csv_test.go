package machine

import (
	"encoding/json"
	"io"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// sized are invented answers, a storage, a speed and a crew, with every figure that
// one can have.
func sized() []*whatif.Answer {
	nan := math.NaN()
	at := func(x, good, chance float64) whatif.Trial {
		return whatif.Trial{X: x, Possible: true, Replications: 20, Metrics: replicate.Metrics{metric.GoodRate: invented.Speed(60*good, 0.5), metric.Depletion: invented.Share(chance, chance/10)}}
	}
	most := at(2.25, 1.75, 0.01)
	limit := func(name string, most, value, low, high float64) whatif.Binding {
		return whatif.Binding{Constraint: whatif.Constraint{By: whatif.ALimit, Bound: whatif.Bound{Metric: name, Most: most}}, Value: value, Low: low, High: high}
	}
	never := limit(metric.Waste, 0.03, 0.5, nan, nan)
	never.Never = true
	return []*whatif.Answer{
		{Kind: whatif.Storage, Of: whatif.UnwindStorage, Alternative: "=zero-speed, 60 m", Dim: model.Length, Met: true, Value: 61.5, Low: 60.25, High: 63, Now: 60, Metric: metric.Depletion,
			LimitedBy:  whatif.Constraint{By: whatif.LongDwell},
			ClosedForm: &whatif.ClosedForm{Value: 59.75, Other: []whatif.Other{{Dwell: model.Gamma, Value: 58.5}}},
			Failed:     &whatif.Failed{Fails: 0.01, Add: invented.Share(0.008, 0.001), Value: 250, Low: 240, High: math.Inf(1), Most: 1000},
			Short:      &whatif.Short{X: 61.5, Needed: 36500, Enough: 55},
			Strands:    []whatif.Strands{{Strands: 8, Travel: 3.75, Speed: 0.25, Tension: nan}},
			Curve:      []whatif.CurvePoint{{X: 55, Chance: invented.Share(0.01, 0.002)}, {X: 61.5, Chance: invented.Share(0.001, 0.0001), Simulated: true}},
			Again:      []float64{400},
			Notes:      []whatif.Note{whatif.RecordsNeed{Value: 70, Observed: 60, Confidence: 0.95}},
			Evidence:   []whatif.Trial{at(61.5, 1.5, 0.001), {X: 3, Why: "too small"}}},
		{Kind: whatif.Speed, Of: whatif.LineSpeed, Alternative: "zero-speed, 60 m", Dim: model.Speed, Value: nan, Low: nan, High: nan, Now: 2,
			Next: []whatif.Binding{never, limit(metric.Depletion, 0.001, 2.125, 2, 2.25), limit(metric.CrewBusy, 0.9, nan, nan, nan)}, Most: &most, Again: []float64{2.5}},
		{Kind: whatif.Crew, Of: whatif.Operators, Alternative: "by hand", Dim: model.Number, Met: true, Value: 2, Low: 2, High: 2, Now: 1},
	}
}

func TestAnswersCSVGolden(t *testing.T) {
	invented.Golden(t, "size.csv", []byte(invented.Written(t, func(w io.Writer) error { return AnswersCSV(w, sized()) })))
}

// Every figure of the rows is the one of that name in JSON, to the last bit.
func TestAnswersCSVSaysWhatJSONSays(t *testing.T) {
	answers := sized()
	rows := invented.Rows(t, invented.Written(t, func(w io.Writer) error { return AnswersCSV(w, answers) }))
	require.Equal(t, []string{"question", "of", "alternative", "met", "figure", "name", "at", "unit", "value", "low", "high"}, rows[0])
	seen := map[string]int{}
	for _, a := range answers {
		var j struct {
			Answer jsonValue
			Now    *float64
			Form   *struct{ Value *float64 } `json:"closed_form"`
			Failed *jsonFailed               `json:"made_by_hand"`
			Short  *jsonShort                `json:"too_little_simulated"`
			Binds  []jsonBinding
			Most   *jsonTrial `json:"greatest_output"`
			Curve  []jsonCurvePoint
			Rec    *jsonNeed `json:"records"`
			Again  []float64 `json:"target_missed_again"`
			Anew   []float64 `json:"every_limit_holds_again"`
		}
		text := invented.Written(t, func(w io.Writer) error {
			return AnswersJSON(w, about, []*whatif.Answer{a}, replicate.RunInfo{}, model.Metric)
		})
		require.NoError(t, json.Unmarshal([]byte(text), &j))
		want := map[string][][3]*float64{"answer": {{j.Answer.Value, j.Answer.Low, j.Answer.High}}, "now": {{j.Now}}}
		if j.Form != nil {
			want["closed_form"] = [][3]*float64{{j.Form.Value}, {orNull(58.5)}}
		}
		if j.Failed != nil {
			adds := j.Failed.Adds
			want["made_by_hand"] = [][3]*float64{{adds.Mean, adds.Low, adds.High}, {j.Failed.Value, j.Failed.Low, j.Failed.High}}
		}
		if j.Short != nil {
			want["too_little_simulated"] = [][3]*float64{{j.Short.Needed}, {j.Short.Replications}}
		}
		for _, b := range j.Binds {
			figure := map[bool]string{false: "binds", true: "never_holds"}[b.Never]
			want[figure] = append(want[figure], [3]*float64{b.Above, b.Low, b.High})
		}
		if j.Most != nil {
			good := j.Most.Metrics[metric.GoodRate]
			want["greatest_output"] = [][3]*float64{{&j.Most.Value}, {good.Mean, good.Low, good.High}}
		}
		for _, p := range j.Curve {
			if !p.Simulated {
				want["calculated"] = append(want["reckoned"], [3]*float64{&p.Chance, p.Low, p.High})
			}
		}
		if j.Rec != nil {
			want["records"] = [][3]*float64{{j.Rec.Storage}}
		}
		for _, x := range j.Again {
			want["target_missed_again"] = append(want["target_missed_again"], [3]*float64{&x})
		}
		for _, x := range j.Anew {
			want["every_limit_holds_again"] = append(want["every_limit_holds_again"], [3]*float64{&x})
		}
		got := map[string][][3]*float64{}
		for _, r := range rows[1:] {
			if r[0] == a.Kind {
				figure := r[4]
				var x [3]*float64
				for i, text := range r[8:11] {
					if v, err := strconv.ParseFloat(text, 64); err == nil {
						x[i] = &v
					} else {
						assert.Empty(t, text, "%v", r)
					}
				}
				got[figure] = append(got[figure], x)
				assert.Equal(t, strconv.FormatBool(a.Met), r[3])
			}
		}
		for figure, list := range want {
			seen[figure]++
			assert.Equal(t, list, got[figure], "%s %s", a.Kind, figure)
		}
	}
	assert.Len(t, seen, 12, "every figure is looked at: %v", seen)
}
