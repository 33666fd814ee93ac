package class

import (
	"regexp"
	"slices"
	"strings"

	"mallow/knowledge/fault"
	"mallow/knowledge/words"
	"mallow/knowledge/yamlfile"
	"mallow/rules/gate"
)

// ages is the field of a student that says who is under age.
const ages = "age"

// harmful are what people also call the answers that keep somebody from harm.
// A field of such a name is none of a roster's, so it is a fault; and one that
// nobody may pass over.
func harmful() []string {
	return []string{"latex", "rubber", "allerg", "asthma", "solvent", "minor", "adult", "child", "superv", "ventil", "birth", "born"}
}

// unsafe gathers the faults that lie in a field of safety: in the field itself,
// misspelt or not, in its value, or in what holds it. Keys are the fields of
// what could be read; torn are the lines of what could not, where a field of
// safety stands.
func (r *rosterReader) unsafe() fault.Errors {
	var list fault.Errors
	for _, e := range r.broken {
		at := yamlfile.Place{Line: e.Line, Col: e.Col}
		touches := func(k yamlfile.Key) bool { return r.ofSafety(k.Name) && (e.Ends || k.Touches(at)) }
		if slices.ContainsFunc(r.keys, touches) || slices.ContainsFunc(r.torn, func(x [2]int) bool { return x[0] <= e.Line && e.Line <= x[1] }) {
			list = append(list, e)
		}
	}
	return list
}

// ofSafety reports whether a field's name is that of an answer which keeps
// somebody from harm, or near to one.
func (r *rosterReader) ofSafety(name string) bool {
	low := strings.ToLower(name)
	if slices.Contains(gate.Paths(), low) || low == ages {
		return true
	}
	if slices.Contains(r.paths, low) || slices.Contains(fields(), low) {
		return false
	}
	if slices.ContainsFunc(harmful(), func(part string) bool { return strings.Contains(low, part) }) {
		return true
	}
	near, ok := words.Word(low, slices.Concat(gate.Paths(), []string{ages}, r.paths, fields()))
	return ok && (near == ages || slices.Contains(gate.Paths(), near))
}

// fields are the fields of a roster and of a student, ages apart.
func fields() []string {
	return []string{"class", "budget", "facts", "bin", "students", "name", "want", "heads"}
}

// look notes the fields of a piece of the roster that stands on lines, from
// and to, or, where it is no YAML, whether a field of safety seems to stand in
// it.
func (r *rosterReader) look(piece string, from, to int) {
	if keys, ok := yamlfile.Keys([]byte(piece)); ok {
		r.keys = append(r.keys, keys...)
		return
	}
	named := regexp.MustCompile(`([A-Za-z_][\w.]*)["']?\s*:`) // what stands before a colon
	for _, m := range named.FindAllStringSubmatch(piece, -1) {
		if r.ofSafety(m[1]) {
			r.torn = append(r.torn, [2]int{from, to})
			return
		}
	}
}
