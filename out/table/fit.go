package table

import (
	"fmt"
	"io"
	"strings"

	"rollchange/out/words"
	"rollchange/scenarios/learn"
)

// mostFindings is how many are listed.
const mostFindings = 20

// Fit writes what a stop log says: how it was read, what was found in its rows,
// and how often and how long the line stood still, by cause.
func Fit(w io.Writer, l *learn.Line, to Screen) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n", to.title(words.LogTitle(l.Log)), to.prose(words.LogRows(l.Log, l.Planned, l.Stopped)))
	if s := words.LogApart(l.Log); s != "" {
		fmt.Fprintln(&b, to.prose(s))
	}
	fmt.Fprintf(&b, "\n%s\n", to.head(words.FitUnderstood))
	for _, p := range words.LogUnderstood(&l.Log.Understood) {
		to.beside(&b, 2, 10, p.Label, p.Text)
	}
	fmt.Fprintf(&b, "\n%s\n", to.head(words.LogFindings(l.Log.Findings)))
	for i, f := range l.Log.Findings {
		if i == mostFindings {
			fmt.Fprintf(&b, "  "+words.FitMore+"\n", len(l.Log.Findings)-i)
			break
		}
		to.beside(&b, 2, 10, fmt.Sprintf(words.FitRow, f.Row), words.FindingText(f))
	}
	fmt.Fprintf(&b, "\n%s\n", to.head(words.FitCauses))
	g := grid{label: words.FitCause, heads: []string{words.FitStops, words.FitHours, words.FitShare, words.FitRate, fmt.Sprintf(words.FitLimits, 100*l.Options.Confidence)}}
	shown := l.Causes[:min(len(l.Causes), learn.MostFitted)]
	for i := range shown {
		c := &shown[i]
		rate, limits := words.FitRateText(c.Rate)
		g.add(words.CauseName(c.Text), words.Grouped(float64(c.Stops)), words.Fixed(c.Lost/3600, 1), words.Fixed(100*c.Share, 1), rate, limits)
	}
	g.write(&b, to)
	if n := len(l.Causes) - len(shown); n > 0 {
		fmt.Fprintf(&b, "  "+words.FitMore+"\n", n)
	}
	for i := range shown {
		c := &shown[i]
		fmt.Fprintf(&b, "\n%s\n", to.head(words.CauseName(c.Text)))
		if c.Is != learn.Stop {
			to.beside(&b, 2, 10, words.FitIs, string(c.Is))
		}
		if !c.OneRate {
			to.beside(&b, 2, 10, words.FitBetween, words.FitLaw(c.Between))
		}
		to.beside(&b, 2, 10, words.FitLasts, words.FitLaw(c.Lasts))
		for _, s := range words.FitSentences(c) {
			fmt.Fprintln(&b, to.indented(s, 2))
		}
	}
	if list := words.FitProposals(l); len(list) > 0 {
		fmt.Fprintf(&b, "\n%s\n", to.head(words.FitPerhaps))
		for _, p := range list {
			fmt.Fprintf(&b, "  %s\n%s\n", p.Label, to.indented(p.Text, 6))
		}
	}
	if list := words.FitNext(l); len(list) > 0 {
		fmt.Fprintf(&b, "\n%s\n", to.head(words.FitNextHead))
		for _, s := range list {
			fmt.Fprintln(&b, to.indented(s, 2))
		}
	}
	fmt.Fprintf(&b, "\n%s\n", to.prose(words.FitNote(l)))
	_, err := io.WriteString(w, b.String())
	return err
}

// beside writes a label and text beside it, in lines that fit.
func (s Screen) beside(b *strings.Builder, margin, label int, name, text string) {
	lines := strings.Split(s.indented(text, margin+label), "\n")
	lines[0] = strings.Repeat(" ", margin) + pad(name, label-1) + " " + strings.TrimLeft(lines[0], " ")
	fmt.Fprintln(b, strings.Join(lines, "\n"))
}
