package scenarios

import (
	"fmt"
	"strings"
)

// usualMovers are what usually moves an answer, in the order of the reference.
var usualMovers = []string{
	"line.speed", "line.restart_scrap",
	"unwind.roll_length", "unwind.roll_diameter", "unwind.change_time", "unwind.dwell", "unwind.splice_success", "unwind.storage.capacity", "unwind.storage.travel",
	"rewind.roll_length", "rewind.roll_diameter", "rewind.change_time", "rewind.dwell",
	"crew.operators", "web_breaks.mean_length", "jobs.length", "jobs.changeover", "changeover.time",
}

// UsualMovers are the keys that usually move an answer and that the scenario gives: those
// of the line with one value, those that only some alternatives have once for each value.
func (s *Scenario) UsualMovers() []*Mover {
	var list []*Mover
	for _, key := range usualMovers {
		list = append(list, s.moversOf(key)...)
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
			list = append(list, s.moversOf(k.Path)...)
			continue
		}
		for _, a := range s.Study.Alternatives {
			if m, err := s.MoverOf(fmt.Sprintf("alternative[%s].%s", a.Name, name)); err == nil {
				list = append(list, m)
			}
		}
	}
	var rest []*Mover
	for _, m := range list {
		there := false
		for _, x := range but {
			there = there || x.Path == m.Path && (x.Of == m.Of || x.Of == "")
		}
		if !there {
			rest = append(rest, m)
		}
	}
	return rest
}

// moversOf are the movers of a key that stands in the scenario: one for all alternatives
// where those that use it have the same value, else one for each.
func (s *Scenario) moversOf(key string) []*Mover {
	stands := false
	for i := range s.Study.Alternatives {
		stands = stands || s.laid[s.Study.Alternatives[i].Name][key].line != 0
	}
	if !stands {
		return nil
	}
	if m, err := s.MoverOf(key); err == nil {
		return []*Mover{m}
	}
	var list []*Mover
	for _, a := range s.Study.Alternatives {
		if m, err := s.MoverOf(fmt.Sprintf("alternative[%s].%s", a.Name, key)); err == nil {
			list = append(list, m)
		}
	}
	return list
}

// NameOf is the name of the element of an array that a path goes through: of
// "stop[0].every" that of the first stop; empty where it has none.
func (s *Scenario) NameOf(path string) string {
	i := strings.IndexByte(path, ']')
	if i < 0 {
		return ""
	}
	for _, v := range s.laid {
		if name, ok := v[path[:i+1]+".name"].raw.(string); ok {
			return name
		}
	}
	return ""
}
