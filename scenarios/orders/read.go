package orders

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// reader reads the rows of a list.
type reader struct {
	finder
	data []cells.Row // below the head
	unit float64     // of a length without one, m; 0: the head names none

	decimal      byte
	decimalBy    by
	mixed        bool // marks cannot be decided: what does not fit is not said again
	order        written.DateOrder
	orderBy      by
	undated      bool // the order of dates cannot be decided
	date1904     bool
	dayDue       bool // an order is due on a day without a time
	dayEarliest  bool
	zoned        bool  // a time says how far it is from Greenwich
	both         int   // first row with a length and a number of rolls
	unnamed      int   // orders without a name
	firstUnnamed int   // place of the first of them
	serials      bool  // a time is a number of days
	skipped      []int // rows with nothing in the columns that are read
}

// Read reads a list of orders. What is told is how it was read, a sentence each;
// an error lists all that is wrong. A table of more than MostRows need not be read
// whole.
func Read(t *cells.Table, opt Options) (rows []Row, told []string, err error) {
	errs := &written.Problems{Table: t, Most: mostProblems}
	if len(t.Rows) == 0 {
		errs.Add(0, "", "is empty", "")
		return nil, nil, errs.AsError()
	}
	r := &reader{finder: finder{t: t, opt: &opt, errs: errs}, date1904: t.Date1904 || opt.Date1904}
	r.find()
	if err := errs.AsError(); err != nil {
		return nil, nil, err
	}
	r.data = t.Rows[r.head+1:]
	switch n := len(r.data); {
	case n == 0:
		errs.Add(r.headRow(), "", "there is no row below the head", "")
	case n > MostOrders:
		errs.Add(0, "", fmt.Sprintf("has %d rows below its head; a list is of %d orders at most", n, MostOrders), "the orders of a few weeks")
	}
	if err := errs.AsError(); err != nil {
		return nil, nil, err
	}
	if at := r.col[Length]; at >= 0 {
		r.unit = r.means[at].unit.length
		r.units()
	}
	r.decide()
	rows = make([]Row, 0, len(r.data))
	for i := range r.data {
		if row := &r.data[i]; r.blank(row) {
			r.skipped = append(r.skipped, row.Line)
		} else {
			rows = append(rows, r.row(row, len(rows)+1))
		}
	}
	r.twice(rows)
	if len(rows) == 0 {
		errs.Add(r.headRow(), "", "no row below the head is an order", "")
	}
	if err := errs.AsError(); err != nil {
		return nil, nil, err
	}
	return rows, r.told(len(rows)), nil
}

// value is what stands in the column of a role.
func (r *reader) value(row *cells.Row, role Role) cells.Value {
	if at := r.col[role]; at >= 0 && at < len(row.Cells) {
		return row.Cells[at]
	}
	return cells.Value{}
}

func isEmpty(v cells.Value) bool { return v.Is == cells.Words && strings.TrimSpace(v.Text) == "" }

// blank says whether a row has nothing in the columns that are read.
func (r *reader) blank(row *cells.Row) bool {
	for role := Order; role < roleCount; role++ {
		if !isEmpty(r.value(row, role)) {
			return false
		}
	}
	return true
}

// wrong says what is wrong with the cell of a role.
func (r *reader) wrong(row *cells.Row, role Role, what, write string) {
	r.errs.Add(row.Line, r.headOf(role), what, write)
}

// headOf is the head of the column of a role, or its number.
func (r *reader) headOf(role Role) string {
	switch at := r.col[role]; {
	case at < 0:
		return role.String()
	case r.heads[at] != "":
		return r.heads[at]
	default:
		return fmt.Sprintf("column %d", at+1)
	}
}

// units finds lengths that have no unit in any row, which is said once.
func (r *reader) units() {
	if r.unit > 0 {
		return
	}
	for i := range r.data {
		v := r.value(&r.data[i], Length)
		if _, rest, ok := written.Number(strings.TrimSpace(v.Text), '.'); !isEmpty(v) && (!ok || rest != "") {
			return
		}
	}
	at := r.headRow()
	if at == 0 {
		at = r.data[0].Line
	}
	r.errs.Add(at, r.headOf(Length), "nothing says the unit of the lengths", "(m), (km) or (ft) in the head, or 1200 m in each row")
	r.unit = 1 // said once
}

// row reads one order; n is its place in the list.
func (r *reader) row(row *cells.Row, n int) Row {
	o := Row{Line: row.Line, Length: math.NaN(), Rolls: math.NaN()}
	if r.head >= 0 && r.t.Comma != 0 && len(row.Cells) > len(r.t.Rows[r.head].Cells) {
		r.errs.Add(row.Line, "", "has more cells than the head", "quotes around a text with a comma and around a number with a decimal comma")
		return o
	}
	text := func(role Role) (string, bool) {
		v := r.value(row, role)
		text := strings.TrimSpace(v.Text)
		if v.Is == cells.Number && strings.Contains(text, "E") && v.Number == math.Trunc(v.Number) && math.Abs(v.Number) < 1e15 {
			text = strconv.FormatFloat(v.Number, 'f', 0, 64) // 123456789012 is shown as 1.23457E+11
		}
		return text, !isEmpty(v) && r.sound(row, role, v)
	}
	name, ok := text(Order)
	switch {
	case ok:
		o.Order = name
	case name == "":
		o.Order = fmt.Sprintf("order %d", n)
		if r.unnamed++; r.firstUnnamed == 0 {
			r.firstUnnamed = n
		}
	}
	if o.Product, ok = text(Product); !ok && o.Product == "" {
		r.wrong(row, Product, "nothing says what is made", "a product, and no sums below the orders")
	}
	_, long := text(Length)
	_, counted := text(Rolls)
	switch {
	case long:
		o.Length = r.length(row, r.value(row, Length))
		if counted && r.both == 0 {
			r.both = row.Line
		}
	case counted:
		o.Rolls = r.rolls(row, r.value(row, Rolls))
	case isEmpty(r.value(row, Length)) && isEmpty(r.value(row, Rolls)):
		role := Length
		if r.col[Length] < 0 {
			role = Rolls
		}
		r.wrong(row, role, "nothing says how much is ordered", map[Role]string{Length: r.number(1234.5) + " m", Rolls: "12"}[role])
	}
	if _, ok := text(Due); ok {
		o.Due = r.moment(row, Due, r.value(row, Due))
	}
	if _, ok := text(Earliest); ok {
		o.Earliest = r.moment(row, Earliest, r.value(row, Earliest))
	}
	if _, ok := text(OnLine); ok {
		o.OnLine = r.onLine(row, r.value(row, OnLine))
	}
	return o
}

// twice finds orders of the same name.
func (r *reader) twice(rows []Row) {
	seen := make(map[string]int, len(rows))
	for i := range rows {
		o := &rows[i]
		k := written.Same(o.Order)
		if k == "" {
			continue
		}
		if at, there := seen[k]; there {
			r.errs.Add(o.Line, r.headOf(Order), fmt.Sprintf("%s is also the order of row %d", legible.Quote(o.Order), at), "a name of its own for each order")
			continue
		}
		seen[k] = o.Line
	}
}
