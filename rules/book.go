package rules

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"mallow/knowledge/yamlfile"
	"mallow/rules/schema"
)

// Options say what a rule file may say beyond the facts.
type Options struct {
	// On lists, for each thing that rules are asked about, the groups of
	// facts that such a rule may read: {"player": {"player", "want"}}.
	On map[string][]string
	// Verbs print numbers in reasons.
	Verbs Verbs
	// Hint guesses which of the words was meant by a misspelt one, as a
	// clause for an error message, empty when none is near. It may be nil.
	Hint func(said string, among []string) string
}

// Book is rules that have been read and checked. It may be used by several
// goroutines at once.
type Book[F any] struct {
	l      *language
	verbs  Verbs
	rules  []*entry
	byID   map[string]*entry
	hidden []*Rule
	pool   sync.Pool // of *bound[F]
	terms  func() terms
}

// entry is a rule with its compiled strings.
type entry struct {
	rule   *Rule
	when   *node
	reason *form
	change *form // nil when the rule names none

	once  sync.Once
	looks []look // what a trace shows; see readings
}

// Load reads rules from files, of which a later one may add to, change or
// hide the rules of those before it. The error is of type fault.Errors when
// something is wrong in the files: it lists everything.
func Load[F any](opts Options, files ...yamlfile.Source) (*Book[F], error) {
	l, err := newLanguage[F](opts.Hint)
	if err != nil {
		return nil, err
	}
	r := &reader{l: l, opts: opts}
	b := &Book[F]{l: l, verbs: opts.Verbs, byID: map[string]*entry{}}
	b.terms = sync.OnceValue(b.gather)
	b.pool.New = func() any { return bind[F](l.facts) }
	read := layers(files)
	for i, record := range read.Records("rules") {
		d := record.Value.Addr().Interface().(*draft)
		switch {
		case i == maxRules:
			r.fail(d, yamlfile.Text{}, "", "more than %d rules", maxRules)
		case i > maxRules, record.Wrong():
			continue
		}
		e := r.compile(d)
		if record.Hidden {
			b.hidden = append(b.hidden, e.rule)
			continue
		}
		b.rules = append(b.rules, e)
		b.byID[e.rule.ID] = e
	}
	if err := append(read.Errors(), r.problems...).Sorted().Err(); err != nil {
		return nil, err
	}
	return b, nil
}

// compile turns a draft into an entry and reports what is wrong with it.
func (r *reader) compile(d *draft) *entry {
	rule := &Rule{ID: d.ID, Title: r.required(d, "title", d.Title), On: r.required(d, "on", d.On), When: r.required(d, "when", d.When),
		Do: Effect(r.required(d, "do", d.Do)), Give: said(d.Give), Reason: r.required(d, "reason", d.Reason), Change: said(d.Change),
		Source: r.required(d, "source", d.Source), Safety: d.Safety, File: d.File, Line: d.At.Line, Was: d.Was}
	e := &entry{rule: rule}
	if !isID(d.ID) {
		r.fail(d, yamlfile.Text{}, "lower-case letters, digits and hyphens", "rule: id %q", d.ID)
	}
	groups, onOK := r.opts.On[rule.On]
	if !onOK && rule.On != "" {
		r.word(d, d.On, "on", keys(r.opts.On))
	}
	if !slices.Contains(effects(), rule.Do) && rule.Do != "" {
		r.word(d, d.Do, "do", texts(effects()))
	}
	if rule.Do.gives() != (rule.Give != "") {
		if rule.Give == "" {
			r.fail(d, yamlfile.Text{}, "", "rule %s does %s, so it needs give", rule.ID, rule.Do)
		} else {
			r.fail(d, d.Give, "remove it", "give means nothing to a rule that does %s", rule.Do)
		}
	}
	r.weight(d, rule)
	for _, field := range []struct {
		name string
		text yamlfile.Text
	}{{"when", d.When}, {"reason", d.Reason}, {"change", d.Change}} {
		if said(field.text) == "" {
			continue
		}
		reads, err := r.field(e, field.name, said(field.text))
		if err != nil {
			x := err.(*exprError)
			r.problems = append(r.problems, field.text.Fault(x.At, fmt.Sprintf("%s of rule %s: %s", field.name, rule.ID, x.What), x.Hint))
			continue
		}
		for _, i := range reads {
			group, _, _ := strings.Cut(r.l.facts[i].Path, ".")
			if onOK && !slices.Contains(groups, group) {
				r.fail(d, field.text, fmt.Sprintf("it may read %s", strings.Join(groups, ", ")),
					"%s of rule %s: a rule on %s can't read %s", field.name, rule.ID, rule.On, r.l.facts[i].Path)
			}
		}
	}
	rule.Fires, rule.Quiet = r.examples(d, "fires", d.Fires), r.examples(d, "quiet", d.Quiet)
	if len(d.Fires) == 0 || len(d.Quiet) == 0 {
		r.fail(d, yamlfile.Text{}, "", "rule %s needs an example under fires and one under quiet", rule.ID)
	}
	return e
}

