package report

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/whatif"
)

// table is a table of the page.
type table struct {
	N        int    // its number; 0: it belongs to a picture
	Numbered string // "Table 3."
	Name     string
	Head     []string // the first is over the heads of the rows
	Bodies   []body
	Note     string
	Texts    bool // its cells hold text, not figures
}

// rows are those of all its bodies.
func (t *table) rows() []row {
	var all []row
	for _, b := range t.Bodies {
		all = append(all, b.Rows...)
	}
	return all
}

// CellHeads are the heads of the columns after the first: on a narrow screen each
// cell stands below its own.
func (t *table) CellHeads() []string { return t.Head[1:] }

// Label is how the box is called in which the table scrolls.
func (t *table) Label() string {
	if t.Name != "" {
		return strings.TrimSpace(t.Numbered + " " + t.Name)
	}
	return t.Head[0] + ", " + strings.Join(t.Head[1:], ", ")
}

// Short says whether a table is printed on one page.
func (t *table) Short() bool {
	return len(t.rows()) <= 14
}

// body is rows under one head.
type body struct {
	Group string
	Rows  []row
}

type row struct {
	Head  string
	Sub   string // in small print below the head
	Cells []cell
}

// cell is one figure or text. Of says where in the JSON the figure stands.
type cell struct {
	Text, Below string
	Of, BelowOf string
}

// mostWide is how wide a name that a person chose may be in a head, in columns.
const (
	mostWide  = 48
	mostNote  = 300
	mostTitle = 200
)

func name(s string) string { return words.Line(s, mostWide) }

// add puts a row into the body of a group, a new one when the group changes.
func (t *table) add(group string, r row) {
	if n := len(t.Bodies); n == 0 || t.Bodies[n-1].Group != group {
		t.Bodies = append(t.Bodies, body{Group: group})
	}
	last := &t.Bodies[len(t.Bodies)-1]
	last.Rows = append(last.Rows, r)
}

// describe says a table in one paragraph, for those who cannot see a picture.
func (t *table) describe(w *phrases) string {
	const most = 420
	var b strings.Builder
	left := 0
	for _, body := range t.Bodies {
		for _, r := range body.Rows {
			var parts []string
			for i, c := range r.Cells {
				if c.Text == "" || i+1 >= len(t.Head) {
					continue
				}
				parts = append(parts, strings.TrimSpace(t.Head[i+1]+" "+c.Text))
			}
			if b.Len() > most {
				left++
				continue
			}
			fmt.Fprintf(&b, "%s: %s. ", r.Head, strings.Join(parts, ", "))
		}
	}
	if left > 0 {
		fmt.Fprintf(&b, "… "+w.Figure["and_more"]+". ", left)
	}
	return b.String() + w.Figure["alt_more"]
}

// compareTables set the alternatives side by side, the first and three others
// in each table.
func (c *Content) compareTables(w *phrases) []*table {
	const others = 3
	rows := words.Compare(c.Results, c.Scenario.Study.Units)
	var list []*table
	n := len(c.Results.Alternatives)
	for from := 1; from == 1 || from < n; from += others {
		shown := []int{0}
		for i := from; i < min(n, from+others); i++ {
			shown = append(shown, i)
		}
		t := &table{Name: fmt.Sprintf(w.Why["table_name"], name(c.Results.Alternatives[0].Alternative)), Head: []string{w.Why["metric"]}}
		for _, i := range shown {
			t.Head = append(t.Head, name(c.Results.Alternatives[i].Alternative))
		}
		for _, x := range rows.ForPeople(shown...) {
			r := row{Head: strings.TrimSuffix(words.MetricLabel(x.Name)+", "+powers.Replace(x.Shown.Name), ", ")}
			for _, i := range shown {
				v := cell{Text: x.Text(i), Below: x.Difference(i)}
				if x.Cells[i].Figure != nil {
					v.Of = fmt.Sprintf("alternatives.%d.%s", i, x.Name)
				}
				if v.Below != "" {
					v.BelowOf = fmt.Sprintf("differences.%d.%s", i, x.Name)
				}
				r.Cells = append(r.Cells, v)
			}
			t.add(x.Head(), r)
			if c.Results.Open != nil {
				wide := row{Sub: w.Why["with_records"]}
				for _, i := range shown {
					figure, difference := x.Open(i)
					wide.Cells = append(wide.Cells, cell{Text: figure, Below: difference})
				}
				t.add(x.Head(), wide)
			}
		}
		if n > 1 {
			t.Note = fmt.Sprintf(w.Why["table_note"], 100*c.Results.Run.Confidence, name(c.Results.Alternatives[0].Alternative))
		}
		t.fewEvents(w)
		list = append(list, t)
	}
	return list
}

// fewEvents says what "± ?" is where a figure of the table has it.
func (t *table) fewEvents(w *phrases) {
	for _, r := range t.rows() {
		for _, c := range r.Cells {
			if strings.Contains(c.Text+c.Below, "± ?") {
				t.Note = strings.TrimSpace(t.Note + " " + w.Why["few_note"])
				return
			}
		}
	}
}

