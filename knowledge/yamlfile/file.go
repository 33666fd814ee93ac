package yamlfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"strconv"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"

	"mallow/knowledge/fault"
)

// What a file may cost, besides MaxBytes. The shipped files stay far below.
const (
	maxAliases = 50
	maxFields  = 100  // in one record
	maxRecords = 5000 // in one list
	maxErrors  = 100  // in one file; more say nothing new
)

// file is a parsed YAML file that knows how to report what is wrong with it.
//
// Nodes are decoded here and not by yaml.v3 itself, which loses the column,
// rounds 3.5 into an int, lets ~ keep the old value and forgets unknown
// fields below an UnmarshalYAML. Decoding on top of a record that already
// holds values is what makes an overlay change only the fields it gives.
type file struct {
	name    string
	data    []byte
	layer   int // 0 is the base, 1 the first overlay
	schema  schema
	root    *yaml.Node
	aliases int
	errs    fault.Errors
}

// parse reads the one document of data. What is wrong is in the result.
func parse(name string, layer int, data []byte, sch schema) *file {
	f := &file{name: name, data: data, layer: layer, schema: sch}
	if len(data) > MaxBytes {
		f.failf(nil, "", "the file has %d bytes, the limit is %d", len(data), MaxBytes)
		return f
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc yaml.Node
	if err := dec.Decode(&doc); err != nil {
		if !errors.Is(err, io.EOF) { // an empty file knows nothing
			f.syntax(err)
		}
		return f
	}
	var more yaml.Node
	switch err := dec.Decode(&more); {
	case err == nil:
		f.failf(&more, "join them into one", "a second YAML document starts here")
	case !errors.Is(err, io.EOF):
		f.syntax(err)
	default:
		f.root = doc.Content[0]
	}
	return f
}

// syntax reports an error of the YAML parser, which knows the line at best:
// "yaml: line 3: did not find expected key".
func (f *file) syntax(err error) {
	msg := strings.TrimPrefix(err.Error(), "yaml: ")
	line := 0
	if rest, ok := strings.CutPrefix(msg, "line "); ok {
		number, rest, _ := strings.Cut(rest, ": ")
		if n, err := strconv.Atoi(number); err == nil {
			line, msg = n, rest
		}
	}
	hint := ""
	switch msg {
	case "did not find expected key", "did not find expected node content",
		"did not find expected '-' indicator", "did not find expected ',' or ']'",
		"did not find expected ',' or '}'", "did not find expected <document start>":
		// These lines yaml.v3 counts from 0, and gives the one on which the
		// list or record begins.
		line++
		hint = "in what starts on this line"
	case "found character that cannot start any token":
		hint = "indent with spaces, not tabs; a text that starts with @, ` or % needs quotes"
	case "found unexpected end of stream":
		hint = "a quotation mark that opens has to close"
	case "mapping values are not allowed in this context":
		hint = "a text with a colon in it needs quotes"
	}
	f.failf(&yaml.Node{Line: line, Column: 1}, hint, "not YAML: %s", plain(msg))
}

// failf reports what is wrong at n, or with the whole file when n is nil.
func (f *file) failf(n *yaml.Node, hint, format string, args ...any) {
	if f.full() {
		return
	}
	e := &fault.Error{File: f.name, What: fmt.Sprintf(format, args...), Hint: hint, Layer: f.layer}
	if n != nil {
		// The parser may name the line after the last, and ends lines at
		// characters that nobody's editor does.
		e.Line, e.Col = min(n.Line, 1+bytes.Count(f.data, []byte("\n"))), max(n.Column, 1)
	}
	f.errs = append(f.errs, e)
	e.Ends = f.full() || f.aliases > maxAliases
}

// full reports whether the file has as many errors as anybody will read.
func (f *file) full() bool { return len(f.errs) >= maxErrors }

// trail is where in a file a value stands, from the inside out. It is turned
// into words only for an error.
type trail struct {
	up   *trail
	name string // of a field or record
	item int    // 1-based, in a list without names; 0 for a named one
}

// String returns, for example, "lesson wall: stacks[2]".
func (p *trail) String() string {
	switch {
	case p.up == nil:
		return p.name
	case p.item > 0:
		return fmt.Sprintf("%v[%d]", p.up, p.item)
	}
	return p.up.String() + ": " + p.name
}

// follow returns what n stands for when it is an alias, or nil when the file
// uses too many of them.
func (f *file) follow(n *yaml.Node) *yaml.Node {
	for n != nil && n.Kind == yaml.AliasNode {
		if f.aliases++; f.aliases > maxAliases {
			if f.aliases == maxAliases+1 {
				f.failf(n, "write the values out", "more than %d aliases", maxAliases)
			}
			return nil
		}
		n = n.Alias
	}
	return n
}

// pairs yields every key and value of the mapping n, of at most most. what names the mapping
// in errors.
func (f *file) pairs(n *yaml.Node, what *trail, most int) iter.Seq2[*yaml.Node, *yaml.Node] {
	return func(yield func(key, value *yaml.Node) bool) {
		at := n
		switch n := f.follow(n); {
		case n == nil:
		case n.Kind != yaml.MappingNode:
			f.failf(at, "", "%s: want fields with values, found %s", what, kindName(n))
		case len(n.Content) > 2*most:
			f.failf(at, "", "%s: more than %d fields", what, most)
		default:
			for i := 0; i+1 < len(n.Content); i += 2 {
				key := n.Content[i]
				switch {
				case key.Kind != yaml.ScalarNode:
					f.failf(key, "", "%s: want a field name, found %s", what, kindName(key))
				case repeated(n.Content[:i], key.Value):
					f.failf(key, "keep one", "%s: field %q is given twice", what, Clip(key.Value))
				case !yield(key, n.Content[i+1]):
					return
				}
			}
		}
	}
}

// repeated reports whether a key stands among the pairs before it.
func repeated(before []*yaml.Node, key string) bool {
	for i := 0; i < len(before); i += 2 {
		if before[i].Value == key {
			return true
		}
	}
	return false
}

// items returns the entries of the list n.
func (f *file) items(n *yaml.Node, what *trail) []*yaml.Node {
	at := n
	switch n = f.follow(n); {
	case n == nil:
	case n.Kind != yaml.SequenceNode:
		f.failf(at, "start each entry with -", "%s: want a list, found %s", what, kindName(n))
	case len(n.Content) > maxRecords:
		f.failf(at, "", "%s: more than %d entries", what, maxRecords)
	default:
		return n.Content
	}
	return nil
}

// text returns the scalar at n. It returns false after reporting a value that
// is missing, not a scalar, or not fit to be shown on a terminal.
func (f *file) text(n *yaml.Node, what *trail) (string, bool) {
	at := n
	switch n = f.follow(n); {
	case n == nil:
		return "", false
	case n.Kind != yaml.ScalarNode:
		f.failf(at, "", "%s: want one value, found %s", what, kindName(n))
		return "", false
	case empty(n):
		f.failf(at, "leave the field out, or give it one", "%s: no value", what)
		return "", false
	}
	if i := strings.IndexFunc(n.Value, unprintable); i >= 0 {
		r := []rune(n.Value[i:])[0]
		f.failf(at, "only plain text and line ends", "%s: control character %U", what, r)
		return "", false
	}
	return n.Value, true
}

// unprintable reports runes that could move a terminal's cursor or turn text
// about.
func unprintable(r rune) bool {
	switch {
	case r >= ' ' && r < 0x7f || r == '\n': // nearly all
		return false
	case unicode.IsControl(r), unicode.Is(unicode.Bidi_Control, r):
		return true
	}
	return r == '\u2028' || r == '\u2029' || r == unicode.ReplacementChar
}

func kindName(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "fields with values"
	case yaml.SequenceNode:
		return "a list"
	case yaml.ScalarNode:
		if empty(n) {
			return "nothing"
		}
		return strconv.Quote(Clip(n.Value))
	}
	return "an alias"
}

// Clip shortens s, as plain text, for an error message.
func Clip(s string) string {
	const most = 60
	if r := []rune(plain(s)); len(r) > most {
		return string(r[:most]) + "…"
	}
	return plain(s)
}

// plain replaces what would upset a terminal.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if unprintable(r) || r == '\n' {
			return '?'
		}
		return r
	}, s)
}
