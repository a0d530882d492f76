package report

import (
	"fmt"

	"rollchange/out/picture"
	"rollchange/out/words"
)

// plan tells when the orders of the list are made, where there is one.
func (b *builder) plan() {
	c, m := b.c, b.w.Plan
	if c.Plan == nil {
		return
	}
	b.section("plan", m["head"])
	for _, s := range words.PlanSentences(c.Plan) {
		b.add(block{Lead: s})
	}
	b.picture("plan")
	b.add(block{Table: c.listTable(b.w)})
}

// listTable is the whole list by alternative.
func (c *Content) listTable(w *phrases) *table {
	a, clock := c.Plan, words.ClockOf(c.Plan)
	t := &table{Name: fmt.Sprintf(w.Plan["name"], words.PlanHead(a)), Head: []string{w.Plan["whole"]}}
	var rows [4]row
	for i := range a.Alternatives {
		x := &a.Alternatives[i]
		t.Head = append(t.Head, name(x.Name))
		for k, text := range words.PlanInAll(x) {
			rows[k].Cells = append(rows[k].Cells, cell{Text: text})
		}
		done := cell{Text: clock.Text(x.Done.Mean)}
		if x.Done.High > x.Done.Low {
			done.Below = clock.Span(x.Done)
		}
		rows[0].Cells[i] = done
	}
	for k, label := range []string{words.HeadListDone, fmt.Sprintf(words.PlanOnTimeOf, words.Due(a)), words.HeadLateHours, words.HeadChange} {
		if rows[k].Head = label; words.Due(a) > 0 || k != 1 && k != 2 {
			t.add("", rows[k])
		}
	}
	t.Note = fmt.Sprintf(w.Plan["note"], 100*a.Confidence)
	t.fewEvents(w)
	return t
}

// planTable is when each order is made that the picture shows.
func (c *Content) planTable(w *phrases) *table {
	a, clock := c.Plan, words.ClockOf(c.Plan)
	due := words.Due(a) > 0
	t := &table{Head: []string{words.HeadOrder}}
	if due {
		t.Head = append(t.Head, words.HeadDue)
	}
	for i := range a.Alternatives {
		of := name(a.Alternatives[i].Name)
		t.Head = append(t.Head, fmt.Sprintf(w.Plan["begins"], of), fmt.Sprintf(w.Plan["ends"], of))
		if due {
			t.Head = append(t.Head, fmt.Sprintf(w.Plan["late"], of))
		}
	}
	n := picture.OrdersDrawn(a)
	for k := range n {
		r := row{Head: name(a.Orders[k].Name), Sub: name(a.Products[a.Orders[k].Product])}
		if due {
			r.Cells = append(r.Cells, cell{Text: clock.Text(a.Orders[k].Due)})
		}
		for i := range a.Alternatives {
			o := &a.Alternatives[i].Orders[k]
			ends := cell{Text: clock.Text(o.End.Mean)}
			if o.End.High > o.End.Low {
				ends.Below = clock.Span(o.End)
			}
			r.Cells = append(r.Cells, cell{Text: clock.Text(o.Begin.Mean)}, ends)
			if due {
				r.Cells = append(r.Cells, cell{Text: words.LateText(o.Late)})
			}
		}
		t.add("", r)
	}
	t.Note = w.Plan["orders_note"]
	if more := len(a.Orders) - n; more > 0 {
		t.Note += " " + words.Capital(fmt.Sprintf(words.PlanMore, more)) + "."
	}
	return t
}
