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

// Index is the facts of a struct by their paths.
type Index[F any] struct {
	facts []Fact
	at    map[string]int
}

// NewIndex lists the facts of F. The error says which field is none.
func NewIndex[F any]() (*Index[F], error) {
	list, err := factsOf(reflect.TypeFor[F]())
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
	return reflect.ValueOf(f).Elem().FieldByIndex(at.index).Interface()
}

// Set puts a value of the fact's kind at a path.
func (x *Index[F]) Set(f *F, path string, value any) error {
	at, ok := x.Fact(path)
	if !ok {
		return fmt.Errorf("no fact is called %q", path)
	}
	to, v := reflect.ValueOf(f).Elem().FieldByIndex(at.index), reflect.ValueOf(value)
	if !v.IsValid() || v.Type() != to.Type() {
		return fmt.Errorf("%s is a %s", path, at.Kind.words())
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

// Parse reads a value of the fact's kind.
func (f Fact) Parse(text string) (any, error) {
	switch f.Kind {
	case Number:
		if n, err := strconv.ParseFloat(text, 64); err == nil {
			return n, nil
		}
	case Truth:
		if text == "true" || text == "false" {
			return text == "true", nil
		}
	default:
		return text, nil
	}
	return nil, fmt.Errorf("%q is not a %s", text, f.Kind.words())
}

// words says what a value of the kind looks like.
func (k Kind) words() string {
	switch k {
	case Truth:
		return "yes or no (true, false)"
	case Text:
		return "word"
	}
	return string(k)
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
