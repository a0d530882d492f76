package table

import (
	"fmt"
	"io"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/match"
)

// Match writes what the line really made beside what the model makes.
func Match(w io.Writer, a *match.Answer, sys model.System, to Screen) error {
	var b strings.Builder
	fmt.Fprintf(&b, "\n%s\n", to.head(words.MatchHead))
	g := grid{label: words.MatchTitle(a), heads: []string{words.MatchRecorded, words.MatchModelled, fmt.Sprintf(words.MatchBetween, 100*a.Confidence), words.MatchVerdict}}
	for _, r := range a.Rows {
		recorded, modelled, between := words.MatchTexts(r, sys)
		g.add(words.MatchLabel(r), recorded, modelled, between, words.MatchVerdictOf(r))
	}
	g.write(&b, to)
	fmt.Fprintln(&b)
	for _, s := range words.MatchSentences(a, sys) {
		fmt.Fprintln(&b, to.prose(s))
	}
	fmt.Fprintf(&b, "%s\n", to.prose("("+words.MatchNote(a)+")"))
	_, err := io.WriteString(w, b.String())
	return err
}

// Recorded writes what a line made in its recorded period, before any simulation.
func Recorded(w io.Writer, r *model.Period, lines int, ceiling float64, sys model.System, to Screen) error {
	facts, below := words.RecordedFacts(r, lines, ceiling, sys)
	if len(facts) == 0 {
		return nil
	}
	var b strings.Builder
	fmt.Fprintf(&b, "\n%s\n", to.head(words.MatchTitle(&match.Answer{Hours: r.Hours, Lines: lines})))
	label, figure := 0, 0
	for _, f := range facts {
		label, figure = max(label, words.Columns(f.Label)), max(figure, words.Columns(f.Text))
	}
	for _, f := range facts {
		fmt.Fprintln(&b, strings.TrimRight(fmt.Sprintf("  %s %s  %s", pad(f.Label, label), padLeft(f.Text, figure), f.Note), " "))
	}
	if below != "" {
		fmt.Fprintln(&b, to.prose(below))
	}
	_, err := io.WriteString(w, b.String())
	return err
}
