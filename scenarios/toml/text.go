package toml

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// quoted reads text between quotes on one line.
func (r *reader) quoted(quote byte) string {
	r.at++
	var s strings.Builder
	for r.err == nil {
		switch c := r.peek(); {
		case c == quote:
			r.at++
			return s.String()
		case r.at >= len(r.text) || c == '\n' || r.has("\r\n"):
			r.fail("", "text in quotes ends on its line: a quote is missing")
		case c == '\\' && quote == '"':
			r.escape(&s)
		default:
			r.printable()
			s.WriteByte(c)
		}
	}
	return ""
}

// lined reads text of several lines between three quotes; the end of a line right
// behind the first ones does not count.
func (r *reader) lined(quote byte) string {
	three := string([]byte{quote, quote, quote})
	from := r.line
	r.at += 3
	r.newline()
	var s strings.Builder
	for r.err == nil {
		start := r.at
		switch {
		case r.at >= len(r.text):
			r.line = from
			r.fail("", "text between three quotes does not end")
		case r.has(three):
			r.at += 3
			for range 2 { // it may end in two quotes of its own
				if r.peek() == quote {
					s.WriteByte(quote)
					r.at++
				}
			}
			return s.String()
		case r.newline():
			s.WriteString(r.text[start:r.at])
		case r.peek() == '\\' && quote == '"':
			if !r.continued() {
				r.escape(&s)
			}
		default:
			s.WriteByte(r.peek())
			r.printable()
		}
	}
	return ""
}

// continued passes a backslash at the end of a line, with the blank that follows.
func (r *reader) continued() bool {
	at, line := r.at, r.line
	r.at++
	r.spaces()
	if !r.newline() {
		r.at, r.line = at, line
		return false
	}
	for r.spaces(); r.newline(); {
		r.spaces()
	}
	return true
}

var escapes = map[byte]byte{'b': '\b', 't': '\t', 'n': '\n', 'f': '\f', 'r': '\r', 'e': '\x1b', '"': '"', '\\': '\\'}

// escape reads what a backslash stands for.
func (r *reader) escape(s *strings.Builder) {
	r.at++
	c := r.peek()
	if plain, is := escapes[c]; is {
		r.at++
		s.WriteByte(plain)
		return
	}
	digits := map[byte]int{'x': 2, 'u': 4, 'U': 8}[c]
	if code := r.text[min(r.at+1, len(r.text)):min(r.at+1+digits, len(r.text))]; digits > 0 && len(code) == digits && allOf(code, hex) {
		n, err := strconv.ParseUint(code, 16, 32)
		if err == nil && n <= utf8.MaxRune && utf8.ValidRune(rune(n)) {
			r.at += 1 + digits
			s.WriteRune(rune(n))
			return
		}
	}
	r.fail(`'C:\folder'`, `\%s in text stands for nothing; \\ is a backslash, and between single quotes it needs none`, r.shown())
}
