package rulebench

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/parser"
)

// dialect is how a rule language writes what rules are made of.
type dialect struct {
	and, or, not string
	path         func(string) string
	list         bool // has "x in [a, b]"
}

// translate writes a condition of the book in another language.
func (d dialect) translate(when string) (string, error) {
	tree, err := parser.Parse(when)
	if err != nil {
		return "", err
	}
	return d.write(tree.Node)
}

func (d dialect) write(n ast.Node) (string, error) {
	switch n := n.(type) {
	case *ast.IdentifierNode:
		return d.path(n.Value), nil
	case *ast.MemberNode:
		return d.path(n.String()), nil
	case *ast.IntegerNode:
		return strconv.FormatFloat(float64(n.Value), 'f', 1, 64), nil
	case *ast.FloatNode:
		return strconv.FormatFloat(n.Value, 'f', -1, 64), nil
	case *ast.StringNode:
		return strconv.Quote(n.Value), nil
	case *ast.BoolNode:
		return strconv.FormatBool(n.Value), nil
	case *ast.UnaryNode:
		x, err := d.write(n.Node)
		if n.Operator == "-" {
			return "-" + x, err
		}
		return d.not + "(" + x + ")", err
	case *ast.BinaryNode:
		left, err := d.write(n.Left)
		if err != nil {
			return "", err
		}
		if c, ok := n.Right.(*ast.ConditionalNode); ok { // x < (c ? a : b)
			is := &ast.BinaryNode{Operator: "and", Left: c.Cond, Right: &ast.BinaryNode{Operator: n.Operator, Left: n.Left, Right: c.Exp1}}
			not := &ast.UnaryNode{Operator: "not", Node: c.Cond}
			isn := &ast.BinaryNode{Operator: "and", Left: not, Right: &ast.BinaryNode{Operator: n.Operator, Left: n.Left, Right: c.Exp2}}
			return d.write(&ast.BinaryNode{Operator: "or", Left: is, Right: isn})
		}
		if n.Operator == "in" {
			return d.in(left, n.Right.(*ast.ArrayNode))
		}
		right, err := d.write(n.Right)
		op := n.Operator
		switch op {
		case "and", "&&":
			op = d.and
		case "or", "||":
			op = d.or
		}
		return "(" + left + " " + op + " " + right + ")", err
	}
	return "", fmt.Errorf("%T can't be translated", n)
}

func (d dialect) in(left string, list *ast.ArrayNode) (string, error) {
	var items []string
	for _, item := range list.Nodes {
		s, err := d.write(item)
		if err != nil {
			return "", err
		}
		if !d.list {
			s = left + " == " + s
		}
		items = append(items, s)
	}
	if d.list {
		return "(" + left + " in [" + strings.Join(items, ", ") + "])", nil
	}
	return "(" + strings.Join(items, " "+d.or+" ") + ")", nil
}

// fields maps dotted paths to Go's field names, head.mass_g to Head.MassG,
// and calls visit with each leaf of v.
func fields(v reflect.Value, path, name string, visit func(path, name string, leaf any)) {
	if v.Kind() != reflect.Struct {
		visit(path, name, v.Interface())
		return
	}
	for i := range v.NumField() {
		f := v.Type().Field(i)
		fields(v.Field(i), strings.TrimPrefix(path+"."+f.Tag.Get("expr"), "."), strings.TrimPrefix(name+"."+f.Name, "."), visit)
	}
}
