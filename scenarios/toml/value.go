package toml

import "strings"

// mostDeep is how deep lists and tables may stand in one another.
const mostDeep = 100

// value reads what a key is given. deep is how many lists and tables hold it.
func (r *reader) value(deep int) any {
	if deep > mostDeep {
		r.fail("", "nests too deep")
	}
	if r.err != nil {
		return nil
	}
	switch c := r.peek(); c {
	case '"', '\'':
		if strings.HasPrefix(r.text[r.at+1:], string([]byte{c, c})) {
			return r.lined(c)
		}
		return r.quoted(c)
	case '[':
		return r.list(deep)
	case '{':
		return r.inline(deep)
	}
	return r.scalar()
}

// list reads a list in brackets.
func (r *reader) list(deep int) any {
	r.at++
	list := []any{}
	for r.blank(); r.peek() != ']'; r.blank() {
		list = append(list, r.value(deep+1))
		if !r.goesOn(']') {
			break
		}
	}
	if r.err == nil {
		r.at++
	}
	return list
}

// inline reads a table in braces.
func (r *reader) inline(deep int) any {
	r.at++
	t := newTable()
	for r.blank(); r.peek() != '}'; r.blank() {
		parts := r.key()
		if r.err != nil {
			break
		}
		if r.peek() != '=' {
			r.fail("", "after %s stands %s, where = was to be", strings.Join(parts, "."), r.shown())
			break
		}
		r.at++
		r.spaces()
		into, name := t, parts[len(parts)-1]
		for i := 0; i < len(parts)-1 && into != nil; i++ {
			into = r.step(into, parts[i], strings.Join(parts[:i+1], "."))
		}
		if into == nil {
			break
		}
		if _, twice := into.values[name]; twice {
			r.fail("", "%s is given twice", strings.Join(parts, "."))
			break
		}
		r.set(into, name, r.value(deep+1))
		if !r.goesOn('}') {
			break
		}
	}
	if r.err == nil {
		r.at++
	}
	return t.values
}

// goesOn passes the comma behind an element, and says whether what holds it goes on;
// it ends with an end.
func (r *reader) goesOn(end byte) bool {
	r.blank()
	switch r.peek() {
	case ',':
		r.at++
		return r.err == nil
	case end:
	default:
		r.fail("", "%s stands where a comma or %c was to be", r.shown(), end)
	}
	return false
}

// blank passes spaces, comments and ends of lines within a list or a table.
func (r *reader) blank() {
	for r.err == nil {
		r.spaces()
		r.comment()
		if r.newline() {
			continue
		}
		if r.at >= len(r.text) {
			r.fail("", "ends within a list or a table: a bracket or brace is open")
		}
		return
	}
}
