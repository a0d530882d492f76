package report

import (
	"fmt"

	"rollchange/out/words"
	"rollchange/sim/match"
)

// matchTable is what the line really made beside what the model makes.
func (c *Content) matchTable() *table {
	t := c.matchHead()
	for _, r := range c.Match.Rows {
		t.add("", c.matchRow(r))
	}
	return t
}

// matchHead is the table without its rows.
func (c *Content) matchHead() *table {
	a := c.Match
	return &table{Head: []string{words.MatchTitle(a), words.MatchRecorded, words.MatchModelled, fmt.Sprintf(words.MatchBetween, 100*a.Confidence), words.MatchVerdict}, Texts: true}
}

func (c *Content) matchRow(r match.Row) row {
	recorded, modelled, between := words.MatchTexts(r, c.Scenario.Study.Units)
	return row{Head: words.MatchLabel(r), Cells: []cell{{Text: recorded}, {Text: modelled}, {Text: between}, {Text: words.MatchVerdictOf(r)}}}
}

// shortMatch is what the line really made of good web, waste and roll changes beside the
// model; nil where nothing of it is recorded.
func (c *Content) shortMatch() *table {
	if c.Match == nil {
		return nil
	}
	t := c.matchHead()
	for _, r := range c.Match.Rows {
		switch r.Figure {
		case match.Good, match.Waste, match.RollChanges:
			t.add("", c.matchRow(r))
		}
	}
	if len(t.Bodies) == 0 {
		return nil
	}
	return t
}
