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
func (b *builder) list(t *target, v leaves, c *checker) {
	if t.given["orders.file"] && t.given["orders.list"] {
		c.bad("orders.list", "contradicts orders.file: there is one list", "either orders.file or orders.list")
		return
	}
	x := b.s.data.list(t.list)
	var wrong *written.Errors
	switch {
	case errors.As(x.err, &wrong):
		for _, p := range wrong.Problems {
			c.row(p.Row, p.Column, p.What, p.Write)
		}
		if wrong.More > 0 {
			c.row(0, "", fmt.Sprintf("and %d more", wrong.More), "")
		}
		return
	case x.err != nil:
		path := t.list.key()
		c.errs.add(v[path].line, path, x.err.Error(), "")
		return
	}
	if t.list.file != "" { // what stands in the scenario is before the eyes of who reads it
		for _, s := range x.told {
			b.warn(Warning{v["orders.file"].line, "orders.file", legible.Line(t.list.file) + ": " + s})
		}
	}
	l := t.line()
	o := l.Orders
	if o.Begin = c.begin(t.list.begin); !o.Begin.IsZero() && !t.given["crew.first_day"] && len(l.Crew.Groups) > 0 {
		l.Crew.Begins = model.Day * float64((o.Begin.Weekday()+6)%7) // Monday is the first
	}
	var names []string
	for i := range l.Products {
		names = append(names, l.Products[i].Name)
	}
	undated := false
	for i := range x.rows {
		r := &x.rows[i]
		at, what := orders.Near(r.Product, names)
		if what != "" {
			if !among(names, "") { // else it may be the one without a name, which is told
				c.row(r.Line, "product", what, "")
			}
			continue
		}
		order := model.Order{Name: r.Order, Product: at, Length: r.Length, Due: model.NotDue, Line: r.OnLine}
		if math.IsNaN(r.Length) {
			p := l.Products[at].Line
			roll := 0.0
			if p.Rewind.Change != model.None {
				roll = meanRoll(&p.Rewind.Roll, p.Web)
			}
			if roll == 0 || math.IsInf(roll, 0) {
				c.row(r.Line, "rolls", "is a number of finished rolls, but the product has no length of a finished roll", "the length of the order")
			}
			order.Length = r.Rolls * roll
		}
		if lines := max(1, l.Crew.Lines); r.OnLine > lines && !c.unread("crew.lines") {
			c.row(r.Line, "line", fmt.Sprintf("there is no line %d: crew.lines is %d", r.OnLine, lines), "")
		}
		for _, m := range []struct {
			orders.Moment
			to *float64
		}{{r.Due, &order.Due}, {r.Earliest, &order.Earliest}} {
			switch {
			case !m.Given:
			case !m.Dated:
				*m.to = m.After
			case o.Begin.IsZero():
				undated = true
			default:
				*m.to = m.Date.Sub(o.Begin).Seconds()
			}
		}
		o.List = append(o.List, order)
	}
	if undated {
		c.needFor(t.list.key(), "when the list has dates", "orders.begin")
	}
	for i := range l.Products {
		for _, name := range []string{"share", "order_length"} {
			if path := fmt.Sprintf("product[%d].%s", i, name); c.t.given[path] {
				c.bad(path, "is for a mix; the orders come from a list", "")
			}
		}
	}
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
