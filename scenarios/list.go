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
	cellwords "rollchange/scenarios/written"
)

// listRead is a list of orders as it was read.
type listRead struct {
	rows []orders.Row
	told []string
	err  error
}

// list reads a list of orders, once: a later change of the file changes nothing.
func (d *data) list(file, sheet string) *listRead {
	name := fmt.Sprintf("%q %q", file, sheet)
	if x := d.lists[name]; x != nil {
		return x
	}
	x := &listRead{}
	if d.lists == nil {
		d.lists = map[string]*listRead{}
	}
	d.lists[name] = x
	text, err := d.text(file)
	if err != nil {
		x.err = fmt.Errorf("file %s: %w", legible.Quote(file), err)
		return x
	}
	table, err := d.table(file, text, sheet)
	if err != nil {
		x.err = fmt.Errorf("file %s: %w", legible.Quote(file), err)
		return x
	}
	x.rows, x.told, x.err = orders.Read(table, orders.Options{})
	return x
}

// table is a file as a table: text, or a sheet of a workbook.
func (d *data) table(name string, text []byte, sheet string) (*cells.Table, error) {
	if len(text) > 4 && string(text[:4]) == "PK\x03\x04" {
		if d.workbook == nil {
			return nil, errors.New("is a workbook, which cannot be read here: save its sheet as CSV")
		}
		return d.workbook(name, text, sheet)
	}
	return cells.Read(name, text)
}

// list reads the list of orders of an alternative and finds its products.
func (b *builder) list(t *target, v leaves, c *checker) {
	x := b.s.data.list(t.list.file, t.list.sheet)
	var wrong *cellwords.Errors
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
		c.errs.add(v["orders.file"].line, "orders.file", x.err.Error(), "")
		return
	}
	for _, s := range x.told {
		b.warn(Warning{v["orders.file"].line, "orders.file", legible.Line(t.list.file) + ": " + s})
	}
	l := t.line()
	o := l.Orders
	o.Begin = c.begin(t.list.begin)
	var names []string
	for i := range l.Products {
		names = append(names, l.Products[i].Name)
	}
	undated := false
	for i := range x.rows {
		r := &x.rows[i]
		at, what := orders.Near(r.Product, names)
		if what != "" {
			c.row(r.Line, "product", what, "")
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
		if lines := max(1, l.Crew.Lines); r.OnLine > lines {
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
		c.needFor("orders.file", "when the list has dates", "orders.begin")
	}
	for i := range l.Products {
		for _, name := range []string{"share", "order_length"} {
			if path := fmt.Sprintf("product[%d].%s", i, name); c.t.given[path] {
				c.bad(path, "is for a mix; the orders come from a list", "")
			}
		}
	}
}

// row reports what is wrong in a row of the list of orders.
func (c *checker) row(row int, column, what, write string) {
	where := legible.Line(c.t.list.file)
	if row > 0 {
		where += fmt.Sprintf(":%d", row)
	}
	if column != "" {
		where += ": " + legible.Short(column)
	}
	c.errs.add(c.v["orders.file"].line, "orders.file", where+": "+what, write)
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
