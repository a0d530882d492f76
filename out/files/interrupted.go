package files

import (
	"fmt"
	"strings"

	"rollchange/model/legible"
)

// mostNamed is how many files of a kind a message names.
const mostNamed = 5

// Interrupted is what was written and what was not, for a run that did not come
// to its end.
func (r *Run) Interrupted() string {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.stdout.mu.Lock()
	defer r.stdout.mu.Unlock()
	var done, part, none []string
	for _, o := range r.outputs {
		switch {
		case o.state == whole:
			done = append(done, legible.Visible(o.name))
		case o.cut:
			part = append(part, legible.Visible(o.name))
		default:
			none = append(none, legible.Visible(o.name))
		}
	}
	const answer = "the answer on standard output"
	switch s := r.stdout; {
	case s.named:
	case s.whole && s.began:
		done = append([]string{answer}, done...)
	case s.began:
		part = append([]string{answer}, part...)
	case s.asked:
		none = append([]string{answer}, none...)
	}
	text := "interrupted, nothing written"
	if len(done) > 0 && len(part)+len(none) == 0 {
		text = "interrupted, after all was written: " + named(done)
	} else if len(done)+len(part) > 0 {
		var parts []string
		for _, x := range []struct {
			head  string
			names []string
		}{{"written: ", done}, {"written in part only: ", part}, {"not written: ", none}} {
			if len(x.names) > 0 {
				parts = append(parts, x.head+named(x.names))
			}
		}
		text = "interrupted; " + strings.Join(parts, "; ")
	}
	if r.kept != "" {
		text += "; what is finished is kept in " + legible.Visible(r.kept)
	}
	return text
}

func named(names []string) string {
	if len(names) > mostNamed {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:mostNamed], ", "), len(names)-mostNamed)
	}
	return strings.Join(names, ", ")
}
