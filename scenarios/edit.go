package scenarios

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rollchange/model/legible"
)

// Change is a value that a mover is given.
type Change struct {
	*Mover
	To string // as Read takes it
}

// edit is a piece of a text that is written anew.
type edit struct {
	from, to int
	text     string
}

// Edited is the text of the scenario with some values changed: each where it stands, or
// in its table where it stood nowhere, comments and all else as they are. Above a
// statement that is changed stands what mark says of the key and what was there; a mark
// of an earlier change of the key goes. The text is read again before it is returned.
func (s *Scenario) Edited(changes []Change, mark func(key, was string) string) (string, error) {
	text := string(s.Text)
	at := layoutOf(text)
	var edits []edit
	var overrides []Override
	for _, c := range changes {
		_, said, _, err := c.Read(c.To)
		if err != nil {
			return "", fmt.Errorf("%s: %w", legible.Short(c.Key), err)
		}
		if _, isText := fromText(said).(string); isText {
			said = textInTOML(said)
		}
		for _, path := range s.placesOf(c.Mover) {
			edits = append(edits, s.written(at, path, said, mark)...)
		}
		more, err := c.Set(c.To)
		if err != nil {
			return "", err
		}
		overrides = append(overrides, more...)
	}
	slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Or(a.from-b.from, a.to-b.to) })
	var b strings.Builder
	done := 0
	for _, e := range edits {
		if e.from < done { // two marks that take the same line away
			continue
		}
		b.WriteString(text[done:e.from] + e.text)
		done = e.to
	}
	b.WriteString(text[done:])
	return b.String(), s.isEdited(b.String(), overrides)
}

// isEdited checks that a text says what the scenario says with its changes.
func (s *Scenario) isEdited(text string, overrides []Override) error {
	is, err := parse(s.Name, []byte(text), s.data, nil)
	if err != nil {
		return fmt.Errorf("cannot be written as it is laid out: %w", err)
	}
	want, err := s.text.parse(s.Name, s.Text, s.data, nil, append(slices.Clone(s.overrides), overrides...))
	if err != nil {
		return err
	}
	for _, name := range want.names() {
		a, b := is.laid[name], want.laid[name]
		for path := range a {
			if b[path].raw == nil {
				b[path] = leaf{} // to be found different
			}
		}
		for path := range b {
			if k := rowOf[row(path)]; k != nil && usedIn(k, path, b) && asWritten(a[path].raw) != asWritten(b[path].raw) {
				return fmt.Errorf("%s cannot be written as the text is laid out: write its tables as [line], [unwind], [[alternative]]", legible.Short(path))
			}
		}
	}
	return nil
}

// placesOf are the paths in the text at which a mover's value is written: where its
// alternatives have it of their own, and else the one that they share, unless another
// shares it too.
func (s *Scenario) placesOf(m *Mover) []string {
	var paths, heirs []string
	shared := false // an alternative has the value of all, and is not meant
	key := strings.Replace(m.Path, "alternative[].", "", 1)
	for i := range s.Study.Alternatives {
		a := &s.Study.Alternatives[i]
		if !m.Row.usedIn(m.Path, &a.Line) {
			continue
		}
		meant := len(m.Of) == 0 || among(m.Of, a.Name)
		own := fmt.Sprintf("alternative[%d].%s", s.place[a.Name], key)
		_, has := s.own[a.Name][m.Path]
		switch {
		case has && meant || meant && strings.HasPrefix(m.Path, "alternative[]."):
			paths = append(paths, own)
		case has:
		case meant:
			heirs = append(heirs, own)
		default:
			shared = true
		}
	}
	switch {
	case len(heirs) == 0:
	case shared:
		paths = append(paths, heirs...)
	default:
		paths = append(paths, key)
	}
	return paths
}

// written are the edits that give a path a value.
func (s *Scenario) written(at *layout, path, said string, mark func(key, was string) string) []edit {
	if v, ok := at.values[path]; ok {
		was := strings.Join(strings.Fields(at.text[v.from:v.to]), " ")
		return append(at.marked(v.line, path, mark(path, legible.Short(was))), edit{v.from, v.to, said})
	}
	table := path
	for table != "" { // the nearest that is there; the text itself always is
		table = table[:max(0, strings.LastIndexByte(table, '.'))]
		p, ok := at.tables[table]
		if !ok {
			continue
		}
		rest := strings.TrimPrefix(strings.TrimPrefix(path, table), ".")
		switch {
		case p.inline && p.empty:
			return append(at.marked(p.line, path, mark(path, "")), edit{p.at, p.at, " " + rest + " = " + said + " "})
		case p.inline:
			return append(at.marked(p.line, path, mark(path, "")), edit{p.at, p.at, ", " + rest + " = " + said})
		}
		end := at.lineEnd()
		lead := ""
		if p.at > 0 && at.text[p.at-1] != '\n' {
			lead = end
		}
		return []edit{{p.at, p.at, lead + mark(path, "") + end + rest + " = " + said + end}}
	}
	return nil
}

// marked is the mark of a path above a line, in place of an earlier one.
func (s *layout) marked(line int, path, mark string) []edit {
	from, begins := line, mark[:strings.Index(mark, path)+len(path)]+" "
	for from > 0 {
		above := strings.LastIndexByte(s.text[:from-1], '\n') + 1
		text := strings.TrimSpace(s.text[above:from])
		if !strings.HasPrefix(text, "#") {
			break
		}
		if strings.HasPrefix(text, begins) {
			return []edit{{above, from, mark + s.lineEnd()}}
		}
		from = above
	}
	return []edit{{line, line, mark + s.lineEnd()}}
}

// lineEnd is how the lines of the text end.
func (s *layout) lineEnd() string {
	if strings.Contains(s.text, "\r\n") {
		return "\r\n"
	}
	return "\n"
}
