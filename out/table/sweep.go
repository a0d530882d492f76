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

// Sweep writes a sweep for people: a block for each alternative, a row for
// each point, the figures with their half widths and which limits do not hold there.
func Sweep(w io.Writer, about words.About, s *whatif.Sweep, sys model.System, to Screen) error {
	var b strings.Builder
	fmt.Fprintln(&b, to.title(legible.Line(about.Title)))
	if run, ok := runOf(s); ok {
		fmt.Fprintln(&b, to.prose(fmt.Sprintf(words.HeadEachPoint, words.Head(run))))
	}
	keys := &limitKey{}
	for i, name := range s.Alternatives {
		fmt.Fprintf(&b, "\n%s\n", to.title(legible.Line(name)))
		sweepBlock(&b, s, i, sys, keys, to)
	}
	for _, k := range keys.list {
		fmt.Fprintf(&b, "\n%s", to.prose(k.mark+" "+k.words))
	}
	if len(keys.list) > 0 {
		fmt.Fprintln(&b)
	}
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

func sweepBlock(b *strings.Builder, s *whatif.Sweep, alternative int, sys model.System, keys *limitKey, to Screen) {
	var varied []string
	for _, a := range s.Axes {
		varied = append(varied, a.Key)
	}
	g := grid{label: strings.Join(varied, ", ")}
	type column struct {
		name, head string
		unit       model.Unit
	}
	var cols []column
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
		cols = append(cols, column{name, words.LabelOf(name).Short + ", " + u.Name, u})
	}
	for _, c := range cols {
		g.heads = append(g.heads, c.head)
	}
	for i := range s.Points {
		p := &s.Points[i]
		if p.Results == nil {
			continue
		}
		r := gridRow{label: pointValues(s, p)}
		for _, c := range cols {
			text := "–"
			if e, ok := p.Results.Alternatives[alternative].Metrics[c.name]; ok {
				text = words.Figure(e, c.unit)
				if e.Unit == "1" && e.Mean > 0 && e.Mean < 1e-5 {
					text = words.Chance(e.Mean)
				}
			}
			r.cells = append(r.cells, text)
		}
		for _, bound := range p.Binds[alternative] {
			r.tail += " " + keys.mark(bound.Words)
		}
		g.rows = append(g.rows, r)
	}
	g.write(b, to)
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
		parts = append(parts, s.Axes[i].Key+" "+legible.Line(s.Axes[i].Texts[x]))
	}
	return strings.Join(parts, ", ")
}

// pointValues are the values of a point, in the order of the keys: "150 m/min, 2".
func pointValues(s *whatif.Sweep, p *whatif.Point) string {
	var parts []string
	for i, x := range p.At {
		parts = append(parts, legible.Line(s.Axes[i].Texts[x]))
	}
	return strings.Join(parts, ", ")
}

// runOf is how the points of a sweep were simulated.
func runOf(s *whatif.Sweep) (replicate.RunInfo, bool) {
	for i := range s.Points {
		if r := s.Points[i].Results; r != nil {
			return r.Run, true
		}
	}
	return replicate.RunInfo{}, false
}
