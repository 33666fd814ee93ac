package rulebench

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"
	"github.com/google/cel-go/cel"
	gruleast "github.com/hyperjumptech/grule-rule-engine/ast"
	"github.com/hyperjumptech/grule-rule-engine/builder"
	"github.com/hyperjumptech/grule-rule-engine/engine"
	"github.com/hyperjumptech/grule-rule-engine/pkg"

	"mallow/knowledge/yamlfile"
	"mallow/rules"
	"mallow/rules/facts"
)

// shipped returns the rules of the book.
func shipped(tb testing.TB) (*rules.Book[facts.Facts], []*rules.Rule) {
	tb.Helper()
	book, err := facts.Book()
	if err != nil {
		tb.Fatal(err)
	}
	return book, book.Rules()
}

// heads are sets of facts to put to the rules, drawn so that rules fire often
// enough for the engines to be told apart.
func heads(book *rules.Book[facts.Facts]) []facts.Facts {
	rng := rand.New(rand.NewPCG(1, 1))
	list := make([]facts.Facts, 64)
	for i := range list {
		list[i] = book.Draw(rng)
	}
	return list
}

// matcher answers, for each set of facts it was made with, which rules hold.
type matcher interface {
	// match evaluates every rule on facts i and returns how many hold.
	match(i int) int
	// matched returns the indices of the rules that hold on facts i.
	matched(i int) []int
}

// ours scores the whole book: each rule is made a preference, so that the
// scorer evaluates it.
type ours struct {
	scorer *rules.Scorer[facts.Facts]
	each   []*rules.Scorer[facts.Facts]
	heads  []facts.Facts
}

func asPreferences(list []*rules.Rule) []yamlfile.Source {
	var b strings.Builder
	b.WriteString("rules:\n")
	for i, r := range list {
		fmt.Fprintf(&b, "  - {id: r%d, title: t, on: layer, when: %q, do: prefer, weight: 1, reason: r, source: s, fires: [{layer.index: 1}], quiet: [{layer.index: 1}]}\n", i, r.When)
	}
	return []yamlfile.Source{{Name: "preferences.yaml", Data: []byte(b.String())}}
}

func newOurs(tb testing.TB, list []*rules.Rule, heads []facts.Facts) matcher {
	load := func(list []*rules.Rule) *rules.Scorer[facts.Facts] {
		book, err := rules.Load[facts.Facts](rules.Options{On: facts.On()}, asPreferences(list)...)
		if err != nil {
			tb.Fatal(err)
		}
		return book.Scorer("layer", nil)
	}
	m := &ours{scorer: load(list), heads: heads}
	for _, r := range list {
		m.each = append(m.each, load([]*rules.Rule{r}))
	}
	return m
}

func (m *ours) match(i int) int {
	score, _ := m.scorer.Score(&m.heads[i])
	return int(score)
}

func (m *ours) matched(i int) (list []int) {
	for j, s := range m.each {
		if score, _ := s.Score(&m.heads[i]); score > 0 {
			list = append(list, j)
		}
	}
	return list
}

// exprVM runs the book on the machine of package expr, on facts boxed once.
type exprVM struct {
	tb       testing.TB
	programs []*vm.Program
	machine  vm.VM
	heads    []any
}

func newExpr(tb testing.TB, list []*rules.Rule, heads []facts.Facts) matcher {
	m := &exprVM{tb: tb}
	for _, r := range list {
		p, err := expr.Compile(r.When, expr.Env(facts.Facts{}), expr.AsBool())
		if err != nil {
			tb.Fatal(err)
		}
		m.programs = append(m.programs, p)
	}
	for _, h := range heads {
		m.heads = append(m.heads, h)
	}
	return m
}

func (m *exprVM) match(i int) (n int) {
	for _, p := range m.programs {
		v, err := m.machine.Run(p, m.heads[i])
		if err != nil {
			m.tb.Fatal(err)
		}
		if v.(bool) {
			n++
		}
	}
	return n
}

func (m *exprVM) matched(i int) (list []int) {
	for j, p := range m.programs {
		if v, err := m.machine.Run(p, m.heads[i]); err == nil && v.(bool) {
			list = append(list, j)
		}
	}
	return list
}

// celPrograms runs the book in the Common Expression Language, with each fact
// a variable of its own, which is quicker there than structs.
type celPrograms struct {
	tb       testing.TB
	programs []cel.Program
	heads    []map[string]any
}

