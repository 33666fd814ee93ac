// Package yamlfile knows how people's YAML files are read: one document,
// decoded with the place of every value, laid over earlier files, and with
// every fault told at its place. It never knows what the values mean.
package yamlfile

import (
	"bytes"
	"reflect"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"

	"mallow/knowledge/fault"
)

// MaxBytes is the most that a file may hold.
const MaxBytes = 1 << 20

// Text is a scalar of a YAML file with its place there.
type Text struct {
	Value string
	Place
	file *file
	node *yaml.Node
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

// Reader is a value with a way of its own to stand in YAML.
type Reader interface {
	// ReadYAML sets the value from n.
	ReadYAML(n Node)
}

// Node is a value in a file, for a Reader.
type Node struct {
	f    *file
	n    *yaml.Node
	what *trail
}

// Scalar reports whether n is one value that is not empty.
func (n Node) Scalar() bool {
	to := lookUp(n.n, nil)
	return to.Kind == yaml.ScalarNode && !empty(to)
}

// Gives reports whether n is a mapping with a field.
func (n Node) Gives(field string) bool { return lookUp(n.n, []string{field}) != nil }

// Set sets what the pointer v points to from n.
func (n Node) Set(v any) { n.f.set(n.n, reflect.ValueOf(v).Elem(), n.what) }

// Fields sets those fields of the struct that v points to which n gives.
func (n Node) Fields(v any) { n.f.fields(n.n, reflect.ValueOf(v).Elem(), n.what) }

// Overlay reports whether n stands in an overlay.
func (n Node) Overlay() bool { return n.f.layer > 0 }

// Names returns the fields that n gives, when it is a mapping.
func (n Node) Names() []string {
	var names []string
	for i := 0; n.n.Kind == yaml.MappingNode && i < len(n.n.Content); i += 2 {
		names = append(names, n.n.Content[i].Value)
	}
	return names
}

// Holds reports whether the field of record r that YAML calls name is of type
// t or a pointer to it, or is none.
func (n Node) Holds(r reflect.Value, name string, t reflect.Type) bool {
	i, ok := n.f.schema.fields(r.Type())[name]
	if !ok {
		return true
	}
	is := r.Field(i).Type()
	return is == t || is == reflect.PointerTo(t)
}

// File is what people call the file of n.
func (n Node) File() string { return n.f.name }

// Place is where n stands.
func (n Node) Place() Place { return Place{n.n.Line, n.n.Column} }

// Decode reads the one YAML document of data into the struct that v points
// to: unknown fields, wrong kinds, control characters, too many aliases and
// too much of anything are errors with their place, and what was right is in
// v all the same. Fields may be Text, Place, Pairs, Reader,
// encoding.TextUnmarshaler, and what those are made of. file is what errors
// call the file.
func Decode(file string, data []byte, v any) fault.Errors {
	f := parse(plain(file), 0, data, schema{})
	if f.root != nil && !empty(f.root) {
		f.decode(f.root, reflect.ValueOf(v).Elem(), &trail{name: "file"})
	}
	return f.errs.Sorted()
}

// Faulty returns an error at a place of a file, as Decode's are.
func Faulty(file string, at Place, what, hint string) *fault.Error {
	return &fault.Error{File: plain(file), Line: at.Line, Col: at.Col, What: plain(what), Hint: hint}
}

// keyed sets p from the mapping n.
func (f *file) keyed(n *yaml.Node, p *Pairs, what *trail) {
	for key, value := range f.pairs(n, what, maxRecords) {
		at := &trail{up: what, name: key.Value}
		pair := Pair{Key: Text{key.Value, Place{key.Line, key.Column}, f, key}}
		if _, ok := f.text(key, what); !ok {
			continue
		}
		list := []*yaml.Node{value}
		if to := f.follow(value); to != nil && to.Kind == yaml.SequenceNode {
			list = f.items(to, at)
		}
		for _, x := range list {
			if s, ok := f.text(x, at); ok {
				pair.Values = append(pair.Values, Text{s, Place{x.Line, x.Column}, f, x})
			}
		}
		if len(pair.Values) == len(list) && len(list) > 0 {
			*p = append(*p, pair)
		}
	}
}

// Fault returns an error at the rune at offset in t.
func (t Text) Fault(offset int, what, hint string) *fault.Error {
	at := t.At(offset)
	return &fault.Error{File: t.file.name, Line: at.Line, Col: at.Col, What: what, Hint: hint, Layer: t.file.layer}
}

// At returns the place of the rune at offset in t. The file is followed along
// the value: white space in the value stands for any run of white space and
// line breaks in the file. Where the two part, as at an escape, it returns
// where t begins.
func (t Text) At(offset int) Place {
	n := t.node
	if n == nil || n.Kind != yaml.ScalarNode {
		return t.Place
	}
	line, col := n.Line, n.Column
	if lines := 1 + bytes.Count(t.file.data, []byte("\n")); line > lines {
		return Place{lines, 1} // YAML knows more line breaks than editors do
	}
	block := n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0
	quoted := n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0
	if offset <= 0 && !block {
		if quoted {
			col++
		}
		return Place{line, col}
	}
	lines := bytes.Split(t.file.data, []byte("\n"))
	c := cursor{rest: []rune(string(bytes.Join(lines[line-1:], []byte("\n")))), line: line, col: 1}
	for c.col < n.Column && len(c.rest) > 0 {
		c.next()
	}
	switch {
	case block:
		for len(c.rest) > 0 && c.line == line {
			c.next()
		}
		c.space()
	case quoted:
		c.next()
	}
	for i, want := range []rune(n.Value) {
		if unicode.IsSpace(want) {
			if i >= offset {
				break
			}
			c.space()
			continue
		}
		c.space() // a line break after a space
		if len(c.rest) == 0 || c.rest[0] != want {
			return Place{line, col}
		}
		if i >= offset {
			break
		}
		c.next()
	}
	return Place{c.line, c.col}
}

// cursor is a place in a file's text.
type cursor struct {
	rest      []rune
	line, col int
}

func (c *cursor) next() {
	if len(c.rest) == 0 {
		return
	}
	if c.rest[0] == '\n' {
		c.line, c.col = c.line+1, 0
	}
	c.rest, c.col = c.rest[1:], c.col+1
}

func (c *cursor) space() {
	for len(c.rest) > 0 && unicode.IsSpace(c.rest[0]) {
		c.next()
	}
}

// ValidID reports whether id can stand in a stack text, a command and a rule.
func ValidID(id string) bool {
	return id != "" && len(id) <= 64 && strings.IndexFunc(id, func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9') && !strings.ContainsRune("./_-", r)
	}) < 0
}
