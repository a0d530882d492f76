package random

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
)

// The groups of a crew: each kind of work falls to at least one of them, so that a
// line is valid, and now and then to several.

// groupHooks are the hooks of their keys, and of keys that hang on them.
func groupHooks() {
	for row, h := range map[string]hook{
		"crew.group[].name":      {word: name},
		"crew.group[].operators": whole(1, 3),
		"crew.group[].tasks":     {word: groupTasks},
		"crew.group[].shifts":    {word: groupShifts},
		"crew.group[].days": {word: func(_ *drawer, c chance, _ string) string {
			return strconv.Quote(pick(c, "Monday to Friday", "Monday to Friday", "Mon", "Sat to Mon", "sunday", "Tuesday, Thursday to Sunday"))
		}},
	} {
		hooks[row] = h
	}
	hooks["crew.operators"] = hook{number: func(d *drawer, c chance, path string) float64 {
		sum := 0.0
		for i := range d.groups() {
			sum += d.si(fmt.Sprintf("crew.group[%d].operators", i))
		}
		if sum > 0 {
			return sum
		}
		return whole(1, 4).number(d, c, path)
	}}
	shift := hooks["crew.shift"].number
	hooks["crew.shift"] = hook{steady: true, number: func(d *drawer, c chance, path string) float64 {
		x := shift(d, c, path)
		if d.byShift() {
			return model.Day / shiftsOf(x)
		}
		return x
	}}
}

// shiftsOf is how many shifts of about x s a day has.
func shiftsOf(x float64) float64 { return min(max(1, math.Round(model.Day/x)), 1440) }

// groups is how many groups the crew has.
func (d *drawer) groups() int {
	return d.mood.count(d.chance("crew.group", "count"), "crew.group")
}

// byShift says whether a group is on in some shifts only.
func (d *drawer) byShift() bool {
	for i := range d.groups() {
		if d.given[fmt.Sprintf("crew.group[%d].shifts", i)] {
			return true
		}
	}
	return false
}

// groupTasks are the tasks of a group: those that fall to it by the seed, and some more.
func groupTasks(d *drawer, c chance, path string) string {
	me, _ := strconv.Atoi(strings.Trim(numbered.FindString(path), "[]"))
	n := d.groups()
	var list []string
	does := func(task string) {
		if int(rank(d.seed, task)%uint64(n)) == me || c.is(0.15) {
			list = append(list, strconv.Quote(task))
		}
	}
	each := func(word, named, array string) {
		if rank(d.seed, "by name")%2 == 0 {
			does(word)
			return
		}
		for i := range d.mood.count(d.chance(array, "count"), array) {
			called, _ := strconv.Unquote(d.value(fmt.Sprintf("%s[%d].name", array, i)).Word)
			does(named + called)
		}
	}
	for w, word := range model.WorkWords() {
		switch model.Work(w) {
		case model.Repairs:
			each(word, model.Repairs.Named(), "stop")
		case model.Duties:
			each(word, model.Duties.Named(), "crew.duty")
		default:
			does(word)
		}
	}
	if len(list) == 0 {
		list = []string{strconv.Quote(model.Packing.String())}
	}
	return "[" + strings.Join(list, ", ") + "]"
}

// groupShifts are some of the shifts of a day, now and then all.
func groupShifts(d *drawer, c chance, _ string) string {
	n := int(shiftsOf(d.si("crew.shift")))
	var list []string
	for s := range n {
		if c.is(0.6) && len(list) < 100 || s == n-1 && len(list) == 0 {
			list = append(list, strconv.Itoa(s+1))
		}
	}
	return "[" + strings.Join(list, ", ") + "]"
}
