package rules

// What is here, and nothing else of this package, hangs on how expr is set up,
// what its checker takes, and what its messages say in English: after an
// upgrade of expr, TestLanguage tells what changed.

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/checker"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"

	"mallow/rules/schema"
)

const (
	maxExprBytes = 2000
	maxExprNodes = 200
)

// language is what expressions over one fact struct may say.
type language struct {
	facts     []schema.Fact
	byPath    map[string]int
	operators []operator
	mu        sync.Mutex   // guards config, in which expr caches types
	config    *conf.Config // nil until something is compiled
	setUp     func() *conf.Config
	hint      func(said string, among []string) string
}

func newLanguage[F any](hint func(string, []string) string) (*language, error) {
	facts, err := schema.Of(reflect.TypeFor[F]())
	if err != nil {
		return nil, err
	}
	l := &language{setUp: setUp[F], facts: facts, byPath: make(map[string]int, len(facts)), operators: operators(), hint: hint}
	for i, f := range facts {
		l.byPath[f.Path] = i
	}
	if l.hint == nil {
		l.hint = func(string, []string) string { return "" }
	}
	return l, nil
}

// setUp configures expr, which takes as long as compiling thirty rules.
func setUp[F any]() *conf.Config {
	config := conf.CreateNew()
	options := []expr.Option{expr.Env(*new(F)), expr.DisableAllBuiltins(), expr.MaxNodes(maxExprNodes)}
	for _, name := range functions() {
		options = append(options, expr.EnableBuiltin(name))
	}
	for _, option := range options {
		option(config)
	}
	for name := range config.Disabled {
		delete(config.Builtins, name)
	}
	return config
}

// paths returns the path of every fact.
func (l *language) paths() []string {
	paths := make([]string, len(l.facts))
	for i, f := range l.facts {
		paths[i] = f.Path
	}
	return paths
}

// exprError is what is wrong in an expression, At runes from its start.
type exprError struct {
	At   int
	What string
	Hint string
}

func (e *exprError) Error() string { return withHint(e.What, e.Hint) }

func withHint(what, hint string) string {
	if hint == "" {
		return what
	}
	return what + " (" + hint + ")"
}

// compile parses and checks src. Errors are of type *exprError.
func (l *language) compile(src string) (*node, error) {
	if len(src) > maxExprBytes {
		return nil, &exprError{What: fmt.Sprintf("an expression of %d bytes", len(src)), Hint: fmt.Sprintf("at most %d", maxExprBytes)}
	}
	if strings.TrimSpace(src) == "" {
		return nil, &exprError{What: "an empty expression"}
	}
	l.mu.Lock()
	if l.config == nil {
		l.config = l.setUp()
	}
	tree, err := checker.ParseCheck(src, l.config)
	l.mu.Unlock()
	if tree != nil && tree.Node != nil {
		// An unknown fact is reported here rather than by expr, whose
		// message does not know what was meant.
		if e := l.unknownFact(tree.Node); e != nil {
			return nil, e
		}
	}
	if err != nil {
		var e *file.Error
		if errors.As(err, &e) {
			what, hint := inOurWords(e.Message)
			return nil, &exprError{e.From, what, hint}
		}
		return nil, &exprError{What: err.Error()}
	}
	return l.build(tree.Node)
}

// inOurWords says what expr's message means to someone who writes rules.
func inOurWords(message string) (what, hint string) {
	kinds := strings.NewReplacer("float64", string(schema.Number), "int", string(schema.Number), "string", string(schema.Text), "bool", string(schema.Truth))
	if at, types, ok := strings.Cut(message, " (mismatched types "); ok {
		return strings.Replace(at, "invalid operation: ", "", 1) + " between a " + strings.Replace(kinds.Replace(strings.TrimSuffix(types, ")")), " and ", " and a ", 1), ""
	}
	if strings.HasPrefix(message, "non-bool expression ") {
		return "what stands before ? is yes or no", ""
	}
	token, ok := strings.CutPrefix(message, "unexpected token ")
	switch {
	case !ok:
		return message, ""
	case token == "EOF":
		return "it stops too early", ""
	case token == `Operator("=")`:
		return message, "compare with ==, <= or >="
	case token == `Operator("&")` || token == `Identifier("AND")` || token == `Identifier("OR")`:
		return message, "write and, or"
	case strings.HasPrefix(token, "Identifier("):
		return message, "numbers stand without a unit, words in quotes"
	}
	return message, ""
}

// pathOf returns the dotted path that n spells, or "" when it spells none.
func pathOf(n ast.Node) string {
	switch n := n.(type) {
	case *ast.IdentifierNode:
		return n.Value
	case *ast.MemberNode:
		key, ok := n.Property.(*ast.StringNode)
		if base := pathOf(n.Node); ok && base != "" && !n.Optional {
			return base + "." + key.Value
		}
	}
	return ""
}

// unknownFact returns an error for the first path in n that is no fact.
func (l *language) unknownFact(n ast.Node) *exprError {
	find := &pathFinder{language: l}
	ast.Walk(&n, find)
	return find.err
}

type pathFinder struct {
	*language
	err *exprError
}

// Visit is called bottom-up: head comes before head.mass_g.
func (f *pathFinder) Visit(n *ast.Node) {
	if call, ok := (*n).(*ast.CallNode); ok && f.err != nil && f.err.At == call.Callee.Location().From {
		f.err.What, f.err.Hint = fmt.Sprintf("no function %q", pathOf(call.Callee)), "there are "+strings.Join(functions(), ", ")
		return
	}
	path := pathOf(*n)
	if path == "" || f.err != nil {
		return
	}
	if _, ok := f.byPath[path]; ok {
		return
	}
	group := path + "."
	for _, known := range f.facts {
		if strings.HasPrefix(known.Path, group) {
			return
		}
	}
	base, among := *n, f.paths()
	if _, ok := base.(*ast.IdentifierNode); ok {
		among = f.groups()
	}
	for {
		m, ok := base.(*ast.MemberNode)
		if !ok {
			break
		}
		base = m.Node
	}
	hint := f.hint(path, among)
	if slices.ContainsFunc(f.facts, func(x schema.Fact) bool { return slices.Contains(x.OneOf, path) }) {
		hint = fmt.Sprintf("a word stands in quotes, %q", path)
	}
	f.err = &exprError{At: base.Location().From, What: fmt.Sprintf("unknown fact %q", path), Hint: hint}
}

// groups returns the first parts of the paths.
func (l *language) groups() []string {
	var groups []string
	for _, f := range l.facts {
		if g, _, _ := strings.Cut(f.Path, "."); !slices.Contains(groups, g) {
			groups = append(groups, g)
		}
	}
	return groups
}
