package knowledge

import (
	"reflect"

	"mallow/knowledge/catalog"
	"mallow/knowledge/packed"
)

func catalogueKey() (packed.Key, error) {
	k := packed.NewKey()
	k.Type(reflect.TypeFor[Catalogue]())
	return k, k.Files(catalog.Files())
}

// Pack returns the shipped catalogue in packed form, made from the YAML.
func Pack() ([]byte, error) {
	cat, err := Load(catalog.Files())
	if err != nil {
		return nil, err
	}
	k, err := catalogueKey()
	if err != nil {
		return nil, err
	}
	var w packed.Writer
	if err := w.Value(*cat); err != nil {
		return nil, err
	}
	return w.Seal(k), nil
}

// Packed returns the shipped catalogue from its packed form, which takes a tenth
// of the time of its YAML; that stays what people edit. The error is
// packed.ErrStale when the YAML has changed since.
func Packed() (*Catalogue, error) {
	k, err := catalogueKey()
	if err != nil {
		return nil, err
	}
	r, err := packed.Open(catalog.Packed(), k)
	if err != nil {
		return nil, err
	}
	cat := new(Catalogue)
	r.Value(cat)
	return cat, r.Err()
}
