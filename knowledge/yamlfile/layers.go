package yamlfile

import (
	"cmp"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"maps"
	"path"
	"reflect"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"mallow/knowledge/fault"
	"mallow/knowledge/words"
)

// Layers gathers the records of files, of which those of a later layer add
// to, change or hide those of the layers before.
//
// A file is a map from kind to a list of records with an id; any file may hold
// any kinds. A record whose id is known already changes only the fields that
// it gives; a list counts as one field and is replaced whole. hide: true takes
// a record away, hide: false brings one back. Within one layer, an id may
// stand once.
type Layers struct {
	// Laid is called after a record was read; it may be nil.
	Laid func(record reflect.Value, n Node)
	// Guard returns an error when a record may not be changed or hidden by a
	// later layer; it may be nil.
	Guard func(record reflect.Value, n Node) *fault.Error

	of     reflect.Type // a struct whose fields are the kinds
	schema schema
	files  []*file
	layer  int
	kinds  map[string]*kind // by name, as in the files
}

// NewLayers returns layers of the kinds that are the fields of struct T: lists
// of records with a field ID, or one record that is a struct. A record's field
// Hidden, if it has one, says whether it was hidden.
func NewLayers[T any]() *Layers {
	return &Layers{of: reflect.TypeFor[T](), schema: schema{}, kinds: map[string]*kind{}}
}

// kind is the records of one kind in the order of their first appearance.
type kind struct {
	records []*Record
	byID    map[string]*Record
}

// Record is one record and all the places that say something about it.
type Record struct {
	Value  reflect.Value // the struct, addressable
	Hidden bool
	at     []place // in the order they were laid over each other
	broken bool    // did not decode; checking it would repeat that
	wrong  bool    // broken, or a check reported it
}

// place is a record as one file gives it.
type place struct {
	file *file
	node *yaml.Node
}

// Source is one file as read.
type Source struct {
	Name string // as shown in messages
	Data []byte // YAML
}

// Sources reads the YAML files at the top of fsys, by name. Messages call them
// by dir and name. No more of a file is read than shows that it is too long.
func Sources(fsys fs.FS, dir string) ([]Source, error) {
	names, err := fs.Glob(fsys, "*.yaml")
	if err != nil {
		return nil, err
	}
	list := make([]Source, 0, len(names))
	for _, name := range names {
		data, err := readSome(fsys, name)
		if err != nil {
			return nil, err
		}
		list = append(list, Source{path.Join(dir, name), data})
	}
	return list, nil
}

// One reads one YAML file of fsys. Messages call it by shown.
func One(fsys fs.FS, name, shown string) (Source, error) {
	data, err := readSome(fsys, name)
	return Source{cmp.Or(shown, name), data}, err
}

// readSome reads at most a byte more than a file may have.
func readSome(fsys fs.FS, name string) ([]byte, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, MaxBytes+1))
}

// Lay lays the files over what is there as one layer.
func (l *Layers) Lay(files ...Source) {
	layer := l.layer
	l.layer++
	l.lay(files, func(int) int { return layer })
}

// LayEach lays the files over what is there, each as a layer of its own.
func (l *Layers) LayEach(files ...Source) {
	layer := l.layer
	l.layer += len(files)
	l.lay(files, func(i int) int { return layer + i })
}

// lay parses the files, which is shared among the processors, and takes their
// records in order.
func (l *Layers) lay(files []Source, layer func(i int) int) {
	parsed := make([]*file, len(files))
	var wg sync.WaitGroup
	for i, s := range files {
		wg.Go(func() { parsed[i] = parse(plain(s.Name), layer(i), s.Data, l.schema) })
	}
	wg.Wait()
	for _, f := range parsed {
		l.merge(f)
	}
	l.files = append(l.files, parsed...)
}

