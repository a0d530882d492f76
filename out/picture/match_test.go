package picture

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/match"
)

// Figures far beyond what the model expects, of what it has not, and of long names are
// drawn; nothing is drawn of nothing.
func TestMatch(t *testing.T) {
	assert.Nil(t, Match(&match.Answer{}))
	a := &match.Answer{Confidence: 0.95, Rows: []match.Row{
		{Figure: match.Good, Unit: "m", Recorded: 90, Mean: 100, Low: 80, High: 110},
		{Figure: match.Waste, Unit: "m", Recorded: 9000, Mean: 100, Low: 80, High: 110},
		{Figure: match.CauseTime, Hold: "stop.jam", Unit: "s", Recorded: 5, Missing: true},
		{Figure: match.CauseTime, Hold: "stop.none", Unit: "s"},
	}}
	for i := range 40 {
		a.Rows = append(a.Rows, match.Row{Figure: match.CauseTime, Hold: fmt.Sprintf("stop.a very long name of a cause of stops, number %d", i), Unit: "s", Recorded: 5, Mean: 5, Low: 4, High: 6, Fitted: true})
	}
	p := Match(a)
	require.NotNil(t, p)
	svg := string(svg(t, p))
	assert.Contains(t, svg, "beyond the picture")
	assert.Contains(t, svg, "not in the model")
	assert.Contains(t, svg, "good web")
	assert.NotContains(t, svg, "stopped: none")
	assert.NotContains(t, svg, "number 30", "no more than so many rows")
}
