package orders

import (
	"time"

	"rollchange/scenarios/written"
)

// Row is one order of a list.
type Row struct {
	Line     int     // of the file, or of the sheet, from 1
	Order    string  // number or name; "order 7" by its place where no column says it
	Product  string  // as it is spelt in the list
	Length   float64 // m, above 0; NaN where Rolls says how much
	Rolls    float64 // finished rolls, a whole number from 1; NaN where Length says it
	Due      Moment  // the end of the day where no time of day stands
	Earliest Moment  // earliest start; the beginning of the day where no time of day stands
	OnLine   int     // line that makes it, from 1; 0: not said
}

// Moment is a time in a list: a date with a time of day, or a time from the
// begin.
type Moment struct {
	Given bool
	Dated bool
	Date  time.Time // of the clock on the wall, as it is written, in UTC
	After float64   // s from the begin, where it is not Dated; below 0: before it
}

// Options say what the list alone does not. The zero value leaves all to it.
type Options struct {
	Columns  map[Role]string   // head of a column, or its number, 1 for the first
	Dates    written.DateOrder // 0: by the list
	Decimal  byte              // ',' or '.'; 0: by the list
	Date1904 bool              // serial numbers count from 1904
}

// Role says what a column is.
type Role int8

const (
	NoRole    Role = iota
	Order          // number or name
	Product        // what is made
	Length         // of web
	Rolls          // finished rolls
	Due            // when it has to be done
	Earliest       // before which it cannot start
	OnLine         // which line makes it
	roleCount      // how many there are
)

var roleNames = [roleCount]string{"", "order", "product", "length", "rolls", "due", "earliest", "line"}

// String is the name by which options give the role.
func (r Role) String() string { return roleNames[r] }

// ParseColumns reads what each column is, as in "product=Artikel,length=3".
func ParseColumns(text string) (map[Role]string, error) {
	return written.ParseColumns[Role](text, roleNames[:])
}

// What a list may hold at most.
const (
	MostOrders   = 100_000
	MostRows     = MostOrders + mostAbove // of its table, for cells.ReadAtMost
	mostProblems = 20                     // that are listed; nobody reads on
	mostName     = 200                    // characters
	mostLength   = 1e8                    // m; the list has another unit
	mostRolls    = 1_000_000              // of one order
	mostLine     = 9999
)
