package scenarios

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"rollchange/model/legible"
)

// usualMovers are what usually moves an answer, in the order of the reference.
var usualMovers = []string{
	"line.speed", "line.restart_scrap",
	"unwind.roll_length", "unwind.roll_diameter", "unwind.change_time", "unwind.dwell", "unwind.splice_success", "unwind.storage.capacity", "unwind.storage.travel",
	"rewind.roll_length", "rewind.roll_diameter", "rewind.change_time", "rewind.dwell",
	"crew.operators", "web_breaks.mean_length", "jobs.length", "jobs.changeover", "changeover.time",
}

// ParseMovers reads "KEY=FROM..TO", or a key alone, whose ends are then near its value, as
// far as the scenario takes them.
// Where alternatives have values of their own there is a mover for each.
func (s *Scenario) ParseMovers(text string) ([]*Mover, error) {
	o := ParseSet(text)
	key := o.Key
	if key == "" {
		key = strings.TrimSpace(text)
	}
	bad := func(err error) ([]*Mover, error) { return nil, fmt.Errorf("%s: %w", legible.Short(key), err) }
	list, err := s.MoversOf(key)
	if err != nil {
		return bad(err)
	}
	for _, m := range list {
		if o.Key == "" {
			s.allow(m)
			continue
		}
		if err := m.Between(o.Value); err != nil {
			return bad(err)
		}
	}
	return list, nil
}

// MoversOf are the movers of a key, one for each value that it has in the scenario.
func (s *Scenario) MoversOf(key string) ([]*Mover, error) {
	m, err := s.MoverOf(key)
	if err == nil {
		return []*Mover{m}, nil
	}
	var list []*Mover
	for n := range s.Study.Alternatives {
		m, of := s.MoverOf(fmt.Sprintf("%s@%d", key, n+1))
		if of != nil {
			continue
		}
		if len(m.Of) == 1 {
			m.Key = s.keyIn(m.Of[0], key)
		}
		list = append(list, m)
	}
	if len(list) == 0 {
		return nil, err
	}
	return list, nil
}

// keyIn is a key of one alternative, by its name, or its number where its name could be
// misread.
func (s *Scenario) keyIn(name, key string) string {
	number := strconv.Itoa(s.place[name])
	_, taken := s.place[number]
	if strings.ContainsAny(name, "[]=\"@") && !taken {
		name = number
	}
	return fmt.Sprintf("alternative[%s].%s", name, key)
}

// UsualMovers are the keys that usually move an answer and that the scenario gives: those
// of the line with one value, those that only some alternatives have once for each value.
func (s *Scenario) UsualMovers() []*Mover {
	var list []*Mover
	for _, key := range usualMovers {
		list = append(list, s.standingMovers(key)...)
	}
	for _, m := range list {
		s.allow(m)
	}
	return list
}

// Prices are the movers of all prices, and of what each alternative costs, that the
// scenario gives and that are not in a list already.
func (s *Scenario) Prices(but []*Mover) []*Mover {
	var list []*Mover
	for i := range table {
		k := &table[i]
		name, of := strings.CutPrefix(k.Path, "alternative[].")
		if !k.moves() || !of && !strings.HasPrefix(k.Path, "economics.") {
			continue
		}
		if !of {
			list = append(list, s.standingMovers(k.Path)...)
			continue
		}
		for _, a := range s.Study.Alternatives {
			if m, err := s.MoverOf(s.keyIn(a.Name, name)); err == nil {
				list = append(list, m)
			}
		}
	}
	return without(list, but)
}

// without are movers less those of which another list has the key.
func without(list, but []*Mover) []*Mover {
	var rest []*Mover
	for _, m := range list {
		if !slices.ContainsFunc(but, func(x *Mover) bool { return x.Path == m.Path && (len(x.Of) == 0 || slices.Equal(x.Of, m.Of)) }) {
			rest = append(rest, m)
		}
	}
	return rest
}

// OtherMovers are all keys that stand in the scenario and can be moved, in the order of
// the reference, but those of a list.
func (s *Scenario) OtherMovers(but []*Mover) []*Mover {
	seen := map[string]bool{}
	for i := range s.Study.Alternatives {
		for path, l := range s.laid[s.Study.Alternatives[i].Name] {
			if k := rowOf[row(path)]; k != nil && l.line != 0 && k.moves() && !strings.HasPrefix(path, "alternative") {
				seen[path] = true
			}
		}
	}
	paths := slices.SortedFunc(maps.Keys(seen), func(a, b string) int {
		x, y := placeOf(a), placeOf(b)
		return cmp.Or(x[0]-y[0], x[1]-y[1], x[2]-y[2], cmp.Compare(a, b))
	})
	var list []*Mover
	for _, path := range paths {
		list = append(list, s.standingMovers(path)...)
	}
	return without(list, but)
}

// standingMovers are the movers of a key that stands in the scenario.
func (s *Scenario) standingMovers(key string) []*Mover {
	for i := range s.Study.Alternatives {
		if s.laid[s.Study.Alternatives[i].Name][key].line != 0 {
			list, _ := s.MoversOf(key)
			return slices.DeleteFunc(list, func(m *Mover) bool { return !m.given })
		}
	}
	return nil
}

// NameOf is the name of the element of an array that a path goes through: of
// "stop[0].every" that of the first stop; empty where it has none.
func (s *Scenario) NameOf(path string) string {
	i := strings.IndexByte(path, ']')
	if i < 0 || strings.HasPrefix(path, "alternative") {
		return ""
	}
	for k := range s.Study.Alternatives {
		if name, ok := s.laid[s.Study.Alternatives[k].Name][path[:i+1]+".name"].raw.(string); ok {
			return name
		}
	}
	return ""
}

// live checks what the scenario says can be moved, once all else is right.
func (b *builder) live(base leaves) {
	if len(b.r.errs.Problems) > 0 {
		return
	}
	for i, text := range b.s.Study.Live {
		key := fmt.Sprintf("live[%d].vary", i)
		line := base[key].line
		if strings.TrimSpace(text) == "" {
			b.r.errs.add(max(line, b.r.at.lineOf(fmt.Sprintf("live[%d]", i))), key, "is needed always", rowOf["live[].vary"].Example())
		} else if _, err := b.s.ParseMovers(text); err != nil {
			b.r.errs.add(line, key, err.Error(), rowOf["live[].vary"].Example())
		}
	}
}
