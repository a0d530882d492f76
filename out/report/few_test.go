package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What "± ?" is stands below a table that has it, and below no other.
func TestFewEventsAreExplained(t *testing.T) {
	w, err := wordsOf("en")
	require.NoError(t, err)
	for text, want := range map[string]string{"0.0779 ± ?": "Means. " + w.Why["few_note"], "0.0779 ± 0.0012": "Means.", "": "Means."} {
		x := &table{Head: []string{"figure", "by hand"}, Note: "Means."}
		x.add("", row{Head: "scrap", Cells: []cell{{Text: "1"}, {Text: text}}})
		x.fewEvents(w)
		assert.Equal(t, want, x.Note)
	}
}
