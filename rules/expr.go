package rules

import (
	"cmp"
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
)

const (
	maxExprBytes = 2000
	maxExprNodes = 200
)

// language is what expressions over one fact struct may say.
type language struct {
	facts  []Fact
	byPath map[string]int
	mu     sync.Mutex // guards config, in which expr caches types
	config *conf.Config
	hint   func(said string, among []string) string
}

func newLanguage[F any](hint func(string, []string) string) (*language, error) {
	facts, err := factsOf(reflect.TypeFor[F]())
	if err != nil {
		return nil, err
	}
	l := &language{facts: facts, byPath: make(map[string]int, len(facts)), hint: hint}
	for i, f := range facts {
		l.byPath[f.Path] = i
	}
	if l.hint == nil {
		l.hint = func(string, []string) string { return "" }
	}
	l.config = conf.CreateNew()
	options := []expr.Option{expr.Env(*new(F)), expr.DisableAllBuiltins(), expr.MaxNodes(maxExprNodes)}
	for _, name := range functions() {
		options = append(options, expr.EnableBuiltin(name))
	}
	for _, option := range options {
		option(l.config)
	}
	for name := range l.config.Disabled {
		delete(l.config.Builtins, name)
	}
	return l, nil
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
	kinds := strings.NewReplacer("float64", string(Number), "int", string(Number), "string", string(Text), "bool", string(Truth))
	if at, types, ok := strings.Cut(message, " (mismatched types "); ok {
		return strings.Replace(at, "invalid operation: ", "", 1) + " between a " + strings.Replace(kinds.Replace(strings.TrimSuffix(types, ")")), " and ", " and a ", 1), ""
	}
	token, ok := strings.CutPrefix(message, "unexpected token ")
	switch {
	case !ok:
		return message, ""
	case token == "EOF":
		return "it stops too early", ""
	case token == `Operator("=")`:
		return message, "compare with ==, <= or >="
	case token == `Operator("&")` || token == `Operator("|")` || token == `Identifier("AND")` || token == `Identifier("OR")`:
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
	if slices.ContainsFunc(f.facts, func(x Fact) bool { return slices.Contains(x.OneOf, path) }) {
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

type op uint8

const (
	opNumber op = iota // a constant
	opText
	opTruth
	opFact
	opNeg
	opAdd
	opSub
	opMul
	opDiv
	opPow
	opAbs
	opMin
	opMax
	opRound
	opFloor
	opCeil
	opInt    // towards zero
	opString // a number as text
	opJoin   // two texts
	opIf     // kids: condition, then, else
	opNot
	opAnd
	opOr
	opLess
	opLessEq
	opMore
	opMoreEq
	opEqNum
	opEqText
	opEqTruth
	opInNum
	opInText
)

// functions names the builtins of expr that rules may call.
func functions() []string {
	return []string{"abs", "min", "max", "round", "floor", "ceil", "int", "string"}
}

func functionOp(name string) (op, bool) {
	switch name {
	case "abs":
		return opAbs, true
	case "min":
		return opMin, true
	case "max":
		return opMax, true
	case "round":
		return opRound, true
	case "floor":
		return opFloor, true
	case "ceil":
		return opCeil, true
	case "int":
		return opInt, true
	case "string":
		return opString, true
	}
	return 0, false
}

// binaryOp returns the operation of two numbers or truths that symbol stands
// for.
func binaryOp(symbol string) (op, bool) {
	switch symbol {
	case "+":
		return opAdd, true
	case "-":
		return opSub, true
	case "*":
		return opMul, true
	case "/":
		return opDiv, true
	case "^", "**":
		return opPow, true
	case "and", "&&":
		return opAnd, true
	case "or", "||":
		return opOr, true
	case "<":
		return opLess, true
	case "<=":
		return opLessEq, true
	case ">":
		return opMore, true
	case ">=":
		return opMoreEq, true
	case "==", "!=":
		return opEqNum, true
	case "in":
		return opInNum, true
	}
	return 0, false
}

// node is a checked expression.
type node struct {
	op    op
	kind  Kind
	kids  []*node
	fact  int       // opFact
	num   float64   // opNumber
	text  string    // opText
	truth bool      // opTruth
	nums  []float64 // opInNum
	texts []string  // opInText
	tree  ast.Node  // for its text, without needless brackets
}

func (l *language) build(n ast.Node) (*node, error) {
	out, err := l.convert(n)
	if err != nil {
		return nil, err
	}
	out.tree = n
	return out, nil
}

func fail(n ast.Node, format string, args ...any) error {
	return &exprError{At: n.Location().From, What: fmt.Sprintf(format, args...)}
}

func (l *language) convert(n ast.Node) (*node, error) {
	switch n := n.(type) {
	case *ast.IntegerNode:
		return &node{op: opNumber, kind: Number, num: float64(n.Value)}, nil
	case *ast.FloatNode:
		return &node{op: opNumber, kind: Number, num: n.Value}, nil
	case *ast.StringNode:
		return &node{op: opText, kind: Text, text: n.Value}, nil
	case *ast.BoolNode:
		return &node{op: opTruth, kind: Truth, truth: n.Value}, nil
	case *ast.IdentifierNode, *ast.MemberNode:
		path := pathOf(n)
		i, ok := l.byPath[path]
		if !ok {
			return nil, fail(n, "%q is not one fact", n.String())
		}
		return &node{op: opFact, kind: l.facts[i].Kind, fact: i}, nil
	case *ast.UnaryNode:
		return l.unary(n)
	case *ast.BinaryNode:
		return l.binary(n)
	case *ast.ConditionalNode:
		kids, err := l.all(n.Cond, n.Exp1, n.Exp2)
		if err != nil {
			return nil, err
		}
		if kids[0].kind != Truth || kids[1].kind != kids[2].kind {
			return nil, fail(n, "the two sides of ?: must be of one kind")
		}
		return &node{op: opIf, kind: kids[1].kind, kids: kids}, nil
	case *ast.BuiltinNode:
		op, ok := functionOp(n.Name)
		if !ok {
			break
		}
		kids, err := l.all(n.Arguments...)
		if err != nil {
			return nil, err
		}
		for i, k := range kids {
			if k.kind != Number {
				return nil, fail(n.Arguments[i], "%s takes numbers", n.Name)
			}
		}
		if op != opMin && op != opMax && len(kids) != 1 {
			return nil, fail(n, "%s takes one number", n.Name)
		}
		if op == opString {
			return &node{op: op, kind: Text, kids: kids}, nil
		}
		return &node{op: op, kind: Number, kids: kids}, nil
	}
	return nil, fail(n, "%q can't be used in a rule (compare facts with and, or, not, in, + - * / ^, ?:, abs, min, max, round, floor, ceil, int, string)", n.String())
}

func (l *language) all(list ...ast.Node) ([]*node, error) {
	kids := make([]*node, len(list))
	for i, n := range list {
		k, err := l.build(n)
		if err != nil {
			return nil, err
		}
		kids[i] = k
	}
	return kids, nil
}

func (l *language) unary(n *ast.UnaryNode) (*node, error) {
	kid, err := l.build(n.Node)
	if err != nil {
		return nil, err
	}
	switch n.Operator {
	case "not", "!":
		return &node{op: opNot, kind: Truth, kids: []*node{kid}}, nil
	case "-":
		if kid.op == opNumber {
			return &node{op: opNumber, kind: Number, num: -kid.num}, nil
		}
		return &node{op: opNeg, kind: Number, kids: []*node{kid}}, nil
	}
	return kid, nil // unary plus
}

func (l *language) binary(n *ast.BinaryNode) (*node, error) {
	op, ok := binaryOp(n.Operator)
	if !ok {
		return nil, fail(n, "%q can't be used in a rule", n.Operator)
	}
	if op == opInNum {
		return l.in(n)
	}
	kids, err := l.all(n.Left, n.Right)
	if err != nil {
		return nil, err
	}
	a, b := kids[0], kids[1]
	if a.kind != b.kind {
		return nil, fail(n, "%s compares a %s with a %s", n.Operator, a.kind, b.kind)
	}
	out := &node{op: op, kind: Truth, kids: kids}
	switch op {
	case opAdd, opSub, opMul, opDiv, opPow:
		if op == opAdd && a.kind == Text {
			out.op, out.kind = opJoin, Text
			break
		}
		out.kind = Number
		fallthrough
	case opLess, opLessEq, opMore, opMoreEq:
		if a.kind != Number {
			return nil, fail(n, "%s takes numbers, not a %s", n.Operator, a.kind)
		}
	case opEqNum:
		switch a.kind {
		case Text:
			out.op = opEqText
			if err := cmp.Or(l.vocabulary(a, b, n.Right), l.vocabulary(b, a, n.Left)); err != nil {
				return nil, err
			}
		case Truth:
			out.op = opEqTruth
		}
		if n.Operator == "!=" {
			out.tree = n
			return &node{op: opNot, kind: Truth, kids: []*node{out}}, nil
		}
	}
	return out, nil
}

// vocabulary refuses a word that a fact can never be. It says so at the word.
func (l *language) vocabulary(fact, word *node, at ast.Node) error {
	if fact.op != opFact || word.op != opText {
		return nil
	}
	f := l.facts[fact.fact]
	if len(f.OneOf) == 0 || slices.Contains(f.OneOf, word.text) {
		return nil
	}
	hint := l.hint(word.text, f.OneOf)
	if hint == "" {
		hint = "one of " + strings.Join(f.OneOf, ", ")
	}
	return &exprError{At: at.Location().From, What: fmt.Sprintf("%s is never %q", f.Path, word.text), Hint: hint}
}

// in compiles "x in [constants]".
func (l *language) in(n *ast.BinaryNode) (*node, error) {
	list, ok := n.Right.(*ast.ArrayNode)
	if !ok || len(list.Nodes) == 0 {
		return nil, fail(n.Right, "in takes a list of constants, such as [\"low\", \"whole\"]")
	}
	x, err := l.build(n.Left)
	if err != nil {
		return nil, err
	}
	out := &node{op: opInNum, kind: Truth, kids: []*node{x}}
	if x.kind == Text {
		out.op = opInText
	}
	for _, item := range list.Nodes {
		k, err := l.build(item)
		if err != nil {
			return nil, err
		}
		switch {
		case k.op == opNumber && x.kind == Number:
			out.nums = append(out.nums, k.num)
		case k.op == opText && x.kind == Text:
			if err := l.vocabulary(x, k, item); err != nil {
				return nil, err
			}
			out.texts = append(out.texts, k.text)
		default:
			return nil, fail(item, "a list to look for a %s in holds constants of that kind", x.kind)
		}
	}
	return out, nil
}

// reads adds the facts that n reads to list, each once, in order of reading.
func (n *node) reads(list []int) []int {
	if n.op == opFact && !slices.Contains(list, n.fact) {
		list = append(list, n.fact)
	}
	for _, k := range n.kids {
		list = k.reads(list)
	}
	return list
}
