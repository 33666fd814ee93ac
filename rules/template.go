package rules

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"mallow/rules/schema"
)

// Verbs are the ways to print a number that templates may name, for example
// {layer.cut_mm:in}.
type Verbs map[string]func(float64) string

const (
	maxTemplateBytes = 4000
	maxDigits        = 6
)

// Template is text with expressions over the facts in braces: {head.mass_g},
// {head.mass_g/2:.1f}, {layer.cut_mm:in}. A number without a form after the
// colon is rounded sensibly; a truth reads yes or no. Doubled braces stand
// for one.
type Template[F any] struct {
	of   *Templates[F]
	form *form
}

// Templates makes templates over one sort of facts. It may be used by
// several goroutines at once.
type Templates[F any] struct {
	l     *language
	verbs Verbs
	pool  *sync.Pool // of *bound[F]
}

// NewTemplates returns a maker of templates. Hint is as in Options and may be
// nil.
func NewTemplates[F any](verbs Verbs, hint func(said string, among []string) string) (*Templates[F], error) {
	l, err := newLanguage[F](hint)
	if err != nil {
		return nil, err
	}
	return newTemplates[F](l, verbs), nil
}

func newTemplates[F any](l *language, verbs Verbs) *Templates[F] {
	return &Templates[F]{l, verbs, &sync.Pool{New: func() any { return bind[F](l.facts) }}}
}

// with calls do with the cells of f.
func (t *Templates[F]) with(f F, do func(*cells)) {
	b := t.pool.Get().(*bound[F])
	defer t.pool.Put(b)
	b.facts = f
	do(&b.cells)
}

// New parses text and type-checks its expressions against F. The error says
// what is wrong, and how many characters into the text.
func (t *Templates[F]) New(text string) (*Template[F], error) {
	form, err := t.l.parseForm(text, t.verbs)
	if err != nil {
		return nil, fmt.Errorf("character %d: %w", err.(*exprError).At+1, err)
	}
	return &Template[F]{t, form}, nil
}

// Number parses an expression and checks that it is a number, such as the
// minutes of a wait.
func (t *Templates[F]) Number(text string) (*Quantity[F], error) {
	n, err := t.l.compile(text)
	if err == nil && n.kind != schema.Number {
		err = &exprError{What: fmt.Sprintf("a number expected; this is a %s", n.kind)}
	}
	if err != nil {
		return nil, fmt.Errorf("character %d: %w", err.(*exprError).At+1, err)
	}
	return &Quantity[F]{t, n}, nil
}

// Quantity is a checked expression for a number.
type Quantity[F any] struct {
	of   *Templates[F]
	expr *node
}

// Of returns the number for f, and false when it has no finite value.
func (q *Quantity[F]) Of(f F) (x float64, ok bool) {
	q.of.with(f, func(c *cells) {
		n, v := c.numberOf(q.expr)
		x, ok = n, v == yes
	})
	return x, ok
}

// Fill returns the text with each expression replaced by its value. An
// expression without a finite value reads "?".
func (t *Template[F]) Fill(f F) (text string) {
	t.of.with(f, func(c *cells) { text = t.form.fill(c) })
	return text
}

// Blank is Fill with blank in place of every number, for a text that stands
// for several sets of facts.
func (t *Template[F]) Blank(f F, blank string) (text string) {
	t.of.with(f, func(c *cells) { text = t.form.write(c, func(part, float64) string { return blank }) })
	return text
}

// Reads returns the paths of the facts that the template reads.
func (t *Template[F]) Reads() []string { return pathsOf(t.of.l.facts, t.form.reads()) }

func pathsOf(facts []schema.Fact, list []int) []string {
	paths := make([]string, len(list))
	for i, f := range list {
		paths[i] = facts[f].Path
	}
	return paths
}

// form is a parsed template: text, then an expression, then text, …
type form struct {
	parts []part
	tail  string
}

type part struct {
	before string
	expr   *node
	spec   string               // how, as written
	print  func(float64) string // of numbers
}

// parseForm parses a template. Errors are of type *exprError.
func (l *language) parseForm(text string, verbs Verbs) (*form, error) {
	if len(text) > maxTemplateBytes {
		return nil, &exprError{What: fmt.Sprintf("a text of %d bytes", len(text)), Hint: fmt.Sprintf("at most %d", maxTemplateBytes)}
	}
	out := new(form)
	var before strings.Builder
	for i := 0; i < len(text); {
		c := text[i]
		doubled := i+1 < len(text) && text[i+1] == c
		switch {
		case c != '{' && c != '}':
			before.WriteByte(c)
			i++
		case doubled:
			before.WriteByte(c)
			i += 2
		case c == '}':
			return nil, &exprError{At: utf8.RuneCountInString(text[:i]), What: "a } without its {", Hint: "}} stands for one brace"}
		default:
			at := utf8.RuneCountInString(text[:i+1])
			body, spec, n := cutField(text[i+1:])
			if n < 0 {
				return nil, &exprError{At: at - 1, What: "a { without its }", Hint: "{{ stands for one brace"}
			}
			p, err := l.part(body, spec, verbs)
			if err != nil {
				err.At += at
				return nil, err
			}
			p.before = before.String()
			before.Reset()
			out.parts = append(out.parts, p)
			i += 1 + n
		}
	}
	out.tail = before.String()
	return out, nil
}

