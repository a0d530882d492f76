package scenarios

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// PathOf is the path of the value that a key names, a key as it is given to --set:
// elements of arrays by their number, "stop[0].every.mean". Of is the alternative that the
// key is of, empty where it is of all. The error says what is wrong with the key, also
// where its name is of another element in one alternative than in the next.
func (s *Scenario) PathOf(key string) (path, of string, err error) {
	x, err := s.named(key)
	if err != nil {
		return "", "", err
	}
	if rest, ok := strings.CutPrefix(x.Key, "alternative[]."); ok && x.Of != "" {
		return "alternative[" + strconv.Itoa(s.place[x.Of]) + "]." + rest, x.Of, nil
	}
	missing := ""
	for i := range s.Study.Alternatives {
		a := s.Study.Alternatives[i].Name
		if x.Of != "" && x.Of != a {
			continue
		}
		at, what := s.laid[a].numbered(x.Key)
		switch {
		case what != "":
			missing = what
		case path != "" && at != path:
			return "", "", fmt.Errorf("is %s in alternative %s and %s in another: vary it in one of them", at[:strings.LastIndexByte(at, ']')+1], a, path[:strings.LastIndexByte(path, ']')+1])
		default:
			path = at
		}
	}
	switch {
	case path == "" && missing == "":
		return "", "", fmt.Errorf("alternative %s is left out", x.Of)
	case path == "":
		return "", "", errors.New(missing)
	case missing != "":
		return "", "", fmt.Errorf("not every alternative has %s", x.Key[:strings.LastIndexByte(x.Key, ']')+1])
	}
	return path, x.Of, nil
}

// named finds the alternative and the key that a key names, as it is given to --set.
func (s *Scenario) named(key string) (*setting, error) {
	var names []string
	if len(s.place) > 0 {
		names = s.names()
	}
	x := &setting{Override: Override{Key: key}}
	if what, _ := x.find(names); what != "" {
		return nil, errors.New(what)
	}
	return x, nil
}
