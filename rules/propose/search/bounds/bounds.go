// Package bounds knows what heads between two corners of facts may be: all there can be,
// and what follows from their softness. It never looks for a head, nor judges one.
package bounds

import (
	"math"
	"reflect"

	"mallow/rules/facts"
)

// AnyText stands in one corner of a box for a text that may be anything.
const AnyText = "\x00"

// Open makes lo and hi, pointers to a struct of facts, the corners of a box
// that holds all there can be.
func Open(lo, hi any) {
	a, b := reflect.ValueOf(lo).Elem(), reflect.ValueOf(hi).Elem()
	for i := range a.NumField() {
		switch x, y := a.Field(i), b.Field(i); x.Kind() {
		case reflect.Float64:
			x.SetFloat(math.Inf(-1))
			y.SetFloat(math.Inf(1))
		case reflect.String:
			x.SetString("")
			y.SetString(AnyText)
		case reflect.Bool:
			x.SetBool(false)
			y.SetBool(true)
		}
	}
}

// Widen makes the box from lo to hi hold x as well.
func Widen(lo, hi, x *facts.Head) {
	a, b, c := reflect.ValueOf(lo).Elem(), reflect.ValueOf(hi).Elem(), reflect.ValueOf(x).Elem()
	for i := range a.NumField() {
		switch l, h, v := a.Field(i), b.Field(i), c.Field(i); l.Kind() {
		case reflect.Float64:
			l.SetFloat(min(l.Float(), v.Float()))
			h.SetFloat(max(h.Float(), v.Float()))
		case reflect.String:
			if l.String() != v.String() {
				h.SetString(AnyText)
			}
		case reflect.Bool:
			l.SetBool(l.Bool() && v.Bool())
			h.SetBool(h.Bool() || v.Bool())
		}
	}
}
