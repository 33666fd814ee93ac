package rules

import (
	"errors"
	"reflect"
	"sync"

	"mallow/knowledge/packed"
	"mallow/rules/schema"
)

// Pack writes the book, compiled, so that Unpack reads it without expr.
func (b *Book[F]) Pack(w *packed.Writer) {
	w.Uint(uint64(len(b.rules)))
	for _, e := range b.rules {
		r := e.rule
		for _, s := range []string{r.ID, r.Title, r.On, r.When, string(r.Do), r.Give, r.Reason, r.Change, r.Source, r.File} {
			w.Text(s)
		}
		w.Float(r.Weight)
		w.Bool(r.Safety)
		w.Int(r.Line)
		b.l.packExamples(w, r.Fires)
		b.l.packExamples(w, r.Quiet)
		b.l.packNode(w, e.when)
		b.l.packForm(w, e.reason)
		w.Bool(e.change != nil)
		if e.change != nil {
			b.l.packForm(w, e.change)
		}
	}
}

// Unpack reads a book that Pack wrote, over the same facts.
func Unpack[F any](opts Options, r *packed.Reader) (*Book[F], error) {
	l, err := newLanguage[F](opts.Hint)
	if err != nil {
		return nil, err
	}
	n := r.Count()
	b := &Book[F]{l: l, verbs: opts.Verbs, rules: make([]*entry, n), byID: make(map[string]*entry, n)}
	b.terms = sync.OnceValue(b.gather)
	b.pool.New = func() any { return bind[F](l.facts) }
	u := unpacker{Reader: r, language: l, verbs: opts.Verbs}
	for i := range b.rules {
		e := u.entry()
		b.rules[i], b.byID[e.rule.ID] = e, e
	}
	if u.odd {
		return nil, errors.New("packed rules: out of order")
	}
	return b, r.Err()
}

// Layout adds to a key what packed rules over F hang on besides the files: the
// facts, the operators and the verbs.
func Layout[F any](k packed.Key, verbs Verbs) {
	k.Type(reflect.TypeFor[F]())
	facts, _ := schema.Of(reflect.TypeFor[F]())
	for _, f := range facts {
		k.Text(f.Path)
	}
	for _, o := range operators() {
		k.Text(o.name)
	}
	for _, name := range keys(verbs) {
		k.Text(name)
	}
	k.Text(string(rune(opInText))) // one more kind of node, another layout
}

func (l *language) packExamples(w *packed.Writer, list []Example) {
	w.Uint(uint64(len(list)))
	for _, x := range list {
		w.Int(x.Line)
		w.Uint(uint64(len(x.Facts)))
		for _, g := range x.Facts {
			w.Uint(uint64(l.byPath[g.Path]))
			switch v := g.Value.(type) {
			case float64:
				w.Float(v)
			case string:
				w.Text(v)
			case bool:
				w.Bool(v)
			}
		}
	}
}

func (l *language) packNode(w *packed.Writer, n *node) {
	w.Uint(uint64(n.op))
	w.Text(string(n.kind))
	w.Text(n.src)
	switch n.op {
	case opNumber:
		w.Float(n.num)
	case opText:
		w.Text(n.text)
	case opTruth:
		w.Bool(n.truth)
	case opFact:
		w.Uint(uint64(n.fact))
	case opNot:
		w.Bool(n.not)
	case opReckon, opCompare:
		for i := range l.operators {
			if &l.operators[i] == n.by {
				w.Uint(uint64(i))
			}
		}
	case opInNum:
		w.Uint(uint64(len(n.nums)))
		for _, x := range n.nums {
			w.Float(x)
		}
	case opInText:
		w.Uint(uint64(len(n.texts)))
		for _, s := range n.texts {
			w.Text(s)
		}
	}
	w.Uint(uint64(len(n.kids)))
	for _, k := range n.kids {
		l.packNode(w, k)
	}
}

func (l *language) packForm(w *packed.Writer, f *form) {
	w.Uint(uint64(len(f.parts)))
	for _, p := range f.parts {
		w.Text(p.before)
		w.Text(p.spec)
		l.packNode(w, p.expr)
	}
	w.Text(f.tail)
}

// unpacker reads what Pack wrote.
type unpacker struct {
	*packed.Reader
	*language
	verbs Verbs
	odd   bool // something that can't be was read
}

func (u *unpacker) entry() *entry {
	r := &Rule{ID: u.Text(), Title: u.Text(), On: u.Text(), When: u.Text(), Do: Effect(u.Text()), Give: u.Text(), Reason: u.Text(),
		Change: u.Text(), Source: u.Text(), File: u.Text(), Weight: u.Float(), Safety: u.Bool(), Line: u.Int(), Fires: u.examples(), Quiet: u.examples()}
	e := &entry{rule: r, when: u.node(), reason: u.form()}
	if u.Bool() {
		e.change = u.form()
	}
	return e
}

func (u *unpacker) examples() []Example {
	list := make([]Example, u.Count())
	for i := range list {
		list[i].Line = u.Int()
		list[i].Facts = make(Given, u.Count())
		for j := range list[i].Facts {
			at := u.fact()
			g := &list[i].Facts[j]
			g.Path = u.facts[at].Path
			switch u.facts[at].Kind {
			case schema.Number:
				g.Value = u.Float()
			case schema.Text:
				g.Value = u.Reader.Text()
			default:
				g.Value = u.Bool()
			}
		}
	}
	return list
}

// fact reads the place of a fact.
func (u *unpacker) fact() int {
	i := u.Uint()
	if i >= uint64(len(u.facts)) {
		u.odd = true
		return 0
	}
	return int(i)
}

func (u *unpacker) node() *node {
	n := &node{op: op(u.Uint()), kind: schema.Kind(u.Text()), src: u.Text()}
	switch n.op {
	case opNumber:
		n.num = u.Float()
	case opText:
		n.text = u.Text()
	case opTruth:
		n.truth = u.Bool()
	case opFact:
		n.fact = u.fact()
	case opNot:
		n.not = u.Bool()
	case opReckon, opCompare:
		i := u.Uint()
		if i >= uint64(len(u.operators)) {
			u.odd, i = true, 0
		}
		n.by = &u.operators[i]
	case opInNum:
		n.nums = make([]float64, u.Count())
		for i := range n.nums {
			n.nums[i] = u.Float()
		}
	case opInText:
		n.texts = make([]string, u.Count())
		for i := range n.texts {
			n.texts[i] = u.Text()
		}
	}
	if count := u.Count(); count > 0 && !u.odd {
		n.kids = make([]*node, count)
		for i := range n.kids {
			n.kids[i] = u.node()
		}
	}
	return n
}

func (u *unpacker) form() *form {
	f := &form{}
	if count := u.Count(); count > 0 {
		f.parts = make([]part, count)
	}
	for i := range f.parts {
		p := part{before: u.Text(), spec: u.Text(), expr: u.node()}
		if p.print = u.verbs.printer(p.spec); p.print == nil {
			u.odd = true
		}
		f.parts[i] = p
	}
	f.tail = u.Text()
	return f
}
