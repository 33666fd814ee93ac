package rules

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"gopkg.in/yaml.v3"
)

// Limits on what is read. The shipped book is about a tenth of each.
const (
	maxFileBytes = 1 << 20
	maxRules     = 2000 // in all files together
	maxExamples  = 20   // of each sort in a rule
)

// Source is one file of rules. A later file adds to, changes or hides the
// rules of the files before it.
type Source struct {
	Name string // as shown in messages
	Data []byte // YAML
}

// Problem is one thing wrong in a rule file.
type Problem struct {
	File string `json:"file"`
	Line int    `json:"line"`
	Col  int    `json:"col"`
	What string `json:"what"`
	Hint string `json:"hint,omitempty"` // what would be right
}

func (p Problem) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", p.File, p.Line, p.Col, withHint(p.What, p.Hint))
}

// Problems is everything wrong in the rule files, by file, line and column.
type Problems []Problem

func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

func (ps Problems) sort() {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
}

// mark is a place in a file.
type mark struct {
	file *Source
	node *yaml.Node
}

func (m mark) line() int {
	if m.node == nil {
		return 1
	}
	return m.node.Line
}

// scalar is a value as written, with its place.
type scalar struct {
	mark
	text string
}

// draft is a rule as read, before its strings are compiled.
type draft struct {
	at    mark
	rule  Rule
	texts map[string]scalar // by field
	fires []sample
	quiet []sample
	hide  bool
}

// sample is an Example as read.
type sample struct {
	at    mark
	paths []scalar
	nodes []*yaml.Node
}

// reader collects drafts and problems.
type reader struct {
	drafts   []*draft
	byID     map[string]*draft
	problems Problems
	hint     func(string, []string) string
}

func (r *reader) problem(m mark, offset int, what, hint string) {
	line, col := m.at(offset)
	r.problems = append(r.problems, Problem{m.file.Name, line, col, what, hint})
}

func (r *reader) problemf(m mark, hint, format string, args ...any) {
	r.problem(m, 0, fmt.Sprintf(format, args...), hint)
}

// read adds the rules of the files. Parsing their YAML takes about half the
// time of loading a book, and is shared among the processors.
func (r *reader) read(files []Source) {
	type parsed struct {
		root *yaml.Node
		bad  *Problem
	}
	docs := make([]parsed, len(files))
	var wg sync.WaitGroup
	for i := range files {
		wg.Go(func() { docs[i].root, docs[i].bad = parseYAML(&files[i]) })
	}
	wg.Wait()
	for i, d := range docs {
		switch {
		case d.bad != nil:
			r.problems = append(r.problems, *d.bad)
		case d.root != nil:
			r.file(mark{&files[i], d.root})
		}
	}
}

// parseYAML returns the top of the one document in src, nil when it is empty.
func parseYAML(src *Source) (*yaml.Node, *Problem) {
	if len(src.Data) > maxFileBytes {
		return nil, &Problem{src.Name, 1, 1, fmt.Sprintf("a file of %d bytes", len(src.Data)), fmt.Sprintf("at most %d", maxFileBytes)}
	}
	decoder := yaml.NewDecoder(bytes.NewReader(src.Data))
	var doc yaml.Node
	switch err := decoder.Decode(&doc); {
	case errors.Is(err, io.EOF):
		return nil, nil
	case err != nil:
		return nil, yamlProblem(src, err)
	}
	if err := decoder.Decode(new(yaml.Node)); !errors.Is(err, io.EOF) {
		return nil, &Problem{src.Name, 1, 1, "more than one document", "remove what follows a line of ---"}
	}
	if root := doc.Content[0]; root.Tag != "!!null" {
		return root, nil
	}
	return nil, nil
}

// file adds the rules of one file.
func (r *reader) file(root mark) {
	if root.node.Kind != yaml.MappingNode {
		r.problemf(root, "start with rules: and a list", "rules expected")
		return
	}
	for i := 0; i < len(root.node.Content); i += 2 {
		key, list := mark{root.file, root.node.Content[i]}, mark{root.file, root.node.Content[i+1]}
		switch {
		case key.node.Value != "rules":
			r.problemf(key, r.hint(key.node.Value, []string{"rules"}), "unknown field %q", key.node.Value)
			continue
		case i > 0:
			r.problemf(key, "", "rules twice")
			continue
		case list.node.Kind != yaml.SequenceNode:
			r.problemf(list, "", "rules is a list")
			continue
		}
		inFile := map[string]int{}
		for _, item := range list.node.Content {
			if len(r.drafts) >= maxRules {
				r.problemf(mark{root.file, item}, "", "more than %d rules", maxRules)
				return
			}
			r.rule(mark{root.file, item}, inFile)
		}
	}
}

