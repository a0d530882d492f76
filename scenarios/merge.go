package scenarios

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// leaf is the raw value of one key and the line that it stands on.
type leaf struct {
	raw  any
	line int
}

// leaves are the values of one alternative, by the full path of their key.
type leaves map[string]leaf

// nextIndex is where the next "[]" or "[2]" of a path begins and ends, from a place on;
// false when none is left.
func nextIndex(path string, from int) (begin, end int, ok bool) {
	for i := from; i < len(path); i++ {
		if path[i] != '[' {
			continue
		}
		rest := strings.TrimLeft(path[i+1:], "0123456789")
		if strings.HasPrefix(rest, "]") {
			return i, len(path) - len(rest) + 1, true
		}
	}
	return 0, 0, false
}

// holds says whether every element of an array that the path goes through is
// there: "stop[1].every" needs two stops.
func (v leaves) holds(path string) bool {
	for begin, end, more := nextIndex(path, 0); more; begin, end, more = nextIndex(path, end) {
		n, _ := v[path[:begin]].raw.(int)
		if i, err := strconv.Atoi(path[begin+1 : end-1]); (err != nil || i >= n) && path[:begin] != "alternative" {
			return false
		}
	}
	return true
}

// row turns the path of a value into the path of its row in the key table.
func row(path string) string {
	var b strings.Builder
	at := 0
	for begin, end, more := nextIndex(path, 0); more; begin, end, more = nextIndex(path, end) {
		b.WriteString(path[at:begin] + "[]")
		at = end
	}
	return b.String() + path[at:]
}

var (
	rowOf    = map[string]*Key{}
	isTable  = map[string]bool{}
	isArray  = map[string]bool{}
	rowNames []string
)

func init() {
	for i := range len(table) + len(productRows) {
		k := &productRows[max(0, i-len(table))]
		if i < len(table) {
			k = &table[i]
			rowNames = append(rowNames, k.Path)
		}
		rowOf[k.Path] = k
		for p := k.Path; ; {
			j := strings.LastIndexByte(p, '.')
			if j < 0 {
				break
			}
			p = p[:j]
			isTable[strings.TrimSuffix(p, "[]")] = true
			if strings.HasSuffix(p, "[]") {
				isArray[strings.TrimSuffix(p, "[]")] = true
			}
		}
	}
}

// reader gathers the values of a decoded text, and what is wrong with its keys.
type reader struct {
	at      positions
	errs    *Errors
	sources map[string]string
}

// address is the path of a value: in the text, and in the alternative that it is of.
type address struct{ where, path string }

// in is the address of a key of a table.
func (p address) in(name string) address { return address{joined(p.where, name), joined(p.path, name)} }

// at is the address of one of several tables.
func (p address) at(i int) address {
	return address{fmt.Sprintf("%s[%d]", p.where, i), fmt.Sprintf("%s[%d]", p.path, i)}
}

// joined is the path of a key of a table; that of the text has none.
func joined(table, name string) string {
	if table == "" {
		return name
	}
	return table + "." + name
}

// flatten writes the values of a table into out.
func (r *reader) flatten(m map[string]any, table address, out leaves) {
	for _, name := range slices.Sorted(maps.Keys(m)) {
		raw, here := m[name], table.in(name)
		key := row(here.path)
		switch {
		case name == "source" && table.where != "":
			r.source(table, here, raw)
		case table.where != table.path && (studyOnly(key) || key == "alternative"):
			r.bad(here, "belongs to the study, not to an alternative", "it above the first [[alternative]], for all of them")
		case rowOf[key] != nil:
			out[here.path] = leaf{raw, r.line(here)}
		case r.tables(raw, here, out):
		default:
			r.unknown(here)
		}
	}
}

// line is the line that a value stands on.
func (r *reader) line(p address) int { return r.at.lineOf(p.where) }

// bad reports what is wrong with a key, and how to write it.
func (r *reader) bad(p address, what, write string) { r.errs.add(r.line(p), p.where, what, write) }

// source keeps the note on where the figures of a table come from.
func (r *reader) source(table, here address, raw any) {
	if s, ok := raw.(string); ok {
		r.sources[table.where] = s
		return
	}
	r.bad(here, "must be text", `source = "where the figures come from"`)
}

// tables writes the values of a table, or of several; false where the key is for none, or
// is given something else.
func (r *reader) tables(raw any, here address, out leaves) bool {
	key := row(here.path)
	if table, ok := raw.(map[string]any); ok {
		switch {
		case isArray[key]:
			r.bad(here, "is one of several", "[["+here.path+"]]")
		case !isTable[key]:
			return false
		default:
			if len(table) == 0 && key == "orders" { // a mix needs no key of it
				out[here.path] = leaf{true, r.line(here)}
			}
			r.flatten(table, here, out)
		}
		return true
	}
	list, ok := tablesOf(raw)
	if !ok || !isArray[key] {
		return false
	}
	if n := len(list); n > mostOf {
		r.bad(here, fmt.Sprintf("%d of them: at most %d; combine the small ones", n, mostOf), "")
		list = list[:mostOf]
	}
	out[here.path] = leaf{len(list), r.line(here)}
	for i, x := range list {
		r.flatten(x, here.at(i), out)
	}
	return true
}

