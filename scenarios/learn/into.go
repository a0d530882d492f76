package learn

import (
	"fmt"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/scenarios/records"
)

// How says what a row of the log holds, and what else is known of its period.
type How struct {
	Work  bool               // the work alone; else from leaving the speed until back at it
	Waits map[string]float64 // s, the wait for a busy operator in a stop of a cause, beyond Off
	Made  *records.Production
}

// Into writes the laws of a log into the text of a scenario: a [[stop]] of the
// name of a cause gets its laws, another cause a [[stop]] of its own, what is a key
// is set in its table. All other lines stay as they are. With work the log holds
// the work alone, else what the engine adds is taken off (Off). The text is read
// again before it is returned. What the line made goes into [records], with the
// production of the period where that is known.
func Into(old *scenarios.Scenario, dir string, l *Line, say Say, how How) (text []byte, err error) {
	line := &old.Study.Alternatives[0].Line
	d := newDocument(string(old.Text))
	rewinds := slices.ContainsFunc(l.Causes, func(c Cause) bool { return c.Is == RewindTime })
	for _, s := range d.sections() {
		for _, key := range []string{"stop", "unwind", "rewind", "web_breaks", "jobs"} {
			if s.name == "" && d.has(s, key) && (key != "rewind" || rewinds) {
				return nil, fmt.Errorf("the laws cannot be written into it: %s stands in it as %s = …; write it as a table of its own, [%s], so that its lines can be written anew", key, key, map[bool]string{true: "[stop]", false: key}[key == "stop"])
			}
		}
	}
	if kind := line.Rewind.Change; rewinds && kind != model.Manual {
		return nil, fmt.Errorf("the laws cannot be written into it: a cause is rewind.change_time, and no roll is changed by hand at its rewind (rewind.change = %q)", kind)
	}
	for i := range l.Causes {
		c := &l.Causes[i]
		if !c.Repair.Given() {
			continue
		}
		operator := true
		for _, s := range line.Stops {
			if c.Is == Stop && folded(s.Name) == folded(c.Name()) {
				operator = s.NeedsOperator
			}
		}
		off := 0.0
		if !how.Work {
			off = Off(line, operator) + how.Waits[c.Name()]
		}
		repair, enough := Work(c.Repair, off)
		if c.Is == Stop {
			d.stop(l, c, say, repair, off, enough)
			continue
		}
		for _, k := range keysOf(c, say, repair, off, enough, line.Process.Speed) {
			if line.Orders != nil { // whose lengths are listed, or of each product
				if k.path == "jobs.length" {
					continue
				}
				k.path = strings.Replace(k.path, "jobs.changeover", "changeover.time", 1)
			}
			table, key, _ := strings.Cut(k.path, ".")
			d.set(d.table(table), key, k.value, k.note)
		}
		if c.Is == WebBreak {
			if at := d.table("web_breaks"); d.has(at, "at_speed") {
				d.set(at, "at_speed", fmt.Sprintf("%q", figure(line.Process.Speed*60)+" m/min"), say.Every(c))
			}
		}
	}
	d.recorded(l, line, how.Made, how.Work, say.Records(l, how.Made))
	text = []byte(d.String())
	again, err := scenarios.Parse(old.Name, text, dir)
	if err != nil {
		return nil, fmt.Errorf("the laws cannot be written into it, as it is laid out; write its stops and tables as [[stop]], [unwind], [rewind], [web_breaks], [jobs]: %w", err)
	}
	return text, isWritten(again, l)
}

// isWritten checks that every cause that is a stop is one of the scenario that was
// written, with its law.
func isWritten(s *scenarios.Scenario, l *Line) error {
	for i := range l.Causes {
		c := &l.Causes[i]
		if c.Is != Stop || !c.Repair.Given() {
			continue
		}
		found := false
		for _, x := range s.Study.Alternatives[0].Line.Stops {
			found = found || folded(x.Name) == folded(c.Name()) && near(x.Every, c.Every)
		}
		if !found {
			return fmt.Errorf("the stop %q cannot be written into it: an alternative has stops of its own", c.Name())
		}
	}
	return nil
}

