// Package schema knows which facts a struct declares: the path, kind, unit,
// words and range of each, and how a value is got, set or read from writing.
// It never knows what a fact means, nor any rule that reads it.
package schema

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// Kind is what a fact or an expression is.
type Kind string

// Kinds.
const (
	Number Kind = "number"
	Text   Kind = "text"
	Truth  Kind = "truth"
)

// Fact is one fact that rules may read.
type Fact struct {
	Path  string   `json:"path"` // dotted, for example head.mass_g
	Kind  Kind     `json:"kind"`
	Unit  string   `json:"unit,omitempty"`
	OneOf []string `json:"oneof,omitempty"` // the words a text may be; empty for any
	// Range is the least and most that a number could ever be, nil when the
	// struct does not say.
	Range []float64 `json:"range,omitempty"`
	Doc   string    `json:"doc"`
	Index []int     `json:"-"` // of the field, for reflect.Value.FieldByIndex
}

// Of lists the leaves of struct type t in the order they are declared. The
// error says which field can't be a fact.
func Of(t reflect.Type) ([]Fact, error) {
	if t.Kind() != reflect.Struct {
		return nil, fmt.Errorf("facts are a struct, not %s", t)
	}
	var list []Fact
	var walk func(t reflect.Type, prefix string, index []int) error
	walk = func(t reflect.Type, prefix string, index []int) error {
		for i := range t.NumField() {
			field := t.Field(i)
			name := field.Tag.Get("expr")
			if name == "" || !field.IsExported() {
				return fmt.Errorf("field %s.%s: facts are exported fields with an expr tag", t, field.Name)
			}
			path, at := prefix+name, append(slices.Clone(index), i)
			f := Fact{Path: path, Unit: field.Tag.Get("unit"), Doc: field.Tag.Get("doc"), Index: at}
			switch {
			case field.Type.Kind() == reflect.Struct:
				if err := walk(field.Type, path+".", at); err != nil {
					return err
				}
				continue
			case field.Type == reflect.TypeFor[float64]():
				f.Kind = Number
				var err error
				if f.Range, err = parseRange(field.Tag.Get("range")); err != nil {
					return fmt.Errorf("field %s.%s: %w", t, field.Name, err)
				}
			case field.Type == reflect.TypeFor[string]():
				f.Kind = Text
				if words := field.Tag.Get("oneof"); words != "" {
					f.OneOf = strings.Split(words, "|")
				}
			case field.Type == reflect.TypeFor[bool]():
				f.Kind = Truth
			default:
				return fmt.Errorf("field %s.%s: a fact is a float64, a string or a bool, not %s", t, field.Name, field.Type)
			}
			list = append(list, f)
		}
		return nil
	}
	return list, walk(t, "", nil)
}

// Index is the facts of a struct by their paths.
type Index[F any] struct {
	facts []Fact
	at    map[string]int
}

// NewIndex lists the facts of F. The error says which field is none.
func NewIndex[F any]() (*Index[F], error) {
	list, err := Of(reflect.TypeFor[F]())
	if err != nil {
		return nil, err
	}
	x := &Index[F]{list, map[string]int{}}
	for i, f := range list {
		x.at[f.Path] = i
	}
	return x, nil
}

// Fact returns the fact at a path.
func (x *Index[F]) Fact(path string) (Fact, bool) {
	i, ok := x.at[path]
	if !ok {
		return Fact{}, false
	}
	return x.facts[i], true
}

// Get returns the value of the fact at a path, a float64, string or bool; nil
// when there is no such fact.
func (x *Index[F]) Get(f *F, path string) any {
	at, ok := x.Fact(path)
	if !ok {
		return nil
	}
	return reflect.ValueOf(f).Elem().FieldByIndex(at.Index).Interface()
}

// Set puts a value of the fact's kind at a path.
func (x *Index[F]) Set(f *F, path string, value any) error {
	at, ok := x.Fact(path)
	if !ok {
		return fmt.Errorf("no fact is called %q", path)
	}
	to, v := reflect.ValueOf(f).Elem().FieldByIndex(at.Index), reflect.ValueOf(value)
	if !v.IsValid() || v.Type() != to.Type() {
		return fmt.Errorf("%s is %s", path, at.Kind.words())
	}
	to.Set(v)
	return nil
}

// Parse puts a value in writing at a path.
func (x *Index[F]) Parse(f *F, path, text string) error {
	at, ok := x.Fact(path)
	if !ok {
		return fmt.Errorf("no fact is called %q", path)
	}
	v, err := at.Parse(text)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return x.Set(f, path, v)
}

// Parse reads a value of the fact: a number, "true" or "false", or one of its
// words. The error says what would be valid.
func (f Fact) Parse(text string) (any, error) {
	switch f.Kind {
	case Number:
		if x, err := strconv.ParseFloat(text, 64); err == nil && !math.IsNaN(x) && !math.IsInf(x, 0) {
			return x, nil
		}
	case Truth:
		if text == "true" || text == "false" {
			return text == "true", nil
		}
	default:
		if len(f.OneOf) == 0 || slices.Contains(f.OneOf, text) {
			return text, nil
		}
		return nil, fmt.Errorf("%q is not one of %s", text, strings.Join(f.OneOf, ", "))
	}
	return nil, fmt.Errorf("%q is not %s", text, f.Kind.words())
}

// Valid says what a value of the fact looks like in writing.
func (f Fact) Valid() string {
	if len(f.OneOf) > 0 {
		return "one of " + strings.Join(f.OneOf, ", ")
	}
	return f.Kind.words()
}

// words says what a value of the kind looks like, with its article.
func (k Kind) words() string {
	switch k {
	case Truth:
		return "true or false"
	case Text:
		return "a word"
	}
	return "a " + string(k)
}

// parseRange reads "0..100".
func parseRange(s string) ([]float64, error) {
	if s == "" {
		return nil, nil
	}
	low, high, _ := strings.Cut(s, "..")
	a, err1 := strconv.ParseFloat(low, 64)
	b, err2 := strconv.ParseFloat(high, 64)
	if err1 != nil || err2 != nil || !(a < b) {
		return nil, fmt.Errorf("range %q is not of the form 0..100", s)
	}
	return []float64{a, b}, nil
}

// Bounds returns the range of a number, wide when the struct does not say.
func (f Fact) Bounds() (low, high float64) {
	if f.Range == nil {
		return -1e9, 1e9
	}
	return f.Range[0], f.Range[1]
}
