package random

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"rollchange/scenarios"
)

// drawer draws one scenario. A key is drawn when it is first asked for, given
// or not, so that others can hang on it in any order.
type drawer struct {
	seed  uint64
	mood  mood
	given map[string]bool
	drawn map[string]Value
	tries map[string]int      // how often a key was drawn anew
	busy  map[string]bool     // being drawn: a key that hangs on itself takes its example
	stack []string            // the keys being drawn
	heirs map[string][]string // keys whose value hangs on a key's
}

func newDrawer(seed uint64) *drawer {
	return &drawer{seed: seed, mood: moodOf(seed), given: map[string]bool{}, drawn: map[string]Value{}, tries: map[string]int{}, busy: map[string]bool{}, heirs: map[string][]string{}}
}

// chance is the stream of one decision about a key.
func (d *drawer) chance(path, of string) chance {
	return stream(d.seed, fmt.Sprint(of, " ", path, " ", d.tries[path]))
}

// all decides which keys are given.
func (d *drawer) all() {
	keys := scenarios.Keys()
	for i := range keys {
		k := &keys[i]
		for _, path := range d.places(k.Path) {
			if d.isGiven(k, path) {
				d.given[path] = true
			}
		}
	}
	for i := range d.mood.heirs {
		for j := range keys {
			d.overlay(&keys[j], fmt.Sprintf("alternative[%d].", i))
		}
	}
	d.products(keys)
}

// places are the paths of a row: one for each element of the array it is in.
func (d *drawer) places(row string) []string {
	array, rest, several := strings.Cut(row, "[].")
	if !several {
		return []string{row}
	}
	var list []string
	for i := range d.mood.count(d.chance(array, "count"), array) {
		list = append(list, fmt.Sprintf("%s[%d].%s", array, i, rest))
	}
	return list
}

func (d *drawer) isGiven(k *scenarios.Key, path string) bool {
	c := d.chance(path, "given")
	table, _, nested := strings.Cut(k.Path, ".")
	several := strings.Contains(k.Path, "[]")
	if d.mood.orders || ofOrders(k.Path) {
		if given, known := d.orders(k, path, c); known {
			return given
		}
	}
	switch {
	case d.loses(path):
		return false
	case k.Needed == "always" || isRival(path) && d.uses(k):
		return true
	case nearlyAlways(path):
		return c.is(0.97)
	case !d.uses(k):
		return c.is(d.mood.given * 0.1)
	case d.needs(k):
		return c.is(0.95)
	case nested && !several && !d.chance(table, "table").is(d.mood.tables):
		return false
	}
	return c.is(d.mood.given)
}

func nearlyAlways(path string) bool {
	h, _ := hookOf(path)
	return h.given
}

// overlay lays a key over the base in an alternative, now and then.
func (d *drawer) overlay(k *scenarios.Key, prefix string) {
	table, _, _ := strings.Cut(k.Path, ".")
	if strings.Contains(k.Path, "[]") || table == "run" || table == "title" || table == "units" || table == "records" || table == "report" || table == "orders" || d.mood.orders && table == "jobs" || !d.mood.orders && ofOrders(k.Path) {
		return
	}
	path := prefix + k.Path
	if d.chance(path, "given").is(0.08*d.mood.given) && !isRival(k.Path) {
		d.given[path] = true
	}
}

// uses says whether the kind of roll change of the base uses a key.
func (d *drawer) uses(k *scenarios.Key) bool {
	if k.UsedBy == "" {
		return true
	}
	end, _, _ := strings.Cut(k.Path, ".")
	kind := strings.Trim(d.value(end+".change").Word, `"`)
	return slices.Contains(strings.Split(k.UsedBy, ", "), kind)
}

// needs says whether the row says, in words, that the scenario as it is so far
// needs the key: for the kind of roll change, beside another key, in its table.
// Only Parse knows for certain.
func (d *drawer) needs(k *scenarios.Key) bool {
	if k.Needed == "" || strings.Contains(k.Needed, "unless") {
		return false
	}
	end, _, _ := strings.Cut(k.Path, ".")
	if strings.HasPrefix(k.Needed, "with any key of") {
		return d.chance(end, "table").is(d.mood.tables)
	}
	if (end == "unwind" || end == "rewind") && strings.Contains(k.Needed, strings.Trim(d.value(end+".change").Word, `"`)) {
		return true
	}
	for _, word := range strings.FieldsFunc(k.Needed, func(r rune) bool { return r == ' ' || r == ',' }) {
		for path, other := range rows {
			if strings.HasSuffix(path, "."+word) && other != k && !strings.Contains(path, "[]") && d.isGiven(other, path) {
				return true
			}
		}
	}
	return false
}

