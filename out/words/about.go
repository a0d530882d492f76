package words

import (
	"strings"

	"rollchange/model/legible"
)

// About says what made a result, so that it can be made again.
type About struct {
	Version string // of the tool
	Title   string // of the scenario
	File    string
	SHA256  string  // of its text
	Year    float64 // s, planned hours of a year; 0: not given, the calendar's
}

// TitleOf is the title of a table about one alternative. The one that a scenario
// without alternatives has, "base", is named only among several.
func (a About) TitleOf(alternative string, several bool) string {
	title := legible.Line(a.Title)
	if several || alternative != "base" {
		title = strings.TrimPrefix(title+" · ", " · ") + legible.Line(alternative)
	}
	return title
}
