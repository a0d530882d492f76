package report

import (
	"fmt"

	"rollchange/out/words"
)

// matchTable is what the line really made beside what the model makes.
func (c *Content) matchTable() *table {
	a, sys := c.Match, c.Scenario.Study.Units
	t := &table{Head: []string{words.MatchTitle(a), words.MatchRecorded, words.MatchModelled, fmt.Sprintf(words.MatchBetween, 100*a.Confidence), words.MatchVerdict}, Texts: true}
	for _, r := range a.Rows {
		recorded, modelled, between := words.MatchTexts(r, sys)
		t.add("", row{Head: words.MatchLabel(r), Cells: []cell{{Text: recorded}, {Text: modelled}, {Text: between}, {Text: words.MatchVerdictOf(r)}}})
	}
	return t
}