// rivals are keys of which a scenario gives either the one or the others.
var rivals = [][2][]string{
	{{"unwind.roll_length"}, {"unwind.roll_diameter"}},
	{{"rewind.roll_length"}, {"rewind.roll_diameter"}},
	{{"unwind.storage.capacity"}, {"unwind.storage.strands", "unwind.storage.travel"}},
	{{"rewind.storage.capacity"}, {"rewind.storage.strands", "rewind.storage.travel"}},
	{{"crew.duty[].every"}, {"crew.duty[].per_roll"}},
}

// sideOf is the pair of rivals that a key is in, and on which side.
func sideOf(path string) (pair, side int) {
	row := numbered.ReplaceAllString(path, "[]")
	for i, p := range rivals {
		for side := range p {
			if slices.Contains(p[side], row) {
				return i, side
			}
		}
	}
	return -1, 0
}

func isRival(path string) bool {
	pair, _ := sideOf(path)
	return pair >= 0
}

// loses says whether another key that says the same is given in a key's place.
func (d *drawer) loses(path string) bool {
	pair, side := sideOf(path)
	if pair < 0 {
		return false
	}
	wins := 0
	if d.chance(numbered.FindString(path)+rivals[pair][0][0], "rival").is(0.3) && !noRolls(d, path) {
		wins = 1
	}
	return side != wins
}

// noRolls says that nothing can be called for by finished rolls.
func noRolls(d *drawer, path string) bool {
	return strings.HasPrefix(path, "crew.duty") && d.value("rewind.change").Word == `"none"`
}

// value is what a key is drawn as.
func (d *drawer) value(path string) Value {
	if n := len(d.stack); n > 0 {
		d.heirs[path] = append(d.heirs[path], d.stack[n-1])
	}
	if v, ok := d.drawn[path]; ok {
		return v
	}
	if d.busy[path] {
		return example(row(path))
	}
	d.busy[path] = true
	d.stack = append(d.stack, path)
	v := d.draw(row(path), path)
	d.stack = d.stack[:len(d.stack)-1]
	d.busy[path] = false
	d.drawn[path] = v
	return v
}

// draw draws a value by the kind of the key. A kind that is not known here is a
// kind that nobody has thought of: the tests say so.
func (d *drawer) draw(k *scenarios.Key, path string) Value {
	c := d.chance(path, "value")
	if h, ok := hookOf(path); ok && h.word != nil {
		return Value{Word: h.word(d, c, path)}
	}
	switch k.Kind {
	case "text":
		return Value{Word: strconv.Quote(pick(c, "a", "jam at the knife", "Lauf 7 – ümlaut", "x.y[0]", "100 %", "a, b"))}
	case "one of":
		return Value{Word: strconv.Quote(pick(c, k.Choices...))}
	case "true or false":
		return Value{Word: strconv.FormatBool(c.is(0.5))}
	case "whole number":
		return Value{Word: strconv.FormatInt(d.whole(k, path, c), 10)}
	case "true or a number of finished rolls":
		return Value{Word: pick(c, "true", strconv.Itoa(1+c.IntN(4)))}
	case "quantity or \"auto\"":
		if c.is(0.03) {
			return Value{Word: `"auto"`}
		}
	case "quantity", "number", "share":
	case "quantity or share of capacity":
		return d.level(k, path, c)
	case "quantity or distribution", "number or distribution":
		if c.is(d.mood.vary) {
			return d.law(k, path, c)
		}
	default:
		panic(fmt.Sprintf("no way to draw %s, %s", path, k.Kind))
	}
	return d.one(k, c, d.number(k, path, c))
}

// scenario is what was drawn, the keys that are given.
func (d *drawer) scenario() *Scenario {
	s := &Scenario{Seed: d.seed, Values: map[string]Value{}}
	for _, path := range slices.Sorted(maps.Keys(d.given)) {
		s.Values[path] = d.value(path)
	}
	return s
}
