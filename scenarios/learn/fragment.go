package learn

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios/records"
)

// Say puts words on the laws of a cause, for the comments beside them: of the time
// between, of the repair, and of what the engine adds to it, s, where that was
// taken off.
type Say interface {
	Head(l *Line) string
	Every(c *Cause) string
	Repair(c *Cause, off float64, enough bool) string
	Source(l *Line, c *Cause) string
	Records(l *Line, made *records.Production) string
}

// Fragment writes the stops of a log as TOML, to be added to a scenario: a
// [[stop]] for each cause. What is a key of a table that a scenario has already
// stands in it as a comment.
func Fragment(l *Line, say Say, speed float64) string {
	var b strings.Builder
	comment(&b, say.Head(l))
	for i := range l.Causes {
		c := &l.Causes[i]
		if c.Is == Stop && c.Repair.Given() {
			b.WriteString("\n" + stopBlock(l, c, say, c.Repair, 0, true))
		}
	}
	for i := range l.Causes {
		c := &l.Causes[i]
		if c.Is == Stop || !c.Repair.Given() {
			continue
		}
		b.WriteString("\n")
		for _, k := range keysOf(c, say, c.Repair, 0, true, speed) {
			if k.note != "" {
				comment(&b, k.note)
			}
			table, key, _ := strings.Cut(k.path, ".")
			for line := range strings.Lines(fmt.Sprintf("[%s] %s = %s", table, key, k.value)) {
				b.WriteString("# " + line)
			}
			b.WriteString("\n")
		}
	}
	return b.String()
}

// written is a key to write, with the words before it.
type written struct{ path, value, note string }

// keysOf are the keys that a cause gives where it is no [[stop]].
func keysOf(c *Cause, say Say, repair model.Dist, off float64, enough bool, speed float64) []written {
	lasts := say.Repair(c, off, enough)
	switch c.Is {
	case ChangeTime, RewindTime:
		return []written{{string(c.Is), law(repair), lasts}}
	case Changeover:
		list := []written{{string(c.Is), law(repair), lasts}}
		if speed > 0 {
			list = append(list, written{"jobs.length", lengths(scaled(c.Every, speed)), say.Every(c)})
		}
		return list
	case WebBreak:
		var list []written
		if speed > 0 {
			metres := speed * c.Rate.Exposure / float64(c.Stops)
			list = append(list, written{"web_breaks.mean_length", fmt.Sprintf("%q", figure(metres/1000)+" km"), say.Every(c)}, written{"web_breaks.observed", fmt.Sprint(c.Stops), ""})
		}
		return append(list, written{"web_breaks.repair", law(repair), lasts})
	}
	return nil
}

// Name is how a cause is called in a scenario.
func (c *Cause) Name() string {
	if c.Text == "" {
		return "no cause given"
	}
	return legible.Line(c.Text)
}

// stopBlock is a cause as a [[stop]].
func stopBlock(l *Line, c *Cause, say Say, repair model.Dist, off float64, enough bool) string {
	var b strings.Builder
	fmt.Fprintf(&b, "[[stop]]\nname = %q\n", c.Name())
	comment(&b, say.Every(c))
	fmt.Fprintf(&b, "every = %s\nbasis = \"running\"\n", law(c.Every))
	comment(&b, say.Repair(c, off, enough))
	fmt.Fprintf(&b, "repair = %s\nneeds_operator = true\nsource = %q\n", law(repair), say.Source(l, c))
	return b.String()
}

// mark begins a comment that this package writes, so that it finds it again.
const mark = "# log: "

// comment writes words as comments, in lines of 100 characters at most.
func comment(b *strings.Builder, text string) {
	line := strings.TrimRight(mark, " ")
	for _, word := range strings.Fields(text) {
		if len(line)+1+len(word) > 100 {
			b.WriteString(line + "\n")
			line = strings.TrimRight(mark, " ")
		}
		line += " " + word
	}
	b.WriteString(line + "\n")
}
