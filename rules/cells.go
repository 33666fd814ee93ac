package rules

import (
	"reflect"

	"mallow/rules/schema"
)

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

func bind[F any](list []schema.Fact) *bound[F] {
	b := new(bound[F])
	b.num = make([]*float64, len(list))
	b.text = make([]*string, len(list))
	b.truth = make([]*bool, len(list))
	v := reflect.ValueOf(&b.facts).Elem()
	for i, f := range list {
		switch p := v.FieldByIndex(f.Index).Addr().Interface().(type) {
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
func knownOf(list []schema.Fact, known Known) []bool {
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
