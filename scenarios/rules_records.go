package scenarios

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
)

// records checks what the line really made, once for the study.
func (b *builder) records(v leaves, names []string) {
	r := &b.s.Study.Recorded
	first, any := leaf{}, ""
	for path, l := range v {
		if strings.HasPrefix(path, "records.") && (any == "" || l.line < first.line || l.line == first.line && path < any) {
			first, any = l, path
		}
	}
	if any == "" {
		return
	}
	bad := func(path, what, write string) {
		if line := v[path].line; !b.r.errs.has(line, path) {
			b.r.errs.add(line, path, what, write)
		}
	}
	if _, given := v["records.hours"]; !given {
		b.r.errs.add(first.line, "records.hours", "is needed with any key of records", `hours = "500 h" under [records]`)
	}
	if r.Alternative == "" { // whichever is asked for later, the records are of the first
		r.Alternative = names[0]
	}
	if a := r.Alternative; a != "" && !among(names, a) && !among(names, "") {
		bad("records.alternative", fmt.Sprintf("there is no alternative %s%s", legible.Quote(a), DidYouMean(a, names)), "")
	}
	planned := r.Hours
	if at := r.Of(&b.s.Study); at >= 0 {
		planned *= float64(max(1, b.s.Study.Alternatives[at].Line.Crew.Lines))
	}
	if v.unread("crew.lines", b.r.errs) { // it is not known of how many
		planned = 0
	}
	tooLong := func(path string, x *float64) {
		if x != nil && planned > 0 && *x > planned*(1+1e-9) {
			bad(path, fmt.Sprintf("is more than the planned hours of all lines, %.6g h", planned/3600), "")
		}
	}
	tooLong("records.stopped", r.Stopped)
	all, last := 0.0, ""
	for i := range r.Causes {
		c, path := &r.Causes[i], fmt.Sprintf("records.cause[%d].hours", i)
		tooLong(path, c.Time)
		if c.Time != nil && c.Is != model.RecordedNothing {
			all, last = all+*c.Time, path
		}
	}
	if planned > 0 && all > planned*(1+1e-9) { // an hour for which two stops overlap counts once
		bad(last, fmt.Sprintf("and those of the other causes add up to %.6g h, more than the planned hours of all lines, %.6g h", all/3600, planned/3600), "")
	}
	seen := map[string]int{}
	for i, c := range r.Causes {
		path := fmt.Sprintf("records.cause[%d].text", i)
		if line, twice := seen[c.Text]; twice && c.Text != "" {
			bad(path, fmt.Sprintf("%s is also at line %d", legible.Quote(c.Text), line), "")
		}
		seen[c.Text] = v[path].line
		if _, given := v[path]; !given {
			b.r.errs.add(v["records.cause"].line, path, "is needed always", `text = "roll change"`)
		}
	}
}
