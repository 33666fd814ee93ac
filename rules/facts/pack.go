package facts

import (
	_ "embed"

	"mallow/knowledge/packed"
	"mallow/rules"
)

// The shipped rules as packed by go generate, compiled.
//
//go:embed book.bin
var packedBook string

func bookKey() (packed.Key, error) {
	k := packed.NewKey()
	rules.Layout[Facts](k, Verbs())
	return k, k.Files(rules.Files())
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
	r, err := packed.Open(packedBook, k)
	if err != nil {
		return nil, err
	}
	return rules.Unpack[Facts](options(), r)
}
