package propose

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/near"
	"mallow/rules"
	"mallow/rules/facts"
)

// Roster is a teacher's class.
type Roster struct {
	Budget   measure.Money // for all, zero for none
	Each     int           // heads for each student; zero is a pair
	Students []Student
}

// Student is one student's answers.
type Student struct {
	Name  string
	Line  int // in the roster
	Facts facts.Facts
	Known rules.Known
}

// RosterError is a line of a roster that can't be used. The student it belongs
// to is left out, the others stay.
type RosterError struct {
	File string
	Line int
	Text string
}

func (e *RosterError) Error() string { return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.Text) }

// ReadRoster reads a roster in YAML:
//
//	budget: 400.00
//	each: 2
//	all: {instrument.kind: marimba, player.level: first}
//	students:
//	  - {name: 1, want.steps: 2, player.grip: two}
//	  - name: 2
//	    player.latex_ok: false
//
// where all holds for every student who does not say otherwise. Each student
// is read by himself, so that a broken one does not take the others along; the
// errors say where.
func (f *Finder) ReadRoster(file string, data []byte) (Roster, []error) {
	r := &rosterReader{f: f, file: file}
	lines := strings.SplitAfter(string(data), "\n")
	at := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "students:") })
	if at < 0 {
		return Roster{}, []error{&RosterError{file, 1, "no students: a roster has a list called students"}}
	}
	r.head(strings.Join(lines[:at], ""))
	if rest := strings.TrimSpace(strings.TrimPrefix(lines[at], "students:")); rest != "" && !strings.HasPrefix(rest, "#") {
		r.errorf(at+1, "students is a list with one student on each line that starts with a dash")
		return r.roster, r.errs
	}
	var block []string
	first, indent := 0, -1
	flush := func() {
		if block != nil {
			r.student(strings.Join(block, ""), first, len(r.roster.Students)+1)
		}
		block = nil
	}
	for i := at + 1; i < len(lines); i++ {
		text := strings.TrimLeft(lines[i], " ")
		deep := len(lines[i]) - len(text)
		if strings.TrimSpace(text) == "" || strings.HasPrefix(text, "#") {
			continue
		}
		if dash := strings.HasPrefix(text, "-"); dash && (indent < 0 || deep <= indent) {
			flush()
			block, first, indent = []string{}, i+1, deep
		} else if block == nil {
			r.errorf(i+1, "this line belongs to no student; a student starts with a dash")
			continue
		}
		// Blank lines and comments keep their place, so that lines count right.
		for len(block) < i+1-first {
			block = append(block, "\n")
		}
		block = append(block, lines[i])
	}
	flush()
	if len(r.roster.Students) == 0 && len(r.errs) == 0 {
		r.errorf(at+1, "the roster names no students")
	}
	return r.roster, r.errs
}

type rosterReader struct {
	f      *Finder
	file   string
	roster Roster
	all    facts.Facts
	known  rules.Known
	errs   []error
}

func (r *rosterReader) errorf(line int, format string, args ...any) {
	r.errs = append(r.errs, &RosterError{r.file, line, fmt.Sprintf(format, args...)})
}

// parse returns the mapping that text holds; its first line is line first.
func (r *rosterReader) parse(text string, first int) *yaml.Node {
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil {
		line := first
		var in int
		msg := strings.TrimPrefix(err.Error(), "yaml: ")
		if n, _ := fmt.Sscanf(msg, "line %d:", &in); n == 1 {
			line += min(in, strings.Count(text, "\n")) - 1
			_, msg, _ = strings.Cut(msg, ": ")
		}
		r.errorf(max(line, first), "not YAML: %s", msg)
		return nil
	}
	if len(doc.Content) == 0 {
		return nil
	}
	return doc.Content[0]
}

