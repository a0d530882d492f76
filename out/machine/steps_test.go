package machine

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/replicate"
)

type stepsRead struct {
	Recommended *struct {
		Alternative  *string
		Says, Judged string
		Left         []string `json:"not_a_step"`
	}
	Steps []struct {
		Alternative, Against, Verdict string
		Investment                    jsonMoney `json:"extra_investment"`
		Savings                       jsonMoney `json:"savings_per_year"`
		NPV, IRR                      jsonMoney
		Gains                         float64   `json:"chance_of_npv_above_0"`
		Simple                        jsonMoney `json:"simple_payback"`
		Discounted                    jsonMoney `json:"discounted_payback"`
	}
	Ranking struct {
		Highest string `json:"highest_mean_npv"`
	} `json:"worth_most"`
}

// The steps stand in the JSON of a comparison and of a payback, with the figures of their
// cases; the one that is recommended is not the one that is worth most.
func TestStepsInJSON(t *testing.T) {
	r, cases := invented.Steps(t, nil)
	var b bytes.Buffer
	require.NoError(t, CompareJSON(&b, about, invented.Results(), r, cases))
	texts := map[string]string{"compare": b.String(), "payback": invented.Written(t, func(w io.Writer) error { return PaybackJSON(w, about, cases[1]) })}
	for what, text := range texts {
		var j stepsRead
		require.NoError(t, json.Unmarshal([]byte(text), &j), what)
		require.Len(t, j.Steps, 2, what)
		assert.Equal(t, "zero-speed, 60 m", *j.Recommended.Alternative)
		assert.Contains(t, j.Recommended.Says, "is recommended")
		assert.Contains(t, j.Recommended.Judged, "exclude each other")
		assert.NotNil(t, j.Recommended.Left)
		x, c := j.Steps[1], r.Steps.List[1].Case
		assert.Equal(t, []string{"flying", "zero-speed, 60 m", "not_shown"}, []string{x.Alternative, x.Against, x.Verdict})
		assert.Equal(t, c.Random.NPV.Mean, *x.NPV.Value)
		assert.Equal(t, c.Random.NPV.Low, *x.NPV.Low)
		assert.Equal(t, c.Random.Investment.Mean, *x.Investment.Value)
		assert.Equal(t, c.Random.Total.Mean, *x.Savings.Value)
		assert.Equal(t, c.Random.IRR.Median, *x.IRR.Value)
		assert.Equal(t, c.Random.Simple.Median, *x.Simple.Value)
		assert.Equal(t, c.Random.Discounted.Median, *x.Discounted.Value)
		assert.Equal(t, c.Random.Gains, x.Gains)
		assert.Equal(t, "accepted", j.Steps[0].Verdict)
		if what == "compare" {
			assert.Equal(t, "flying", j.Ranking.Highest)
		}
	}
	// Nothing is recommended, and nothing to choose from.
	once, cases := invented.Steps(t, func(_ *model.Study, rs *replicate.Results) { rs.Run.Replications = 1 })
	var j stepsRead
	require.NoError(t, json.Unmarshal([]byte(invented.Written(t, func(w io.Writer) error { return PaybackJSON(w, about, cases[once.Best]) })), &j))
	require.NotNil(t, j.Recommended)
	assert.Nil(t, j.Recommended.Alternative)
	alone, _ := invented.Case(t, nil)
	text := invented.Written(t, func(w io.Writer) error { return PaybackJSON(w, about, alone) })
	assert.NotContains(t, text, `"steps"`)
	assert.NotContains(t, text, `"recommended"`)
}

func TestStepsInCSV(t *testing.T) {
	r, cases := invented.Steps(t, nil)
	rows, err := csv.NewReader(strings.NewReader(invented.Written(t, func(w io.Writer) error { return PaybackCSV(w, cases[1]) }))).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "against", rows[0][11])
	value := map[string]string{}
	for _, x := range rows[1:] {
		value[x[0]+" over "+x[11]+" "+x[1]] = x[4]
	}
	npv := r.Steps.List[1].Case.Random.NPV.Mean
	assert.Equal(t, full(npv), value["flying over zero-speed, 60 m step.npv"])
	assert.Equal(t, "0", value["flying over zero-speed, 60 m step.accepted"])
	assert.Equal(t, "1", value["zero-speed, 60 m over by hand step.accepted"])
	assert.Equal(t, full(r.Steps.List[1].Case.Random.Gains), value["flying over zero-speed, 60 m step.chance_of_npv_above_0"])
	assert.Equal(t, full(cases[1].Random.NPV.Mean), value["zero-speed, 60 m over by hand npv"])
	for _, name := range []string{"extra_investment", "savings.total", "irr", "simple_payback", "discounted_payback"} {
		assert.NotEmpty(t, value["flying over zero-speed, 60 m step."+name], name)
	}
}