func near(a, b model.Dist) bool {
	x, y := a.Mean(), b.Mean()
	return a.Law == b.Law && x > 0.98*y && x < 1.02*y
}

// stop writes a cause as a [[stop]]: over the one of its name, else behind the last
// one, else before the alternatives.
func (d *document) stop(l *Line, c *Cause, say Say, repair model.Dist, off float64, enough bool) {
	at := -1
	for _, s := range d.sections() {
		if s.name == "stop" && s.array {
			if folded(d.text(s, "name")) == folded(c.Name()) {
				d.set(s, "every", law(c.Every), say.Every(c))
				d.set(d.named(c), "basis", `"running"`, "")
				d.set(d.named(c), "repair", law(repair), say.Repair(c, off, enough))
				d.set(d.named(c), "source", fmt.Sprintf("%q", say.Source(l, c)), "")
				return
			}
			at = d.last(s)
		}
	}
	block := strings.Split(strings.TrimRight(stopBlock(l, c, say, repair, off, enough), "\n"), "\n")
	d.add(at, block)
}

// named is the [[stop]] of a cause.
func (d *document) named(c *Cause) section {
	for _, s := range d.sections() {
		if s.name == "stop" && s.array && folded(d.text(s, "name")) == folded(c.Name()) {
			return s
		}
	}
	return section{}
}

// text is the value of a key that is a text, without its quotes.
func (d *document) text(in section, key string) string {
	from, _, ok := d.value(in, key)
	if !ok {
		return ""
	}
	_, v, _ := strings.Cut(d.lines[from], "=")
	v = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(v), d.tail(from, from+1)))
	return strings.Trim(v, `"'`)
}

func (d *document) has(in section, key string) bool {
	_, _, ok := d.value(in, key)
	return ok
}

// last is the line behind the last of a section that holds something, comments
// that lead to the next one apart.
func (d *document) last(s section) int {
	n := s.to
	for n > s.from+1 && (strings.TrimSpace(d.lines[n-1]) == "" || strings.HasPrefix(strings.TrimSpace(d.lines[n-1]), "#")) {
		n--
	}
	return n
}

// table is the table of a name, made where there is none.
func (d *document) table(name string) section {
	for _, s := range d.sections() {
		if s.name == name && !s.array {
			return s
		}
	}
	d.add(-1, []string{"[" + name + "]"})
	return d.table(name)
}

// add writes a block behind a line; below 0 before the first alternative, or at
// the end.
func (d *document) add(at int, block []string) {
	if at < 0 {
		at = len(d.lines)
		list := d.sections()
		for i, s := range list {
			if i > 0 && (s.name == "alternative" || strings.HasPrefix(s.name, "alternative.")) {
				at = d.last(list[i-1])
				break
			}
		}
	}
	d.put(at, at, append([]string{""}, block...)...)
}

// set writes a key of a section with words before it; a comment behind its value
// stays, words that were written so before do not.
func (d *document) set(in section, key, value, note string) {
	var b strings.Builder
	if note != "" {
		comment(&b, note)
	}
	lines := strings.Split(b.String()+key+" = "+value, "\n")
	from, to, ok := d.value(in, key)
	if !ok {
		at := d.last(in)
		d.put(at, at, lines...)
		return
	}
	if tail := d.tail(from, to); tail != "" {
		lines[len(lines)-1] += " " + tail
	}
	for from > in.from+1 && strings.HasPrefix(d.lines[from-1], mark) {
		from--
	}
	d.put(from, to, lines...)
}

// Kept are the stops of a scenario that a log has no cause for.
func Kept(s *scenarios.Scenario, l *Line) []string {
	var names []string
	for _, x := range s.Study.Alternatives[0].Line.Stops {
		in := false
		for i := range l.Causes {
			in = in || l.Causes[i].Is == Stop && folded(l.Causes[i].Name()) == folded(x.Name)
		}
		if !in {
			names = append(names, x.Name)
		}
	}
	return names
}
