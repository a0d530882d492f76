package scenarios

import (
	"fmt"
	"strings"
)

// What a scenario may hold at most. The largest that can be thought of, 50
// alternatives that give every key anew, has a third of it; what has more is
// refused before the decoder sees it, since that takes memory with the square of
// the depth of inline tables and with the number of tables.
const (
	largest      = 1 << 20 // bytes
	mostDeep     = 12      // brackets within one another in a value; the deepest real one has 7
	mostParts    = 12      // parts of a dotted key; real ones have 4
	mostNodes    = 20_000  // tables, arrays and parts of keys
	mostElements = 100_000 // of arrays and inline tables
)

// scan counts what a TOML text holds, with one look at each byte and no memory
// of its own. Where the text is no TOML it may miscount from there on, but so
// far the decoder does not come either.
type scan struct {
	text            string
	at, line        int
	statement       bool // nothing of a statement has been read yet
	headed          bool // within the brackets of a table
	deep, parts     int  // open brackets of a value; dots of a key
	nodes, elements int
	complaint       string
	complaintAt     int // line
}

// tooMuch says what a text has too much of, and on which line; "" when nothing.
func tooMuch(text string) (line int, what string) {
	s := &scan{text: text, line: 1, statement: true}
	for s.at < len(s.text) && s.complaint == "" {
		s.step()
	}
	return s.complaintAt, s.complaint
}

func (s *scan) refuse(format string, args ...any) {
	if s.complaint == "" {
		s.complaint, s.complaintAt = fmt.Sprintf(format, args...), s.line
	}
}

func (s *scan) step() {
	c := s.text[s.at]
	s.at++
	switch c {
	case '\n':
		s.line++
		if s.deep == 0 {
			s.statement, s.headed, s.parts = true, false, 0
		}
		return
	case ' ', '\t', '\r':
		return
	case '#':
		s.skipTo("\n")
		return
	case '"', '\'':
		s.quoted(c)
	case '[', '{':
		s.open(c)
	case ']', '}':
		if s.headed {
			s.headed = c != ']'
		} else {
			s.deep = max(0, s.deep-1)
		}
		s.parts = 0
	case '.':
		if s.parts++; s.parts >= mostParts {
			s.refuse("nests tables too deep: a key has at most %d parts", mostParts)
		}
		s.node()
	case '=':
		s.parts = 0
		s.node()
	case ',':
		s.parts = 0
		if s.elements++; s.elements > mostElements {
			s.refuse("holds more than %d values: put them into a CSV file", mostElements)
		}
	}
	s.statement = false
}

func (s *scan) open(c byte) {
	s.node()
	if s.statement && c == '[' { // [table] or [[table]]
		s.headed = true
		return
	}
	if s.headed {
		return
	}
	s.parts = 0
	if s.deep++; s.deep > mostDeep {
		s.refuse("nests tables too deep: at most %d brackets within one another", mostDeep)
	}
}

func (s *scan) node() {
	if s.nodes++; s.nodes > mostNodes {
		s.refuse("holds more than %d tables and keys: this is not a scenario", mostNodes)
	}
}

// quoted goes to the end of a string, whose first quote has been read.
func (s *scan) quoted(quote byte) {
	three := strings.Repeat(string(quote), 3)
	if strings.HasPrefix(s.text[s.at-1:], three) {
		s.at += 2
		for s.at < len(s.text) {
			switch {
			case quote == '"' && s.text[s.at] == '\\':
				s.advance(2)
			case strings.HasPrefix(s.text[s.at:], three):
				s.at += 3
				for range 2 { // a string may end in two quotes of its own
					if s.at < len(s.text) && s.text[s.at] == quote {
						s.at++
					}
				}
				return
			default:
				s.advance(1)
			}
		}
		return
	}
	for s.at < len(s.text) && s.text[s.at] != '\n' { // it ends with its line
		c := s.text[s.at]
		s.at++
		switch {
		case c == quote:
			return
		case c == '\\' && quote == '"' && s.at < len(s.text) && s.text[s.at] != '\n':
			s.at++
		}
	}
}

// advance passes n bytes of a string of several lines.
func (s *scan) advance(n int) {
	for range n {
		if s.at < len(s.text) {
			if s.text[s.at] == '\n' {
				s.line++
			}
			s.at++
		}
	}
}

func (s *scan) skipTo(end string) {
	if i := strings.Index(s.text[s.at:], end); i >= 0 {
		s.at += i
	} else {
		s.at = len(s.text)
	}
}
