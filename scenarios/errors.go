package scenarios

import (
	"fmt"
	"sort"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios/written"
)

// Problem is one thing that is wrong with a scenario.
type Problem struct {
	Line  int    // 1-based; 0 when it belongs to no line, below 0 to what was set
	Key   string // full key; may be empty
	What  string // what is wrong
	Write string // how to write it; may be empty

	near string // the key whose neighbours are to be named; empty: none
}

// Errors is all that is wrong with a scenario, in the order of its lines.
type Errors struct {
	Name     string // of the file
	Text     []string
	Problems []Problem
	More     int // problems beyond mostProblems, not listed

	seen map[Problem]bool
	said []Override // what was set, in order: its lines are -len(said) to -1
}

// mostProblems is how many problems are listed: a file with more is no
// scenario, and nobody reads on. mostFound is how many are looked at to find the
// first in the text.
const (
	mostProblems = 200
	mostFound    = 20_000
)

// Error lists every problem: place, key, what is wrong, the line itself and
// how to write it.
func (e *Errors) Error() string {
	var b strings.Builder
	for i, p := range e.Problems {
		if i > 0 {
			b.WriteByte('\n')
		}
		if p.Line < 0 {
			e.set(&b, &p)
			continue
		}
		row, is := "", p.Line > 0 && p.Line <= len(e.Text)
		if is {
			row = strings.ReplaceAll(e.Text[p.Line-1], "\t", " ")
		}
		(&written.Problem{Row: p.Line, Column: p.Key, What: p.What, Write: p.Write}).Say(&b, e.Name, row, is)
	}
	if e.More > 0 {
		fmt.Fprintf(&b, "\n%s: and %d more", legible.Visible(e.Name), e.More)
	}
	if with := e.with(); with != "" {
		fmt.Fprintf(&b, "\n%s: read with %s", legible.Visible(e.Name), with)
	}
	return b.String()
}

// It is called from many places: in line it would make the engine of a page larger.
//
//go:noinline
func (e *Errors) add(line int, key, what, write string) {
	p := Problem{Line: line, Key: key, What: what}
	if e.seen[p] {
		return // the base's, seen again through another alternative
	}
	if len(e.Problems) == mostFound {
		e.More++
		return
	}
	if e.seen == nil {
		e.seen = map[Problem]bool{}
	}
	e.seen[p] = true
	p.Write = write
	e.Problems = append(e.Problems, p)
}

// unknown adds a key that there is none of; what is near is looked for when it
// is known to be listed.
func (e *Errors) unknown(line int, key, what, near string) {
	before := len(e.Problems)
	e.add(line, key, what, "")
	if len(e.Problems) > before {
		e.Problems[before].near = near
	}
}

// has says whether the key has a problem on the line already.
//
//go:noinline
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
	if n := len(e.Problems); n > mostProblems {
		e.Problems, e.More = e.Problems[:mostProblems], e.More+n-mostProblems
	}
	for i := range e.Problems {
		if p := &e.Problems[i]; p.near != "" {
			p.What, p.near = p.What+didYouMean(p.near), ""
		}
	}
	return e
}

// Warning is something that a person should know and that stops nothing.
type Warning struct {
	Line int
	Key  string
	What string
}

func (w Warning) String() string {
	if w.Line <= 0 {
		return fmt.Sprintf("%s: %s", legible.Short(w.Key), w.What)
	}
	return fmt.Sprintf("line %d: %s: %s", w.Line, legible.Short(w.Key), w.What)
}
