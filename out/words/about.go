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
	SHA256  string      // of its text
	Year    float64     // s, planned hours of a year; 0: not given, the calendar's
	Records bool        // its distributions say how much was observed
	Set     [][2]string // keys and values that the command line set, over the text
}

// SetSentence says what the command line set, so that no answer differs from its
// file in silence; empty when nothing was.
func (a About) SetSentence() string {
	var list []string
	for _, x := range a.Set {
		list = append(list, Line(x[0], mostSetting)+" = "+Line(x[1], mostSetting))
	}
	if len(list) == 0 {
		return ""
	}
	return "Set on the command line: " + strings.Join(list, "; ")
}

// mostSetting is how much of a key or a value that was set is shown, characters.
const mostSetting = 80

// TitleOf is the title of a table about one alternative. The one that a scenario
// without alternatives has, "base", is named only among several.
func (a About) TitleOf(alternative string, several bool) string {
	title := legible.Line(a.Title)
	if several || alternative != "base" {
		title = strings.TrimPrefix(title+" · ", " · ") + legible.Line(alternative)
	}
	return title
}
