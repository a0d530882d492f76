package scenarios

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"rollchange/model/legible"
)

// decoded is a text as it was decoded. Nothing changes it: a scenario that is read
// again with other values laid over it takes it as it is.
type decoded struct {
	lines []string
	raw   map[string]any
	at    positions
}

// parse reads a scenario; of its alternatives only those named, when some are.
func parse(name string, text []byte, from *data, only []string, overrides []Override) (*Scenario, error) {
	errs := &Errors{Name: name}
	d := decode(text, errs, overrides)
	if err := errs.asError(); err != nil {
		return nil, err
	}
	return d.scenario(name, text, from, only, overrides, errs)
}

// scenario is what a decoded text says with values laid over it.
func (d *decoded) scenario(name string, text []byte, from *data, only []string, overrides []Override, errs *Errors) (*Scenario, error) {
	errs.Text = d.lines
	errs.number(overrides)
	s := &Scenario{Name: name, Text: text, decoded: d, data: from, overrides: overrides, laid: map[string]leaves{}, own: map[string]leaves{}, place: map[string]int{}, Sources: map[string]string{}}
	s.build(&reader{at: d.at, errs: errs, sources: s.Sources}, d.raw, only, overrides)
	if err := errs.asError(); err != nil {
		return nil, err
	}
	return s, nil
}

// decode decodes a text; what is no scenario at all is the one problem of errs.
func decode(text []byte, errs *Errors, overrides []Override) *decoded {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf")) // some editors write it
	d := &decoded{lines: strings.Split(strings.ReplaceAll(string(text), "\r\n", "\n"), "\n")}
	errs.Text = d.lines
	switch {
	case len(bytes.TrimSpace(text)) == 0:
		errs.add(0, "", "is empty", "rollchange new FILE writes a scenario to start from")
		return nil
	case len(text) > largest:
		errs.add(0, "", fmt.Sprintf("is larger than %d kB: this is not a scenario", largest>>10), "")
		return nil
	case !utf8.Valid(text) || bytes.IndexByte(text, 0) >= 0:
		errs.add(0, "", "is not text in UTF-8: this is not a scenario", "")
		return nil
	}
	if line, what := tooMuch(string(text)); what != "" {
		errs.add(line, "", what, "")
		return nil
	}
	if _, err := toml.Decode(string(text), &d.raw); err != nil {
		errs.number(overrides)
		var p toml.ParseError
		if errors.As(err, &p) {
			errs.add(p.Position.Line, "", "cannot be read as TOML: "+legible.Short(p.Message), p.Usage)
		} else {
			errs.add(0, "", "cannot be read as TOML: "+legible.Short(err.Error()), "")
		}
		return nil
	}
	d.at = findPositions(d.lines)
	return d
}

// fromText reads the value of an override: as TOML where it is TOML, else as text.
func fromText(s string) any {
	var m map[string]any
	if _, what := tooMuch(s); what != "" {
		return s
	}
	if _, err := toml.Decode("x = "+s, &m); err == nil && len(m) == 1 {
		return m["x"]
	}
	return s
}

// fallbacks are the values of defaults by their text. A scenario takes a hundred of
// them, for each alternative, and a sensitivity reads it for each input.
var fallbacks sync.Map

// fallback is the default as it would stand in the file.
func (k *Key) fallback() any {
	v, known := fallbacks.Load(k.Default)
	if !known {
		v = fromText(k.Default)
		fallbacks.Store(k.Default, v)
	}
	return v
}