func (r *rosterReader) head(text string) {
	r.known = rules.Known{}
	// What a class has unless it says otherwise.
	r.all.Player = facts.Player{Grip: "two", Level: "first", LatexOK: true}
	n := r.parse(text, 1)
	if n == nil {
		return
	}
	if n.Kind != yaml.MappingNode {
		r.errorf(n.Line, "a roster starts with names and values, such as budget: 400")
		return
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		switch key.Value {
		case "budget":
			var x float64
			if value.Decode(&x) != nil || !(x >= 0) || x > 1e7 {
				r.errorf(value.Line, "budget %q: an amount of money of zero or more", value.Value)
				continue
			}
			r.roster.Budget = measure.Money(math.Round(x * 100))
		case "each":
			if value.Decode(&r.roster.Each) != nil || r.roster.Each < 1 || r.roster.Each > 8 {
				r.errorf(value.Line, "each %q: 1 to 8 heads for a student", value.Value)
				r.roster.Each = 0
			}
		case "all":
			if value.Kind != yaml.MappingNode {
				r.errorf(value.Line, "all holds facts, such as instrument.kind: marimba")
				continue
			}
			for k := 0; k+1 < len(value.Content); k += 2 {
				if x, ok := r.fact(r.all, value.Content[k], value.Content[k+1], 0); ok {
					r.all = x
					r.known[value.Content[k].Value] = true
				}
			}
		default:
			r.errorf(key.Line, "unknown name %q%s", key.Value, hint(key.Value, []string{"budget", "each", "all", "students"}))
		}
	}
}

func hint(said string, among []string) string {
	if h := near.Hint(said, among); h != "" {
		return " (" + h + ")"
	}
	return ""
}

// student reads one student, who starts at a line.
func (r *rosterReader) student(text string, first, n int) {
	list := r.parse(text, first)
	if list == nil {
		return
	}
	if list.Kind != yaml.SequenceNode || len(list.Content) != 1 || list.Content[0].Kind != yaml.MappingNode {
		r.errorf(first, "a student is names and values, such as - {name: 1, want.steps: 2}")
		return
	}
	st := Student{Name: fmt.Sprint(n), Line: first, Facts: r.all, Known: rules.Known{}}
	for path := range r.known {
		st.Known[path] = true
	}
	bad := len(r.errs)
	m := list.Content[0]
	for i := 0; i+1 < len(m.Content); i += 2 {
		key, value := m.Content[i], m.Content[i+1]
		if key.Value == "name" {
			st.Name = value.Value
			continue
		}
		if x, ok := r.fact(st.Facts, key, value, first-1); ok {
			st.Facts = x
			st.Known[key.Value] = true
		}
	}
	if len(r.errs) == bad {
		r.roster.Students = append(r.roster.Students, st)
	}
}

// fact puts the value of a node at the fact that key names.
func (r *rosterReader) fact(f facts.Facts, key, value *yaml.Node, lines int) (facts.Facts, bool) {
	line := key.Line + lines
	var paths []string
	for _, x := range r.f.book.Facts() {
		if strings.HasPrefix(x.Path, "head.") || strings.HasPrefix(x.Path, "layer.") {
			continue
		}
		paths = append(paths, x.Path)
		if x.Path != key.Value {
			continue
		}
		var v any
		switch x.Kind {
		case rules.Number:
			n, ok := r.number(x.Path, value)
			if !ok {
				r.errorf(line, "%s: %q is not a number", x.Path, value.Value)
				return f, false
			}
			v = n
		case rules.Truth:
			var b bool
			if value.Decode(&b) != nil {
				r.errorf(line, "%s: %q is not true or false", x.Path, value.Value)
				return f, false
			}
			v = b
		default:
			if len(x.OneOf) > 0 && !slices.Contains(x.OneOf, value.Value) {
				said := hint(value.Value, x.OneOf)
				if said == "" {
					said = " (one of " + strings.Join(x.OneOf, ", ") + ")"
				}
				r.errorf(line, "%s can't be %q%s", x.Path, value.Value, said)
				return f, false
			}
			v = value.Value
		}
		out, err := facts.Set(f, x.Path, v)
		if err != nil {
			r.errorf(line, "%v", err)
			return f, false
		}
		return out, true
	}
	r.errorf(line, "no answer is called %q%s", key.Value, hint(key.Value, paths))
	return f, false
}

// number reads a number; a softness may be a grade as well.
func (r *rosterReader) number(path string, value *yaml.Node) (float64, bool) {
	var n float64
	if value.Decode(&n) == nil && !math.IsNaN(n) && !math.IsInf(n, 0) {
		return n, true
	}
	if path != "want.steps" {
		return 0, false
	}
	grades := r.f.cat.Scale.Grades
	at := slices.IndexFunc(grades, func(g knowledge.Grade) bool { return g.ID == value.Value })
	if at < 0 {
		return 0, false
	}
	// The middle of the grade; the ends of the scale reach a grade's width on.
	switch {
	case len(grades) < 2:
		return grades[at].From, true
	case at == 0:
		return grades[1].From - 1, true
	case at == len(grades)-1:
		return grades[at].From + 1, true
	}
	return (grades[at].From + grades[at+1].From) / 2, true
}
