package model

import (
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"slices"
)

// Same says whether two lines are given the same values, field by field.
func (l *Line) Same(other *Line) bool {
	return l == other || same(reflect.ValueOf(l).Elem(), reflect.ValueOf(other).Elem())
}

// Same says whether two laws are given the same values.
func (d *Dist) Same(other *Dist) bool {
	return d.Law == other.Law && d.A == other.A && d.B == other.B && d.C == other.C && d.Least == other.Least &&
		d.Signed == other.Signed && d.Observed == other.Observed && slices.Equal(d.Values, other.Values)
}

// AppendValues appends to b what a line is made of, field by field: what two lines append is
// the same where they are given the same values, and only there.
func (l *Line) AppendValues(b []byte) []byte { return appended(b, reflect.ValueOf(l).Elem()) }

func appended(b []byte, v reflect.Value) []byte {
	eight := binary.LittleEndian.AppendUint64
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			b = appended(b, v.Field(i))
		}
		return b
	case reflect.Slice, reflect.Array:
		b = eight(b, uint64(v.Len()))
		for i := range v.Len() {
			b = appended(b, v.Index(i))
		}
		return b
	case reflect.Pointer:
		if v.IsNil() {
			return append(b, 0)
		}
		return appended(append(b, 1), v.Elem())
	case reflect.Bool:
		if v.Bool() {
			return append(b, 1)
		}
		return append(b, 0)
	case reflect.String:
		return append(eight(b, uint64(v.Len())), v.String()...)
	case reflect.Float64:
		return eight(b, math.Float64bits(v.Float()))
	case reflect.Int, reflect.Int8, reflect.Int64:
		return eight(b, uint64(v.Int()))
	case reflect.Uint8, reflect.Uint64:
		return eight(b, v.Uint())
	}
	panic(fmt.Sprintf("no %s is known in a line", v.Type()))
}

// same compares what a line is made of. The comparison of the standard library also
// knows maps, interfaces and functions, and brings a tenth of a megabyte of what these need.
func same(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			if !same(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice:
		if a.Len() != b.Len() || a.IsNil() != b.IsNil() {
			return false
		}
		for i := range a.Len() {
			if !same(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() || a.UnsafePointer() == b.UnsafePointer() {
			return a.UnsafePointer() == b.UnsafePointer()
		}
		return same(a.Elem(), b.Elem())
	case reflect.Bool:
		return a.Bool() == b.Bool()
	case reflect.String:
		return a.String() == b.String()
	case reflect.Float64:
		return a.Float() == b.Float()
	case reflect.Int, reflect.Int64:
		return a.Int() == b.Int()
	case reflect.Uint8, reflect.Uint64:
		return a.Uint() == b.Uint()
	}
	panic(fmt.Sprintf("no %s is known in a line", a.Type()))
}
