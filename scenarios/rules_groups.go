package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
)

// groups checks the groups of a crew, and that somebody does every task.
func (c *checker) groups(l *model.Line) {
	crew := &l.Crew
	if len(crew.Groups) == 0 {
		return
	}
	sum, names := 0, map[string]bool{}
	for i := range crew.Groups {
		g, p := &crew.Groups[i], fmt.Sprintf("crew.group[%d].", i)
		c.need("for each group", p+"name", p+"operators")
		c.named(p+"name", g.Name)
		if g.Name != "" && names[g.Name] {
			c.bad(p+"name", fmt.Sprintf("%s is the name of another group", legible.Quote(g.Name)), "another name")
		}
		names[g.Name] = true
		sum += g.Operators
		for _, t := range g.Tasks {
			if what, write := badTask(t, l); what != "" {
				c.bad(p+"tasks", what, write)
				break
			}
		}
		c.shifts(crew, g, p+"shifts")
	}
	c.operators(crew, sum)
	if sum > 0 {
		c.nobodys(l)
	}
}

// operators checks the operators of a crew against those of its groups: they are
// their sum, unless somebody sets those of a group.
func (c *checker) operators(crew *model.Crew, sum int) {
	given := c.v["crew.operators"]
	set := false
	for i := range crew.Groups {
		set = set || c.v[fmt.Sprintf("crew.group[%d].operators", i)].line <= 0
	}
	if c.t.given["crew.operators"] && crew.Operators != sum && !(set && given.line > 0) && !c.unreadOperators(crew) {
		c.bad("crew.operators", fmt.Sprintf("contradicts the groups, which have %d", sum), fmt.Sprintf("operators = %d, or nothing: it is their sum", sum))
	}
	crew.Operators = sum
}

// unreadOperators says that how many operators there are cannot be read.
func (c *checker) unreadOperators(crew *model.Crew) bool {
	for i := range crew.Groups {
		if c.unread(fmt.Sprintf("crew.group[%d].operators", i)) {
			return true
		}
	}
	return c.unread("crew.operators")
}

func (c *checker) shifts(crew *model.Crew, g *model.Group, path string) {
	if g.Shifts == nil || c.unread("crew.shift") {
		return
	}
	switch n := crew.ShiftsOfDay(); {
	case n == 0:
		c.bad(path, fmt.Sprintf("a day is not a whole number of shifts: crew.shift is %.4g h", crew.Shift/3600), `shift = "8 h" under [crew]`)
	case slices.Max(g.Shifts) > n:
		c.bad(path, fmt.Sprintf("there is no shift %d: with crew.shift %.4g h a day has %d", slices.Max(g.Shifts), crew.Shift/3600, n), "shifts = [1]")
	}
}

// badTask says what is wrong with a task of a group, and how to write it.
func badTask(t string, l *model.Line) (what, write string) {
	words := model.WorkWords()
	if among(words, t) {
		return "", ""
	}
	var names []string
	array, called := "", ""
	if name, ok := strings.CutPrefix(t, model.Repairs.Named()); ok {
		array, called = "stop", name
		for _, s := range l.Stops {
			names = append(names, s.Name)
		}
	} else if name, ok := strings.CutPrefix(t, model.Duties.Named()); ok {
		array, called = "crew.duty", name
		for _, d := range l.Crew.Duties {
			names = append(names, d.Name)
		}
	}
	switch {
	case among(names, called), among(names, ""): // else it may be one without a name, which is told
		return "", ""
	case len(names) > 0:
		return fmt.Sprintf("no [[%s]] is called %s%s", array, legible.Quote(called), DidYouMean(called, names)), ""
	case array != "":
		return fmt.Sprintf("there is no [[%s]]", array), ""
	}
	return fmt.Sprintf("%s is not a task%s", legible.Quote(t), DidYouMean(t, words)),
		"tasks = [ some of " + quoted(words) + `, "stop NAME", "duty NAME" ]`
}

// nobodys reports the tasks of the line that no group ever does.
func (c *checker) nobodys(l *model.Line) {
	var left []string
	for _, t := range model.TasksOf(l) {
		named := t.Work == model.Repairs || t.Work == model.Duties
		if math.IsInf(l.Crew.LongestOff(t), 1) && !(named && t.Name == "") { // else the name is told to be none
			left = append(left, t.String())
		}
	}
	if len(left) > 0 {
		c.bad("crew.group", "no group ever does "+legible.List(left), "tasks = ["+quoted(left)+", …] in a group, or a group without tasks, which does all")
	}
}
