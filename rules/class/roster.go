package class

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"mallow/knowledge/fault"
	"mallow/knowledge/measure"
	"mallow/knowledge/words"
	"mallow/knowledge/yamlfile"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
	"mallow/rules/schema"
	"mallow/rules/stock"
)

// Roster is a teacher's class, as read.
type Roster struct {
	Title    string
	Budget   measure.Money // for all together; zero for none
	Bin      *stock.Bin    // on hand for all together; nil is nothing
	Answers  []Answer      // hold for every student who does not say otherwise
	Students []Student
	// Broken are the faults, in order. A student with one is kept, and no head
	// is planned for them.
	Broken fault.Errors
	// Unsafe are those of Broken that lie in a field which keeps somebody from
	// harm: with one, nothing is planned for anybody.
	Unsafe fault.Errors
}

// Student is what one student wants.
type Student struct {
	Name    string
	Line    int      // in the roster
	Want    string   // in the student's own words; may be empty
	Answers []Answer // go before the words
	Heads   int      // to be built; zero is as many as the grip holds
	Broken  fault.Errors
}

// Answer is a value for a fact.
type Answer struct {
	Path  string
	Value any // float64, string or bool
}

// adultAge is the age from which a student is no minor. Where local rules put
// it elsewhere, a roster says player.minor itself.
const adultAge = 18

// mostStudents bounds a roster.
const mostStudents = 1000

// rosterFile is a roster as it is written:
//
//	class: Percussion, second year
//	budget: 400.00
//	facts: {instrument.kind: marimba, player.level: first}
//	bin: {poly-1-1/8: 12, latex-3/4x1/8: [10 ft, 18 in], wool-medium: 100 g}
//	students:
//	  - {name: A, age: 15, want: soft and dark for four mallets}
//	  - name: B
//	    facts: {player.latex_ok: false, want.softness: soft}
//	    heads: 2
type rosterFile struct {
	Class    string          `yaml:"class"`
	Budget   *measure.Money  `yaml:"budget"`
	Facts    yamlfile.Pairs  `yaml:"facts"`
	Bin      yamlfile.Pairs  `yaml:"bin"`
	Students []studentRecord `yaml:"students"`
}

type studentRecord struct {
	At    yamlfile.Place `yaml:"-"`
	Name  yamlfile.Text  `yaml:"name"`
	Age   yamlfile.Text  `yaml:"age"`
	Want  yamlfile.Text  `yaml:"want"`
	Facts yamlfile.Pairs `yaml:"facts"`
	Heads yamlfile.Text  `yaml:"heads"`
}

