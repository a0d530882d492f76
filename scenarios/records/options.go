package records

import (
	"fmt"
	"time"

	"rollchange/model/legible"
	"rollchange/scenarios/written"
)

// Options say what the log alone does not. The zero value leaves all to the log.
type Options struct {
	Columns  map[Role]string // head of a column, or its number, 1 for the first
	Dates    DateOrder       // 0: by the log
	Decimal  byte            // ',' or '.'; 0: by the log
	Zone     *time.Location  // nil: an hour is 60 minutes on every day
	Date1904 bool            // serial numbers count from 1904

	From, To time.Time // of the period, on the clock on the wall; zero: first and last row
	Planned  float64   // s of the period for each line; 0: all of it
	Week     []Window  // the planned hours of a week; empty: all of them

	Line   string            // of this line alone; empty: of all
	Ignore []string          // causes whose rows are no stops
	Same   map[string]string // a cause, and the name of the one that it is another way to write
	Strict bool              // any finding is an error
}

// Window is a part of the week that is planned, on the clock on the wall. It may
// end on the next day, with To below From.
type Window struct {
	Day      time.Weekday
	From, To time.Duration // since midnight
}

// Role says what a column is.
type Role int8

const (
	NoRole    Role = iota
	Date           // day of the start, where Start is a time of day
	Start          // when the stop began
	EndDate        // day of the end
	End            // when the stop ended
	Length         // how long it lasted
	Cause          // why
	LineName       // of which line
	Note           // anything else
	roleCount      // how many there are
)

var roleNames = [roleCount]string{"", "date", "start", "end-date", "end", "minutes", "cause", "line", "note"}

// String is the name by which options give the role.
func (r Role) String() string { return roleNames[r] }

// ParseColumns reads what each column is, as in "start=Beginn,end=Ende,cause=3".
func ParseColumns(text string) (map[Role]string, error) {
	return written.ParseColumns[Role](text, roleNames[:])
}

// DateOrder says how a date in numbers is written.
type DateOrder = written.DateOrder

// The orders in which day and month can stand.
const (
	Undecided  = written.Undecided
	DayFirst   = written.DayFirst
	MonthFirst = written.MonthFirst
)

// ParseDates reads "day-first" or "month-first".
func ParseDates(text string) (DateOrder, error) {
	switch text {
	case "":
		return Undecided, nil
	case "day-first":
		return DayFirst, nil
	case "month-first":
		return MonthFirst, nil
	}
	return Undecided, fmt.Errorf("dates: %s is neither day-first nor month-first", legible.Quote(text))
}

// ParseDecimal reads "comma" or "point".
func ParseDecimal(text string) (byte, error) {
	switch text {
	case "":
		return 0, nil
	case "comma":
		return ',', nil
	case "point":
		return '.', nil
	}
	return 0, fmt.Errorf("decimal: %s is neither comma nor point", legible.Quote(text))
}
