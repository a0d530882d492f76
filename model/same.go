package model

import (
	"fmt"
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
