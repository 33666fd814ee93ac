package rules

import (
	"fmt"
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
	index []int     // of the field, for reflect.Value.FieldByIndex
}

// factsOf lists the leaves of struct type t in the order they are declared.
func factsOf(t reflect.Type) ([]Fact, error) {
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
			f := Fact{Path: path, Unit: field.Tag.Get("unit"), Doc: field.Tag.Get("doc"), index: at}
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

// bounds returns the range of a number, wide when the struct does not say.
func (f Fact) bounds() (low, high float64) {
	if f.Range == nil {
		return -1e9, 1e9
	}
	return f.Range[0], f.Range[1]
}

// cells gives the value of each fact by its place in the list of facts, and
// whether it is known; nil known is all of them.
type cells struct {
	num   []*float64
	text  []*string
	truth []*bool
	known []bool
}

// bound is a set of facts with cells that point into it.
type bound[F any] struct {
	facts F
	cells
}

func bind[F any](list []Fact) *bound[F] {
	b := new(bound[F])
	b.num = make([]*float64, len(list))
	b.text = make([]*string, len(list))
	b.truth = make([]*bool, len(list))
	v := reflect.ValueOf(&b.facts).Elem()
	for i, f := range list {
		switch p := v.FieldByIndex(f.index).Addr().Interface().(type) {
		case *float64:
			b.num[i] = p
		case *string:
			b.text[i] = p
		case *bool:
			b.truth[i] = p
		}
	}
	return b
}

// knownOf turns a set of paths into a flag for each fact.
func knownOf(list []Fact, known Known) []bool {
	if known == nil {
		return nil
	}
	flags := make([]bool, len(list))
	for i, f := range list {
		flags[i] = known[f.Path]
	}
	return flags
}

// set puts v, a float64, string or bool of the fact's kind, into fact i.
func (c *cells) set(i int, v any) {
	switch v := v.(type) {
	case float64:
		*c.num[i] = v
	case string:
		*c.text[i] = v
	case bool:
		*c.truth[i] = v
	}
}
