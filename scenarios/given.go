package scenarios

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Given is one value that stands in the scenario.
type Given struct {
	Key    string
	Text   string // as it stands in the file
	Source string // the note of the nearest table that has one; empty: none
}

// Given lists what stands in the scenario and what an alternative uses of it,
// in the order of the reference: numbers, choices and names, prices too; not
// the title, nor how the study is run.
func (s *Scenario) Given(alternative int) []Given {
	a := &s.Study.Alternatives[alternative]
	v := s.laid[a.Name]
	own := fmt.Sprintf("alternative[%d]", s.place[a.Name])
	var list []Given
	for path, l := range v {
		k := rowOf[row(path)]
		if k == nil || l.line == 0 || studyOnly(path) || path == "alternative[].name" || !k.usedIn(path, &a.Line) {
			continue
		}
		g := Given{Key: strings.Replace(path, "alternative[]", "alternative", 1), Text: asWritten(l.raw)}
		if l.line < 0 {
			g.Source = "--set" // the note of its table is of another value
		}
		_, mine := s.own[a.Name][path]
		for table := path; table != "" && g.Source == ""; {
			table = table[:max(0, strings.LastIndexByte(table, '.'))]
			if mine {
				g.Source = s.Sources[strings.TrimSuffix(own+"."+strings.TrimPrefix(strings.TrimPrefix(table, "alternative[]"), "."), ".")]
			}
			if g.Source == "" {
				g.Source = s.Sources[table]
			}
		}
		list = append(list, g)
	}
	slices.SortFunc(list, func(a, b Given) int {
		x, y := placeOf(a.Key), placeOf(b.Key)
		return cmp.Or(x[0]-y[0], x[1]-y[1], x[2]-y[2], cmp.Compare(a.Key, b.Key))
	})
	return list
}

// placeOf is where a value belongs: that of its table in the reference, the
// number of an element of an array, that of the key.
func placeOf(path string) (place [3]int) {
	full := row(strings.Replace(path, "alternative.", "alternative[].", 1))
	array, _, _ := strings.Cut(full, "[]")
	for i := len(table) - 1; i >= 0; i-- {
		if table[i].Path == full {
			place[0], place[2] = i, i
		}
		if array != full && strings.HasPrefix(table[i].Path, array+"[]") {
			place[0] = i
		}
	}
	if begin, end, ok := nextIndex(path, 0); ok {
		place[1], _ = strconv.Atoi(path[begin+1 : end-1])
	}
	return place
}
