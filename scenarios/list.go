package scenarios

import (
	"errors"
	"fmt"
	"math"
	"time"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/orders"
	"rollchange/scenarios/written"
)

// listRead is a list of orders as it was read.
type listRead struct {
	rows []orders.Row
	told []string
	err  error
}

// list reads a list of orders, once: a later change of the file changes nothing.
func (d *data) list(o *ordersRead) *listRead {
	name := fmt.Sprintf("%q %q %q %q %v", o.file, o.sheet, o.text, o.columns, o.read)
	if x := d.lists[name]; x != nil {
		return x
	}
	x := &listRead{}
	if d.lists == nil {
		d.lists = map[string]*listRead{}
	}
	d.lists[name] = x
	table, err := d.listed(o)
	if err != nil {
		x.err = err
		return x
	}
	opt := o.read
	if o.columns != "" {
		if opt.Columns, err = orders.ParseColumns(o.columns); err != nil {
			x.err = fmt.Errorf("columns: %w", err)
			return x
		}
	}
	x.rows, x.told, x.err = orders.Read(table, opt)
	return x
}

// listed is the list as a table.
func (d *data) listed(o *ordersRead) (*cells.Table, error) {
	if o.file == "" {
		return cells.ReadAtMost("orders.list", []byte(o.text), orders.MostRows)
	}
	text, err := d.text(o.file)
	if err != nil {
		return nil, fmt.Errorf("file %s: %w", legible.Quote(o.file), err)
	}
	table, err := d.table(o.file, text, o.sheet)
	if err != nil {
		return nil, fmt.Errorf("file %s: %w", legible.Quote(o.file), err)
	}
	return table, nil
}

// table is a file as a table: text, or a sheet of a workbook.
func (d *data) table(name string, text []byte, sheet string) (*cells.Table, error) {
	if len(text) > 4 && string(text[:4]) == "PK\x03\x04" {
		if d.workbook == nil {
			return nil, errors.New("is a workbook, which cannot be read here: save its sheet as CSV")
		}
		return d.workbook(name, text, sheet)
	}
	return cells.ReadAtMost(name, text, orders.MostRows)
}

// list reads the list of orders of an alternative and finds its products.
func (b *builder) list(c *checker) {
	t, l := c.t, c.t.line()
	if t.given["orders.file"] && t.given["orders.list"] {
		c.bad("orders.list", "contradicts orders.file: there is one list", "either orders.file or orders.list")
		return
	}
	x := b.s.data.list(t.list)
	if x.err != nil {
		c.unreadable(x.err)
		return
	}
	if t.list.file != "" { // what stands in the scenario is before the eyes of who reads it
		for _, s := range x.told {
			b.warn(Warning{c.v["orders.file"].line, "orders.file", legible.Line(t.list.file) + ": " + s})
		}
	}
	o := l.Orders
	if o.Begin = c.begin(t.list.begin); !o.Begin.IsZero() && !t.given["crew.first_day"] && len(l.Crew.Groups) > 0 {
		l.Crew.Begins = model.Day * float64((o.Begin.Weekday()+6)%7) // Monday is the first
	}
	c.takeOrders(x.rows)
	for i := range l.Products {
		for _, name := range []string{"share", "order_length"} {
			if path := fmt.Sprintf("product[%d].%s", i, name); t.given[path] {
				c.bad(path, "is for a mix; the orders come from a list", "")
			}
		}
	}
}

// unreadable reports why the list could not be read: each problem at its row.
func (c *checker) unreadable(err error) {
	var wrong *written.Errors
	if !errors.As(err, &wrong) {
		path := c.t.list.key()
		c.errs.add(c.v[path].line, path, err.Error(), "")
		return
	}
	for _, p := range wrong.Problems {
		c.row(p.Row, p.Column, p.What, p.Write)
	}
	if wrong.More > 0 {
		c.row(0, "", fmt.Sprintf("and %d more", wrong.More), "")
	}
}

// takeOrders turns the rows of the list into orders for the products of the line.
func (c *checker) takeOrders(rows []orders.Row) {
	l := c.t.line()
	var names []string
	for i := range l.Products {
		names = append(names, l.Products[i].Name)
	}
	dated := false
	for i := range rows {
		r := &rows[i]
		at, what := orders.Near(r.Product, names)
		if what != "" {
			if !among(names, "") { // else it may be the one without a name, which is told
				c.row(r.Line, "product", what, "")
			}
			continue
		}
		l.Orders.List = append(l.Orders.List, model.Order{
			Name: r.Order, Product: at, Length: c.orderLength(r, l.Products[at].Line), Line: r.OnLine,
			Due: since(l.Orders.Begin, r.Due, model.NotDue), Earliest: since(l.Orders.Begin, r.Earliest, 0),
		})
		if lines := max(1, l.Crew.Lines); r.OnLine > lines && !c.unread("crew.lines") {
			c.row(r.Line, "line", fmt.Sprintf("there is no line %d: crew.lines is %d", r.OnLine, lines), "")
		}
		dated = dated || r.Due.Given && r.Due.Dated || r.Earliest.Given && r.Earliest.Dated
	}
	if dated && l.Orders.Begin.IsZero() {
		c.needFor(c.t.list.key(), "when the list has dates", "orders.begin")
	}
}

// orderLength is the length of an order, m, where it is in rolls that of so many.
func (c *checker) orderLength(r *orders.Row, product *model.Line) float64 {
	if !math.IsNaN(r.Length) {
		return r.Length
	}
	roll := 0.0
	if product.Rewind.Change != model.None {
		roll = meanRoll(&product.Rewind.Roll, product.Web)
	}
	if roll == 0 || math.IsInf(roll, 0) {
		c.row(r.Line, "rolls", "is a number of finished rolls, but the product has no length of a finished roll", "the length of the order")
	}
	return r.Rolls * roll
}

// since is a moment of the list from its begin on, s; none where it is not given, or is a
// date and the list has no begin.
func since(begin time.Time, m orders.Moment, none float64) float64 {
	switch {
	case m.Given && !m.Dated:
		return m.After
	case !m.Given || begin.IsZero():
		return none
	}
	return m.Date.Sub(begin).Seconds()
}

// key is the key that the list comes from.
func (o *ordersRead) key() string {
	if o.file == "" {
		return "orders.list"
	}
	return "orders.file"
}

// row reports what is wrong in a row of the list of orders: at the line of the row where
// the list stands in the scenario.
func (c *checker) row(row int, column, what, write string) {
	path := c.t.list.key()
	line, where := c.v[path].line, ""
	if c.t.list.file == "" {
		line += row
	} else if where = legible.Line(c.t.list.file); row > 0 {
		where += fmt.Sprintf(":%d", row)
	}
	if column != "" {
		if where != "" {
			where += ": "
		}
		where += legible.Short(column)
	}
	if where != "" {
		where += ": "
	}
	c.errs.add(line, path, where+what, write)
}

// begin reads the date and time at which the list begins.
func (c *checker) begin(text string) time.Time {
	if text == "" {
		return time.Time{}
	}
	for _, form := range []string{"2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02"} {
		if t, err := time.Parse(form, text); err == nil {
			return t
		}
	}
	c.bad("orders.begin", "is not a date and time", `begin = "2026-11-30 06:00"`)
	return time.Time{}
}
