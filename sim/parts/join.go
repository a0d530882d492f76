package parts

import (
	"errors"
	"fmt"

	"rollchange/model/legible"
)

// mostProblems is from where on Join names no more parts that are missing.
const mostProblems = 50

// Join reads all parts and returns what they are parts of and its units in
// order. Parts that are missing, doubled, foreign or cut off are named, all of
// them.
func Join(paths []string) (Header, []Unit, error) {
	var problems []error
	var first *Header
	firstName := ""
	byPart := map[int]string{}
	var all []Unit
	for _, file := range paths {
		path := legible.Visible(file) // in messages
		wrong := func(format string, args ...any) {
			problems = append(problems, fmt.Errorf("%s: "+format, append([]any{path}, args...)...))
		}
		data, err := readFile(file)
		if err != nil {
			wrong("cannot be read")
			continue
		}
		h, units, used, err := read(data, path)
		if err != nil {
			problems = append(problems, err)
			if used == 0 { // its header is not known
				continue
			}
		}
		if first == nil {
			first, firstName = &h, path
		}
		if why := h.foreign(first); why != "" {
			wrong("does not belong to %s: it %s", firstName, why)
			continue
		}
		if other, twice := byPart[h.Part]; twice {
			wrong("is part %d of %d, as %s is", h.Part, h.Of, other)
			continue
		}
		byPart[h.Part] = path
		if err != nil {
			continue
		}
		from, to := h.Range()
		if err := h.inOrder(units); err != nil {
			wrong("%v", err)
		} else if len(units) < to-from {
			wrong("holds %d units instead of %d", len(units), to-from)
		}
		all = append(all, units...)
	}
	if first == nil {
		return Header{}, nil, errors.Join(problems...)
	}
	for k := 1; k <= first.Of && len(problems) < mostProblems; k++ {
		if byPart[k] == "" {
			problems = append(problems, fmt.Errorf("part %d of %d is missing", k, first.Of))
		}
	}
	if len(problems) > 0 {
		return Header{}, nil, errors.Join(problems...)
	}
	sorted := make([]Unit, first.Units)
	for _, u := range all {
		sorted[u.Unit] = u
	}
	return *first, sorted, nil
}
