package orders

import (
	"fmt"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios/written"
)

// told are sentences of how the list of n orders was read.
func (r *reader) told(n int) []string {
	var all []string
	say := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	say("%s.", r.columns())
	if unused := r.unused(); len(unused) > 0 {
		say("Not read: %s.", legible.List(unused))
	}
	switch {
	case r.order == written.Undecided || r.orderBy.given:
	case r.orderBy.row > 0:
		say("Dates begin with the %s, as row %d shows.", orderName[r.order], r.orderBy.row)
	default:
		say("Dates begin with the %s, %s.", orderName[r.order], r.orderBy.why)
	}
	if r.decimalBy.row > 0 {
		say("The decimal mark is a %s, as row %d shows.", map[byte]string{',': "comma", '.': "point"}[r.decimal], r.decimalBy.row)
	}
	if r.dayDue {
		say("A due date without a time of day means the end of that day.")
	}
	if r.dayEarliest {
		say("An earliest start without a time of day means the beginning of that day.")
	}
	if r.date1904 && r.serials {
		say("Days that are numbers count from 1904.")
	}
	if r.zoned {
		say("Times are taken as they are written, whatever their UTC offset.")
	}
	if r.both > 0 {
		say("Where a row has a length and a number of rolls, as row %d has, the length counts.", r.both)
	}
	switch {
	case r.unnamed == n && n > 1:
		say("The orders have no names: they are called order 1 to order %d by their place.", n)
	case r.unnamed > 0:
		say("Orders without a name are called by their place, as order %d.", r.firstUnnamed)
	}
	if k := len(r.skipped); k > 0 {
		say("%s nothing in these columns and %s left out: row %d%s.", counted(k, "row has", "rows have"), map[bool]string{true: "is", false: "are"}[k == 1], r.skipped[0], map[bool]string{true: "", false: " is the first"}[k == 1])
	}
	return all
}

var orderName = map[written.DateOrder]string{written.DayFirst: "day", written.MonthFirst: "month"}

func counted(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// columns says which column is what.
func (r *reader) columns() string {
	var all []string
	for role := Order; role < roleCount; role++ {
		if at := r.col[role]; at >= 0 {
			name := role.String()
			if role == Earliest {
				name = "earliest start"
			}
			text := fmt.Sprintf("%s is column %d", name, at+1)
			if r.heads[at] != "" {
				text += " " + legible.Quote(r.heads[at])
			}
			all = append(all, text)
		}
	}
	text := strings.Join(all, ", ")
	return strings.ToUpper(text[:1]) + text[1:]
}

// unused are the heads of columns that are not read and hold something.
func (r *reader) unused() []string {
	var all []string
	for i, role := range r.role {
		if role == NoRole && !r.empty(i) {
			head := r.heads[i]
			if head == "" {
				head = fmt.Sprintf("column %d", i+1)
			}
			all = append(all, head)
		}
	}
	return all
}
