package report

import (
	"fmt"
	"html/template"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/metric"
	"rollchange/sim/whatif"
)

// figure is a picture of the page.
type figure struct {
	N       int
	ID      string
	Caption string
	SVG     template.HTML
	Data    *table
}

// figure draws a picture with its caption, its text alternative and its data;
// nil when there is nothing to draw, with the reason.
func (c *Content) figure(w *phrases, kind string) (*figure, error) {
	p, err := c.Picture(kind)
	if err != nil {
		return nil, err
	}
	f := &figure{ID: "fig-" + kind, Caption: c.caption(w, kind), Data: c.data(w, kind)}
	f.SVG, err = inline(p, f.ID, f.Caption, f.Data.describe(w))
	return f, err
}

func (c *Content) alternative(i int) string { return name(c.Scenario.Study.Alternatives[i].Name) }

func (c *Content) caption(w *phrases, kind string) string {
	f := w.Figure
	switch kind {
	case "line", "worth", "sensitivity":
		return fmt.Sprintf(f[kind], c.alternative(c.Answer))
	case "cash", "stakes":
		return fmt.Sprintf(f[kind], c.alternative(c.Answer), c.alternative(0))
	case "cycle":
		if l := &c.Scenario.Study.Alternatives[c.CycleOf].Line; !l.Unwind.Change.Stores() && !l.Rewind.Change.Stores() {
			kind = "cycle_manual"
		}
		return fmt.Sprintf(f[kind], c.alternative(c.CycleOf))
	case "storage":
		l := &c.Scenario.Study.Alternatives[c.StorageOf].Line
		s := l.Unwind.Storage.Capacity
		if c.riskMetric() == metric.Overfill {
			s = l.Rewind.Storage.Capacity
		}
		u := model.Display(model.Length, c.Scenario.Study.Units)
		says := fmt.Sprintf(f[kind], c.alternative(c.StorageOf), words.Short(u.From(s), 4)+" "+u.Name)
		if r := c.Storage.Limits.Risk; r.Share > 0 {
			says += " " + fmt.Sprintf(f["storage_target"], words.Line(r.Text, mostWide))
		}
		return says
	case "plan":
		if words.Due(c.Plan) == 0 {
			kind = "plan_undated"
		}
	case "output":
		if len(c.Results.Alternatives) > 1 {
			return f[kind] + " " + f["output_paired"]
		}
	case "speed":
		says := f[kind]
		if binds(c.Speed) {
			says += " " + f["speed_marks"]
		}
		if c.SpeedEnds != "" {
			says += " " + typeset(fmt.Sprintf(f["ends"], words.Line(words.Keyless(c.SpeedEnds), mostNote)))
		}
		return says
	}
	return f[kind]
}

// binds says whether a limit does not hold at some point of a sweep.
func binds(s *whatif.Sweep) bool {
	for i := range s.Points {
		for _, b := range s.Points[i].Binds {
			if len(b) > 0 {
				return true
			}
		}
	}
	return false
}

// data is the table of a picture.
func (c *Content) data(w *phrases, kind string) *table {
	sys := c.Scenario.Study.Units
	var t *table
	switch kind {
	case "hours", "web":
		t = c.partsTable(w, kind == "hours")
	case "output":
		t = c.outputTable(w)
	case "cash":
		t = c.flowTable(w)
	case "worth":
		t = c.npvSwingTable(w)
	case "sensitivity":
		t = c.swingTable(w, metric.GoodRate)
	case "stakes":
		t = c.swingTable(w, "npv")
	case "speed":
		t = sweepTable(w, "speed", c.Speed, metric.GoodRate, sys)
	case "storage":
		t = sweepTable(w, "storage", c.Storage, c.riskMetric(), sys)
	case "records":
		t = c.matchTable()
	case "plan":
		t = c.planTable(w)
	case "cycle":
		t = c.cycleTable(w)
		t.Note = w.Figure["cycle_note"]
	default:
		t = c.lineTable(w)
	}
	return t
}

// lineTable says in words what the drawing of the line shows.
func (c *Content) lineTable(w *phrases) *table {
	t := &table{Head: []string{w.Figure["what"], w.Figure["size"]}, Texts: true}
	for _, x := range model.FactsOf(&c.Scenario.Study.Alternatives[c.Answer].Line) {
		if x.Group == "crew" {
			continue
		}
		t.add(x.Group, row{Head: strings.ToUpper(x.Label[:1]) + x.Label[1:], Sub: x.Note, Cells: []cell{{Text: words.FactText(x, c.Scenario.Study.Units)}}})
	}
	return t
}
