package learn

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios/records"
)

// recorded writes what the line really made in the period of the log as [records] and
// its causes, in place of what stood there. Hours hold no ramps, as those of the model
// do not; with work the log says nothing of the hours that the line stood still. It
// returns false where the log is of another number of lines than the scenario.
func (d *document) recorded(l *Line, line *model.Line, made *records.Production, work bool, source string) bool {
	lines := max(1, len(l.Log.Lines))
	if lines != max(1, line.Crew.Lines) {
		return false
	}
	head := []string{"[records]"}
	old := map[string]string{}
	for _, s := range d.sections() {
		if s.name == "records" && !s.array {
			if _, _, ok := d.value(s, "alternative"); ok {
				old["alternative"] = d.text(s, "alternative")
			}
		}
	}
	d.drop("records", "records.cause")
	put := func(key, value string) { head = append(head, key+" = "+value) }
	if a := old["alternative"]; a != "" {
		put("alternative", fmt.Sprintf("%q", a))
	}
	put("hours", hours(l.Planned/float64(lines)))
	if made != nil {
		for _, x := range []struct {
			key string
			m   float64
		}{{"good", made.Good}, {"waste", made.Waste}} {
			if !math.IsNaN(x.m) {
				put(x.key, fmt.Sprintf("%q", exact(x.m)+" m"))
			}
		}
		if !math.IsNaN(made.RollChanges) {
			put("roll_changes", fmt.Sprint(int64(math.Round(made.RollChanges))))
		}
	}
	ramps := Ramps(line)
	if !work {
		still := l.Stopped
		for i := range l.Causes {
			still -= min(l.Causes[i].Lost, float64(l.Causes[i].Stops)*ramps)
		}
		put("stopped", hours(still))
	}
	put("source", fmt.Sprintf("%q", source))
	block := head
	for i := range l.Causes {
		c := &l.Causes[i]
		is := c.Is
		name := c.Name()
		if s := d.named(c); is == Stop && s.to > 0 { // as the scenario spells it
			name = d.text(s, "name")
		}
		block = append(block, "", "[[records.cause]]", fmt.Sprintf("text = %q", name), fmt.Sprintf("is = %q", string(is)), fmt.Sprintf("stops = %d", c.Stops))
		if !work {
			block = append(block, "hours = "+hours(c.Lost-min(c.Lost, float64(c.Stops)*ramps)))
		}
		if c.Repair.Given() {
			block = append(block, "fitted = true")
		}
		for _, other := range c.Spellings { // other names of it that say so nowhere else
			if is != Stop && folded(other) != folded(c.Text) {
				block = append(block, "", "[[records.cause]]", fmt.Sprintf("text = %q", legible.Line(other)), fmt.Sprintf("is = %q", string(is)))
			}
		}
	}
	d.add(-1, block)
	return true
}

// drop takes the tables of some names out, with the comments that lead to them left.
func (d *document) drop(names ...string) {
	for {
		list := d.sections()
		i := slices.IndexFunc(list, func(s section) bool { return slices.Contains(names, s.name) })
		if i < 0 {
			return
		}
		to := d.last(list[i])
		for to < len(d.lines) && strings.TrimSpace(d.lines[to]) == "" {
			to++
		}
		d.put(list[i].from, to)
	}
}

// Ramps is how long a line takes to stop and to come back to its speed, s.
func Ramps(line *model.Line) float64 {
	p := &line.Process
	return model.StoppingTime(p.Speed, p.Decel) + model.StoppingTime(p.Speed, p.Accel)
}

func hours(s float64) string { return fmt.Sprintf("%q", exact(s/3600)+" h") }

// exact is a number with six digits.
func exact(x float64) string {
	s := fmt.Sprintf("%.6g", x)
	if strings.Contains(s, "e") {
		s = fmt.Sprintf("%.0f", x)
	}
	return s
}
