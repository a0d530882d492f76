package learn

import "strings"

// document is the text of a scenario by lines, so that some can be written anew
// and all others stay as they are.
type document struct {
	lines []string // without their ends
	crlf  bool
	end   bool // the last line has an end
}

// section is the lines of a table: its head and what follows up to the next head.
type section struct {
	name     string // "unwind", "stop", "" above the first head
	array    bool   // [[stop]]
	from, to int    // first line, of the head; one behind the last
}

func newDocument(text string) *document {
	d := &document{crlf: strings.Contains(text, "\r\n"), end: strings.HasSuffix(text, "\n")}
	text = strings.TrimSuffix(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
	d.lines = strings.Split(text, "\n")
	return d
}

func (d *document) String() string {
	end := "\n"
	if d.crlf {
		end = "\r\n"
	}
	s := strings.Join(d.lines, end)
	if d.end {
		s += end
	}
	return s
}

// state is where a line begins: within brackets, or within a text of several lines.
type state struct {
	depth int
	quote string // """ or '''; empty: none
}

// after is the state behind a line.
func (s state) after(line string) state {
	for i := 0; i < len(line); {
		rest := line[i:]
		switch {
		case s.quote != "":
			if strings.HasPrefix(rest, s.quote) {
				i, s.quote = i+3, ""
			} else if s.quote == `"""` && rest[0] == '\\' {
				i += 2
			} else {
				i++
			}
		case strings.HasPrefix(rest, `"""`), strings.HasPrefix(rest, `'''`):
			s.quote = rest[:3]
			i += 3
		case rest[0] == '"' || rest[0] == '\'':
			i++
			for i < len(line) && line[i] != rest[0] {
				if rest[0] == '"' && line[i] == '\\' {
					i++
				}
				i++
			}
			i++
		case rest[0] == '#':
			return s
		case rest[0] == '[' || rest[0] == '{':
			s.depth++
			i++
		case rest[0] == ']' || rest[0] == '}':
			s.depth--
			i++
		default:
			i++
		}
	}
	return s
}

func (s state) plain() bool { return s == state{} }

// sections are the tables of the text.
func (d *document) sections() []section {
	list := []section{{}}
	var s state
	for i, line := range d.lines {
		if head := strings.TrimSpace(line); s.plain() && strings.HasPrefix(head, "[") {
			list[len(list)-1].to = i
			array := strings.HasPrefix(head, "[[")
			name, _, _ := strings.Cut(strings.TrimLeft(head, "["), "]")
			list = append(list, section{name: strings.TrimSpace(name), array: array, from: i})
		}
		s = s.after(line)
	}
	list[len(list)-1].to = len(d.lines)
	return list
}

// value finds the lines of a key in a section: the first and one behind the last.
func (d *document) value(in section, key string) (from, to int, ok bool) {
	var s state
	for i := in.from; i < in.to; i++ {
		if name, _, is := strings.Cut(d.lines[i], "="); is && s.plain() && strings.TrimSpace(name) == key {
			for s = s.after(d.lines[i]); !s.plain() && i+1 < in.to; s = s.after(d.lines[i]) {
				i++
				ok = true
			}
			if !ok {
				return i, i + 1, true
			}
			for from = i; from > in.from && !isKey(d.lines[from], key); from-- {
			}
			return from, i + 1, true
		}
		s = s.after(d.lines[i])
	}
	return 0, 0, false
}

func isKey(line, key string) bool {
	name, _, ok := strings.Cut(line, "=")
	return ok && strings.TrimSpace(name) == key
}

// tail is the comment behind a value; empty: none. Of several lines, behind the last.
func (d *document) tail(from, to int) string {
	var s state
	for i := from; i < to-1; i++ {
		s = s.after(d.lines[i])
	}
	line := d.lines[to-1]
	for i := range line { // the first # that is no part of the value
		if line[i] == '#' && s.after(line[:i]).plain() && quotesEven(line[:i]) {
			return line[i:]
		}
	}
	return ""
}

// quotesEven says whether a piece of a line ends outside quotes.
func quotesEven(piece string) bool {
	var open byte
	for i := 0; i < len(piece); i++ {
		switch {
		case open == 0 && (piece[i] == '"' || piece[i] == '\''):
			open = piece[i]
		case open == '"' && piece[i] == '\\':
			i++
		case open != 0 && piece[i] == open:
			open = 0
		}
	}
	return open == 0
}

// put lays lines in place of those from first to before last.
func (d *document) put(first, last int, lines ...string) {
	d.lines = append(d.lines[:first:first], append(lines, d.lines[last:]...)...)
}
