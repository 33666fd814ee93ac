package rules

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/checker"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"
)

// functions are the builtins of expr that rules may call.
var functions = map[string]op{
	"abs": opAbs, "min": opMin, "max": opMax, "round": opRound, "floor": opFloor, "ceil": opCeil, "int": opInt,
	"string": opString,
}

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
	for name := range functions {
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
			return nil, &exprError{At: e.From, What: e.Message}
		}
		return nil, &exprError{What: err.Error()}
	}
	n, err := l.build(tree.Node)
	if err != nil {
		return nil, err
	}
	return n, nil
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
	f.err = &exprError{At: base.Location().From, What: fmt.Sprintf("unknown fact %q", path), Hint: f.hint(path, among)}
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

var binaries = map[string]op{
	"+": opAdd, "-": opSub, "*": opMul, "/": opDiv, "^": opPow, "**": opPow,
	"and": opAnd, "&&": opAnd, "or": opOr, "||": opOr,
	"<": opLess, "<=": opLessEq, ">": opMore, ">=": opMoreEq,
	"==": opEqNum, "!=": opEqNum, "in": opInNum,
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
	at    int       // runes from the start of the expression
}

func (l *language) build(n ast.Node) (*node, error) {
	out, err := l.convert(n)
	if err != nil {
		return nil, err
	}
	out.tree, out.at = n, n.Location().From
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
		op, ok := functions[n.Name]
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
	op, ok := binaries[n.Operator]
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
			if err := cmpWords(l, n, a, b); err != nil {
				return nil, err
			}
		case Truth:
			out.op = opEqTruth
		}
		if n.Operator == "!=" {
			out.tree, out.at = n, n.Location().From
			return &node{op: opNot, kind: Truth, kids: []*node{out}}, nil
		}
	}
	return out, nil
}

// cmpWords refuses a comparison with a word that a fact can never be.
func cmpWords(l *language, n *ast.BinaryNode, a, b *node) error {
	if a.op == opText {
		a, b = b, a
	}
	at := n.Right
	if b.at == n.Left.Location().From {
		at = n.Left
	}
	if a.op != opFact || b.op != opText {
		return nil
	}
	return l.vocabulary(at, a.fact, b.text)
}