// ReadRoster reads a roster in YAML; testdata/class/demo.yaml is one. What is
// wrong with it is in the roster's Broken; every student is kept, even where the
// file as a whole is not YAML.
func ReadRoster(f *propose.Finder, file string, data []byte) Roster {
	r := &rosterReader{f: f, file: file}
	var x rosterFile
	r.broken = yamlfile.Decode(file, data, &x)
	if x.Students == nil && len(r.broken) > 0 {
		r.salvage(data, &x)
	}
	if len(r.keys) == 0 {
		r.look(string(data), 1, math.MaxInt)
	}
	r.read(&x)
	// YAML ends lines at characters that nobody's editor does.
	last := bytes.Count(data, []byte("\n")) + 1
	for i := range r.roster.Students {
		r.roster.Students[i].Line = min(r.roster.Students[i].Line, last)
	}
	for _, e := range r.broken {
		e.Line = min(e.Line, last)
	}
	slices.SortStableFunc(r.broken, func(a, b *fault.Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	r.roster.Broken, r.roster.Unsafe = r.broken, r.unsafe()
	return r.roster
}

// others are the faults that are no student's.
func (r *Roster) others() fault.Errors {
	var list fault.Errors
	for _, e := range r.Broken {
		if !slices.ContainsFunc(r.Students, func(s Student) bool { return slices.Contains(s.Broken, e) }) {
			list = append(list, e)
		}
	}
	return list
}

type rosterReader struct {
	f      *propose.Finder
	file   string
	roster Roster
	broken fault.Errors
	paths  []string       // of the facts that a roster may state
	keys   []yamlfile.Key // all fields, right or not
	torn   [][2]int       // lines of what is no YAML and holds a field of safety
}

func (r *rosterReader) fail(at yamlfile.Place, hint, format string, args ...any) {
	r.broken = append(r.broken, yamlfile.Faulty(r.file, at, fmt.Sprintf(format, args...), hint))
}

// read checks what was decoded, and keeps what is right.
func (r *rosterReader) read(x *rosterFile) {
	for _, fact := range r.f.Book().Facts() {
		if !strings.HasPrefix(fact.Path, "head.") && !strings.HasPrefix(fact.Path, "layer.") {
			r.paths = append(r.paths, fact.Path)
		}
	}
	out := &r.roster
	out.Title = x.Class
	if x.Budget != nil {
		if out.Budget = *x.Budget; out.Budget < 0 {
			r.fail(yamlfile.Place{}, "leave it out for no limit", "a budget below zero")
			out.Budget = 0
		}
	}
	out.Answers = r.answers(x.Facts)
	if len(x.Bin) > 0 {
		out.Bin = r.bin(x.Bin)
	}
	list := x.Students
	if len(list) > mostStudents {
		r.fail(list[mostStudents].At, "", "more than %d students", mostStudents)
		list = list[:mostStudents]
	}
	if len(list) == 0 && len(r.broken) == 0 {
		r.fail(yamlfile.Place{Line: 1, Col: 1}, "a list called students, one entry each", "the roster names no students")
	}
	seen := map[string]int{}
	for i := range list {
		st := r.student(&list[i])
		from, to := list[i].At, yamlfile.Place{Line: math.MaxInt}
		if i+1 < len(list) {
			to = list[i+1].At
		}
		st.Broken = r.faulty(from, to)
		if st.Name == "" {
			st.Name = fmt.Sprintf("student %d", i+1)
		}
		if line, twice := seen[st.Name]; twice {
			// Both keep their work: the names are told apart by their lines.
			other := fmt.Sprintf("%s (line %d)", st.Name, from.Line)
			r.fail(list[i].Name.Place, "give one of them another name", "%q is on line %d already; this one is called %q", st.Name, line, other)
			st.Name = other
		}
		seen[st.Name] = from.Line
		out.Students = append(out.Students, st)
	}
}

// faulty returns the faults between two places, and one before them after which
// nothing was read.
func (r *rosterReader) faulty(from, to yamlfile.Place) fault.Errors {
	var list fault.Errors
	for _, e := range r.broken {
		at := yamlfile.Place{Line: e.Line, Col: e.Col}
		if at.Before(to) && (e.Ends || !at.Before(from)) {
			list = append(list, e)
		}
	}
	return list
}

func (r *rosterReader) student(x *studentRecord) Student {
	st := Student{Name: strings.TrimSpace(x.Name.Value), Line: x.At.Line, Want: strings.TrimSpace(x.Want.Value)}
	st.Answers = r.answers(x.Facts)
	if age, ok := r.count(x.Age, 4, 120, "an age of", "years, or leave it out and say player.minor"); ok {
		young := age < adultAge
		if i := slices.IndexFunc(x.Facts, func(p yamlfile.Pair) bool { return p.Key.Value == facts.PlayerMinor }); i >= 0 && young && x.Facts[i].Values[0].Value == "false" {
			r.fail(x.Facts[i].Key.Place, "leave out the one that is not so", "an age of %d, and said to be of age", age)
		}
		st.Answers = append([]Answer{{facts.PlayerMinor, young}}, st.Answers...)
	}
	if n, ok := r.count(x.Heads, 1, 12, "heads for one student:", "leave it out for as many as the grip holds"); ok {
		st.Heads = n
	}
	return st
}

// count reads a whole number; false where there is none, or it can't be.
func (r *rosterReader) count(t yamlfile.Text, least, most int, what, hint string) (int, bool) {
	if t.Value == "" {
		return 0, false
	}
	n, err := strconv.Atoi(t.Value)
	if err != nil || n < least || n > most {
		r.fail(t.Place, fmt.Sprintf("%d to %d; %s", least, most, hint), "%s %s can't be", what, yamlfile.Clip(t.Value))
		return 0, false
	}
	return n, true
}

// answers reads facts.
func (r *rosterReader) answers(pairs yamlfile.Pairs) []Answer {
	var list []Answer
	for _, p := range pairs {
		if v, ok := r.value(p); ok {
			list = append(list, Answer{p.Key.Value, v})
		}
	}
	return list
}

// value reads the value of the fact that p names.
func (r *rosterReader) value(p yamlfile.Pair) (any, bool) {
	x, ok := facts.Index().Fact(p.Key.Value)
	if !ok || !slices.Contains(r.paths, p.Key.Value) {
		r.fail(p.Key.Place, words.Hint(p.Key.Value, r.paths), "no answer is called %q", p.Key.Value)
		return nil, false
	}
	if len(p.Values) != 1 {
		r.fail(p.Key.Place, "", "%s: want one value, found a list", x.Path)
		return nil, false
	}
	said := p.Values[0]
	v, err := x.Parse(said.Value)
	if grade, ok := r.f.Grade("", said.Value); ok && x.Path == facts.WantSoftness {
		v, err = grade, nil
	}
	if n, ok := v.(float64); ok && len(x.Range) == 2 && (n < x.Range[0] || n > x.Range[1]) {
		r.fail(said.Place, fmt.Sprintf("%g to %g %s", x.Range[0], x.Range[1], x.Unit), "%s: %g can't be", x.Path, n)
		return nil, false
	}
	if err == nil {
		return v, true
	}
	switch x.Kind {
	case schema.Number:
		r.fail(said.Place, x.Doc, "%s: %v", x.Path, err)
	case schema.Truth:
		r.fail(said.Place, "true or false", "%s: %q is neither", x.Path, said.Value)
	default:
		r.fail(said.Place, cmp.Or(words.Hint(said.Value, x.OneOf), x.Valid()), "%s can't be %q", x.Path, said.Value)
	}
	return nil, false
}

// bin reads parts on hand.
func (r *rosterReader) bin(pairs yamlfile.Pairs) *stock.Bin {
	cat := r.f.Catalogue()
	b := &stock.Bin{}
	for _, p := range pairs {
		id, ok := stock.Named(cat, p.Key.Value)
		if _, glue := cat.Adhesive(p.Key.Value); glue {
			id, ok = p.Key.Value, true
		}
		if !ok {
			id = p.Key.Value
			r.fail(p.Key.Place, words.Hint(id, cat.PartIDs()), "%q is no part of the catalogue", id)
			continue
		}
		for _, v := range p.Values {
			amount, err := stock.ParseAmount(cat, id, v.Value)
			if err == nil && amount < 0 {
				err = errors.New("an amount can't be below zero")
			}
			if err != nil {
				r.fail(v.Place, "", "%s: %v", id, err)
				continue
			}
			b.Items = append(b.Items, stock.Item{Part: id, Amount: amount})
		}
	}
	return b
}

// put puts answers into a request, and those of the gate's into what was said.
func put(q *propose.Request, said *gate.Stated, list []Answer) {
	for _, a := range list {
		if v, ok := a.Value.(bool); ok && said.Tell(a.Path, v) {
			continue
		}
		if facts.Set(&q.Facts, a.Path, a.Value) == nil { // checked as they were read
			q.Known[a.Path] = true
		}
	}
}
