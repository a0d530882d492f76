package machine

import (
	"fmt"
	"io"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// encode writes v as encoding/json does with an indent of two spaces and the letters
// of HTML as they are: a test compares them. It knows what the structs of this package
// are made of and no more, for that package is a twentieth of the program for a
// browser. A number that is not finite is an error, and nothing is written.
func encode(w io.Writer, v any) error {
	var e encoder
	e.value(reflect.ValueOf(v), "\n")
	if e.err != nil {
		return e.err
	}
	_, err := w.Write(append(e.text, '\n'))
	return err
}

type encoder struct {
	text []byte
	err  error
}

// value writes a value whose lines after the first begin with next, an end of line
// and an indent.
func (e *encoder) value(v reflect.Value, next string) {
	switch v.Kind() {
	case reflect.Invalid:
		e.text = append(e.text, "null"...)
	case reflect.Interface, reflect.Pointer:
		e.value(v.Elem(), next)
	case reflect.Bool:
		e.text = strconv.AppendBool(e.text, v.Bool())
	case reflect.Int, reflect.Int64:
		e.text = strconv.AppendInt(e.text, v.Int(), 10)
	case reflect.Uint64:
		e.text = strconv.AppendUint(e.text, v.Uint(), 10)
	case reflect.Float64:
		e.number(v.Float())
	case reflect.String:
		e.quoted(v.String())
	case reflect.Struct:
		l := list{e, next, '{', '}', 0}
		l.fields(v)
		l.end()
	case reflect.Map:
		if v.IsNil() {
			e.text = append(e.text, "null"...)
			return
		}
		l := list{e, next, '{', '}', 0}
		var names []string
		values := map[string]reflect.Value{}
		for at := v.MapRange(); at.Next(); {
			name := at.Key().String()
			names, values[name] = append(names, name), at.Value()
		}
		slices.Sort(names)
		for _, name := range names {
			l.named(name, values[name])
		}
		l.end()
	case reflect.Slice:
		if v.IsNil() {
			e.text = append(e.text, "null"...)
			return
		}
		l := list{e, next, '[', ']', 0}
		for i := range v.Len() {
			l.begin()
			e.value(v.Index(i), next+"  ")
		}
		l.end()
	default:
		panic(fmt.Sprintf("no %s is written as JSON", v.Type()))
	}
}

// list is an array or an object that is being written.
type list struct {
	*encoder
	next        string
	open, close byte
	n           int // written so far
}

func (l *list) begin() {
	sign := byte(',')
	if l.n++; l.n == 1 {
		sign = l.open
	}
	l.text = append(append(append(l.text, sign), l.next...), "  "...)
}

func (l *list) end() {
	if l.n == 0 {
		l.text = append(l.text, l.open)
	} else {
		l.text = append(l.text, l.next...)
	}
	l.text = append(l.text, l.close)
}

func (l *list) named(name string, v reflect.Value) {
	l.begin()
	l.quoted(name)
	l.text = append(l.text, ": "...)
	l.value(v, l.next+"  ")
}

// fields writes those of a struct, by their tags; the fields of a struct without one
// as if they were its own.
func (l *list) fields(v reflect.Value) {
	for i := range v.NumField() {
		tag, tagged := strings.CutPrefix(string(v.Type().Field(i).Tag), `json:"`)
		if !tagged {
			l.fields(v.Field(i))
			continue
		}
		name, sometimes := strings.CutSuffix(strings.TrimSuffix(tag, `"`), ",omitempty")
		if !sometimes || !empty(v.Field(i)) {
			l.named(name, v.Field(i))
		}
	}
}

// empty says whether a value stands for none.
func empty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.Map:
		return v.Len() == 0
	case reflect.Pointer:
		return v.IsNil()
	case reflect.String:
		return v.String() == ""
	case reflect.Bool:
		return !v.Bool()
	case reflect.Int:
		return v.Int() == 0
	case reflect.Float64:
		return v.Float() == 0
	}
	return false
}

// number writes the shortest digits that give x back.
func (e *encoder) number(x float64) {
	size := math.Abs(x)
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		e.err = fmt.Errorf("%v is no number in JSON", x)
	case x != 0 && (size < 1e-6 || size >= 1e21):
		text := strconv.FormatFloat(x, 'e', -1, 64)
		e.text = append(e.text, strings.Replace(text, "e-0", "e-", 1)...)
	default:
		e.text = strconv.AppendFloat(e.text, x, 'f', -1, 64)
	}
}

// quoted writes text between quotes. The ends of a line of other scripts are written
// by their numbers, as some readers take them for such; so is what no text may hold.
func (e *encoder) quoted(s string) {
	e.text = append(e.text, '"')
	for i, c := range s {
		switch short := strings.IndexRune("\b\f\n\r\t\"\\", c); {
		case short >= 0:
			e.text = append(e.text, '\\', "bfnrt\"\\"[short])
		case c == utf8.RuneError && !strings.HasPrefix(s[i:], "\uFFFD"):
			e.text = append(e.text, `\ufffd`...)
		case c < ' ' || c == '\u2028' || c == '\u2029':
			e.text = append(e.text, `\u`...)
			for shift := 12; shift >= 0; shift -= 4 {
				e.text = append(e.text, "0123456789abcdef"[c>>shift&15])
			}
		default:
			e.text = utf8.AppendRune(e.text, c)
		}
	}
	e.text = append(e.text, '"')
}