func (l *language) vocabulary(at ast.Node, fact int, word string) error {
	f := l.facts[fact]
	if len(f.OneOf) == 0 || slices.Contains(f.OneOf, word) {
		return nil
	}
	hint := l.hint(word, f.OneOf)
	if hint == "" {
		hint = "one of " + strings.Join(f.OneOf, ", ")
	}
	return &exprError{At: at.Location().From, What: fmt.Sprintf("%s is never %q", f.Path, word), Hint: hint}
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
			if x.op == opFact {
				if err := l.vocabulary(item, x.fact, k.text); err != nil {
					return nil, err
				}
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

// verdict is the truth of an expression as far as it can be told.
type verdict uint8

const (
	no      verdict = iota
	yes             // of a number or a text: it has a value
	unknown         // it hangs on a fact that is not known
	broken          // it hangs on a number that is not finite, such as 1/0
)

func decided(b bool) verdict {
	if b {
		return yes
	}
	return no
}

func (v verdict) not() verdict {
	switch v {
	case yes:
		return no
	case no:
		return yes
	}
	return v
}

// isTrue evaluates a truth. An "and" with a side known to be false is false
// even when the other is unknown, and likewise "or".
func (c *cells) isTrue(n *node) verdict {
	switch n.op {
	case opFact:
		if c.known != nil && !c.known[n.fact] {
			return unknown
		}
		return decided(*c.truth[n.fact])
	case opTruth:
		return decided(n.truth)
	case opNot:
		return c.isTrue(n.kids[0]).not()
	case opAnd:
		a := c.isTrue(n.kids[0])
		if a == no {
			return no
		}
		if b := c.isTrue(n.kids[1]); b == no || a == yes {
			return b
		}
		return a
	case opOr:
		a := c.isTrue(n.kids[0])
		if a == yes {
			return yes
		}
		if b := c.isTrue(n.kids[1]); b == yes || a == no {
			return b
		}
		return a
	case opIf:
		switch a := c.isTrue(n.kids[0]); a {
		case yes:
			return c.isTrue(n.kids[1])
		case no:
			return c.isTrue(n.kids[2])
		default:
			return a
		}
	case opEqTruth:
		a, b := c.isTrue(n.kids[0]), c.isTrue(n.kids[1])
		if a > yes || b > yes {
			return max(a, b)
		}
		return decided(a == b)
	case opEqText:
		a, va := c.textOf(n.kids[0])
		b, vb := c.textOf(n.kids[1])
		if va != yes || vb != yes {
			return max(va, vb)
		}
		return decided(a == b)
	case opInText:
		a, va := c.textOf(n.kids[0])
		if va != yes {
			return va
		}
		return decided(slices.Contains(n.texts, a))
	case opInNum:
		a, va := c.numberOf(n.kids[0])
		if va != yes {
			return va
		}
		return decided(slices.Contains(n.nums, a))
	}
	a, va := c.numberOf(n.kids[0])
	b, vb := c.numberOf(n.kids[1])
	if va != yes || vb != yes {
		return max(va, vb)
	}
	switch n.op {
	case opLess:
		return decided(a < b)
	case opLessEq:
		return decided(a <= b)
	case opMore:
		return decided(a > b)
	case opMoreEq:
		return decided(a >= b)
	}
	return decided(a == b)
}

// textOf evaluates a text; the verdict is yes, unknown or broken.
func (c *cells) textOf(n *node) (string, verdict) {
	switch n.op {
	case opFact:
		if c.known != nil && !c.known[n.fact] {
			return "", unknown
		}
		return *c.text[n.fact], yes
	case opIf:
		switch a := c.isTrue(n.kids[0]); a {
		case yes:
			return c.textOf(n.kids[1])
		case no:
			return c.textOf(n.kids[2])
		default:
			return "", a
		}
	case opString:
		x, v := c.numberOf(n.kids[0])
		if v != yes {
			return "", v
		}
		return strconv.FormatFloat(x, 'g', -1, 64), yes
	case opJoin:
		a, va := c.textOf(n.kids[0])
		b, vb := c.textOf(n.kids[1])
		if va != yes || vb != yes {
			return "", max(va, vb)
		}
		return a + b, yes
	}
	return n.text, yes
}

// numberOf evaluates a number; the verdict is yes, unknown or broken.
func (c *cells) numberOf(n *node) (float64, verdict) {
	var x float64
	switch n.op {
	case opNumber:
		return n.num, yes
	case opFact:
		if c.known != nil && !c.known[n.fact] {
			return 0, unknown
		}
		x = *c.num[n.fact]
	case opIf:
		switch a := c.isTrue(n.kids[0]); a {
		case yes:
			return c.numberOf(n.kids[1])
		case no:
			return c.numberOf(n.kids[2])
		default:
			return 0, a
		}
	default:
		a, v := c.numberOf(n.kids[0])
		if v != yes {
			return 0, v
		}
		x = a
		if len(n.kids) == 1 {
			x = n.op.of1(a)
			break
		}
		for _, k := range n.kids[1:] {
			b, v := c.numberOf(k)
			if v != yes {
				return 0, v
			}
			x = n.op.of2(x, b)
		}
	}
	if x-x != 0 { // NaN or infinite
		return 0, broken
	}
	return x, yes
}

func (o op) of1(a float64) float64 {
	switch o {
	case opNeg:
		return -a
	case opAbs:
		return math.Abs(a)
	case opRound:
		return math.Round(a)
	case opFloor:
		return math.Floor(a)
	case opCeil:
		return math.Ceil(a)
	case opInt:
		return math.Trunc(a)
	}
	return a // min or max of one number
}

func (o op) of2(a, b float64) float64 {
	switch o {
	case opAdd:
		return a + b
	case opSub:
		return a - b
	case opMul:
		return a * b
	case opDiv:
		return a / b
	case opPow:
		return math.Pow(a, b)
	case opMin:
		return min(a, b)
	}
	return max(a, b)
}

// value evaluates n to a float64, string or bool, or nil when it has none.
func (c *cells) value(n *node) any {
	switch n.kind {
	case Number:
		if x, v := c.numberOf(n); v == yes {
			return x
		}
	case Text:
		if s, v := c.textOf(n); v == yes {
			return s
		}
	default:
		if v := c.isTrue(n); v <= yes {
			return v == yes
		}
	}
	return nil
}

// look is a part of an expression whose value a trace shows.
type look struct {
	node *node
	text string
	unit string
}

// looks adds the facts, comparisons and sums of n to list, the parts before
// the whole, each once. How and, or and not join them can be read off the
// rule.
func (l *language) looks(n *node, list []look) []look {
	kids := n.kids
	unequal := n.op == opNot && kids[0].tree == n.tree // != is a not over an ==
	if unequal {
		kids = kids[0].kids
	}
	for _, k := range kids {
		list = l.looks(k, list)
	}
	at := look{node: n, text: n.tree.String()}
	switch n.op {
	case opNumber, opText, opTruth, opAnd, opOr:
		return list
	case opNot:
		if !unequal {
			return list
		}
	case opFact:
		at.text, at.unit = l.facts[n.fact].Path, l.facts[n.fact].Unit
	}
	if slices.ContainsFunc(list, func(seen look) bool { return seen.text == at.text }) {
		return list
	}
	return append(list, at)
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
