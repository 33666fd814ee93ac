package facts

import (
	"slices"

	"sync"

	"mallow/rules/schema"
)

// A Path names a fact. The constants of this type are written from the struct:
// see paths.go.
type Path = string

// index is made once: it says of the struct what its fields and tags say.
var index = sync.OnceValues(schema.NewIndex[Facts])

// Index returns every fact by its path.
func Index() *schema.Index[Facts] {
	x, err := index()
	if err != nil {
		return new(schema.Index[Facts]) // can't be: the tests load the struct
	}
	return x
}

// Get returns the fact at a path, a float64, string or bool; nil when there is
// none.
func Get(f *Facts, path Path) any { return Index().Get(f, path) }

// Set puts a float64, string or bool at a path.
func Set(f *Facts, path Path, value any) error { return Index().Set(f, path, value) }

// Parse puts a value in writing at a path.
func Parse(f *Facts, path Path, text string) error { return Index().Parse(f, path, text) }

// Words returns the words that the fact at a path may be, nil where any may.
func Words(path Path) []string {
	f, _ := Index().Fact(path)
	return slices.Clone(f.OneOf)
}
