package table

import (
	"fmt"
	"io"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// row is one line of a table for people.
type row struct {
	label, value, note string
}

// Run writes what one alternative came to as one table: what the line
// makes, where the hours and the web go, what the roll changes and the crew do.
// Rows of hours or web that are exactly 0 are left out.
func Run(w io.Writer, about words.About, rs *replicate.Results, alternative int, sys model.System, to Screen) error {
	r := rs.Alternatives[alternative]
	var b strings.Builder
	title := about.TitleOf(r.Alternative, len(rs.Alternatives) > 1)
	fmt.Fprintf(&b, "%s\n%s\n", to.title(title), to.made(about, words.Head(rs.Run)))
	none := false
	label := min(leastName+max(0, to.width()-usual), 50) // a wider screen has room for longer names
	for _, s := range sectionsOf(rs, alternative, about, sys) {
		fmt.Fprintf(&b, "\n%s\n", bold(s.head, to.Color))
		for _, x := range s.rows {
			none = none || strings.HasPrefix(x.value, words.NoneIn)
			if x.value == "" {
				for i, part := range strings.Split(wrap(x.label, min(to.width(), mostProse)-6), "\n") {
					fmt.Fprintln(&b, []string{"    ", "      "}[min(i, 1)]+part)
				}
				continue
			}
			line := fmt.Sprintf("  %s %s  %s", pad(words.Shorten(x.label, label), label), padLeft(x.value, 21), x.note)
			fmt.Fprintln(&b, strings.TrimRight(line, " "))
		}
	}
	if none {
		fmt.Fprintf(&b, "\n%s\n", to.prose(fmt.Sprintf(words.NoneSeenNote, 100*rs.Run.Confidence)))
	}
	if rs.Open != nil {
		fmt.Fprintf(&b, "\n%s\n", to.prose(words.OpenNote))
		for _, s := range words.OpenSentences(rs, alternative, sys) {
			fmt.Fprintf(&b, "\n%s\n", to.prose(s))
		}
	}
	if few := tooFew(r.Metrics); few != "" && strings.Contains(b.String(), words.TooFewMark) {
		fmt.Fprintf(&b, "\n%s\n", to.prose(few))
	}
	if rs.Run.Replications == 1 {
		fmt.Fprintln(&b, "\n"+words.OneReplication)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// tooFew says what "± ?" is, where a figure has it, and how many replications would
// give every figure an interval.
func tooFew(list ...replicate.Metrics) string {
	needed, any := 0, false
	for _, m := range list {
		for _, e := range m {
			if e.Why == estimate.TooFew {
				any = true
				needed = max(needed, e.Needed)
			}
		}
	}
	switch {
	case !any:
		return ""
	case needed == 0:
		return words.TooFewNote
	}
	return fmt.Sprintf(words.TooFewButNote, needed)
}

// tooFewShown says what "± ?" is, where the text so far has it.
func tooFewShown(b *strings.Builder, to Screen) {
	if strings.Contains(b.String(), words.TooFewMark) {
		fmt.Fprintf(b, "\n%s\n", to.prose(words.TooFewNote))
	}
}

// leastName is how much of a name stands in a table of 80 columns.
const leastName = 33