// field compiles one text of a rule and returns the facts that it reads.
// Errors are of type *exprError.
func (r *reader) field(e *entry, name, text string) (reads []int, err error) {
	switch name {
	case "when":
		if e.when, err = r.l.compile(text); err != nil {
			return nil, err
		}
		if e.when.kind != schema.Truth {
			return nil, &exprError{What: fmt.Sprintf("when is yes or no; this is a %s", e.when.kind)}
		}
		if reads = e.when.reads(nil); len(reads) == 0 {
			return nil, &exprError{What: "when reads no fact, so it always says the same"}
		}
		return reads, nil
	case "reason":
		if e.reason, err = r.l.parseForm(text, r.opts.Verbs); err == nil {
			reads = e.reason.reads()
		}
	case "change":
		if e.change, err = r.l.parseForm(text, r.opts.Verbs); err == nil {
			reads = e.change.reads()
		}
	}
	return reads, err
}

func (r *reader) required(d *draft, field string, t yamlfile.Text) string {
	if strings.TrimSpace(t.Value) == "" {
		r.fail(d, yamlfile.Text{}, "", "rule %s has no %s", d.ID, field)
	}
	return said(t)
}

func (r *reader) word(d *draft, t yamlfile.Text, field string, among []string) {
	hint := r.l.hint(t.Value, among)
	if hint == "" {
		hint = "one of " + strings.Join(among, ", ")
	}
	r.fail(d, t, hint, "%s can't be %q", field, t.Value)
}

func (r *reader) weight(d *draft, rule *Rule) {
	if d.Weight.Value == "" {
		if rule.Do.weighs() {
			r.fail(d, yamlfile.Text{}, "", "rule %s does %s, so it needs a weight", d.ID, rule.Do)
		}
		return
	}
	w, err := strconv.ParseFloat(d.Weight.Value, 64)
	switch {
	case err != nil || math.Abs(w) > 1000 || math.IsNaN(w):
		r.fail(d, d.Weight, "a number from -1000 to 1000", "weight %q", d.Weight.Value)
	case !rule.Do.weighs():
		r.fail(d, d.Weight, "remove it", "a weight means nothing to a rule that does %s", rule.Do)
	case rule.Do == Prefer && w == 0:
		r.fail(d, d.Weight, "", "a weight of 0 prefers nothing")
	}
	rule.Weight = w
}

func keys[V any](m map[string]V) []string {
	list := make([]string, 0, len(m))
	for k := range m {
		list = append(list, k)
	}
	slices.Sort(list)
	return list
}

// texts returns list as strings.
func texts[S ~string](list []S) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = string(s)
	}
	return out
}

// Rules returns the rules in the order of the files.
func (b *Book[F]) Rules() []*Rule {
	list := make([]*Rule, len(b.rules))
	for i, e := range b.rules {
		list[i] = e.rule
	}
	return list
}

// Rule returns the rule with the id, or nil.
func (b *Book[F]) Rule(id string) *Rule {
	if e := b.byID[id]; e != nil {
		return e.rule
	}
	return nil
}

// Hidden returns the rules that an overlay hides.
func (b *Book[F]) Hidden() []*Rule { return slices.Clone(b.hidden) }

// Templates returns a maker of templates over the book's facts, with the
// verbs of its reasons.
func (b *Book[F]) Templates() *Templates[F] { return newTemplates[F](b.l, b.verbs) }

// Facts returns every fact that rules may read, in the order of the struct.
func (b *Book[F]) Facts() []schema.Fact { return slices.Clone(b.l.facts) }

// Gives returns the rules of an effect by what they give: for Step, the
// rules behind each step id.
func (b *Book[F]) Gives(do Effect) map[string][]*Rule {
	out := map[string][]*Rule{}
	for _, e := range b.rules {
		if e.rule.Do == do {
			out[e.rule.Give] = append(out[e.rule.Give], e.rule)
		}
	}
	return out
}

// Reads returns the paths of the facts that a rule of the book reads to
// decide whether it fires.
func (b *Book[F]) Reads(r *Rule) []string {
	e := b.byID[r.ID]
	if e == nil {
		return nil
	}
	return pathsOf(b.l.facts, e.when.reads(nil))
}

// borrow returns cells filled with f.
func (b *Book[F]) borrow(f F, known Known) *bound[F] {
	c := b.pool.Get().(*bound[F])
	c.facts, c.known = f, knownOf(b.l.facts, known)
	return c
}

// readings returns what a rule reads with its values. A rule is traced far
// less often than it is scored, so what to show is worked out at the first
// trace.
func (b *Book[F]) readings(c *cells, e *entry) []Reading {
	e.once.Do(func() { e.looks = b.l.looks(e.when, nil) })
	list := make([]Reading, len(e.looks))
	for i, at := range e.looks {
		list[i] = Reading{at.text, c.value(at.node), at.unit}
	}
	return list
}

// holds decides whether a rule fires. A refusal that meets a number that is
// not finite fires: what can't be computed is not offered.
func (c *cells) holds(e *entry) verdict {
	v := c.isTrue(e.when)
	if v == broken && e.rule.Do == Refuse {
		return yes
	}
	return v
}