// unknown reports a key that there is not.
func (r *reader) unknown(here address) {
	key := row(here.path)
	if own := strings.TrimPrefix(key, "product[]."); own != key && (rowOf[own] != nil || isTable[own]) {
		r.bad(here, "belongs to the line, not to a product: products share kinds of change, storages, crew and stops", "it above the first [[product]]")
		return
	}
	what := "no such key"
	if isTable[key] {
		what = "must be a table"
	}
	r.errs.unknown(r.line(here), here.where, what, key)
}

// mostOf is how many stops, duties, breaks, groups or sweeps there may be, and
// mostAlternatives how many alternatives: each stop has slots of its own that are
// looked at in every event.
const (
	mostOf           = 40
	mostAlternatives = 50
)

// tablesOf is an array of tables, written as [[name]] or as name = [ {…} ].
func tablesOf(raw any) ([]map[string]any, bool) {
	switch v := raw.(type) {
	case []map[string]any:
		return v, true
	case []any:
		tables := make([]map[string]any, len(v))
		for i, x := range v {
			table, ok := x.(map[string]any)
			if !ok {
				return nil, false
			}
			tables[i] = table
		}
		return tables, true
	}
	return nil, false
}

func studyOnly(key string) bool {
	return key == "title" || key == "units" || key == "run" || key == "orders" || strings.HasPrefix(key, "orders.") || strings.HasPrefix(key, "run.") || key == "sweep" || strings.HasPrefix(key, "sweep[") || key == "live" || strings.HasPrefix(key, "live[") ||
		key == "records" || strings.HasPrefix(key, "records.") || key == "report" || strings.HasPrefix(key, "report.")
}

// rivals are keys of which one alternative uses either the one or the others:
// giving one in an alternative replaces the base's other.
var rivals = [][2][]string{
	{{"unwind.roll_length"}, {"unwind.roll_diameter"}},
	{{"rewind.roll_length"}, {"rewind.roll_diameter"}},
	{{"unwind.storage.capacity"}, {"unwind.storage.strands", "unwind.storage.travel"}},
	{{"rewind.storage.capacity"}, {"rewind.storage.strands", "rewind.storage.travel"}},
}

// lay returns the base with the values of an alternative laid over it.
func lay(base, over leaves) leaves {
	out := leaves{}
	for path, v := range base {
		out[path] = v
	}
	has := func(m leaves, paths []string) bool {
		for _, p := range paths {
			if _, ok := m[p]; ok {
				return true
			}
		}
		return false
	}
	for _, pair := range rivals {
		for i := range pair {
			if has(over, pair[i]) && !has(over, pair[1-i]) {
				for _, p := range pair[1-i] {
					delete(out, p)
				}
			}
		}
	}
	for path := range over {
		if isArray[path] { // an array of tables replaces the base's
			for p := range out {
				if strings.HasPrefix(p, path+"[") {
					delete(out, p)
				}
			}
		}
	}
	if n, _ := over["crew.group"].raw.(int); n > 0 && !has(over, []string{"crew.operators"}) {
		delete(out, "crew.operators") // it is the sum of the groups
	}
	for path, v := range over {
		out[path] = v
	}
	return out
}

// didYouMean proposes the nearest key, when one is near.
func didYouMean(key string) string {
	if len(key) > 80 {
		return "; rollchange keys lists all"
	}
	last := func(s string) string { return s[strings.LastIndexByte(s, '.')+1:] }
	best, distance := "", 4
	for _, name := range append(rowNames, "unwind", "unwind.storage", "rewind", "rewind.storage", "line", "web", "crew", "run", "jobs", "web_breaks", "stop", "economics", "alternative") {
		d := edits(key, name)
		if last(key) == last(name) && d > 3 {
			d = 3 // the right name in another table
		}
		if d < distance {
			best, distance = name, d
		}
	}
	if best == "" {
		return "; rollchange keys lists all"
	}
	return "; did you mean " + best + "?"
}

// edits is the number of letters to put in, take out, change or swap to turn a into b.
func edits(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > 80 || len(s)-len(t) > 4 || len(t)-len(s) > 4 {
		return 99
	}
	before, last := make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := range s {
		now := make([]int, len(t)+1)
		now[0] = i + 1
		for j := range t {
			cost := 1
			if s[i] == t[j] {
				cost = 0
			}
			now[j+1] = min(last[j]+cost, last[j+1]+1, now[j]+1)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				now[j+1] = min(now[j+1], before[j-1]+1)
			}
		}
		before, last = last, now
	}
	return last[len(t)]
}

// DidYouMean proposes the name of a list that is written most like s, as the end
// of a message; "" when none is near: a letter in four may be wrong and one more,
// three at most.
func DidYouMean(s string, names []string) string {
	best, distance := "", min(4, 2+len([]rune(s))/4)
	for _, name := range names {
		if d := edits(s, name); d < distance {
			best, distance = name, d
		}
	}
	if best == "" {
		return ""
	}
	return "; did you mean " + best + "?"
}
