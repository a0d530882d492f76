package scenarios

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"rollchange/model/legible"
)

// decoded is a text as TOML, and where its keys stand. It is only read, so that a
// scenario can be read again with other changes.
type decoded struct {
	lines []string
	raw   map[string]any
	at    positions
}

// decode reads a text as TOML; what is wrong with it is in errs.
func decode(text []byte, errs *Errors) *decoded {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf")) // some editors write it
	d := &decoded{lines: strings.Split(strings.ReplaceAll(string(text), "\r\n", "\n"), "\n")}
	errs.Text = d.lines
	fail := func(line int, what, write string) *decoded {
		errs.add(line, "", what, write)
		return nil
	}
	switch {
	case len(bytes.TrimSpace(text)) == 0:
		return fail(0, "is empty", "rollchange new FILE writes a scenario to start from")
	case len(text) > largest:
		return fail(0, fmt.Sprintf("is larger than %d kB: this is not a scenario", largest>>10), "")
	case !utf8.Valid(text) || bytes.IndexByte(text, 0) >= 0:
		return fail(0, "is not text in UTF-8: this is not a scenario", "")
	}
	if line, what := tooMuch(string(text)); what != "" {
		return fail(line, what, "")
	}
	if _, err := toml.Decode(string(text), &d.raw); err != nil {
		var p toml.ParseError
		if errors.As(err, &p) {
			if strings.HasPrefix(p.Message, "invalid escape") {
				p.Usage = `"\\" for \, and "data/log.csv" for a file in a folder: every system reads that`
			}
			return fail(p.Position.Line, "cannot be read as TOML: "+legible.Short(p.Message), p.Usage)
		}
		return fail(0, "cannot be read as TOML: "+legible.Short(err.Error()), "")
	}
	d.at = findPositions(d.lines)
	return d
}

// parse reads a scenario.
func parse(name string, text []byte, from *data, overrides []Override) (*Scenario, error) {
	errs := &Errors{Name: name}
	errs.number(overrides)
	d := decode(text, errs)
	if d == nil {
		return nil, errs
	}
	return d.parse(name, text, from, nil, overrides)
}

// parse is parse of a text that is decoded; of its alternatives only those named, when some are.
func (d *decoded) parse(name string, text []byte, from *data, only []string, overrides []Override) (*Scenario, error) {
	errs := &Errors{Name: name, Text: d.lines}
	errs.number(overrides)
	s := &Scenario{Name: name, Text: text, data: from, text: d, overrides: overrides, laid: map[string]leaves{}, own: map[string]leaves{}, place: map[string]int{}, Sources: map[string]string{}}
	s.build(&reader{at: d.at, errs: errs, sources: s.Sources}, d.raw, only, overrides)
	if err := errs.asError(); err != nil {
		return nil, err
	}
	return s, nil
}

// fromText reads the value of an override: as TOML where it is TOML, else as text.
func fromText(s string) any {
	switch n := len(s); { // the most usual, which need no decoder
	case s == "true" || s == "false":
		return s == "true"
	case n > 1 && s[0] == '"' && s[n-1] == '"' && asItIs(s[1:n-1]):
		return s[1 : n-1]
	case n > 0 && n < 10 && s[0] >= '1' && s[0] <= '9' && strings.Trim(s, "0123456789") == "":
		x, _ := strconv.ParseInt(s, 10, 64)
		return x
	}
	var m map[string]any
	if _, what := tooMuch(s); what != "" {
		return s
	}
	if _, err := toml.Decode("x = "+s, &m); err == nil && len(m) == 1 {
		return m["x"]
	}
	return s
}

// asItIs says whether a text stands for itself between quotes.
func asItIs(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] >= 0x7f || s[i] == '"' || s[i] == '\\' {
			return false
		}
	}
	return true
}
