package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// A figure that too few events carry for limits says so beside it, and has no ± without
// a number: of the week of labels the changeovers, of which few are begun before a night and end after it.
func TestWithoutLimits(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"label_week", "bag_machines", "bagger_speed"}[:effort.Of(1, 3, 3)] {
		e, _ := opening(t, shippedText(t, name))
		a := answered(t, e, nil)
		text, err := json.Marshal(a)
		require.NoError(t, err)
		assert.NotContains(t, string(text), "± ?", name)
		few := 0
		for _, f := range listOf(t, a["figures"]) {
			for i, x := range listOf(t, f["alternatives"]) {
				if x["few"] == true {
					few++
					assert.NotContains(t, x["text"], "±")
					assert.Nil(t, x["low"])
				}
				if d := listOf(t, f["difference"])[i]; d["few"] == true {
					assert.NotEqual(t, "~", d["text"], "%s %v: a difference without limits is not known, which is not to say that there is none", name, f["name"])
				}
			}
		}
		assert.Positive(t, few, name)
		if name == "label_week" {
			changeover := figureOf(t, a, "time.stopped.changeover", 1)
			assert.Equal(t, []any{true, "11.2"}, []any{changeover["few"], changeover["text"]})
			assert.Equal(t, "orders on time, of 24", listOf(t, a["figures"])[1]["label"])
		}
	}
}

// What is read first is about the alternative that is recommended, of a list of orders
// too; in short stand the recommendation and what it saves, and what is doubtful about
// the money of an alternative stands with it.
func TestWhatIsReadFirst(t *testing.T) {
	t.Parallel()
	e, _ := opening(t, shippedText(t, "bag_machines"))
	a := answered(t, e, nil)
	says := a["sentences"].([]any)
	assert.Contains(t, says[0], `Against "by hand", "automatic, a handler at night too" is done`)
	assert.Contains(t, says[1], `Against "by hand", "automatic" is done`)
	short := a["short"].([]any)
	require.Len(t, short, 2)
	assert.Equal(t, `"automatic, a handler at night too" is recommended: of 2 alternatives, in order of investment, it is the last whose step is shown to pay.`, short[0])
	assert.Contains(t, short[1], `"automatic, a handler at night too" saves `)
	for _, s := range says {
		assert.NotContains(t, s, " saves ", "once is enough")
	}
	for i, m := range listOf(t, a["money"]) {
		assert.Equal(t, []any{[]any{"Every metre less of good web counts as lost, because no demand is given: this is the most it can cost"}, []any{"Every extra metre of good web counts as sold, because no demand is given: this is the most it can be worth"}}[i], m["doubts"])
	}
	assert.Empty(t, a["warnings"])
	if testing.Short() {
		return
	}

	e, _ = opening(t, shippedText(t, "slitter"))
	money := listOf(t, answered(t, e, nil)["money"])
	output := listOf(t, money[0]["causes"])[0]
	assert.Equal(t, "extra good output", output["label"])
	assert.Equal(t, "0 – 0", output["span"], "but for the rarest draws there is none")
	assert.LessOrEqual(t, len(strings.Trim(output["text"].(string), "0")), 3, "three digits, since the rare ones move it: %s", output["text"])
	assert.Contains(t, money[1]["doubts"].([]any)[0], " h of crew time a year count as saved")
}
