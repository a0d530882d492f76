package orders

import (
	"fmt"
	"slices"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios/written"
)

// Near is the place among names of the product that a list means, from 0: the one
// that is spelt so, else the one that differs by capitals and space alone. Where
// there is none or more than one it is -1, and wrong says so, with the nearest
// name where one is near.
func Near(product string, names []string) (at int, wrong string) {
	if at = slices.Index(names, product); at >= 0 {
		return at, ""
	}
	k := written.Same(product)
	for i, name := range names {
		switch {
		case written.Same(name) != k:
		case at >= 0:
			return -1, fmt.Sprintf("%s can be %s or %s", legible.Quote(product), legible.Quote(names[at]), legible.Quote(name))
		default:
			at = i
		}
	}
	if at >= 0 {
		return at, ""
	}
	wrong = fmt.Sprintf("there is no product %s", legible.Quote(product))
	if len(names) == 0 {
		return -1, wrong
	}
	// Letters alone count: a name with other marks between them is near.
	plain := func(s string) []rune {
		r := []rune(strings.ReplaceAll(written.Fold(s), " ", ""))
		return r[:min(len(r), mostName)]
	}
	p, best, near := plain(product), 0, -1
	for i, name := range names {
		n := plain(name)
		if d := written.Distance(p, n); (near < 0 || d < best) && 3*d <= max(len(p), len(n)) && d < len(p) {
			best, near = d, i
		}
	}
	if near >= 0 {
		return -1, wrong + "; did you mean " + legible.Quote(names[near]) + "?"
	}
	return -1, wrong + "; there are " + legible.List(names)
}
