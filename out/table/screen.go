package table

import (
	"fmt"
	"io"
	"strings"

	"rollchange/out/words"
)

// Screen is what a table is written for: how many columns it has, 0 for usual,
// and whether text on it may be coloured.
type Screen struct {
	Columns int
	Color   bool
}

// usual is the width of a table that is not on a terminal, in columns.
const usual = 80

// leastColumns is the narrowest that a table is laid out for: a narrower terminal
// breaks its lines. mostProse is how
// wide sentences run, however wide the screen: longer lines are hard to read.
const (
	leastColumns = usual
	mostProse    = 100
)

// width is the width of a table, in columns.
func (s Screen) width() int {
	if s.Columns == 0 {
		return usual
	}
	return max(leastColumns, s.Columns)
}

// prose breaks a sentence into lines that fit.
func (s Screen) prose(text string) string { return wrap(text, min(s.width(), mostProse)) }

// indented is prose behind spaces.
func (s Screen) indented(text string, by int) string {
	margin := strings.Repeat(" ", by)
	return margin + strings.ReplaceAll(wrap(text, min(s.width(), mostProse)-by), "\n", "\n"+margin)
}

// title is a head line.
func (s Screen) title(text string) string { return bold(words.Shorten(text, s.width()), s.Color) }

// made says how a result was made: how it was simulated, and what was set over
// the scenario.
func (s Screen) made(about words.About, how string) string {
	if set := about.SetSentence(); set != "" {
		return s.prose(how) + "\n" + s.prose(set)
	}
	return s.prose(how)
}

// Set writes what was set over the scenario, before a table that has no head.
func (s Screen) Set(w io.Writer, about words.About) error {
	set := about.SetSentence()
	if set == "" {
		return nil
	}
	_, err := fmt.Fprintf(w, "%s\n\n", s.prose(set))
	return err
}

// head is the head of a table.
func (s Screen) head(text string) string { return bold(s.prose(text), s.Color) }

// Entry is an entry of a reference: a name, what it means, and more of it, in
// lines that fit.
func (s Screen) Entry(name, meaning, more string) string {
	const first = 21
	lines := strings.Split(s.indented(meaning, first), "\n")
	if len(name) > first-3 { // a long name has a line of its own
		lines = append([]string{"  " + name}, lines...)
	} else {
		lines[0] = pad("  "+name, first-1) + " " + strings.TrimLeft(lines[0], " ")
	}
	return strings.Join(lines, "\n") + "\n" + s.indented(more, first+2) + "\n"
}
