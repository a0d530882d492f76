package table

import (
	"fmt"
	"io"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// sweptColumns are the metrics of the table of a sweep; those that no point of
// an alternative has are left out.
var sweptColumns = []string{metric.GoodRate, metric.Waste, metric.Depletion, metric.Overfill, metric.Stopped, metric.CrewBusy}

// Sweep writes a sweep for people: a block for each alternative, a row for each
// point of one key, a table for each metric over two, the figures with their half
// widths and which limits do not hold there.
func Sweep(w io.Writer, about words.About, s *whatif.Sweep, sys model.System, to Screen) error {
	var b strings.Builder
	fmt.Fprintln(&b, to.title(legible.Line(about.Title)))
	if run, most, ok := runOf(s); ok {
		fmt.Fprintln(&b, to.made(about, fmt.Sprintf(words.HeadEachPoint, words.HeadOfMany(run, most))))
	}
	keys := &limitKey{}
	for i, name := range s.Alternatives {
		fmt.Fprintf(&b, "\n%s\n", to.title(legible.Line(name)))
		if len(s.Axes) == 2 {
			mapBlock(&b, s, i, sys, keys, to)
			continue
		}
		sweepBlock(&b, s, i, sys, keys, to)
	}
	for _, k := range keys.list {
		fmt.Fprintf(&b, "\n%s", to.prose(k.mark+" "+k.words))
	}
	if len(keys.list) > 0 {
		fmt.Fprintln(&b)
	}
	if about.Records {
		fmt.Fprintf(&b, "\n%s\n", to.prose(words.SweepRecords))
	}
	tooFewShown(&b, to)
	n := 0
	for _, p := range s.Points {
		if p.LeftOut == "" {
			continue
		}
		if n++; n == 1 {
			fmt.Fprintln(&b, "\n"+words.HeadPointsLeftOut)
		}
		fmt.Fprintln(&b, to.indented(pointName(s, &p)+": "+words.Shorten(legible.Line(p.LeftOut), 200), 2))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// limitKey numbers the limits that do not hold somewhere, in order of appearance.
type limitKey struct {
	list []struct{ mark, words string }
}

func (k *limitKey) mark(words string) string {
	for _, x := range k.list {
		if x.words == words {
			return x.mark
		}
	}
	m := fmt.Sprintf("[%d]", len(k.list)+1)
	k.list = append(k.list, struct{ mark, words string }{m, words})
	return m
}

// sweptColumn is a metric of the tables of a sweep, in the unit of people.
type sweptColumn struct {
	name, head string
	unit       model.Unit
}

// columnsOf are the metrics that some point of an alternative has.
func columnsOf(s *whatif.Sweep, alternative int, sys model.System) []sweptColumn {
	var cols []sweptColumn
	for _, name := range sweptColumns {
		largest, unit := math.NaN(), ""
		for i := range s.Points {
			if r := s.Points[i].Results; r != nil {
				if e, ok := r.Alternatives[alternative].Metrics[name]; ok {
					largest, unit = math.Max(orZero(largest), math.Abs(e.Mean)), e.Unit
				}
			}
		}
		if math.IsNaN(largest) || largest == 0 && name == metric.Overfill {
			continue
		}
		u := words.ShownUnit(unit, largest, sys)
		cols = append(cols, sweptColumn{name, words.LabelOf(name).Short + ", " + u.Name, u})
	}
	return cols
}

// figure is the metric of an alternative at a point.
func (c sweptColumn) figure(p *whatif.Point, alternative int) string {
	e, ok := p.Results.Alternatives[alternative].Metrics[c.name]
	switch {
	case !ok:
		return "–"
	case e.Unit == "1" && e.Mean > 0 && e.Mean < 1e-5:
		return words.Chance(e.Mean)
	}
	return words.Figure(e, c.unit)
}

// sweepBlock writes the points of a sweep over one key, a row each.
func sweepBlock(b *strings.Builder, s *whatif.Sweep, alternative int, sys model.System, keys *limitKey, to Screen) {
	g := grid{label: s.Axes[0].Key}
	cols := columnsOf(s, alternative, sys)
	for _, c := range cols {
		g.heads = append(g.heads, c.head)
	}
	for i := range s.Points {
		p := &s.Points[i]
		if p.Results == nil {
			continue
		}
		r := gridRow{label: legible.Line(words.Written(s.Axes[0].Texts[p.At[0]]))}
		for _, c := range cols {
			r.cells = append(r.cells, c.figure(p, alternative))
		}
		for _, bound := range p.Binds[alternative] {
			r.tail += " " + keys.mark(words.BoundText(bound))
		}
		g.rows = append(g.rows, r)
	}
	g.write(b, to)
}

// mapBlock writes the points of a sweep over two keys: a table for each metric,
// the first key down and the second across. A limit that does not hold is marked
// in the first table, and in that of its metric.
func mapBlock(b *strings.Builder, s *whatif.Sweep, alternative int, sys model.System, keys *limitKey, to Screen) {
	down, across := s.Axes[0], s.Axes[1]
	for n, c := range columnsOf(s, alternative, sys) {
		if n > 0 {
			fmt.Fprintln(b)
		}
		g := grid{label: down.Key, lead: fmt.Sprintf(words.HeadAcross, c.head, across.Key), rows: make([]gridRow, len(down.Values))}
		for i, text := range down.Texts {
			g.rows[i].label = legible.Line(words.Written(text))
		}
		for k, text := range across.Texts {
			g.heads = append(g.heads, legible.Line(words.Written(text)))
			marks, most := make([]string, len(down.Values)), 0
			for i := range down.Values {
				if p := s.At(i, k); p.Results != nil {
					for _, bound := range p.Binds[alternative] {
						if n == 0 || bound.Metric == c.name {
							marks[i] += " " + keys.mark(words.BoundText(bound))
						}
					}
				}
				most = max(most, words.Columns(marks[i]))
			}
			for i := range down.Values {
				text := words.CellLeftOut
				if p := s.At(i, k); p.Results != nil {
					text = c.figure(p, alternative)
				}
				g.rows[i].cells = append(g.rows[i].cells, text+pad(marks[i], most))
			}
		}
		g.write(b, to)
	}
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// pointName is where a point is: "line.speed 150 m/min, crew.operators 2".
func pointName(s *whatif.Sweep, p *whatif.Point) string {
	var parts []string
	for i, x := range p.At {
		parts = append(parts, s.Axes[i].Key+" "+legible.Line(words.Written(s.Axes[i].Texts[x])))
	}
	return strings.Join(parts, ", ")
}

// runOf is how the points of a sweep were simulated.
func runOf(s *whatif.Sweep) (run replicate.RunInfo, most int, ok bool) {
	for i := range s.Points {
		r := s.Points[i].Results
		if r == nil {
			continue
		}
		n := r.Run.Replications
		if !ok {
			run, ok = r.Run, true
		}
		run.Replications, most = min(run.Replications, n), max(most, n)
	}
	return run, most, ok
}
