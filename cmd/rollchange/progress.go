package main

import (
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress is a bar with the time left, on a terminal only.
type progress struct{ bar *progressbar.ProgressBar }

// newProgress begins a bar of so many steps on w, or a silent one where w is
// no terminal.
func newProgress(w io.Writer, total int) *progress {
	f := terminal(w)
	if f == nil {
		return &progress{}
	}
	return &progress{progressbar.NewOptions(total,
		progressbar.OptionSetWriter(f),
		progressbar.OptionSetDescription("replications"),
		progressbar.OptionSetPredictTime(true),
		progressbar.OptionShowCount(),
		progressbar.OptionSetWidth(30),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionClearOnFinish())}
}

// Set shows that done steps of total are done.
func (p *progress) Set(done, total int) {
	if p.bar != nil {
		_ = p.bar.Set(done)
	}
}

// Done takes the bar away.
func (p *progress) Done() {
	if p.bar != nil {
		_ = p.bar.Finish()
		_ = p.bar.Clear()
	}
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

// useColor says whether text on w may be coloured: on a terminal, unless
// NO_COLOR is set (no-color.org).
func useColor(w io.Writer) bool { return os.Getenv("NO_COLOR") == "" && terminal(w) != nil }

// spinner counts work whose end is not known, on a terminal only.
type spinner struct{ bar *progressbar.ProgressBar }

// newSpinner begins to count on w, silently where w is no terminal.
func newSpinner(w io.Writer, what string) *spinner {
	f := terminal(w)
	if f == nil {
		return &spinner{}
	}
	return &spinner{progressbar.NewOptions(-1, progressbar.OptionSetWriter(f), progressbar.OptionSetDescription(what),
		progressbar.OptionShowCount(), progressbar.OptionSpinnerType(14), progressbar.OptionClearOnFinish())}
}

// Set shows that n are done.
func (p *spinner) Set(n int) {
	if p.bar != nil {
		_ = p.bar.Set(n)
	}
}

// Done takes the count away.
func (p *spinner) Done() {
	if p.bar != nil {
		_ = p.bar.Finish()
		_ = p.bar.Clear()
	}
}
