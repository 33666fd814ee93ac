package knowledge

import (
	"cmp"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"mallow/knowledge/words"
)

// loader gathers the records of all layers before they are checked.
type loader struct {
	schema schema
	files  []*file
	kinds  map[string]*kind // by name, as in the files
}

// kind is the records of one kind in the order of their first appearance.
type kind struct {
	records []*record
	byID    map[string]*record
}

// record is one record and all the places that say something about it.
type record struct {
	value  reflect.Value // the struct, addressable
	at     []place       // in the order they were laid over each other
	hidden bool
	broken bool // did not decode; checking it would repeat that
	wrong  bool // broken, or a check reported it
}

// place is a record as one file gives it.
type place struct {
	file *file
	node *yaml.Node
}

// merge takes the records of f.
func (l *loader) merge(f *file) {
	if f.root == nil || empty(f.root) {
		return
	}
	kinds := reflect.TypeFor[Catalogue]()
	fields := f.schema.fields(kinds)
	for key, value := range f.pairs(f.root, &trail{name: "file"}) {
		i, ok := fields[key.Value]
		switch {
		case !ok:
			f.failf(key, words.Hint(key.Value, slices.Sorted(maps.Keys(fields))), "unknown kind %q", clip(key.Value))
			continue
		case empty(value):
			continue // a heading with nothing under it yet
		}
		k := l.kinds[key.Value]
		if k == nil {
			k = &kind{byID: map[string]*record{}}
			l.kinds[key.Value] = k
		}
		t := kinds.Field(i).Type
		if t.Kind() == reflect.Struct { // limits: one record without an id
			k.merge(f, value, t, &trail{name: key.Value}, "")
			continue
		}
		one := singular(key.Value)
		for _, item := range f.items(value, &trail{name: key.Value}) {
			if f.full() {
				return
			}
			if id, ok := f.id(item, &trail{name: one}); ok {
				k.merge(f, f.follow(item), t.Elem(), &trail{name: one + " " + id}, id)
			}
		}
	}
}

// empty reports whether nothing was written.
func empty(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }

// id returns the id of the record at n.
func (f *file) id(n *yaml.Node, what *trail) (string, bool) {
	at := n
	if n = f.follow(n); n == nil {
		return "", false
	}
	if n.Kind != yaml.MappingNode {
		f.failf(at, "", "%s: want fields with values, found %s", what, kindName(n))
		return "", false
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value != "id" {
			continue
		}
		id, ok := f.text(n.Content[i+1], &trail{up: what, name: "id"})
		if ok && !validID(id) {
			f.failf(n.Content[i+1], "lower-case letters, digits and . / _ - only", "%s: %q can't be an id", what, clip(id))
			ok = false
		}
		return id, ok
	}
	f.failf(at, "", "%s: no id", what)
	return "", false
}

// validID reports whether id can stand in a stack text, a command and a rule.
func validID(id string) bool {
	return id != "" && len(id) <= 64 && strings.IndexFunc(id, func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9') && !strings.ContainsRune("./_-", r)
	}) < 0
}

// merge lays the record at n over what is known of it.
func (k *kind) merge(f *file, n *yaml.Node, t reflect.Type, what *trail, id string) {
	if n == nil {
		return
	}
	r := k.byID[id]
	switch {
	case r == nil:
		r = &record{value: reflect.New(t).Elem()}
		if field := r.value.FieldByName("ID"); field.IsValid() {
			field.SetString(id) // even if nothing else can be read
		}
		k.byID[id] = r
		k.records = append(k.records, r)
	case r.at[len(r.at)-1].file.layer == f.layer:
		last := r.at[len(r.at)-1]
		f.failf(n, "give another id, or join the two", "%s: already at %s:%d", what, last.file.name, last.node.Line)
		return
	}
	r.at = append(r.at, place{f, n})
	n = f.hide(n, r, what)
	if !f.decode(n, r.value, what) {
		r.broken, r.wrong = true, true
	}
	if f.layer > 0 {
		r.own(n, f.schema.fields(t))
	}
	if o := r.value.FieldByName("Origin"); o.IsValid() {
		at := Origin{File: f.name, Line: n.Line, Own: f.layer > 0}
		if old := o.Interface().(Origin); old.File != "" {
			at.Over = &old
		}
		o.Set(reflect.ValueOf(at))
	}
}

// own is the source of what a user gives without naming one.
const own = "own"

// own credits to the user what n, of an overlay, gives without a source. A
// quantity has a source of its own.
func (r *record) own(n *yaml.Node, fields map[string]int) {
	priced, told := false, false
	for i := 0; n.Kind == yaml.MappingNode && i < len(n.Content); i += 2 {
		name := n.Content[i].Value
		field, ok := fields[name]
		switch name {
		case "id", "source", "price_source":
		case "price", "pack":
			priced = true
		default:
			told = told || ok && !quantity(r.value.Field(field).Type())
		}
	}
	if s := r.value.FieldByName("PriceSource"); priced && s.IsValid() && !gives(n, "price_source") {
		s.SetString(own)
	}
	if s := r.value.FieldByName("Source"); told && s.IsValid() && !gives(n, "source") {
		s.SetString(own)
	}
}

