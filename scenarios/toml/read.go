package toml

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Document is a text as it was read.
type Document struct {
	// Values are those of the text: a table is a map[string]any, tables in double
	// brackets are a []map[string]any, any other list is an []any.
	Values map[string]any

	// Lines are those of tables and keys by their paths, "alternative[1].unwind.change". Keys
	// within a value have none; a table that has no line of its own has that of its
	// first key.
	Lines map[string]int
}

// Error is what is wrong with a text.
type Error struct {
	Line  int
	What  string
	Write string // how to write it right; may be empty
}

func (e *Error) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.What) }

// Read reads a text. The error is an *Error, of the first thing that is wrong.
func Read(text string) (*Document, error) {
	r := &reader{text: text, line: 1, lines: map[string]int{}}
	r.root = newTable()
	r.into = r.root
	for r.err == nil && r.at < len(r.text) {
		r.statement()
	}
	if r.err != nil {
		return nil, r.err
	}
	return &Document{r.root.values, r.lines}, nil
}

// reader goes through a text.
type reader struct {
	text  string
	at    int // byte
	line  int // of it
	err   *Error
	root  *table
	into  *table // the table that keys go into, and its path
	where string
	lines map[string]int
}

// table is a table while it is read.
type table struct {
	values map[string]any
	under  map[string]*table // tables among the values, the last one of a list
	path   string            // of this one within the one that holds it: "stop[2]"
	listed int               // how many there are in its list; 0: it is in none
	said   bool              // it has a head of its own, or began with a key with dots
	closed bool              // it was written as a value
}

func newTable() *table { return &table{values: map[string]any{}, under: map[string]*table{}} }

// fail notes what is wrong; only the first counts.
func (r *reader) fail(write, format string, args ...any) {
	if r.err == nil {
		r.err = &Error{r.line, fmt.Sprintf(format, args...), write}
	}
}

// statement reads a head, a key with its value, or nothing, and the end of the line.
func (r *reader) statement() {
	r.spaces()
	switch c := r.peek(); {
	case c == 0 || c == '\n' || c == '\r' || c == '#':
	case r.has("[["):
		r.at += 2
		r.head(r.key(), "]]")
	case c == '[':
		r.at++
		r.head(r.key(), "]")
	default:
		line := r.line
		parts := r.key()
		if r.err != nil {
			return
		}
		if r.peek() != '=' {
			r.fail("", "after %s stands %s, where = was to be", strings.Join(parts, "."), r.shown())
			return
		}
		r.at++
		r.spaces()
		t, path := r.into, r.where
		for _, p := range parts[:len(parts)-1] {
			if path != "" {
				path += "."
			}
			path += p
			_, given := t.values[p]
			if t = r.step(t, p, path); t == nil {
				return
			}
			if t.said = t.said || !given; t.listed > 0 {
				r.fail("", "%s is a list of tables", path)
			}
		}
		name := parts[len(parts)-1]
		if path != "" {
			path += "."
		}
		path += name
		if _, twice := t.values[name]; twice {
			r.twice(path)
			return
		}
		r.note(path, line)
		r.set(t, name, r.value(0))
	}
	r.lineEnd()
}

// set puts a value into a table.
func (r *reader) set(t *table, name string, v any) {
	t.values[name] = v
	if m, is := v.(map[string]any); is {
		t.under[name] = &table{values: m, closed: true}
	}
}

// head begins the table of a head whose name has been read, [table] or [[table]].
func (r *reader) head(parts []string, end string) {
	if r.err != nil {
		return
	}
	if !r.has(end) {
		r.fail("["+strings.Join(parts, ".")+"]", "the name of a table ends with %s", end)
		return
	}
	r.at += len(end)
	t, path := r.root, ""
	for _, p := range parts[:len(parts)-1] {
		if t = r.step(t, p, path+p); t == nil {
			return
		}
		path += t.path + "."
	}
	name := parts[len(parts)-1]
	is := t.under[name]
	_, given := t.values[name]
	switch {
	case end == "]]" && is != nil && is.listed > 0:
		next := newTable()
		next.listed, next.said = is.listed+1, true
		t.values[name] = append(t.values[name].([]map[string]any), next.values)
		t.under[name] = next
	case end == "]]" && !given:
		next := newTable()
		next.listed, next.said = 1, true
		t.values[name] = []map[string]any{next.values}
		t.under[name] = next
	case end == "]" && !given:
		next := newTable()
		next.said = true
		t.values[name], t.under[name] = next.values, next
	case end == "]" && is != nil && !is.said && !is.closed && is.listed == 0:
		is.said = true
	default:
		r.twice(path + name)
		return
	}
	r.into = t.under[name]
	r.into.path = name
	if n := r.into.listed; n > 0 {
		r.into.path = fmt.Sprintf("%s[%d]", name, n-1)
	}
	r.where = path + r.into.path
	r.note(r.where, r.line)
}

