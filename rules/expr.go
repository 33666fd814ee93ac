package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/expr-lang/expr/ast"

	"mallow/rules/schema"
)

type op uint8

const (
	opNumber op = iota // a constant
	opText
	opTruth
	opFact
	opReckon  // numbers to a number, as node.by says
	opCompare // two numbers to a truth, as node.by says
	opString  // a number as text
	opJoin    // two texts
	opIf      // kids: condition, then, else
	opNot
	opAnd
	opOr
	opEqNum
	opEqText
	opEqTruth
	opInNum
	opInText
)

// node is a checked expression.
type node struct {
	op    op
	by    *operator // opReckon, opCompare
	kind  schema.Kind
	kids  []*node
	fact  int       // opFact
	num   float64   // opNumber
	text  string    // opText
	truth bool      // opTruth
	nums  []float64 // opInNum
	texts []string  // opInText
	src   string    // its text, without needless brackets
	not   bool      // opNot that is written !=
}

func (l *language) build(n ast.Node) (*node, error) {
	out, err := l.convert(n)
	if err != nil {
		return nil, err
	}
	out.src = n.String()
	return out, nil
}

func fail(n ast.Node, format string, args ...any) error {
	return &exprError{At: n.Location().From, What: fmt.Sprintf(format, args...)}
}

func (l *language) convert(n ast.Node) (*node, error) {
	switch n := n.(type) {
	case *ast.IntegerNode:
		return &node{op: opNumber, kind: schema.Number, num: float64(n.Value)}, nil
	case *ast.FloatNode:
		return &node{op: opNumber, kind: schema.Number, num: n.Value}, nil
	case *ast.StringNode:
		return &node{op: opText, kind: schema.Text, text: n.Value}, nil
	case *ast.BoolNode:
		return &node{op: opTruth, kind: schema.Truth, truth: n.Value}, nil
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
		if kids[0].kind != schema.Truth || kids[1].kind != kids[2].kind {
			return nil, fail(n, "the two sides of ?: must be of one kind")
		}
		return &node{op: opIf, kind: kids[1].kind, kids: kids}, nil
	case *ast.BuiltinNode:
		if n.Name == "string" {
			return l.string(n)
		}
		by := l.operator(n.Name, true)
		if by == nil {
			break
		}
		kids, err := l.all(n.Arguments...)
		if err != nil {
			return nil, err
		}
		for i, k := range kids {
			if k.kind != schema.Number {
				return nil, fail(n.Arguments[i], "%s takes numbers", n.Name)
			}
		}
		if by.one != nil && len(kids) != 1 {
			return nil, fail(n, "%s takes one number", n.Name)
		}
		return &node{op: opReckon, by: by, kind: schema.Number, kids: kids}, nil
	}
	return nil, fail(n, "%q can't be used in a rule (compare facts with and, or, not, in, + - * / ^, ?:, %s)", n.String(), strings.Join(functions(), ", "))
}

// string compiles a number as text.
func (l *language) string(n *ast.BuiltinNode) (*node, error) {
	kids, err := l.all(n.Arguments...)
	switch {
	case err != nil:
		return nil, err
	case len(kids) != 1 || kids[0].kind != schema.Number:
		return nil, fail(n, "string takes one number")
	}
	return &node{op: opString, kind: schema.Text, kids: kids}, nil
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
		return &node{op: opNot, kind: schema.Truth, kids: []*node{kid}}, nil
	case "-":
		if kid.op == opNumber {
			return &node{op: opNumber, kind: schema.Number, num: -kid.num}, nil
		}
		return &node{op: opReckon, by: l.operator("-", true), kind: schema.Number, kids: []*node{kid}}, nil
	}
	return kid, nil // unary plus
}

func (l *language) binary(n *ast.BinaryNode) (*node, error) {
	if n.Operator == "in" {
		return l.in(n)
	}
	by := l.operator(n.Operator, false)
	logic, isLogic := map[string]op{"and": opAnd, "&&": opAnd, "or": opOr, "||": opOr, "==": opEqNum, "!=": opEqNum}[n.Operator]
	if by == nil && !isLogic {
		return nil, fail(n, "%q can't be used in a rule", n.Operator)
	}
	kids, err := l.all(n.Left, n.Right)
	if err != nil {
		return nil, err
	}
	a, b := kids[0], kids[1]
	switch {
	case a.kind != b.kind:
		return nil, fail(n, "%s compares a %s with a %s", n.Operator, a.kind, b.kind)
	case n.Operator == "+" && a.kind == schema.Text:
		return &node{op: opJoin, kind: schema.Text, kids: kids}, nil
	case by != nil && a.kind != schema.Number:
		return nil, fail(n, "%s takes numbers, not a %s", n.Operator, a.kind)
	case by != nil && by.is != nil:
		return &node{op: opCompare, by: by, kind: schema.Truth, kids: kids}, nil
	case by != nil:
		return &node{op: opReckon, by: by, kind: schema.Number, kids: kids}, nil
	}
	out := &node{op: logic, kind: schema.Truth, kids: kids}
	if logic != opEqNum {
		return out, nil
	}
	switch a.kind {
	case schema.Text:
		out.op = opEqText
		if err := cmp.Or(l.vocabulary(a, b, n.Right), l.vocabulary(b, a, n.Left)); err != nil {
			return nil, err
		}
	case schema.Truth:
		out.op = opEqTruth
	}
	if n.Operator == "!=" {
		out.src = n.String()
		return &node{op: opNot, not: true, kind: schema.Truth, kids: []*node{out}}, nil
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
	out := &node{op: opInNum, kind: schema.Truth, kids: []*node{x}}
	if x.kind == schema.Text {
		out.op = opInText
	}
	for _, item := range list.Nodes {
		k, err := l.build(item)
		if err != nil {
			return nil, err
		}
		switch {
		case k.op == opNumber && x.kind == schema.Number:
			out.nums = append(out.nums, k.num)
		case k.op == opText && x.kind == schema.Text:
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
