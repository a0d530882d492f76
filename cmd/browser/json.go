package main

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// JSON is read and written here, in a page of code, and not by encoding/json: that would
// make the engine larger by a fifteenth.

// object is a JSON object in the order in which it is written.
type object []field

type field struct {
	name  string
	value any
}

// appendJSON writes a value: object, []object, []any, []string, []float64, string,
// float64, int, bool or nil. A number that JSON does not have is null.
func appendJSON(b []byte, value any) []byte {
	switch v := value.(type) {
	case string:
		return appendText(b, v)
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return append(b, "null"...)
		}
		return strconv.AppendFloat(b, v, 'g', -1, 64)
	case int:
		return strconv.AppendInt(b, int64(v), 10)
	case bool:
		return strconv.AppendBool(b, v)
	case object:
		b = append(b, '{')
		for i, f := range v {
			b = append(appendText(comma(b, i), f.name), ':')
			b = appendJSON(b, f.value)
		}
		return append(b, '}')
	case []object:
		return appendList(b, v)
	case []string:
		return appendList(b, v)
	case []float64:
		return appendList(b, v)
	case []any:
		return appendList(b, v)
	}
	return append(b, "null"...)
}

func appendList[T any](b []byte, list []T) []byte {
	b = append(b, '[')
	for i, x := range list {
		b = appendJSON(comma(b, i), x)
	}
	return append(b, ']')
}

func comma(b []byte, i int) []byte {
	if i > 0 {
		return append(b, ',')
	}
	return b
}

// appendText writes a text in quotes. What is no UTF-8 is written as the mark for that.
func appendText(b []byte, s string) []byte {
	b = append(b, '"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b = append(b, '\\', byte(r))
		case r < ' ' || r == '\u2028' || r == '\u2029':
			b = append(b, `\u`...)
			for shift := 12; shift >= 0; shift -= 4 {
				b = append(b, "0123456789abcdef"[r>>shift&15])
			}
		default:
			b = utf8.AppendRune(b, r)
		}
	}
	return append(b, '"')
}

// mostDeep is how deep a request may be nested.
const mostDeep = 20

var errNotJSON = errors.New("the request is not JSON")

// readJSON reads a text as map[string]any, []any, string, float64, bool or nil.
func readJSON(text string) (any, error) {
	r := &jsonReader{rest: text}
	v, err := r.value(0)
	if r.space(); err == nil && r.rest != "" {
		err = errNotJSON
	}
	return v, err
}

type jsonReader struct{ rest string }

func (r *jsonReader) space() { r.rest = strings.TrimLeft(r.rest, " \t\r\n") }

// next takes a text that may come next.
func (r *jsonReader) next(s string) bool {
	r.space()
	rest, ok := strings.CutPrefix(r.rest, s)
	if ok {
		r.rest = rest
	}
	return ok
}

func (r *jsonReader) value(depth int) (any, error) {
	r.space()
	switch {
	case depth > mostDeep || r.rest == "":
		return nil, errNotJSON
	case r.rest[0] == '"':
		return r.text()
	case r.next("{"):
		return r.object(depth)
	case r.next("["):
		return r.list(depth)
	case r.next("null"):
		return nil, nil
	case r.next("true"):
		return true, nil
	case r.next("false"):
		return false, nil
	}
	end := 0
	for end < len(r.rest) && strings.IndexByte("+-.0123456789eE", r.rest[end]) >= 0 {
		end++
	}
	x, err := strconv.ParseFloat(r.rest[:end], 64)
	if err != nil {
		return nil, errNotJSON
	}
	r.rest = r.rest[end:]
	return x, nil
}

func (r *jsonReader) object(depth int) (any, error) {
	m := map[string]any{}
	for more := !r.next("}"); more; more = !r.next("}") {
		if len(m) > 0 && !r.next(",") {
			return nil, errNotJSON
		}
		r.space()
		name, err := r.text()
		if err != nil || !r.next(":") {
			return nil, errNotJSON
		}
		if m[name], err = r.value(depth + 1); err != nil {
			return nil, err
		}
	}
	return m, nil
}

func (r *jsonReader) list(depth int) (any, error) {
	list := []any{}
	for more := !r.next("]"); more; more = !r.next("]") {
		if len(list) > 0 && !r.next(",") {
			return nil, errNotJSON
		}
		x, err := r.value(depth + 1)
		if err != nil {
			return nil, err
		}
		list = append(list, x)
	}
	return list, nil
}

// text reads a text in quotes.
func (r *jsonReader) text() (string, error) {
	if r.rest == "" || r.rest[0] != '"' {
		return "", errNotJSON
	}
	var b strings.Builder
	for i := 1; i < len(r.rest); i++ {
		switch c := r.rest[i]; {
		case c == '"':
			r.rest = r.rest[i+1:]
			return b.String(), nil
		case c < ' ':
			return "", errNotJSON
		case c != '\\':
			b.WriteByte(c)
		default:
			x, n, ok := escape(r.rest[i:])
			if !ok {
				return "", errNotJSON
			}
			b.WriteRune(x)
			i += n - 1
		}
	}
	return "", errNotJSON
}

// escape reads what begins with a backslash: the letter and how long it is.
func escape(s string) (letter rune, length int, ok bool) {
	if len(s) < 2 {
		return 0, 0, false
	}
	if i := strings.IndexByte(`"\/bfnrt`, s[1]); i >= 0 {
		return rune("\"\\/\b\f\n\r\t"[i]), 2, true
	}
	code := func(s string) (rune, bool) {
		if len(s) < 6 || s[:2] != `\u` {
			return 0, false
		}
		n, err := strconv.ParseUint(s[2:6], 16, 16)
		return rune(n), err == nil
	}
	first, ok := code(s)
	if !ok || !utf16.IsSurrogate(first) {
		return first, 6, ok
	}
	if second, ok := code(s[6:]); ok {
		if both := utf16.DecodeRune(first, second); both != utf8.RuneError {
			return both, 12, true
		}
	}
	return utf8.RuneError, 6, true
}
