package rules

import (
	"fmt"
	"reflect"
	"strings"

	"mallow/knowledge/fault"
	"mallow/knowledge/yamlfile"
)

// Limits on what is read. The shipped book is about a tenth of each.
const (
	maxRules    = 2000 // in all files together
	maxExamples = 20   // of each sort in a rule
)

// draft is a rule as read, before its strings are compiled.
type draft struct {
	At     yamlfile.Place   `yaml:"-"`
	File   string           `yaml:"-"`
	Was    string           `yaml:"-"` // where it stood before, as file:line
	ID     string           `yaml:"id"`
	Title  yamlfile.Text    `yaml:"title"`
	On     yamlfile.Text    `yaml:"on"`
	When   yamlfile.Text    `yaml:"when"`
	Do     yamlfile.Text    `yaml:"do"`
	Give   yamlfile.Text    `yaml:"give"`
	Weight yamlfile.Text    `yaml:"weight"`
	Reason yamlfile.Text    `yaml:"reason"`
	Change yamlfile.Text    `yaml:"change"`
	Source yamlfile.Text    `yaml:"source"`
	Fires  []yamlfile.Pairs `yaml:"fires"`
	Quiet  []yamlfile.Pairs `yaml:"quiet"`
	Safety bool             `yaml:"safety"`
	line   int              // of the last file that spoke of it
}

// bookFile is a file of rules.
type bookFile struct {
	Rules []draft `yaml:"rules"`
}

// layers lays the files over each other.
func layers(files []yamlfile.Source) *yamlfile.Layers {
	l := yamlfile.NewLayers[bookFile]()
	l.Laid = func(r reflect.Value, n yamlfile.Node) {
		d := r.Addr().Interface().(*draft)
		if d.File != "" && d.Was == "" {
			d.Was = fmt.Sprintf("%s:%d", d.File, d.line)
		}
		d.File, d.line = n.File(), d.At.Line
	}
	l.Guard = func(r reflect.Value, _ yamlfile.Node) *fault.Error {
		d := r.Addr().Interface().(*draft)
		if !d.Safety {
			return nil
		}
		return &fault.Error{What: fmt.Sprintf("rule %s keeps people from harm, so it can't be changed or hidden", d.ID), Hint: "add a stricter rule beside it"}
	}
	l.Lay() // every file may hide rules, the first as well
	l.LayEach(files...)
	return l
}

// reader compiles drafts and collects what is wrong with them.
type reader struct {
	l        *language
	opts     Options
	problems fault.Errors
}

// fail reports something at a text, or at the draft where there is none.
func (r *reader) fail(d *draft, t yamlfile.Text, hint, format string, args ...any) {
	what := fmt.Sprintf(format, args...)
	if t.Place == (yamlfile.Place{}) {
		r.problems = append(r.problems, yamlfile.Faulty(d.File, d.At, what, hint))
		return
	}
	r.problems = append(r.problems, t.Fault(0, what, hint))
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

// said is a text without the line end of a block.
func said(t yamlfile.Text) string { return strings.TrimRight(t.Value, "\n") }

// examples checks samples against the facts.
func (r *reader) examples(d *draft, field string, list []yamlfile.Pairs) []Example {
	if len(list) > maxExamples {
		r.fail(d, yamlfile.Text{}, "", "rule %s: more than %d examples under %s", d.ID, maxExamples, field)
		return nil
	}
	out := make([]Example, 0, len(list))
	for _, pairs := range list {
		out = append(out, r.example(d, pairs))
	}
	return out
}

func (r *reader) example(d *draft, pairs yamlfile.Pairs) Example {
	out := Example{Facts: make(Given, 0, len(pairs)), Line: d.At.Line}
	for i, p := range pairs {
		path := p.Key.Value
		if i == 0 {
			out.Line = p.Key.Line
		}
		at, ok := r.l.byPath[path]
		if !ok {
			r.fail(d, p.Key, r.l.hint(path, r.l.paths()), "unknown fact %q", path)
			continue
		}
		if len(p.Values) != 1 {
			r.fail(d, p.Key, "", "%s has one value", path)
			continue
		}
		v, err := r.l.facts[at].Parse(p.Values[0].Value)
		if err != nil {
			hint := r.l.facts[at].Valid()
			if near := r.l.hint(p.Values[0].Value, r.l.facts[at].OneOf); near != "" {
				hint = near
			}
			r.fail(d, p.Values[0], hint, "%s can't be %q", path, p.Values[0].Value)
			continue
		}
		if x, ok := v.(float64); ok {
			if low, high := r.l.facts[at].Bounds(); x < low || x > high {
				r.fail(d, p.Values[0], fmt.Sprintf("%g to %g", low, high), "%s can't be %g", path, x)
			}
		}
		out.Facts = append(out.Facts, struct {
			Path  string
			Value any
		}{path, v})
	}
	return out
}
