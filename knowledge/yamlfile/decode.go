package yamlfile

import (
	"encoding"
	"maps"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"mallow/knowledge/words"
)

// decode sets v from n, field by field: what n does not mention stays. what
// names v in errors. It returns false if anything was wrong.
func (f *file) decode(n *yaml.Node, v reflect.Value, what *trail) bool {
	before := len(f.errs)
	f.set(n, v, what)
	return len(f.errs) == before && f.aliases <= maxAliases
}

func (f *file) set(n *yaml.Node, v reflect.Value, what *trail) {
	if u, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
		if s, ok := f.text(n, what); ok {
			if err := u.UnmarshalText([]byte(s)); err != nil {
				f.failf(n, "", "%s: %v", what, err)
			}
		}
		return
	}
	switch to := v.Addr().Interface().(type) {
	case Reader:
		to.ReadYAML(Node{f, n, what})
		return
	case *Text:
		if s, ok := f.text(n, what); ok {
			*to = Text{s, Place{n.Line, n.Column}, f, n}
		}
		return
	case *Pairs:
		f.keyed(n, to, what)
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		}
		f.set(n, v.Elem(), what)
	case reflect.Struct:
		f.fields(n, v, what)
		for i := range v.NumField() {
			if v.Type().Field(i).Type == reflect.TypeFor[Place]() {
				v.Field(i).Set(reflect.ValueOf(Place{n.Line, n.Column}))
			}
		}
	case reflect.Slice:
		items := f.items(n, what)
		list := reflect.MakeSlice(v.Type(), len(items), len(items))
		for i, item := range items {
			f.set(item, list.Index(i), &trail{up: what, item: i + 1})
		}
		v.Set(list)
	case reflect.String:
		if s, ok := f.text(n, what); ok {
			v.SetString(s)
		}
	case reflect.Bool:
		if s, ok := f.text(n, what); ok {
			if s != "true" && s != "false" {
				f.failf(n, "true or false", "%s: %q is neither true nor false", what, Clip(s))
			}
			v.SetBool(s == "true")
		}
	case reflect.Int:
		if s, ok := f.text(n, what); ok {
			i, err := strconv.Atoi(s)
			if err != nil {
				f.failf(n, "", "%s: %q is not a whole number", what, Clip(s))
			}
			v.SetInt(int64(i))
		}
	case reflect.Float64:
		if s, ok := f.text(n, what); ok {
			x, err := strconv.ParseFloat(s, 64)
			if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
				f.failf(n, "", "%s: %q is not a number", what, Clip(s))
				x = 0
			}
			v.SetFloat(x)
		}
	default:
		f.failf(n, "", "%s: a %s can't be read from YAML", what, v.Type())
	}
}

// fields sets those fields of the struct v that the mapping n gives.
func (f *file) fields(n *yaml.Node, v reflect.Value, what *trail) {
	fields := f.schema.fields(v.Type())
	for key, value := range f.pairs(n, what, maxFields) {
		i, ok := fields[key.Value]
		if !ok {
			f.failf(key, words.Hint(key.Value, slices.Sorted(maps.Keys(fields))), "%s: unknown field %q", what, Clip(key.Value))
			continue
		}
		f.set(value, v.Field(i), &trail{up: what, name: key.Value})
	}
}

// fieldName returns the YAML name of a struct field, or "" when it has none.
func fieldName(sf reflect.StructField) string {
	name, _, _ := strings.Cut(sf.Tag.Get("yaml"), ",")
	switch name {
	case "-":
		return ""
	case "":
		return strings.ToLower(sf.Name)
	}
	return name
}

// schema remembers the fields of the record types, by YAML name: finding them
// by reflection each time would take an eighth of a load.
type schema map[reflect.Type]map[string]int

func (s schema) fields(t reflect.Type) map[string]int {
	if m := s[t]; m != nil {
		return m
	}
	m := map[string]int{}
	for i := range t.NumField() {
		if name := fieldName(t.Field(i)); name != "" {
			m[name] = i
		}
	}
	s[t] = m
	return m
}
