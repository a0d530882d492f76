package scenarios

import (
	"fmt"
	"sort"
	"strings"
)

// Problem is one thing that is wrong with a scenario.
type Problem struct {
	Line  int    // 1-based; 0 when it belongs to no line
	Key   string // full key; may be empty
	What  string // what is wrong
	Write string // how to write it; may be empty
}

// Errors is all that is wrong with a scenario, in the order of its lines.
type Errors struct {
	Name     string // of the file
	Text     []string
	Problems []Problem
	More     int // problems beyond mostProblems, not listed
}

// mostProblems is how many problems are listed: a file with more is no
// scenario, and nobody reads on.
const mostProblems = 200

// Error lists every problem: place, key, what is wrong, the line itself and
// how to write it.
func (e *Errors) Error() string {
	var b strings.Builder
	for i, p := range e.Problems {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(e.Name)
		if p.Line > 0 {
			fmt.Fprintf(&b, ":%d", p.Line)
		}
		if p.Key != "" {
			fmt.Fprintf(&b, ": %s", p.Key)
		}
		fmt.Fprintf(&b, ": %s", p.What)
		if p.Line > 0 && p.Line <= len(e.Text) {
			fmt.Fprintf(&b, "\n  %d | %s", p.Line, printable(e.Text[p.Line-1]))
		}
		if p.Write != "" {
			fmt.Fprintf(&b, "\n  write: %s", p.Write)
		}
	}
	if e.More > 0 {
		fmt.Fprintf(&b, "\n%s: and %d more", e.Name, e.More)
	}
	return b.String()
}

func (e *Errors) add(line int, key, what, write string) {
	for _, p := range e.Problems {
		if p.Line == line && p.Key == key && p.What == what {
			return // the base's, seen again through another alternative
		}
	}
	if len(e.Problems) == mostProblems {
		e.More++
		return
	}
	e.Problems = append(e.Problems, Problem{line, key, what, write})
}

// has says whether the key has a problem on the line already.
func (e *Errors) has(line int, key string) bool {
	for _, p := range e.Problems {
		if p.Line == line && p.Key == key {
			return true
		}
	}
	return false
}

// asError is nil when there is no problem.
func (e *Errors) asError() error {
	if len(e.Problems) == 0 {
		return nil
	}
	sort.SliceStable(e.Problems, func(i, j int) bool { return e.Problems[i].Line < e.Problems[j].Line })
	return e
}

// printable shows a line of text without control characters, not too long.
func printable(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f {
			return '?'
		}
		return r
	}, s)
	if r := []rune(s); len(r) > 100 {
		return string(r[:100]) + "…"
	}
	return s
}

// Warning is something that a person should know and that stops nothing.
type Warning struct {
	Line int
	Key  string
	What string
}

func (w Warning) String() string {
	if w.Line == 0 {
		return fmt.Sprintf("%s: %s", w.Key, w.What)
	}
	return fmt.Sprintf("line %d: %s: %s", w.Line, w.Key, w.What)
}
