package model

import (
	"reflect"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// whole fills every field of v, every slice and pointer down to the product of a
// product, and calls each for every single value in it.
func whole(v reflect.Value, depth int, each func(reflect.Value)) {
	switch v.Kind() {
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() || v.Type() == reflect.TypeFor[ChangeKind]() {
			each(v)
			return
		}
		for i := range v.NumField() {
			whole(v.Field(i), depth, each)
		}
	case reflect.Slice:
		if v.Type() == reflect.TypeFor[[]Product]() && depth == 0 {
			return
		}
		if v.Len() == 0 {
			v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		}
		for i := range v.Len() {
			whole(v.Index(i), depth-1, each)
		}
		each(v)
	case reflect.Pointer:
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		}
		whole(v.Elem(), depth, each)
		each(v)
	default:
		each(v)
	}
}

// Two lines are the same, and append the same, until any single value of one of them differs.
func TestLinesAreTheSame(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	filled := func(but int) (*Line, reflect.Type, int) {
		l, n, changed := &Line{}, 0, reflect.Type(nil)
		whole(reflect.ValueOf(l).Elem(), 1, func(v reflect.Value) {
			if n++; n != but+1 {
				return
			}
			changed = v.Type()
			switch {
			case v.Type() == reflect.TypeFor[time.Time]():
				v.Set(reflect.ValueOf(time.Unix(1, 0).UTC()))
			case v.Type() == reflect.TypeFor[ChangeKind]():
				v.Set(reflect.ValueOf(Flying))
			case v.Kind() == reflect.Slice:
				v.Set(v.Slice(0, 1))
			case v.Kind() == reflect.Pointer:
				v.SetZero()
			case v.Kind() == reflect.Bool:
				v.SetBool(true)
			case v.Kind() == reflect.String:
				v.SetString("x")
			case v.CanFloat():
				v.SetFloat(1)
			case v.CanInt():
				v.SetInt(1)
			default:
				v.SetUint(1)
			}
		})
		return l, changed, n
	}
	a, _, n := filled(-1)
	b, _, _ := filled(-1)
	assert.True(t, a.Same(a))
	assert.True(t, a.Same(b))
	assert.Equal(t, a.AppendValues([]byte("x")), b.AppendValues([]byte("x")))
	assert.Greater(t, n, 500)
	for i := range n {
		c, of, _ := filled(i)
		assert.False(t, a.Same(c), "value %d, a %s", i, of)
		assert.False(t, c.Same(a), "value %d, a %s", i, of)
		assert.NotEqual(t, a.AppendValues(nil), c.AppendValues(nil), "value %d, a %s", i, of)
	}
}