// partsTable is the data of a picture of parts of a whole.
func (c *Content) partsTable(w *phrases, hours bool) *table {
	t := &table{Head: []string{w.Figure["part"]}}
	for _, r := range c.Results.Alternatives {
		t.Head = append(t.Head, name(r.Alternative)+", %")
	}
	parts := words.Parts(c.Results, hours)
	if !hours {
		parts = append(parts, metric.Waste)
	}
	for _, metric := range parts {
		r := row{Head: words.MetricLabel(metric)}
		for i := range c.Results.Alternatives {
			r.Cells = append(r.Cells, c.metricCell(metric, i, model.Unit{Name: "%", SI: 0.01}))
		}
		t.add("", r)
	}
	return t
}

func (c *Content) metricCell(metric string, alternative int, u model.Unit) cell {
	e, ok := c.Results.Alternatives[alternative].Metrics[metric]
	if !ok {
		return cell{Text: "–"}
	}
	return cell{Text: words.Figure(e, u), Of: fmt.Sprintf("alternatives.%d.%s", alternative, metric)}
}

// outputTable is the data of the picture of good output.
func (c *Content) outputTable(w *phrases) *table {
	u := model.Display(model.Speed, c.Scenario.Study.Units)
	t := &table{Head: []string{w.Money["alternative"], words.MetricLabel(metric.GoodRate) + ", " + u.Name}}
	for i, r := range c.Results.Alternatives {
		t.add("", row{Head: name(r.Alternative), Cells: []cell{c.metricCell(metric.GoodRate, i, u)}})
	}
	return t
}

// sweepTable is the data of a picture over one key: a row a point, for each
// alternative the metric and the limits that do not hold there.
func sweepTable(w *phrases, of string, s *whatif.Sweep, metric string, sys model.System) *table {
	t := &table{Head: []string{words.KeyOf(s.Axes[0].Key, s.Axes[0].Of)}}
	largest, unit := 0.0, ""
	at := func(p *whatif.Point, i int) (estimate.Estimate, bool) {
		if p.Results == nil {
			return estimate.Estimate{}, false
		}
		e, ok := p.Results.Alternatives[i].Metrics[metric]
		return e, ok
	}
	for k := range s.Points {
		for i := range s.Alternatives {
			if e, ok := at(&s.Points[k], i); ok {
				largest, unit = max(largest, e.Mean), e.Unit
			}
		}
	}
	u := words.ShownUnit(unit, largest, sys)
	for _, a := range s.Alternatives {
		t.Head = append(t.Head, strings.TrimSuffix(name(a)+", "+words.MetricLabel(metric)+", "+u.Name, ", "))
	}
	for k := range s.Points {
		p := &s.Points[k]
		r := row{Head: words.PointText(s, k, sys)}
		for i := range s.Alternatives {
			e, ok := at(p, i)
			v := cell{Text: "–"}
			if ok {
				v = cell{Text: words.Figure(e, u), Of: fmt.Sprintf("%s.%d.%d.%s", of, k, i, metric)}
				if e.Unit == "1" && e.Mean > 0 && e.Mean < 1e-5 {
					v.Text = words.Chance(e.Mean)
				}
				var broken []string
				for _, b := range p.Binds[i] {
					broken = append(broken, words.BoundText(b))
				}
				v.Below = strings.Join(broken, "; ")
			}
			r.Cells = append(r.Cells, v)
		}
		if p.LeftOut != "" {
			r.Sub = fmt.Sprintf(w.Figure["left_out"], words.Line(p.LeftOut, 120))
		}
		t.add("", r)
	}
	return t
}

// cycleTable is the data of the picture of one roll change.
func (c *Content) cycleTable(w *phrases) *table {
	sys := c.Scenario.Study.Units
	v, m := model.Display(model.Speed, sys), model.Display(model.Length, sys)
	show := func(x float64, u model.Unit) cell {
		if x != x {
			return cell{Text: "–"}
		}
		return cell{Text: words.Short(u.From(x), 4)}
	}
	t := &table{Head: []string{w.Figure["time"], w.Figure["station"] + ", " + w.Figure["event"], "u, " + v.Name, "p, " + v.Name, "w, " + v.Name, "A, " + m.Name, "B, " + m.Name}}
	for _, r := range c.Cycle {
		if r.Line != 0 {
			continue
		}
		says := "–" // a moment at which nothing happens, at an end of the picture
		if event, more := words.EventWords(&r); event != "" {
			says = strings.TrimSpace(words.SourceWord(r.Of) + ": " + event + " " + more)
		}
		t.add("", row{Head: fmt.Sprintf("%.3f", r.Time-c.Cycle[0].Time), Cells: []cell{{Text: words.Line(says, 80)},
			show(r.SpeedU, v), show(r.SpeedP, v), show(r.SpeedW, v), show(r.UnwindStorage, m), show(r.RewindStorage, m)}})
	}
	return t
}