func quantity(t reflect.Type) bool {
	return t == reflect.TypeFor[Quantity]() || t == reflect.TypeFor[*Quantity]()
}

// gives reports whether the mapping n has a field.
func gives(n *yaml.Node, field string) bool { return lookUp(n, []string{field}) != nil }

// hide acts on an overlay's hide field and returns n without it.
func (f *file) hide(n *yaml.Node, r *record, what *trail) *yaml.Node {
	if f.layer == 0 || r.id() == "" || n.Kind != yaml.MappingNode {
		return n // in the base nothing needs hiding, and limits can't go
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value != "hide" {
			continue
		}
		f.decode(n.Content[i+1], reflect.ValueOf(&r.hidden).Elem(), &trail{up: what, name: "hide"})
		rest := *n
		rest.Content = slices.Concat(n.Content[:i], n.Content[i+2:])
		return &rest
	}
	return n
}

// catalogue collects the records that are not hidden.
func (l *loader) catalogue() *Catalogue {
	var cat Catalogue
	v := reflect.ValueOf(&cat).Elem()
	for i := range v.NumField() {
		k := l.kinds[fieldName(v.Type().Field(i))]
		if k == nil || len(k.records) == 0 {
			continue
		}
		if v.Field(i).Kind() == reflect.Struct {
			v.Field(i).Set(k.records[0].value)
			continue
		}
		list := reflect.MakeSlice(v.Field(i).Type(), 0, len(k.records))
		for _, r := range k.records {
			if r.hidden {
				cat.Hidden = append(cat.Hidden, Hidden{Kind: fieldName(v.Type().Field(i)), ID: r.id(), Origin: r.value.FieldByName("Origin").Interface().(Origin)})
				continue
			}
			list = reflect.Append(list, r.value)
		}
		v.Field(i).Set(list)
	}
	slices.SortStableFunc(cat.Dynamics, func(a, b Dynamic) int { return cmp.Compare(a.SpeedMS.Value, b.SpeedMS.Value) })
	slices.SortStableFunc(cat.Steps, func(a, b Step) int { return cmp.Compare(a.Order, b.Order) })
	return &cat
}

func (l *loader) errors() Errors {
	var all Errors
	for _, f := range l.files {
		all = append(all, f.errs...)
	}
	return all.sorted()
}

// failf reports what is wrong with a field of a record. field may reach into
// the record, as in density_kgm3.value; the report stands where the value was
// given last, or at the record when it was not given.
func (l *loader) failf(kindName, id, field, hint, format string, args ...any) {
	r := l.kinds[kindName].byID[id]
	if r.broken {
		return
	}
	r.wrong = true
	what := singular(kindName)
	if id != "" {
		what += " " + id
	}
	if field != "" {
		what += ": " + field
	}
	at, n := r.find(field)
	at.file.failf(n, hint, "%s: %s", what, fmt.Sprintf(format, args...))
}

// full reports whether the file that spoke last of a record has errors enough.
func (l *loader) full(kindName, id string) bool {
	at := l.kinds[kindName].byID[id].at
	return at[len(at)-1].file.full()
}

// find returns where field was given last, or where the record first stood.
func (r *record) find(field string) (place, *yaml.Node) {
	for _, p := range slices.Backward(r.at) {
		if n := lookUp(p.node, strings.Split(field, ".")); n != nil {
			return p, n
		}
	}
	if head, _, ok := cutLast(field); ok {
		return r.find(head)
	}
	return r.at[len(r.at)-1], r.at[len(r.at)-1].node
}

func cutLast(field string) (head, tail string, ok bool) {
	i := strings.LastIndexByte(field, '.')
	if i < 0 {
		return "", field, false
	}
	return field[:i], field[i+1:], true
}

// lookUp returns the node at path in mappings and, by 1-based number, lists.
func lookUp(n *yaml.Node, path []string) *yaml.Node {
	for ; n != nil && n.Kind == yaml.AliasNode; n = n.Alias {
	}
	if n == nil || len(path) == 0 || n.Kind == yaml.ScalarNode && path[0] == "value" {
		return n // a quantity may be written as its value alone
	}
	for i, c := range n.Content {
		switch {
		case n.Kind == yaml.SequenceNode && path[0] == fmt.Sprint(i+1):
			return lookUp(c, path[1:])
		case n.Kind == yaml.MappingNode && i%2 == 0 && c.Value == path[0]:
			return lookUp(n.Content[i+1], path[1:])
		}
	}
	return nil
}

// singular turns a kind into the word for one of its records.
func singular(kind string) string { return strings.TrimSuffix(kind, "s") }
