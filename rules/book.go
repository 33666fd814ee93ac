package rules

import (
	"embed"
	"fmt"
	"io/fs"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed book/*.yaml
var shipped embed.FS

// Files returns the shipped rules, one YAML file per concern.
func Files() fs.FS {
	sub, err := fs.Sub(shipped, "book")
	if err != nil {
		return shipped // can't be: the pattern above names the folder
	}
	return sub
}

// Sources reads the YAML files at the top of fsys, by name. Messages call them
// by dir and name.
func Sources(fsys fs.FS, dir string) ([]Source, error) {
	names, err := fs.Glob(fsys, "*.yaml")
	if err != nil {
		return nil, err
	}
	list := make([]Source, 0, len(names))
	for _, name := range names {
		data, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, err
		}
		list = append(list, Source{path.Join(dir, name), data})
	}
	return list, nil
}

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
// hide the rules of those before it. The error is of type Problems when
// something is wrong in the files: it lists everything.
func Load[F any](opts Options, files ...Source) (*Book[F], error) {
	l, err := newLanguage[F](opts.Hint)
	if err != nil {
		return nil, err
	}
	r := &reader{byID: map[string]*draft{}, hint: l.hint}
	r.read(files)
	b := &Book[F]{l: l, verbs: opts.Verbs, byID: map[string]*entry{}}
	b.terms = sync.OnceValue(b.gather)
	b.pool.New = func() any { return bind[F](l.facts) }
	for _, d := range r.drafts {
		e := r.compile(l, opts, d)
		if d.hide {
			b.hidden = append(b.hidden, e.rule)
			continue
		}
		b.rules = append(b.rules, e)
		b.byID[e.rule.ID] = e
	}
	if len(r.problems) > 0 {
		r.problems.sort()
		return nil, r.problems
	}
	return b, nil
}

// compile turns a draft into an entry and reports what is wrong with it.
func (r *reader) compile(l *language, opts Options, d *draft) *entry {
	rule := &d.rule
	rule.Title = r.required(d, "title")
	rule.On = r.required(d, "on")
	rule.When = r.required(d, "when")
	rule.Do = Effect(r.required(d, "do"))
	rule.Give = d.texts["give"].text
	rule.Reason = r.required(d, "reason")
	rule.Change = d.texts["change"].text
	rule.Source = r.required(d, "source")
	e := &entry{rule: rule}

	groups, onOK := opts.On[rule.On]
	if !onOK && rule.On != "" {
		r.word(d.texts["on"], "on", keys(opts.On))
	}
	if !slices.Contains(effects(), rule.Do) && rule.Do != "" {
		r.word(d.texts["do"], "do", words(effects()))
	}
	if rule.Do.gives() != (rule.Give != "") {
		if rule.Give == "" {
			r.problemf(d.at, "", "rule %s does %s, so it needs give", rule.ID, rule.Do)
		} else {
			r.problemf(d.texts["give"].mark, "remove it", "give means nothing to a rule that does %s", rule.Do)
		}
	}
	r.weight(d)
	for _, field := range []string{"when", "reason", "change"} {
		s, ok := d.texts[field]
		if !ok || s.text == "" {
			continue
		}
		var reads []int
		var err error
		switch field {
		case "when":
			if e.when, err = l.compile(s.text); err == nil {
				if e.when.kind != Truth {
					err = &exprError{What: fmt.Sprintf("when is yes or no; this is a %s", e.when.kind)}
				}
				reads = e.when.reads(nil)
				if len(reads) == 0 {
					err = &exprError{What: "when reads no fact, so it always says the same"}
				}
			}
		case "reason":
			if e.reason, err = l.parseForm(s.text, opts.Verbs); err == nil {
				reads = e.reason.reads()
			}
		case "change":
			if e.change, err = l.parseForm(s.text, opts.Verbs); err == nil {
				reads = e.change.reads()
			}
		}
		if err != nil {
			x := err.(*exprError)
			r.problem(s.mark, x.At, fmt.Sprintf("%s of rule %s: %s", field, rule.ID, x.What), x.Hint)
			continue
		}
		for _, i := range reads {
			group, _, _ := strings.Cut(l.facts[i].Path, ".")
			if onOK && !slices.Contains(groups, group) {
				r.problemf(s.mark, fmt.Sprintf("it may read %s", strings.Join(groups, ", ")),
					"%s of rule %s: a rule on %s can't read %s", field, rule.ID, rule.On, l.facts[i].Path)
			}
		}
	}
	for _, s := range d.fires {
		rule.Fires = append(rule.Fires, r.example(l, s))
	}
	for _, s := range d.quiet {
		rule.Quiet = append(rule.Quiet, r.example(l, s))
	}
	if len(d.fires) == 0 || len(d.quiet) == 0 {
		r.problemf(d.at, "", "rule %s needs an example under fires and one under quiet", rule.ID)
	}
	return e
}

func (r *reader) required(d *draft, field string) string {
	s := d.texts[field]
	if strings.TrimSpace(s.text) == "" {
		r.problemf(d.at, "", "rule %s has no %s", d.rule.ID, field)
	}
	return s.text
}

func (r *reader) word(s scalar, field string, among []string) {
	hint := r.hint(s.text, among)
	if hint == "" {
		hint = "one of " + strings.Join(among, ", ")
	}
	r.problemf(s.mark, hint, "%s can't be %q", field, s.text)
}

func (r *reader) weight(d *draft) {
	s, given := d.texts["weight"]
	if !given {
		if d.rule.Do.weighs() {
			r.problemf(d.at, "", "rule %s does %s, so it needs a weight", d.rule.ID, d.rule.Do)
		}
		return
	}
	w, err := strconv.ParseFloat(s.text, 64)
	switch {
	case err != nil || math.Abs(w) > 1000 || math.IsNaN(w):
		r.problemf(s.mark, "a number from -1000 to 1000", "weight %q", s.text)
	case !d.rule.Do.weighs():
		r.problemf(s.mark, "remove it", "a weight means nothing to a rule that does %s", d.rule.Do)
	case d.rule.Do == Prefer && w == 0:
		r.problemf(s.mark, "", "a weight of 0 prefers nothing")
	}
	d.rule.Weight = w
}

func keys[V any](m map[string]V) []string {
	list := make([]string, 0, len(m))
	for k := range m {
		list = append(list, k)
	}
	slices.Sort(list)
	return list
}

func words[S ~string](list []S) []string {
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
func (b *Book[F]) Templates() *Templates[F] { return &Templates[F]{b.l, b.verbs} }

// Facts returns every fact that rules may read, in the order of the struct.
func (b *Book[F]) Facts() []Fact { return slices.Clone(b.l.facts) }

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