// merge takes the records of f.
func (l *Layers) merge(f *file) {
	if f.root == nil || empty(f.root) {
		return
	}
	fields := f.schema.fields(l.of)
	for key, value := range f.pairs(f.root, &trail{name: "file"}, maxFields) {
		i, ok := fields[key.Value]
		switch {
		case !ok:
			f.failf(key, words.Hint(key.Value, slices.Sorted(maps.Keys(fields))), "unknown kind %q", Clip(key.Value))
			continue
		case empty(value):
			continue // a heading with nothing under it yet
		}
		k := l.kinds[key.Value]
		if k == nil {
			k = &kind{byID: map[string]*Record{}}
			l.kinds[key.Value] = k
		}
		t := l.of.Field(i).Type
		if t.Kind() == reflect.Struct { // limits: one record without an id
			l.record(k, f, value, t, &trail{name: key.Value}, "")
			continue
		}
		one := Singular(key.Value)
		for _, item := range f.items(value, &trail{name: key.Value}) {
			if f.full() {
				return
			}
			if id, ok := f.id(item, &trail{name: one}); ok {
				l.record(k, f, f.follow(item), t.Elem(), &trail{name: one + " " + id}, id)
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
		if ok && !ValidID(id) {
			f.failf(n.Content[i+1], "lower-case letters, digits and . / _ - only", "%s: %q can't be an id", what, Clip(id))
			ok = false
		}
		return id, ok
	}
	f.failf(at, "", "%s: no id", what)
	return "", false
}

// record lays the record at n over what is known of it.
func (l *Layers) record(k *kind, f *file, n *yaml.Node, t reflect.Type, what *trail, id string) {
	if n == nil {
		return
	}
	r := k.byID[id]
	switch {
	case r == nil:
		r = &Record{Value: reflect.New(t).Elem()}
		if field := r.Value.FieldByName("ID"); field.IsValid() {
			field.SetString(id) // even if nothing else can be read
		}
		k.byID[id] = r
		k.records = append(k.records, r)
	case r.at[len(r.at)-1].file.layer == f.layer:
		last := r.at[len(r.at)-1]
		f.failf(n, "give another id, or join the two", "%s: already at %s:%d", what, last.file.name, last.node.Line)
		return
	case l.Guard != nil:
		if e := l.Guard(r.Value, Node{f, n, what}); e != nil {
			f.failf(n, e.Hint, "%s", e.What)
			return
		}
	}
	r.at = append(r.at, place{f, n})
	n = f.hide(n, r, what)
	if !f.decode(n, r.Value, what) {
		r.broken, r.wrong = true, true
	}
	if l.Laid != nil {
		l.Laid(r.Value, Node{f, n, what})
	}
}

// hide acts on an overlay's hide field and returns n without it.
func (f *file) hide(n *yaml.Node, r *Record, what *trail) *yaml.Node {
	if f.layer == 0 || r.ID() == "" || n.Kind != yaml.MappingNode {
		return n // in the base nothing needs hiding, and limits can't go
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value != "hide" {
			continue
		}
		f.decode(n.Content[i+1], reflect.ValueOf(&r.Hidden).Elem(), &trail{up: what, name: "hide"})
		rest := *n
		rest.Content = slices.Concat(n.Content[:i], n.Content[i+2:])
		return &rest
	}
	return n
}

// Kinds yields the kinds that have records.
func (l *Layers) Kinds() iter.Seq[string] { return maps.Keys(l.kinds) }

// Records returns the records of a kind in the order of their first appearance.
func (l *Layers) Records(kindName string) []*Record {
	if k := l.kinds[kindName]; k != nil {
		return k.records
	}
	return nil
}

// Record returns a record, nil when no file has it.
func (l *Layers) Record(kindName, id string) *Record {
	if k := l.kinds[kindName]; k != nil {
		return k.byID[id]
	}
	return nil
}

// Fill sets the lists and structs of kinds in what v, a pointer to the struct
// that NewLayers named, points to. It yields what is hidden.
func (l *Layers) Fill(v any) iter.Seq2[string, *Record] {
	to := reflect.ValueOf(v).Elem()
	type gone struct {
		kind string
		r    *Record
	}
	var hidden []gone
	for i := range to.NumField() {
		name := fieldName(to.Type().Field(i))
		records := l.Records(name)
		if len(records) == 0 {
			continue
		}
		if to.Field(i).Kind() == reflect.Struct {
			to.Field(i).Set(records[0].Value)
			continue
		}
		list := reflect.MakeSlice(to.Field(i).Type(), 0, len(records))
		for _, r := range records {
			if r.Hidden {
				hidden = append(hidden, gone{name, r})
				continue
			}
			list = reflect.Append(list, r.Value)
		}
		to.Field(i).Set(list)
	}
	return func(yield func(string, *Record) bool) {
		for _, g := range hidden {
			if !yield(g.kind, g.r) {
				return
			}
		}
	}
}

// Errors returns everything wrong with the files, sorted.
func (l *Layers) Errors() fault.Errors {
	var all fault.Errors
	for _, f := range l.files {
		all = append(all, f.errs...)
	}
	return all.Sorted()
}

// Failf reports what is wrong with a field of a record. field may reach into
// the record, as in density_kgm3.value; the report stands where the value was
// given last, or at the record when it was not given.
func (l *Layers) Failf(kindName, id, field, hint, format string, args ...any) {
	r := l.kinds[kindName].byID[id]
	if r.broken {
		return
	}
	r.wrong = true
	what := Singular(kindName)
	if id != "" {
		what += " " + id
	}
	if field != "" {
		what += ": " + field
	}
	at, n := r.find(field)
	at.file.failf(n, hint, "%s: %s", what, fmt.Sprintf(format, args...))
}

// Full reports whether the file that spoke last of a record has errors enough.
func (l *Layers) Full(kindName, id string) bool {
	at := l.kinds[kindName].byID[id].at
	return at[len(at)-1].file.full()
}

// ID returns the record's id, empty when its kind has none.
func (r *Record) ID() string {
	if id := r.Value.FieldByName("ID"); id.IsValid() {
		return id.String()
	}
	return ""
}

// Added reports whether the record came with an overlay.
func (r *Record) Added() bool { return r.at[0].file.layer > 0 }

// Alone reports whether only one file speaks of the record.
func (r *Record) Alone() bool { return len(r.at) == 1 }

// Wrong reports whether anything is wrong with the record, as far as was found.
func (r *Record) Wrong() bool { return r.wrong }

// Last returns the file and line that spoke last of the record.
func (r *Record) Last() (file string, line int) {
	p := r.at[len(r.at)-1]
	return p.file.name, p.node.Line
}

// find returns where field was given last, or where the record first stood.
func (r *Record) find(field string) (place, *yaml.Node) {
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

// Singular turns a kind into the word for one of its records.
func Singular(kind string) string { return strings.TrimSuffix(kind, "s") }
