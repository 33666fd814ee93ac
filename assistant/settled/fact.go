package settled

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"mallow/rules/facts"
)

// fieldOf finds the fact at a dotted path.
func fieldOf(f *facts.Facts, path string) (reflect.Value, bool) {
	v := reflect.ValueOf(f).Elem()
	for name := range strings.SplitSeq(path, ".") {
		if v.Kind() != reflect.Struct {
			return v, false
		}
		i := 0
		for i < v.NumField() && v.Type().Field(i).Tag.Get("expr") != name {
			i++
		}
		if i == v.NumField() {
			return v, false
		}
		v = v.Field(i)
	}
	return v, v.Kind() != reflect.Struct
}

// Value returns the fact at path, or nil.
func Value(f facts.Facts, path string) any {
	v, ok := fieldOf(&f, path)
	if !ok {
		return nil
	}
	return v.Interface()
}

// Set puts v at path and reports whether there is such a fact of v's type.
func Set(f *facts.Facts, path string, v any) bool {
	field, ok := fieldOf(f, path)
	if !ok || field.Type() != reflect.TypeOf(v) {
		return false
	}
	field.Set(reflect.ValueOf(v))
	return true
}

// SetText puts a value written as in the questions file at path.
func SetText(f *facts.Facts, path, text string) error {
	field, ok := fieldOf(f, path)
	if !ok {
		return fmt.Errorf("no fact is called %q", path)
	}
	var err error
	switch field.Kind() {
	case reflect.Float64:
		var x float64
		x, err = strconv.ParseFloat(text, 64)
		field.SetFloat(x)
	case reflect.Bool:
		var b bool
		b, err = strconv.ParseBool(text)
		field.SetBool(b)
	default:
		field.SetString(text)
	}
	if err != nil {
		return fmt.Errorf("%s: %q is not a %s", path, text, map[reflect.Kind]string{reflect.Float64: "number", reflect.Bool: "truth (true, false)"}[field.Kind()])
	}
	return nil
}

// Vocabulary returns the words that the text fact at path may be.
func Vocabulary(path string) []string {
	t := reflect.TypeFor[facts.Facts]()
	for name := range strings.SplitSeq(path, ".") {
		for i := range t.NumField() {
			if f := t.Field(i); f.Tag.Get("expr") == name {
				if f.Type.Kind() != reflect.Struct {
					return strings.Split(f.Tag.Get("oneof"), "|")
				}
				t = f.Type
				break
			}
		}
	}
	return nil
}