// cutField splits what follows a { into the expression, what stands after
// its colon, and the length including the }, which is negative when there is
// none. A colon that belongs to ?: is part of the expression.
func cutField(s string) (body, spec string, n int) {
	quote, choices, colon := byte(0), 0, -1
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch {
		case quote != 0:
			if c == '\\' {
				i++
			} else if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'' || c == '`':
			quote = c
		case c == '?':
			choices++
		case c == ':' && choices > 0:
			choices--
		case c == ':' && colon < 0:
			colon = i
		case c == '}':
			if colon < 0 {
				return s[:i], "", i + 1
			}
			return s[:colon], s[colon+1 : i], i + 1
		}
	}
	return "", "", -1
}

func (l *language) part(body, spec string, verbs Verbs) (part, *exprError) {
	n, err := l.compile(body)
	if err != nil {
		return part{}, err.(*exprError)
	}
	p := part{expr: n, spec: spec, print: verbs.printer(spec)}
	if spec == "" {
		return p, nil
	}
	wrong := &exprError{At: utf8.RuneCountInString(body) + 1, What: fmt.Sprintf("unknown form %q", spec)}
	if p.print == nil {
		words := slices.Sorted(maps.Keys(verbs))
		if wrong.Hint = l.hint(spec, words); wrong.Hint == "" {
			wrong.Hint = strings.Join(append(words, ".1f"), ", ")
		}
		return part{}, wrong
	}
	if n.kind != schema.Number {
		return part{}, &exprError{At: wrong.At, What: fmt.Sprintf("form %q is for numbers; this is a %s", spec, n.kind)}
	}
	return p, nil
}

// printer returns what prints numbers in a form, nil when there is none such.
func (v Verbs) printer(spec string) func(float64) string {
	if spec == "" {
		return sensible
	}
	if base, ok := strings.CutSuffix(spec, "?"); ok { // nothing for 0
		print := v.printer(base)
		if print == nil {
			return nil
		}
		return func(x float64) string {
			if x == 0 {
				return ""
			}
			return print(x)
		}
	}
	if verb, ok := v[spec]; ok {
		return verb
	}
	if digits, ok := fixed(spec); ok {
		return func(x float64) string { return strconv.FormatFloat(x, 'f', digits, 64) }
	}
	return nil
}

// fixed reads ".1f" as 1.
func fixed(spec string) (digits int, ok bool) {
	s, dot := strings.CutPrefix(spec, ".")
	s, f := strings.CutSuffix(s, "f")
	digits, err := strconv.Atoi(s)
	return digits, dot && f && err == nil && digits >= 0 && digits <= maxDigits
}

func (f *form) fill(c *cells) string {
	return f.write(c, func(p part, v float64) string { return p.print(v) })
}

// write fills the form, its numbers as number has them.
func (f *form) write(c *cells, number func(part, float64) string) string {
	var b strings.Builder
	for _, p := range f.parts {
		b.WriteString(p.before)
		switch v := c.value(p.expr).(type) {
		case nil:
			b.WriteByte('?')
		case float64:
			b.WriteString(number(p, v))
		default:
			b.WriteString(plain(v))
		}
	}
	b.WriteString(f.tail)
	return b.String()
}

// whole reports whether every expression of f has a value.
func (f *form) whole(c *cells) bool {
	for _, p := range f.parts {
		if c.value(p.expr) == nil {
			return false
		}
	}
	return true
}

func (f *form) reads() []int {
	var list []int
	for _, p := range f.parts {
		list = p.expr.reads(list)
	}
	return list
}

// String prints a value as people write it.
func (r Reading) String() string {
	if r.Value == nil {
		return r.Expr + " is not known"
	}
	s := plain(r.Value)
	if r.Unit != "" {
		s += " " + r.Unit
	}
	return r.Expr + " = " + s
}

// plain prints a value with no more digits than a maker can use.
func plain(v any) string {
	switch v := v.(type) {
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case float64:
		return sensible(v)
	}
	return fmt.Sprint(v)
}

// sensible rounds to three significant digits, or to a whole number above
// 100, and drops trailing zeros.
func sensible(x float64) string {
	digits := 0
	switch a := math.Abs(x); {
	case a >= 100 || a == 0:
	case a >= 10:
		digits = 1
	case a >= 1:
		digits = 2
	default:
		digits = min(2-int(math.Floor(math.Log10(a))), 12)
	}
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
