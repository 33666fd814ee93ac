package knowledge

import (
	"cmp"
	"io/fs"
	"reflect"
	"slices"

	"mallow/knowledge/catalog"
	"mallow/knowledge/yamlfile"
)

// Default returns the shipped catalogue: as packed, or from the YAML where that
// has changed since.
func Default() (*Catalogue, error) {
	if cat, err := Packed(); err == nil {
		return cat, nil
	}
	return Load(catalog.Files())
}

// Overlay is a user's own knowledge, laid over the base.
type Overlay struct {
	// Name is what messages call it, such as "your parts file".
	Name string
	FS   fs.FS
	// File is one YAML file in FS; empty means every .yaml file at its top.
	File string
}

// Load reads every .yaml file at the top of base, then the overlays in order,
// and checks the whole. A file is a map from kind (cores, tubing, …, as the
// fields of Catalogue) to a list of records; any file may hold any kinds. A
// Quantity is written {value: 905, tol: 10, source: id}, or as its value alone.
//
// A record of an overlay whose id is known already changes only the fields it
// gives; a list counts as one field and is replaced whole. Any other record is
// new and must be complete. hide: true takes a record away, hide: false brings
// one back. Later overlays go over earlier ones; within one layer, an id may
// stand once.
//
// What an overlay gives without naming a source is the user's own: it gets the
// source "own", so that no figure is credited to a source that doesn't have
// it. Errors in the files are returned together as a fault.Errors.
func Load(base fs.FS, overlays ...Overlay) (*Catalogue, error) {
	l := yamlfile.NewLayers[Catalogue]()
	l.Laid = laid
	for _, o := range append([]Overlay{{FS: base}}, overlays...) {
		files, err := o.read()
		if err != nil {
			return nil, err
		}
		l.Lay(files...)
	}
	var cat Catalogue
	for kind, r := range l.Fill(&cat) {
		cat.Hidden = append(cat.Hidden, Hidden{Kind: kind, ID: r.ID(), Origin: r.Value.FieldByName("Origin").Interface().(Origin)})
	}
	slices.SortStableFunc(cat.Dynamics, func(a, b Dynamic) int { return cmp.Compare(a.SpeedMS.Value, b.SpeedMS.Value) })
	slices.SortStableFunc(cat.Steps, func(a, b Step) int { return cmp.Compare(a.Order, b.Order) })
	check(&cat, l)
	if err := l.Errors().Err(); err != nil {
		return nil, err
	}
	return &cat, nil
}

// read returns the files of an overlay, in the order of their names.
func (o Overlay) read() ([]yamlfile.Source, error) {
	if o.File == "" {
		return yamlfile.Sources(o.FS, o.Name)
	}
	one, err := yamlfile.One(o.FS, o.File, o.Name)
	return []yamlfile.Source{one}, err
}

// own is the source of what a user gives without naming one.
const own = "own"

// laid notes where a record was read, and credits to the user what an overlay
// gives without a source. A quantity has a source of its own.
func laid(r reflect.Value, n yamlfile.Node) {
	if o := r.FieldByName("Origin"); o.IsValid() {
		at := Origin{File: n.File(), Line: n.Place().Line, Own: n.Overlay()}
		if old := o.Interface().(Origin); old.File != "" {
			at.Over = &old
		}
		o.Set(reflect.ValueOf(at))
	}
	if !n.Overlay() {
		return
	}
	priced, told := false, false
	for _, name := range n.Names() {
		switch name {
		case "id", "source", "price_source":
		case "price", "pack":
			priced = true
		default:
			told = told || !n.Holds(r, name, reflect.TypeFor[Quantity]())
		}
	}
	if s := r.FieldByName("PriceSource"); priced && s.IsValid() && !n.Gives("price_source") {
		s.SetString(own)
	}
	if s := r.FieldByName("Source"); told && s.IsValid() && !n.Gives("source") {
		s.SetString(own)
	}
}
