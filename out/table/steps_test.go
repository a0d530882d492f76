package table

import (
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/replicate"
)

// The dearest has the highest mean, and what is shown is the one that the steps recommend;
// each step stands in the table with its verdict.
func TestPaybackShowsTheSteps(t *testing.T) {
	r, cases := invented.Steps(t, nil)
	require.Equal(t, 2, r.Best)
	require.Equal(t, 1, r.Steps.Recommended)
	s := paybackText(t, cases[1], model.Metric)
	for _, x := range []string{"\"zero-speed, 60 m\" is recommended: ", "\nSteps of investment, EUR\n", "  zero-speed, 60 m ", "    over by hand ", "\n    accepted\n", "  flying ", "    over zero-speed, 60 m", "\n    not shown to pay\n"} {
		assert.Contains(t, s, x)
	}
	assert.Less(t, strings.Index(s, "is recommended"), strings.Index(s, "saves "), "what to choose comes before what it saves")
	alone, _ := invented.Case(t, nil)
	assert.NotContains(t, paybackText(t, alone, model.Metric), "Steps of investment")
}

// Steps of any name fit the terminal.
func TestStepsAreLegible(t *testing.T) {
	for _, name := range []string{"=cmd('x')", strings.Repeat("very long name ", 800), "\u202eאוטומטי\u202c", "自動巻出し装置の長い名前の代替案と名前"} {
		r, cases := invented.Steps(t, func(s *model.Study, _ *replicate.Results) {
			s.Alternatives[0].Name, s.Alternatives[2].Name = name+"0", name
			for i := range s.Alternatives {
				s.Alternatives[i].Line.Economics.Currency = "=EUR\n<b> and more of it"
			}
		})
		s := paybackText(t, cases[1], model.Metric) + invented.Written(t, func(w io.Writer) error { return Savings(w, cases, r, Screen{}) })
		assert.NotContains(t, s, "\u202e")
		assert.NotContains(t, s, "NaN")
		for _, line := range strings.Split(s, "\n") {
			assert.LessOrEqual(t, words.Columns(line), 80, line)
		}
	}
}
