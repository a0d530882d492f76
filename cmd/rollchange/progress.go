package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"golang.org/x/term"

	"rollchange/sim/whatif"
)

// progress is a bar with the time left, on a terminal only.
type progress struct {
	on      *os.File // nil: silent
	what    string   // that is simulated, "inputs moved"
	most    int      // replications, where nothing else says so
	begun   time.Time
	shown   time.Time
	written int // characters that stand there
	value   int // of a search
}

// newProgress begins a bar of so many replications on w, or a silent one where w is
// no terminal.
func newProgress(w io.Writer, what string, most int) *progress {
	return &progress{on: terminal(w), what: what, most: most, begun: time.Now()}
}

// Set shows that so many replications are done; total is how many there will be, 0: as
// many as the bar was made for.
func (p *progress) Set(done, total int) {
	if total == 0 {
		total = p.most
	}
	p.Show(whatif.Progress{Done: done, Most: total})
}

// Show shows how far a question has come, ten times a second.
func (p *progress) Show(x whatif.Progress) {
	if p.on == nil {
		return
	}
	now := time.Now()
	if x.Value != p.value { // the next value takes a time of its own
		p.value, p.begun = x.Value, now
	}
	if now.Sub(p.shown) < 100*time.Millisecond {
		return
	}
	columns, _, err := term.GetSize(int(p.on.Fd()))
	if err != nil || columns <= 0 {
		columns = 80
	}
	p.shown = now
	p.put(progressText(p.what, x, now.Sub(p.begun), columns-1))
}

// put writes a line over the last one.
func (p *progress) put(text string) {
	n := len(text)
	fmt.Fprint(p.on, "\r", text, strings.Repeat(" ", max(0, p.written-n)))
	p.written = n
}

// Done takes the bar away.
func (p *progress) Done() {
	if p.on != nil && p.written > 0 {
		p.put("")
		fmt.Fprint(p.on, "\r")
		p.written = 0
	}
}

// progressText is how far a question has come after a time, in one line of so many
// characters at most.
func progressText(what string, x whatif.Progress, took time.Duration, columns int) string {
	if x.Value > 0 {
		what = fmt.Sprintf("%s, value %d", what, x.Value)
		if x.Values >= x.Value {
			what += fmt.Sprintf(" of at most %d", x.Values)
		}
	}
	done := min(x.Done, x.Most)
	if x.Most <= 0 {
		return what[:max(0, min(len(what), columns))]
	}
	text := fmt.Sprintf("%3d %%  %d of %d replications", 100*done/x.Most, done, x.Most)
	if done > 0 && done < x.Most && took > time.Second {
		text += ", " + timeLeft(took/time.Duration(done)*time.Duration(x.Most-done))
	}
	const width = 20
	full := width * done / x.Most
	bar := "[" + strings.Repeat("#", full) + strings.Repeat(" ", width-full) + "] "
	for _, line := range []string{what + " " + bar + text, what + " " + text, strings.TrimSpace(text)} {
		if len(line) <= columns {
			return line
		}
	}
	return ""
}

// timeLeft is a time in words: what is left is known to a digit or two.
func timeLeft(d time.Duration) string {
	switch {
	case d < time.Minute:
		return fmt.Sprintf("%d s left", int(d.Seconds())+1)
	case d < time.Hour:
		return fmt.Sprintf("%d min left", int(d.Minutes())+1)
	}
	return fmt.Sprintf("%.1f h left", d.Hours())
}

// terminal is the terminal that w writes to, through whatever stands before it;
// nil when there is none.
func terminal(w io.Writer) *os.File {
	for {
		u, ok := w.(interface{ Unwrap() io.Writer })
		if !ok {
			break
		}
		w = u.Unwrap()
	}
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		return f
	}
	return nil
}

// useColor says whether text on w may be coloured: on a terminal that understands it,
// unless NO_COLOR is set (no-color.org).
func useColor(w io.Writer) bool {
	f := terminal(w)
	return os.Getenv("NO_COLOR") == "" && f != nil && coloured(f)
}
