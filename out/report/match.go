package report

import (
	"fmt"

	"rollchange/out/words"
	"rollchange/sim/match"
)

// matchTable is what the line really made beside what the model makes.
func (c *Content) matchTable() *table {
	a := c.Match
	t := &table{Head: []string{words.MatchTitle(a), words.MatchRecorded, words.MatchModelled, fmt.Sprintf(words.MatchBetween, 100*a.Confidence), words.MatchVerdict}, Texts: true}
	for _, r := range a.Rows {
		t.add("", c.matchRow(r))
	}
	return t
}

func (c *Content) matchRow(r match.Row) row {
	recorded, modelled, between := words.MatchTexts(r, c.Scenario.Study.Units)
	return row{Head: words.MatchLabel(r), Cells: []cell{{Text: recorded}, {Text: modelled}, {Text: between}, {Text: words.MatchVerdictOf(r)}}}
}
