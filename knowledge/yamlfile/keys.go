package yamlfile

import (
	"bytes"

	"gopkg.in/yaml.v3"
)

// Key is a field's name as it stands in a file, whether it is right or not.
type Key struct {
	Name string
	At   Place
	Last Place   // the last thing in its value
	Over []Place // what holds it: names, values and entries, outermost first
}

// Touches reports whether something at a place is this field, in its value, or
// what holds it.
func (k Key) Touches(at Place) bool {
	if !at.Before(k.At) && !k.Last.Before(at) {
		return true
	}
	for _, p := range k.Over {
		if p == at {
			return true
		}
	}
	return false
}

// Keys lists the names of all fields in data, and false where it is no YAML.
func Keys(data []byte) ([]Key, bool) {
	var doc yaml.Node
	if len(data) > MaxBytes || yaml.NewDecoder(bytes.NewReader(data)).Decode(&doc) != nil {
		return nil, false
	}
	var list []Key
	walkKeys(&doc, nil, &list)
	return list, true
}

// walkKeys gathers the names below n, and returns where the last thing in n
// stands. Aliases are not followed: what they stand for is walked where it is.
func walkKeys(n *yaml.Node, over []Place, list *[]Key) Place {
	last := Place{n.Line, n.Column}
	over = append(over[:len(over):len(over)], last)
	for i, x := range n.Content {
		if n.Kind != yaml.MappingNode {
			last = walkKeys(x, over, list)
			continue
		}
		if i%2 > 0 {
			continue // with its name
		}
		at := Place{x.Line, x.Column}
		k := len(*list)
		*list = append(*list, Key{Name: x.Value, At: at, Over: over})
		if i+1 < len(n.Content) {
			last = walkKeys(n.Content[i+1], append(over[:len(over):len(over)], at), list)
		}
		(*list)[k].Last = last
	}
	return last
}
