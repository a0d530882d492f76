package written

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rollchange/model/legible"
)

// ParseColumns reads what each column is, as in "start=Beginn,end=Ende,cause=3":
// the head, or the number, 1 for the first. The place of a name in names is its
// role; the first is no role.
func ParseColumns[Role ~int8](text string, names []string) (map[Role]string, error) {
	roles := map[Role]string{}
	var wrong []error
	for part := range strings.SplitSeq(text, ",") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		name, head, ok := strings.Cut(part, "=")
		name, head = strings.ToLower(strings.TrimSpace(name)), strings.TrimSpace(head)
		r := Role(slices.Index(names, name))
		switch {
		case !ok || head == "":
			wrong = append(wrong, fmt.Errorf("columns: %s names no column; write %s=HEAD", legible.Quote(part), names[2]))
		case r <= 0:
			wrong = append(wrong, fmt.Errorf("columns: there is no %s; there are %s", legible.Quote(name), strings.Join(names[1:], ", ")))
		case roles[r] != "":
			wrong = append(wrong, fmt.Errorf("columns: %s is given twice", name))
		default:
			roles[r] = head
		}
	}
	return roles, errors.Join(wrong...)
}

// NamedColumn is the column, from 0, that a text of ParseColumns names: by its head or,
// where no head is so, by its number; -1: there is none. Of several heads that are
// written alike it is the last, and twice hears of each two what is wrong and the number
// of the first.
func NamedColumn(heads []string, name string, twice func(says string, first int)) int {
	at := -1
	for i, h := range heads {
		if h == "" || Same(h) != Same(name) {
			continue
		}
		if at >= 0 {
			twice(fmt.Sprintf("two columns are called %s, column %d and column %d", legible.Quote(name), at+1, i+1), at+1)
		}
		at = i
	}
	if n, err := strconv.Atoi(name); at < 0 && err == nil && n >= 1 && n <= len(heads) {
		at = n - 1
	}
	return at
}