func newCEL(tb testing.TB, list []*rules.Rule, heads []facts.Facts) matcher {
	m := &celPrograms{tb: tb}
	var options []cel.EnvOption
	fields(reflect.ValueOf(facts.Facts{}), "", "", func(path, _ string, leaf any) {
		kind := cel.DoubleType
		switch leaf.(type) {
		case string:
			kind = cel.StringType
		case bool:
			kind = cel.BoolType
		}
		options = append(options, cel.Variable(path, kind))
	})
	env, err := cel.NewEnv(options...)
	if err != nil {
		tb.Fatal(err)
	}
	d := dialect{"&&", "||", "!", func(path string) string { return path }, true}
	for _, r := range list {
		text, err := d.translate(r.When)
		if err != nil {
			tb.Fatal(err)
		}
		checked, issues := env.Compile(text)
		if issues.Err() != nil {
			tb.Fatal(text, issues.Err())
		}
		p, err := env.Program(checked, cel.EvalOptions(cel.OptOptimize))
		if err != nil {
			tb.Fatal(err)
		}
		m.programs = append(m.programs, p)
	}
	for _, h := range heads {
		vars := map[string]any{}
		fields(reflect.ValueOf(h), "", "", func(path, _ string, leaf any) { vars[path] = leaf })
		m.heads = append(m.heads, vars)
	}
	return m
}

func (m *celPrograms) match(i int) (n int) {
	for _, p := range m.programs {
		v, _, err := p.Eval(m.heads[i])
		if err != nil {
			m.tb.Fatal(err)
		}
		if v.Value().(bool) {
			n++
		}
	}
	return n
}

func (m *celPrograms) matched(i int) (list []int) {
	for j, p := range m.programs {
		if v, _, err := p.Eval(m.heads[i]); err == nil && v.Value().(bool) {
			list = append(list, j)
		}
	}
	return list
}

// rete runs the book in a Rete-style engine, matching only.
type rete struct {
	tb     testing.TB
	engine *engine.GruleEngine
	base   *gruleast.KnowledgeBase
	heads  []facts.Facts
}

func newRete(tb testing.TB, list []*rules.Rule, heads []facts.Facts) matcher {
	names := map[string]string{}
	fields(reflect.ValueOf(facts.Facts{}), "", "", func(path, name string, _ any) { names[path] = "F." + name })
	d := dialect{"&&", "||", "!", func(path string) string { return names[path] }, false}
	var b strings.Builder
	for i, r := range list {
		text, err := d.translate(r.When)
		if err != nil {
			tb.Fatal(err)
		}
		fmt.Fprintf(&b, "rule r%d \"%s\" { when %s then Retract(\"r%d\"); }\n", i, r.ID, text, i)
	}
	library := gruleast.NewKnowledgeLibrary()
	if err := builder.NewRuleBuilder(library).BuildRuleFromResource("book", "1", pkg.NewBytesResource([]byte(b.String()))); err != nil {
		tb.Fatal(err)
	}
	base, err := library.NewKnowledgeBaseInstance("book", "1")
	if err != nil {
		tb.Fatal(err)
	}
	return &rete{tb, engine.NewGruleEngine(), base, heads}
}

func (m *rete) fetch(i int) []*gruleast.RuleEntry {
	ctx := gruleast.NewDataContext()
	if err := ctx.Add("F", &m.heads[i]); err != nil {
		m.tb.Fatal(err)
	}
	entries, err := m.engine.FetchMatchingRules(ctx, m.base)
	if err != nil {
		m.tb.Fatal(err)
	}
	return entries
}

func (m *rete) match(i int) int { return len(m.fetch(i)) }

func (m *rete) matched(i int) (list []int) {
	for _, e := range m.fetch(i) {
		var j int
		fmt.Sscanf(e.RuleName, "r%d", &j)
		list = append(list, j)
	}
	slices.Sort(list)
	return list
}

var engines = []struct {
	name string
	make func(testing.TB, []*rules.Rule, []facts.Facts) matcher
}{
	{"mallow", newOurs},
	{"expr", newExpr},
	{"cel", newCEL},
	{"rete", newRete},
}

// TestSameAnswers: the engines agree on which rules hold, so that they are
// timed at the same work.
func TestSameAnswers(t *testing.T) {
	book, list := shipped(t)
	heads := heads(book)
	want := newOurs(t, list, heads)
	for _, e := range engines[1:] {
		m := e.make(t, list, heads)
		for i := range heads {
			if got, want := m.matched(i), want.matched(i); !slices.Equal(got, want) {
				for j, r := range list {
					if slices.Contains(got, j) != slices.Contains(want, j) {
						t.Errorf("%s: rule %s on facts %d: %v, and mallow says %v", e.name, r.ID, i, slices.Contains(got, j), slices.Contains(want, j))
					}
				}
			}
		}
	}
	for i := range heads {
		if n := want.match(i); n != len(want.matched(i)) || n == 0 {
			t.Errorf("on facts %d the whole book scores %d, its rules alone %d", i, n, len(want.matched(i)))
		}
	}
}

// BenchmarkMatch is the whole book put to one head.
func BenchmarkMatch(b *testing.B) {
	book, list := shipped(b)
	heads := heads(book)
	for _, e := range engines {
		b.Run("engine="+e.name, func(b *testing.B) {
			m := e.make(b, list, heads)
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				m.match(i % len(heads))
				i++
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(list)), "ns/rule")
		})
	}
}