// step is the table of a name within t, which begins where there is none; of a list
// the last. nil: there is something else.
func (r *reader) step(t *table, name, path string) *table {
	next := t.under[name]
	if _, given := t.values[name]; next == nil && !given {
		next = newTable()
		next.path = name
		t.values[name], t.under[name] = next.values, next
	}
	if next == nil || next.closed {
		r.twice(path)
		return nil
	}
	return next
}

func (r *reader) twice(path string) {
	if first := r.lines[path]; first > 0 {
		r.fail("", "%s is given twice, first in line %d", path, first)
	} else {
		r.fail("", "%s is given twice", path)
	}
}

// note notes the line of a path, and of the tables that it goes through where they
// have none so far.
func (r *reader) note(path string, line int) {
	for path != "" {
		if _, known := r.lines[path]; known {
			return
		}
		r.lines[path] = line
		path = path[:max(0, strings.LastIndexByte(path, '.'))]
	}
}

// key reads the parts of a key with dots between them, and the spaces behind it.
func (r *reader) key() []string {
	var parts []string
	for {
		r.spaces()
		from := r.at
		switch c := r.peek(); {
		case c == '"' || c == '\'':
			if strings.HasPrefix(r.text[r.at+1:], string([]byte{c, c})) {
				r.fail("", "the name of a key stands on one line")
				return nil
			}
			parts = append(parts, r.quoted(c))
		default:
			for r.at < len(r.text) && bare(r.text[r.at]) {
				r.at++
			}
			if r.at == from {
				r.fail(`name = "value"`, "%s is no key", r.shown())
				return nil
			}
			parts = append(parts, r.text[from:r.at])
		}
		r.spaces()
		if r.peek() != '.' {
			return parts
		}
		r.at++
	}
}

// bare says that a character may stand in a key without quotes.
func bare(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_' || c == '-'
}

// peek is the next byte, 0 at the end.
func (r *reader) peek() byte {
	if r.at < len(r.text) {
		return r.text[r.at]
	}
	return 0
}

// shown is what stands here, for a message.
func (r *reader) shown() string {
	rest, _, _ := strings.Cut(r.text[r.at:], "\n")
	rest = strings.TrimRight(rest, "\r")
	if rest == "" {
		return "the end of the line"
	}
	c, n := utf8.DecodeRuneInString(rest)
	if c < ' ' || c == 0x7f {
		return fmt.Sprintf("the control character U+%04X", c)
	}
	return rest[:n]
}

// has says that a text stands here.
func (r *reader) has(text string) bool {
	return r.at <= len(r.text) && strings.HasPrefix(r.text[r.at:], text)
}

func (r *reader) spaces() {
	for r.peek() == ' ' || r.peek() == '\t' {
		r.at++
	}
}

// lineEnd passes spaces, a comment and the end of the line, behind which nothing else
// may stand.
func (r *reader) lineEnd() {
	r.spaces()
	r.comment()
	if r.err == nil && r.at < len(r.text) && !r.newline() {
		r.fail("", "%s stands behind what the line says: one key a line", r.shown())
	}
}

// newline passes the end of a line, and says whether it stood here.
func (r *reader) newline() bool {
	switch {
	case r.peek() == '\n':
		r.at++
	case r.has("\r\n"):
		r.at += 2
	default:
		return false
	}
	r.line++
	return true
}

// comment passes a comment.
func (r *reader) comment() {
	if r.peek() != '#' {
		return
	}
	for r.at < len(r.text) && r.text[r.at] != '\n' && !r.has("\r\n") {
		r.printable()
	}
}

// printable passes a byte that may stand in text and comments.
func (r *reader) printable() {
	if c := r.text[r.at]; c < ' ' && c != '\t' || c == 0x7f {
		r.fail("", "%s stands in it", r.shown())
	}
	r.at++
}
