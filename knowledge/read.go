package knowledge

import (
	"reflect"

	"gopkg.in/yaml.v3"
)

// Text is a scalar of a YAML file with its place there.
type Text struct {
	Value string
	Place
}

// Place is where something stands in its file; zero when it does not.
// A field of this type in a struct is set to where the struct stands.
type Place struct {
	Line, Col int // 1-based
}

// Before reports whether p stands before q.
func (p Place) Before(q Place) bool {
	return p.Line < q.Line || p.Line == q.Line && p.Col < q.Col
}

// Pairs is a mapping whose keys are not those of a struct, in the order of
// the file.
type Pairs []Pair

// Pair is a key and its value; a list has several values.
type Pair struct {
	Key    Text
	Values []Text
}

// Decode reads the one YAML document of data into the struct that v points
// to, as carefully as Load reads knowledge: unknown fields, wrong kinds,
// control characters, too many aliases and too much of anything are errors
// with their place, and what was right is in v all the same. Fields may be
// Text, Place, Pairs, encoding.TextUnmarshaler, and what those are made of.
// file is what errors call the file.
func Decode(file string, data []byte, v any) Errors {
	f := parse(plain(file), 0, data, schema{})
	if f.root != nil {
		f.decode(f.root, reflect.ValueOf(v).Elem(), &trail{name: "file"})
	}
	return f.errs.sorted()
}

// Faulty returns an error at a place of a file, as Decode's are.
func Faulty(file string, at Place, what, hint string) *Error {
	return &Error{File: plain(file), Line: at.Line, Col: at.Col, What: plain(what), Hint: hint}
}

// keyed sets p from the mapping n.
func (f *file) keyed(n *yaml.Node, p *Pairs, what *trail) {
	for key, value := range f.pairs(n, what) {
		at := &trail{up: what, name: key.Value}
		pair := Pair{Key: Text{key.Value, Place{key.Line, key.Column}}}
		if _, ok := f.text(key, what); !ok {
			continue
		}
		list := []*yaml.Node{value}
		if to := f.follow(value); to != nil && to.Kind == yaml.SequenceNode {
			list = f.items(to, at)
		}
		for _, x := range list {
			if s, ok := f.text(x, at); ok {
				pair.Values = append(pair.Values, Text{s, Place{x.Line, x.Column}})
			}
		}
		if len(pair.Values) == len(list) && len(list) > 0 {
			*p = append(*p, pair)
		}
	}
}
