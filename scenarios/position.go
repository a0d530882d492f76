package scenarios

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// positions finds the line of every key of a TOML text that the decoder has
// accepted. Keys are written with their tables, elements of arrays of tables
// with their number: "alternative[1].unwind.change". Keys inside an inline
// table are not listed; lineOf falls back on the key that holds it.
type positions map[string]int

func findPositions(lines []string) positions {
	at := positions{}
	counts := map[string]int{} // array tables seen, by resolved name
	table := ""
	depth := 0  // open brackets of a value that goes on
	quote := "" // open multi-line string
	for i, line := range lines {
		rest := line
		if quote == "" && depth == 0 {
			s := strings.TrimSpace(line)
			switch {
			case s == "" || s[0] == '#':
				continue
			case strings.HasPrefix(s, "[["):
				name := resolve(splitKey(strings.SplitN(s[2:], "]]", 2)[0]), counts, true)
				table = fmt.Sprintf("%s[%d]", name, counts[name])
				counts[name]++
				at.add(table, i+1)
				continue
			case s[0] == '[':
				table = resolve(splitKey(strings.SplitN(s[1:], "]", 2)[0]), counts, false)
				at.add(table, i+1)
				continue
			}
			key, value := cutKey(s)
			at.add(joined(table, strings.Join(splitKey(key), ".")), i+1)
			rest = value
		}
		depth, quote = scanValue(rest, depth, quote)
	}
	return at
}

// add notes the line of a path, and of the tables that it goes through when they
// have no line of their own so far.
func (p positions) add(path string, line int) {
	for {
		if _, ok := p[path]; ok {
			return
		}
		p[path] = line
		i := strings.LastIndexByte(path, '.')
		if i < 0 {
			return
		}
		path = path[:i]
	}
}

// resolve joins the parts of a table name; a part that names an array of
// tables stands for its latest element, the last part only when it is not
// itself the array that begins.
func resolve(parts []string, counts map[string]int, array bool) string {
	path := ""
	for i, p := range parts {
		if path != "" {
			path += "."
		}
		path += p
		if n := counts[path]; n > 0 && (i < len(parts)-1 || !array) {
			path = fmt.Sprintf("%s[%d]", path, n-1)
		}
	}
	return path
}

// cutKey splits a line at the first = outside quotes.
func cutKey(s string) (key, value string) {
	var quote byte
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case quote == '"' && c == '\\':
			i++
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '=':
			return s[:i], s[i+1:]
		}
	}
	return s, ""
}

// splitKey splits a dotted key into its bare parts.
func splitKey(s string) []string {
	var parts []string
	var part strings.Builder
	var quote rune
	for rest := s; rest != ""; {
		c, n := utf8.DecodeRuneInString(rest)
		if quote == '"' && c == '\\' { // an escape is what it stands for
			if x, _, after, err := strconv.UnquoteChar(rest, '"'); err == nil {
				part.WriteRune(x)
				rest = after
				continue
			}
		}
		rest = rest[n:]
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			} else {
				part.WriteRune(c)
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '.':
			parts = append(parts, part.String())
			part.Reset()
		case c != ' ' && c != '\t':
			part.WriteRune(c)
		}
	}
	return append(parts, part.String())
}

// scanValue follows brackets and strings through the rest of a line.
func scanValue(s string, depth int, quote string) (int, string) {
	for i := 0; i < len(s); {
		if quote != "" {
			switch {
			case s[i] == '\\' && quote[0] == '"':
				i += 2
			case strings.HasPrefix(s[i:], quote):
				i += len(quote)
				quote = ""
			default:
				i++
			}
			continue
		}
		switch c := s[i]; {
		case c == '#':
			return depth, ""
		case strings.HasPrefix(s[i:], `"""`) || strings.HasPrefix(s[i:], "'''"):
			quote = s[i : i+3]
			i += 3
			continue
		case c == '"' || c == '\'':
			quote = string(c)
		case c == '[' || c == '{':
			depth++
		case c == ']' || c == '}':
			depth = max(0, depth-1)
		}
		i++
	}
	if len(quote) == 1 {
		quote = "" // a plain string ends with its line
	}
	return depth, quote
}

// lineOf is the line of a key, or of the nearest table or key that holds it; 0
// when there is none.
func (p positions) lineOf(path string) int {
	for {
		if line, ok := p[path]; ok {
			return line
		}
		i := strings.LastIndexAny(path, ".[")
		if i < 0 {
			return 0
		}
		path = path[:i]
	}
}
