package facts

import (
	"mallow/knowledge/packed"
	"mallow/rules"
	"mallow/rules/book"
)

func bookKey() (packed.Key, error) {
	k := packed.NewKey()
	rules.Layout[Facts](k, Verbs())
	return k, k.Files(book.Files())
}

// Pack returns the shipped rules in packed form, made from the YAML.
func Pack() ([]byte, error) {
	b, err := FromYAML()
	if err != nil {
		return nil, err
	}
	k, err := bookKey()
	if err != nil {
		return nil, err
	}
	var w packed.Writer
	b.Pack(&w)
	return w.Seal(k), nil
}

// Packed returns the shipped rules from their packed form. The error is
// packed.ErrStale when the YAML has changed since.
func Packed() (*rules.Book[Facts], error) {
	k, err := bookKey()
	if err != nil {
		return nil, err
	}
	r, err := packed.Open(book.Packed(), k)
	if err != nil {
		return nil, err
	}
	return rules.Unpack[Facts](options(), r)
}
