package scenarios

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios/written"
)

// ParseSet reads "KEY=VALUE" as it is given to --set. The key is one of the
// scenario, one parameter of a distribution, an element of an array by its number
// or its name ("stop[0].every", "stop[plate cleaning].every"), or a key of one
// alternative ("alternative[flying].unwind.dwell"). What is wrong with it is said
// when the scenario is read, with all else that is wrong.
func ParseSet(text string) Override {
	depth, at := 0, -1
	quoted := false
	for i, c := range text {
		switch {
		case c == '"' && depth > 0:
			quoted = !quoted
		case quoted:
		case c == '[':
			depth++
		case c == ']':
			depth--
		case c == '=' && depth <= 0:
			at = i
		}
		if at >= 0 {
			break
		}
	}
	if at < 0 { // a name with an odd bracket
		at = strings.IndexByte(text, '=')
	}
	o := Override{said: "--set " + text}
	if at > 0 {
		o.Key, o.Value = strings.TrimSpace(text[:at]), strings.TrimSpace(text[at+1:])
	}
	return o
}

// Set are the key and the value of each thing that was set, in the order given.
func (s *Scenario) Set() [][2]string {
	var list [][2]string
	for _, o := range s.overrides {
		if o.said != "" {
			list = append(list, [2]string{o.Key, o.Value})
		}
	}
	return list
}

// number gives a line below 0 to each override that somebody said.
func (e *Errors) number(overrides []Override) {
	e.said = nil
	for _, o := range overrides {
		if o.said != "" {
			e.said = append(e.said, o)
		}
	}
	n := -len(e.said)
	for i := range overrides {
		if overrides[i].said != "" {
			overrides[i].line = n
			n++
		}
	}
}

// set writes a problem of what was set: as it was given, what is wrong, how to
// give it.
func (e *Errors) set(b *strings.Builder, p *Problem) {
	o := e.said[len(e.said)+p.Line]
	b.WriteString(legible.Short(o.said))
	key := p.Key
	if strings.HasSuffix("."+o.Key, "."+key) || row(nameless(o.Key)) == row(key) {
		key = o.Key
	} else {
		fmt.Fprintf(b, ": %s", legible.Short(key))
	}
	fmt.Fprintf(b, ": %s", written.Wrong(p.What))
	write := p.Write
	if name := p.Key[strings.LastIndexByte(p.Key, '.')+1:]; name != "" && strings.HasPrefix(write, name+" = ") {
		write, _, _ = strings.Cut(write, " under [")
		write, _, _ = strings.Cut(write, ", or a distribution")
		ways := strings.Split(strings.TrimPrefix(write, name+" = "), " or "+name+" = ")
		for i, way := range ways {
			ways[i] = asFlag(legible.Short(key), way)
		}
		write = strings.Join(ways, " or ")
	}
	if write != "" {
		fmt.Fprintf(b, "\n  write: %s", write)
	}
}

// asFlag is how a value is set, in quotes that a shell takes.
func asFlag(key, value string) string {
	if strings.ContainsAny(key, "[] '\"=") || strings.HasPrefix(value, "{") {
		return "--set '" + key + "=" + unquoted(value) + "'"
	}
	return "--set " + key + "=" + value
}

// with is what was set, where a problem of the file may come from it.
func (e *Errors) with() string {
	for _, p := range e.Problems {
		if p.Line >= 0 && len(e.said) > 0 {
			var all []string
			for _, o := range e.said {
				all = append(all, o.said)
			}
			return legible.Short(strings.Join(all, " "))
		}
	}
	return ""
}

// setting is one thing that was set, with the alternative and the key that it names.
type setting struct {
	Override
	given string // the key as it was given
	used  bool   // some alternative's kind of roll change uses the key
	seen  bool   // some alternative that it is for was read
	met   bool   // some alternative has what the key names
	only  string // the kinds that use it
}

// settings are all that was set: what is for all alternatives first.
type settings struct {
	list []*setting
	errs *Errors
}

// newSettings finds which alternative each of the settings is for, and refuses
// what cannot be set.
func newSettings(alternatives []map[string]any, overrides []Override, errs *Errors) *settings {
	s := &settings{errs: errs}
	var names []string
	for _, m := range alternatives {
		name, _ := m["name"].(string)
		names = append(names, name)
	}
	seen := map[string]bool{}
	for _, o := range overrides {
		if o.said == "" {
			continue
		}
		x := &setting{Override: o, given: o.Key}
		if what, write := x.find(names); what != "" {
			errs.add(o.line, x.given, what, write)
			continue
		}
		if id := x.Of + "\x00" + x.Key; seen[id] {
			errs.add(o.line, x.given, "is set twice", "")
			continue
		} else {
			seen[id] = true
		}
		s.list = append(s.list, x)
	}
	slices.SortStableFunc(s.list, func(a, b *setting) int { return min(1, len(a.Of)) - min(1, len(b.Of)) })
	return s
}

