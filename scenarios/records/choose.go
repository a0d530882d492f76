package records

import (
	"fmt"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// byHead takes columns by the words of their heads, the surest first.
func (f *finder) byHead() {
	for {
		best, at, tie := 0, -1, -1
		var role Role
		for i, m := range f.means {
			r := m.role
			if m.either && f.at(Start) >= 0 {
				r = End
			}
			if f.role[i] != NoRole || m.weight == 0 || f.at(r) >= 0 || !f.content[i].fits(r) {
				continue
			}
			switch {
			case m.weight > best:
				best, at, tie, role = m.weight, i, -1, r
			case m.weight == best && r == role:
				tie = i
			}
		}
		if at < 0 {
			return
		}
		if tie >= 0 {
			// Of two that say the same, the one with text is a cause and the first a
			// note; else nothing but a person can tell.
			a, b := &f.content[at], &f.content[tie]
			switch {
			case role == Cause && a.words > a.numbers && b.words <= b.numbers, role == Note, role == LineName && a.words+a.numbers > 0 && b.filled == 0:
			case role == Cause && b.words > b.numbers && a.words <= a.numbers:
				at = tie
			case role == Date && f.at(EndDate) < 0: // that of the start, that of the end
				f.role[tie], f.why[tie] = EndDate, ByHead
			default:
				f.ambiguous(role, at, tie)
			}
		}
		f.role[at], f.why[at] = role, ByHead
	}
}

// ambiguous says that two columns can be the same.
func (f *finder) ambiguous(r Role, a, b int) {
	f.errs.Add(f.headRow(), r.String(), fmt.Sprintf("column %d%s and column %d%s both fit", a+1, f.quoted(a), b+1, f.quoted(b)), fmt.Sprintf("--columns \"%s=%d\"", r, a+1))
}

func (f *finder) quoted(i int) string {
	if f.heads[i] != "" {
		return " " + legible.Quote(f.heads[i])
	}
	return " (" + f.sample(i) + ")"
}

// sample is the first thing that stands in a column.
func (f *finder) sample(i int) string {
	for _, row := range f.t.Rows[f.head+1:] {
		if i < len(row.Cells) && row.Cells[i].Text != "" {
			return legible.Quote(row.Cells[i].Text)
		}
	}
	return "nothing"
}

// free are the columns without a role that fit.
func (f *finder) free(fit func(c *content) bool) []int {
	var all []int
	for i := range f.content {
		if f.role[i] == NoRole && f.content[i].filled > 0 && f.means[i].weight == 0 && fit(&f.content[i]) {
			all = append(all, i)
		}
	}
	return all
}

func (f *finder) take(at int, r Role) { f.role[at], f.why[at] = r, ByContent }

// byContent takes what is still needed by what stands in the columns.
func (f *finder) byContent() {
	dated := f.free(func(c *content) bool { return 2*(c.dated+c.serials) >= c.filled })
	if f.at(Start) < 0 && f.at(Date) < 0 {
		switch {
		case len(dated) == 1 && !f.both(dated[0]):
			f.take(dated[0], Date)
		case len(dated) == 1:
			f.take(dated[0], Start)
		case len(dated) == 2 && f.at(End) < 0:
			f.take(dated[0], Start)
			f.take(dated[1], End)
		case len(dated) > 1:
			f.ambiguous(Start, dated[0], dated[1])
		}
		dated = nil
	}
	clocked := f.free(func(c *content) bool { return 2*c.clocked >= c.filled })
	if f.at(Start) < 0 && len(clocked) > 0 && !f.both(f.at(Date)) {
		f.take(clocked[0], Start)
		clocked = clocked[1:]
	}
	if f.at(End) < 0 && f.at(Length) < 0 {
		switch times := append(dated, clocked...); {
		case len(times) == 1 && f.at(Start) >= 0 && (len(dated) == 1 || f.follows(f.at(Start), times[0])):
			f.take(times[0], End)
		case len(times) == 1 && f.at(Start) >= 0:
			f.errs.Add(f.headRow(), "", fmt.Sprintf("column %d%s can be when a stop ended or how long it lasted", times[0]+1, f.quoted(times[0])), fmt.Sprintf("--columns \"%s=%d\" or --columns \"%s=%d\"", End, times[0]+1, Length, times[0]+1))
		case len(times) > 1:
			f.ambiguous(End, times[0], times[1])
		}
	}
	numbers := f.free(func(c *content) bool { return 2*(c.numbers+c.spans-c.serials) >= c.filled })
	if f.at(Length) < 0 && f.at(End) < 0 {
		switch {
		case len(numbers) == 1:
			f.take(numbers[0], Length)
		case len(numbers) > 1:
			f.ambiguous(Length, numbers[0], numbers[1])
		}
	}
	texts := f.free(func(c *content) bool { return 2*c.words >= c.filled })
	if f.at(Cause) < 0 {
		var often []int // what stands there comes again
		for _, i := range texts {
			if c := &f.content[i]; 2*len(c.distinct) <= c.words || len(texts) == 1 {
				often = append(often, i)
			}
		}
		switch {
		case len(often) == 1:
			f.take(often[0], Cause)
		case len(often) > 1:
			f.ambiguous(Cause, often[0], often[1])
		}
	}
}

// follows says whether the times of day of one column follow those of another
// within half a day in nearly all rows; durations do so in half of them.
func (f *finder) follows(start, end int) bool {
	all, after := 0, 0
	for _, row := range f.t.Rows[f.head+1:][:min(len(f.t.Rows)-f.head-1, mostLooked)] {
		if max(start, end) >= len(row.Cells) {
			continue
		}
		a, okA := written.ParseStamp(row.Cells[start].Text)
		b, okB := written.ParseStamp(row.Cells[end].Text)
		if okA && okB && a.Timed && b.Timed {
			if all++; ((b.Clock-a.Clock)%day+day)%day < day/2 {
				after++
			}
		}
	}
	return all > 0 && 10*after >= 9*all
}

// both says whether a column holds dates with times.
func (f *finder) both(at int) bool {
	if at < 0 {
		return false
	}
	timed := 0
	for _, row := range f.t.Rows[f.head+1:][:min(len(f.t.Rows)-f.head-1, mostLooked)] {
		if at >= len(row.Cells) {
			continue
		}
		v := row.Cells[at]
		s, _ := written.ParseStamp(v.Text)
		if v.Is != cells.Words && v.Number != float64(int(v.Number)) || v.Is == cells.Words && s.Timed && s.Date != written.NoDate {
			timed++
		}
	}
	return 2*timed > f.content[at].filled
}

// promote takes dates with times for the start where nothing else is, and
// leaves a column of dates out where the start has its own.
func (f *finder) promote() {
	for _, pair := range [][2]Role{{Date, Start}, {EndDate, End}} {
		d, s := f.at(pair[0]), f.at(pair[1])
		switch {
		case d >= 0 && s < 0 && f.both(d):
			f.role[d] = pair[1]
		case d >= 0 && s >= 0 && f.why[d] != Given && 2*f.content[s].dated >= f.content[s].filled && f.content[s].filled > 0 && f.content[s].dated > 0:
			f.role[d], f.why[d] = NoRole, Unknown
		}
	}
}

// need says what is missing.
func (f *finder) need() {
	missing := func(r Role, what string) {
		names := legible.List(f.named())
		if f.head < 0 {
			names = fmt.Sprintf("no head, and %d columns", f.wide)
		}
		for i, m := range f.means {
			if m.role == r && m.weight > 0 && f.role[i] == NoRole {
				f.errs.Add(f.headRow(), r.String(), fmt.Sprintf("column %d%s should be it, but most of its cells are not a %s: %s", i+1, f.quoted(i), map[bool]string{true: "duration", false: "date or time"}[r == Length], f.sample(i)), fmt.Sprintf("--columns \"%s=%s\"", r, exampleOf[r]))
				return
			}
		}
		f.errs.Add(f.headRow(), r.String(), what+"; there are "+names, fmt.Sprintf("--columns \"%s=%s\"", r, exampleOf[r]))
	}
	if f.errs.Any() {
		return // it may be one of those that are in doubt
	}
	if f.at(Start) < 0 {
		missing(Start, "no column says when a stop began")
	} else if f.at(Date) < 0 && f.content[f.at(Start)].clocked > f.content[f.at(Start)].dated+f.content[f.at(Start)].serials {
		missing(Date, "the start is a time of day, and no column says the day")
	}
	if f.at(End) < 0 && f.at(Length) < 0 {
		missing(Length, "no column says when a stop ended or how long it lasted")
	}
}

var exampleOf = map[Role]string{Date: "Day", Start: "Started", Length: "Minutes"}

// columns are those that were taken and those that were not.
func (f *finder) columns() (used, unused []Column) {
	for i, r := range f.role {
		c := Column{Role: r, At: i + 1, Head: f.heads[i], Why: f.why[i]}
		if r != NoRole {
			used = append(used, c)
		} else if f.content[i].filled > 0 || strings.TrimSpace(f.heads[i]) != "" {
			unused = append(unused, c)
		}
	}
	return used, unused
}
