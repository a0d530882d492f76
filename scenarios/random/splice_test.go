package random

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

// What follows from how splices are made, written out in the scenario, makes the same
// line: nothing but the five values follows, and a given value is taken as it is.
func TestWhatFollowsMayBeWrittenOut(t *testing.T) {
	tried := 0
	for _, s := range drawn() {
		parsed, err := s.Parse()
		require.NoError(t, err)
		u := &parsed.Study.Alternatives[0].Line.Unwind
		ownLines := func(path string) bool {
			return strings.HasPrefix(path, "alternative[") || strings.HasPrefix(path, "product[")
		}
		if u.Splicing.Method == "" || slices.ContainsFunc(s.paths(), ownLines) {
			continue
		}
		write := map[string]Value{}
		for key, x := range map[string]struct {
			given, used bool
			value       float64
			unit        string
		}{
			"tape_per_splice": {u.Splicing.Given.Tape, true, u.TapePerSplice, "m"}, "splice_scrap": {u.Splicing.Given.Scrap, true, u.SpliceScrap.Mean(), "m"},
			"residual": {u.Splicing.Given.Residual, true, u.Residual, "m"}, "prepare": {u.Splicing.Given.Prepare, u.Change.Ahead(), u.Prepare.Mean(), "s"},
			"dwell": {u.Splicing.Given.Dwell, u.Change.Stores(), u.Dwell.Mean(), "s"},
		} {
			if !x.given && x.used {
				write["unwind."+key] = Value{Nums: []Num{{X: []float64{x.value}, Unit: x.unit, Dim: row("unwind." + key).Dim}}}
			}
		}
		if len(write) == 0 {
			continue
		}
		again, err := s.With(write).Parse()
		require.NoError(t, err, s.With(write).Text())
		line := again.Study.Alternatives[0].Line
		assert.NotEqual(t, u.Splicing.Given, line.Unwind.Splicing.Given)
		line.Unwind.Splicing.Given = u.Splicing.Given
		assert.Equal(t, parsed.Study.Alternatives[0].Line, line, s.Text())
		assert.Equal(t, model.SpliceOf(u.Splicing, parsed.Study.Alternatives[0].Line.Web), model.SpliceOf(line.Unwind.Splicing, line.Web))
		tried++
	}
	assert.Greater(t, tried, 20)
}