// find parts the key from the alternative that it is for, and says what is wrong
// with it and how to write it.
func (x *setting) find(names []string) (what, write string) {
	if x.Key == "" {
		return "write KEY=VALUE", `--set line.speed="150 m/min"`
	}
	if rest, ok := strings.CutPrefix(x.Key, "alternative["); ok && x.Of == "" {
		at := slices.IndexFunc(names, func(n string) bool { return n != "" && strings.HasPrefix(rest, n+"].") })
		index, key, closed := strings.Cut(rest, "].")
		if i, err := strconv.Atoi(index); at < 0 && err == nil && i >= 0 && i < len(names) && names[i] != "" {
			at = i
		} else if at >= 0 {
			key = rest[len(names[at])+2:]
		}
		switch {
		case len(names) == 0:
			return "the scenario has no alternatives", ""
		case at < 0 && index == "" || !closed:
			return fmt.Sprintf("say which: alternative[%s].%s", names[0], strings.TrimPrefix(key, "]")), ""
		case at < 0:
			return fmt.Sprintf("no alternative %s; the scenario has %s", legible.Quote(index), legible.List(names)), ""
		case key == "name":
			return "names the alternative and cannot be set", ""
		case studyOnly(key):
			return "belongs to the study, not to an alternative", ""
		}
		x.Of, x.Key = names[at], key
		if rowOf["alternative[]."+key] != nil {
			x.Key = "alternative[]." + key
		}
	}
	k, _ := splitParameter(nameless(x.Key))
	if k == "alternative" || k == "source" || strings.HasSuffix(k, ".source") {
		return "cannot be set; it stands in the file", ""
	}
	if isTable[k] && !strings.HasPrefix(k, "alternative") {
		return "is a table: set one key of it" + firstOf(k), ""
	} else if rowOf[k] == nil {
		return "no such key" + didYouMean(k), ""
	}
	return "", ""
}

// firstOf is an example of a key of a table, as the end of a message.
func firstOf(table string) string {
	for _, name := range rowNames {
		if rest, ok := strings.CutPrefix(name, table+"."); ok {
			return ", such as " + table + "." + rest
		}
		if rest, ok := strings.CutPrefix(name, table+"[]."); ok {
			return ", such as " + table + "[0]." + rest
		}
	}
	return ""
}

// inName is where the name or the number of the first element of an array begins
// and ends in a key; false when it goes through none.
func inName(key string) (begin, end int, ok bool) {
	for array := range isArray {
		if strings.HasPrefix(key, array+"[") {
			if i := strings.LastIndex(key, "]"); i > len(array) {
				return len(array) + 1, i, true
			}
		}
	}
	return 0, 0, false
}

// nameless is a key with the name of an element left out: "stop[].every".
func nameless(key string) string {
	if begin, end, ok := inName(key); ok {
		return key[:begin] + key[end:]
	}
	return key
}

// numbered is a key with the number of the element that it names, by what stands
// in an alternative; else what is wrong.
func (v leaves) numbered(key string) (path, what string) {
	begin, end, ok := inName(key)
	if !ok {
		return key, ""
	}
	array, name := key[:begin-1], key[begin:end]
	if n := len(name); n > 1 && name[0] == '"' && name[n-1] == '"' { // one that holds ] or =
		name = name[1 : n-1]
	}
	if array == "alternative" {
		return key, ""
	}
	n, _ := v[array].raw.(int)
	var names []string
	for i := range n {
		called, _ := v[fmt.Sprintf("%s[%d].name", array, i)].raw.(string)
		if names = append(names, called); called == name && name != "" {
			return fmt.Sprintf("%s%d%s", key[:begin], i, key[end:]), ""
		}
	}
	i, err := strconv.Atoi(name)
	switch {
	case n == 0:
		return "", fmt.Sprintf("there is no [[%s]] to change", array)
	case name == "":
		return "", "say which: " + key[:begin] + "0" + key[end:] + " is the first"
	case err == nil && i >= n:
		return "", fmt.Sprintf("no such element: [[%s]] has %d, counted from 0", array, n)
	case err != nil || i < 0:
		near := DidYouMean(name, names)
		if near == "" {
			near = "; there are " + legible.List(names)
		}
		return "", fmt.Sprintf("no [[%s]] is called %s%s", array, legible.Quote(name), near)
	}
	return key, ""
}

// lay lays what was set over the values of the alternative of a name, all at
// once, as a file would: a key that its kind of roll change does not use is left
// out, by the kind that was set.
func (s *settings) lay(v leaves, name string) leaves {
	if len(s.list) == 0 {
		return v
	}
	over, from := leaves{}, map[string]*setting{}
	for _, x := range s.list {
		if x.Of != "" && x.Of != name {
			continue
		}
		bare, parameter := splitParameter(nameless(x.Key))
		key := x.Key
		if parameter != "" {
			key = strings.TrimSuffix(key, "."+parameter)
		}
		key, what := v.numbered(key)
		if what != "" {
			s.errs.add(x.line, x.given, what, "")
			continue
		}
		x.only, x.seen = rowOf[bare].UsedBy, true
		if x.lay(key, parameter, v, over) {
			from[key], x.met = x, true
		}
	}
	whole := lay(v, over)
	for key, x := range from {
		if usedIn(rowOf[row(key)], key, whole) {
			x.used = true
		} else {
			delete(over, key)
		}
	}
	return lay(v, over)
}

// unused is an error for a parameter that no alternative has, and warns of what
// no alternative uses, when all were read.
func (s *settings) unused(all bool) []Warning {
	var list []Warning
	for _, x := range s.list {
		switch {
		case !all || !x.seen:
		case !x.met:
			bare, parameter := splitParameter(nameless(x.Key))
			s.errs.add(x.line, x.given, fmt.Sprintf("%s is not a distribution with a %s", bare, parameter), "")
		case !x.used:
			list = append(list, Warning{0, x.said, "is not used: it is for " + x.only})
		}
	}
	return list
}
