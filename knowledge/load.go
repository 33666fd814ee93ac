package knowledge

import (
	"cmp"
	"embed"
	"fmt"
	"io"
	"io/fs"
	"path"
	"sync"
)

//go:embed catalog/*.yaml
var embedded embed.FS

// Files returns the shipped knowledge files.
func Files() fs.FS {
	sub, _ := fs.Sub(embedded, "catalog") // fails only for a path that is not valid
	return sub
}

// Default returns the shipped catalogue.
func Default() (*Catalogue, error) { return Load(Files()) }

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
// it. Errors in the files are returned together as an Errors.
func Load(base fs.FS, overlays ...Overlay) (*Catalogue, error) {
	l := loader{schema: schema{}, kinds: map[string]*kind{}}
	for i, o := range append([]Overlay{{FS: base}}, overlays...) {
		files, err := l.read(o, i)
		if err != nil {
			return nil, fmt.Errorf("knowledge: %w", err)
		}
		for _, f := range files {
			l.merge(f)
		}
		l.files = append(l.files, files...)
	}
	cat := l.catalogue()
	check(cat, &l)
	if errs := l.errors(); len(errs) > 0 {
		return nil, errs
	}
	return cat, nil
}

// read parses the files of a layer, in the order of their names.
func (l *loader) read(o Overlay, layer int) ([]*file, error) {
	names := []string{o.File}
	if o.File == "" {
		var err error
		if names, err = fs.Glob(o.FS, "*.yaml"); err != nil {
			return nil, err
		}
	}
	files := make([]*file, len(names))
	errs := make([]error, len(names))
	var wg sync.WaitGroup
	for i, name := range names {
		wg.Go(func() {
			data, err := readSome(o.FS, name)
			shown := path.Join(o.Name, name)
			if o.File != "" {
				shown = cmp.Or(o.Name, name)
			}
			files[i], errs[i] = parse(plain(shown), layer, data, l.schema), err
		})
	}
	wg.Wait()
	return files, cmp.Or(errs...)
}

// readSome reads at most a byte more than a knowledge file may have.
func readSome(fsys fs.FS, name string) ([]byte, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxBytes+1))
}