// yamlProblem turns a syntax error, whose line yaml.v3 puts into its text.
func yamlProblem(src *Source, err error) *Problem {
	what, line := strings.TrimPrefix(err.Error(), "yaml: "), 1
	if rest, ok := strings.CutPrefix(what, "line "); ok {
		if n, text, ok := strings.Cut(rest, ": "); ok {
			if at, err := strconv.Atoi(n); err == nil {
				// YAML knows more line breaks than editors do.
				what, line = text, min(max(at, 1), 1+bytes.Count(src.Data, []byte("\n")))
			}
		}
	}
	hint := ""
	if strings.Contains(what, "mapping values are not allowed") {
		hint = "a text that holds a colon and a space goes on the line after >-"
	}
	return &Problem{src.Name, line, 1, "not YAML: " + what, hint}
}

func fieldNames() []string {
	return []string{
		"id", "title", "on", "when", "do", "give", "weight", "reason", "change", "source", "fires", "quiet", "safety", "hide",
	}
}

// rule reads one rule. A rule with the id of an earlier file's changes the
// fields it gives.
func (r *reader) rule(m mark, inFile map[string]int) {
	if m.node.Kind != yaml.MappingNode {
		r.problemf(m, "", "a rule is fields: id, on, when, do, reason, source, fires, quiet")
		return
	}
	fields, names := map[string]mark{}, fieldNames()
	for i := 0; i < len(m.node.Content); i += 2 {
		key := mark{m.file, m.node.Content[i]}
		name := key.node.Value
		switch _, twice := fields[name]; {
		case !slices.Contains(names, name):
			r.problemf(key, r.hint(name, names), "unknown field %q", name)
		case twice:
			r.problemf(key, "", "field %q twice", name)
		default:
			fields[name] = mark{m.file, m.node.Content[i+1]}
		}
	}
	id, ok := r.scalar(fields["id"])
	if !ok || id.text == "" {
		r.problemf(m, "", "a rule without an id")
		return
	}
	if !isID(id.text) {
		r.problemf(id.mark, "lower-case letters, digits and hyphens", "id %q", id.text)
		return
	}
	if line, twice := inFile[id.text]; twice {
		r.problemf(id.mark, "", "rule %q is already on line %d", id.text, line)
		return
	}
	inFile[id.text] = id.line()

	d := r.byID[id.text]
	if d == nil {
		d = &draft{texts: map[string]scalar{}}
		r.byID[id.text] = d
		r.drafts = append(r.drafts, d)
	} else if d.rule.Safety {
		r.problemf(id.mark, "add a stricter rule beside it", "rule %s keeps people from harm, so it can't be changed or hidden", id.text)
		return
	} else if d.rule.Was == "" {
		d.rule.Was = d.rule.Place()
	}
	d.at = m
	d.rule.ID, d.rule.File, d.rule.Line = id.text, m.file.Name, m.line()
	d.hide = false
	for name, at := range fields {
		switch name {
		case "id":
		case "fires":
			d.fires = r.samples(at)
		case "quiet":
			d.quiet = r.samples(at)
		case "hide":
			d.hide = r.truth(name, at)
		case "safety":
			d.rule.Safety = r.truth(name, at)
		default:
			if s, ok := r.scalar(at); ok {
				d.texts[name] = s
			}
		}
	}
}

func (r *reader) truth(field string, at mark) bool {
	s, ok := r.scalar(at)
	if ok && s.text != "true" && s.text != "false" {
		r.problemf(at, "true or false", "%s can't be %q", field, s.text)
	}
	return s.text == "true"
}

// isID reports whether s is words of lower-case letters and digits joined by
// hyphens.
func isID(s string) bool {
	for _, word := range strings.Split(s, "-") {
		if word == "" || strings.Trim(word, "abcdefghijklmnopqrstuvwxyz0123456789") != "" {
			return false
		}
	}
	return len(s) <= 60
}

func (r *reader) scalar(m mark) (scalar, bool) {
	switch {
	case m.node == nil:
		return scalar{}, false
	case m.node.Kind != yaml.ScalarNode || m.node.Tag == "!!null" || m.node.Anchor != "":
		r.problemf(m, "", "a single value expected")
		return scalar{}, false
	}
	s := strings.TrimRight(m.node.Value, "\n") // of a block
	if strings.ContainsFunc(s, unseen) {
		r.problemf(m, "", "a control character")
		return scalar{}, false
	}
	return scalar{m, s}, true
}

