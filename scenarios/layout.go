package scenarios

import (
	"fmt"
	"strings"
)

// stretch is where a value stands in a text, bytes: its own, and where the line begins on
// which its statement does.
type stretch struct{ from, to, line int }

// place is where a key can be added to a table: in front of a line, or within the braces
// of an inline table.
type place struct {
	at     int
	inline bool
	empty  bool // the braces hold nothing
	line   int  // of an inline table: where the line of its statement begins
}

// layout is where the values and tables of a TOML text stand that the decoder has
// accepted, by their paths, as positions has them; what stands in inline tables too.
type layout struct {
	values map[string]stretch
	tables map[string]place

	text   string
	at     int
	line   int // where the line of the statement begins
	counts map[string]int
}

func layoutOf(text string) *layout {
	s := &layout{values: map[string]stretch{}, tables: map[string]place{}, text: text, counts: map[string]int{}}
	table := ""
	s.tables[""] = place{at: 0}
	for s.at < len(text) {
		s.line = s.at
		s.blank(" \t\r")
		switch {
		case s.at == len(text):
		case s.is("#") || s.is("\n"):
			s.toNextLine()
		case s.is("[["):
			name := resolve(splitKey(s.until("]]")[2:]), s.counts, true)
			table = fmt.Sprintf("%s[%d]", name, s.counts[name])
			s.counts[name]++
			s.toNextLine()
			s.tables[table] = place{at: s.at}
		case s.is("["):
			table = resolve(splitKey(s.until("]")[1:]), s.counts, false)
			s.toNextLine()
			s.tables[table] = place{at: s.at}
		default:
			s.pair(table)
			s.toNextLine()
			s.tables[table] = place{at: s.at}
		}
	}
	return s
}

// It is called from many places: in line it would make the engine of a page larger.
//
//go:noinline
func (s *layout) is(what string) bool { return strings.HasPrefix(s.text[s.at:], what) }

// blank goes over letters of a set.
func (s *layout) blank(set string) {
	for s.at < len(s.text) && strings.IndexByte(set, s.text[s.at]) >= 0 {
		s.at++
	}
}

// until reads the head of a table up to its end, quotes apart.
func (s *layout) until(end string) string {
	from := s.at
	for s.at < len(s.text) && !s.is(end) {
		if s.is(`"`) || s.is("'") {
			s.quoted()
		} else {
			s.at++
		}
	}
	head := s.text[from:s.at]
	s.at += min(len(end), len(s.text)-s.at)
	return head
}

func (s *layout) toNextLine() {
	if i := strings.IndexByte(s.text[s.at:], '\n'); i >= 0 {
		s.at += i + 1
	} else {
		s.at = len(s.text)
	}
}

// pair reads a key and its value in a table.
func (s *layout) pair(table string) {
	from := s.at
	for s.at < len(s.text) && !s.is("=") && !s.is("\n") {
		if s.is(`"`) || s.is("'") {
			s.quoted()
		} else {
			s.at++
		}
	}
	path := joined(table, strings.Join(splitKey(s.text[from:s.at]), "."))
	s.at = min(len(s.text), s.at+1)
	s.value(path)
}

// value reads a value and notes where it stands.
func (s *layout) value(path string) {
	s.blank(" \t")
	from := s.at
	switch {
	case s.at == len(s.text):
	case s.is(`"`) || s.is("'"):
		s.quoted()
	case s.is("["):
		s.list(path)
	case s.is("{"):
		s.inline(path)
	default:
		for s.at < len(s.text) && strings.IndexByte(",]}\r\n#", s.text[s.at]) < 0 {
			s.at++
		}
		for s.at > from && strings.IndexByte(" \t", s.text[s.at-1]) >= 0 {
			s.at--
		}
	}
	s.values[path] = stretch{from, s.at, s.line}
}

// quoted goes over a text in quotes of any kind.
func (s *layout) quoted() {
	quote := s.text[s.at : s.at+1]
	if s.is(quote + quote + quote) {
		quote += quote + quote
	}
	s.at += len(quote)
	for s.at < len(s.text) && !s.is(quote) {
		if quote[0] == '"' && s.text[s.at] == '\\' {
			s.at++
		}
		s.at++
	}
	s.at = min(len(s.text), s.at+len(quote))
	for len(quote) == 3 && s.at < len(s.text) && s.text[s.at] == quote[0] { // quotes that belong to the text
		s.at++
	}
}

// rest goes over blanks, line ends and comments between the parts of a value.
func (s *layout) rest() {
	for s.blank(" \t\r\n"); s.at < len(s.text) && s.is("#"); s.blank(" \t\r\n") {
		s.toNextLine()
	}
}

func (s *layout) list(path string) {
	s.at++
	for i := 0; ; i++ {
		s.rest()
		if s.at == len(s.text) || s.is("]") {
			s.at = min(len(s.text), s.at+1)
			return
		}
		from := s.at
		s.value(fmt.Sprintf("%s[%d]", path, i))
		if s.rest(); s.is(",") {
			s.at++
		} else if s.at == from {
			return
		}
	}
}

func (s *layout) inline(path string) {
	s.at++
	inside := place{at: s.at, inline: true, empty: true, line: s.line}
	for {
		s.rest()
		if s.at == len(s.text) || s.is("}") {
			s.tables[path] = inside
			s.at = min(len(s.text), s.at+1)
			return
		}
		from := s.at
		s.pair(path)
		inside.at, inside.empty = s.at, false
		if s.rest(); s.is(",") {
			s.at++
		} else if s.at == from {
			return
		}
	}
}