// unseen reports whether a character could do something to a terminal, or
// make a text read otherwise than it is written.
func unseen(c rune) bool {
	return c != '\n' && (unicode.IsControl(c) || unicode.Is(unicode.Cf, c))
}

// samples reads a list of examples.
func (r *reader) samples(m mark) []sample {
	if m.node.Kind != yaml.SequenceNode {
		r.problemf(m, "- {head.mass_g: 41}", "a list of examples expected")
		return nil
	}
	if len(m.node.Content) > maxExamples {
		r.problemf(m, "", "more than %d examples", maxExamples)
		return nil
	}
	var list []sample
	for _, item := range m.node.Content {
		if item.Kind != yaml.MappingNode {
			r.problemf(mark{m.file, item}, "{head.mass_g: 41}", "an example is facts with values")
			continue
		}
		s := sample{at: mark{m.file, item}}
		for i := 0; i < len(item.Content); i += 2 {
			path, ok := r.scalar(mark{m.file, item.Content[i]})
			if !ok {
				continue
			}
			s.paths = append(s.paths, path)
			s.nodes = append(s.nodes, item.Content[i+1])
		}
		list = append(list, s)
	}
	return list
}

// example checks a sample against the facts.
func (r *reader) example(l *language, s sample) Example {
	out := Example{Facts: make(map[string]any, len(s.paths)), Line: s.at.line()}
	for i, path := range s.paths {
		at, ok := l.byPath[path.text]
		if !ok {
			r.problemf(path.mark, r.hint(path.text, l.paths()), "unknown fact %q", path.text)
			continue
		}
		if _, twice := out.Facts[path.text]; twice {
			r.problemf(path.mark, "", "fact %s twice", path.text)
			continue
		}
		value, ok := r.scalar(mark{s.at.file, s.nodes[i]})
		if !ok {
			continue
		}
		v, hint := l.facts[at].parse(value.text)
		if v == nil {
			if near := r.hint(value.text, l.facts[at].OneOf); near != "" {
				hint = near
			}
			r.problemf(value.mark, hint, "%s can't be %q", path.text, value.text)
			continue
		}
		out.Facts[path.text] = v
	}
	return out
}

// parse reads a value of the fact. It returns nil and what would be right
// when s is none.
func (f Fact) parse(s string) (v any, hint string) {
	switch f.Kind {
	case Number:
		if x, err := strconv.ParseFloat(s, 64); err == nil && !math.IsNaN(x) && !math.IsInf(x, 0) {
			return x, ""
		}
		return nil, "a number"
	case Truth:
		switch s {
		case "true":
			return true, ""
		case "false":
			return false, ""
		}
		return nil, "true or false"
	}
	if len(f.OneOf) > 0 && !slices.Contains(f.OneOf, s) {
		return nil, "one of " + strings.Join(f.OneOf, ", ")
	}
	return s, ""
}

// at returns the line and column of the rune at offset in a scalar's value.
// The source is followed along the value: white space in the value stands
// for any run of white space and line breaks in the source. Where the two
// part, as at an escape, it returns the scalar's start.
func (m mark) at(offset int) (line, col int) {
	if m.node == nil {
		return 1, 1
	}
	line, col = m.node.Line, m.node.Column
	if lines := 1 + bytes.Count(m.file.Data, []byte("\n")); line > lines {
		return lines, 1 // YAML knows more line breaks than editors do
	}
	if offset <= 0 && m.node.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 {
		if m.node.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0 {
			col++
		}
		return line, col
	}
	lines := bytes.Split(m.file.Data, []byte("\n"))
	c := cursor{rest: []rune(string(bytes.Join(lines[line-1:], []byte("\n")))), line: line, col: 1}
	for c.col < m.node.Column && len(c.rest) > 0 {
		c.step()
	}
	switch {
	case m.node.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		for len(c.rest) > 0 && c.line == line {
			c.step()
		}
		c.space()
	case m.node.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0:
		c.step()
	}
	for i, want := range []rune(m.node.Value) {
		if unicode.IsSpace(want) {
			if i >= offset {
				break
			}
			c.space()
			continue
		}
		c.space() // a line break after a space
		if len(c.rest) == 0 || c.rest[0] != want {
			return line, col
		}
		if i >= offset {
			break
		}
		c.step()
	}
	return c.line, c.col
}

// cursor is a place in a source text.
type cursor struct {
	rest      []rune
	line, col int
}

func (c *cursor) step() {
	if c.rest[0] == '\n' {
		c.line, c.col = c.line+1, 0
	}
	c.rest, c.col = c.rest[1:], c.col+1
}

func (c *cursor) space() {
	for len(c.rest) > 0 && unicode.IsSpace(c.rest[0]) {
		c.step()
	}
}
