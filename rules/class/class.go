// Package class finds heads for everybody on a roster and one order for all. It
// knows how to share packs and a budget; it never lets one student's trouble
// hold up another.
package class

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/advise"
	"mallow/rules/gate"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
	"mallow/rules/stock"
)

// Class is a class's heads, and one order for all of them.
type Class struct {
	Title    string        `json:"title,omitempty"`
	Students []Place       `json:"students"` // in the roster's order
	Order    stock.Order   `json:"order"`
	Budget   measure.Money `json:"budget,omitempty"`
	Within   bool          `json:"within"` // the order is within the budget, or there is none
	// Best is what the order comes to when everybody has the best head.
	Best measure.Money `json:"best"`
	// Lost is the points that sharing packs, and the budget, cost the class.
	Lost float64 `json:"lost"`
	// Points are what was made as small as could be: the points lost, and the
	// order's cost at what the rules have a unit of currency count. PointsBound
	// is a proven lower bound of it, over the heads that were weighed against
	// each other; where the two agree, the choice is the best there is.
	Points      float64 `json:"points"`
	PointsBound float64 `json:"points_lower_bound"`
	// Least is the cheapest order found where the budget can't be met; LeastBound
	// is a proven lower bound over the same heads.
	Least      measure.Money `json:"least,omitempty"`
	LeastBound measure.Money `json:"least_lower_bound,omitempty"`
	Warnings   []Warning     `json:"warnings,omitempty"`
	Broken     fault.Errors  `json:"broken,omitempty"`  // faults of the roster that are no student's
	Partial    bool          `json:"partial,omitempty"` // stopped before all was weighed
}

// Place is one student's head, or why there is none.
type Place struct {
	Name    string            `json:"name"`
	Line    int               `json:"line"` // in the roster
	Heads   int               `json:"heads"`
	Request propose.Request   `json:"-"`
	Head    propose.Candidate `json:"-"` // computed in full
	Stack   string            `json:"stack,omitempty"`
	Score   float64           `json:"score"`
	Wanted  string            `json:"wanted,omitempty"` // the best head's stack, where another is chosen for the class's sake
	Lost    float64           `json:"lost,omitempty"`   // points given up to that
	Alike   string            `json:"alike,omitempty"`  // name of the first student with the same head
	Missed  []string          `json:"missed,omitempty"` // of the wish, not understood
	Minor   bool              `json:"minor"`
	NoLatex bool              `json:"no_latex"` // must never get latex
	Err     error             `json:"-"`
	Trouble string            `json:"trouble,omitempty"` // Err in words
	// Binds is what nobody said that keeps the student from a better head.
	Binds    []advise.Assumption `json:"-"`
	question *group
}

// Warning is something that a teacher has to know before anything is bought,
// in the words of a caution of the catalogue.
type Warning struct {
	Caution  string   `json:"caution"` // id
	Hazard   string   `json:"hazard"`
	Do       string   `json:"do"`
	Defer    string   `json:"defer"`
	Students []string `json:"students"` // whom it is for
}

// group is a wish that one or more students have, and the heads that they
// could have.
type group struct {
	q       propose.Request
	heads   int // for each who has it
	who     []int
	options []option // best first
	best    propose.Candidate
	j       *propose.Judging
	binds   []advise.Assumption
	err     error
}

// option is a head that would do.
type option struct {
	stack head.Stack
	head  head.Head
	text  string
	score float64
	bonus float64 // points for what need not be bought
	uses  []use
}

// Plan finds a head for each student of a roster, and one order for all.
// read turns a student's own words into a request, and returns what it did not
// understand.
//
// Students with equal wishes get equal heads. Where packs can be shared, what
// is on hand used up, or the budget kept, a head that is not quite a student's
// best is chosen for whom it costs least in points; the choice is exact over
// each wish's best heads and the heads that it could have from what is on hand
// and from parts the others use, as long as the class is small, and comes with
// a bound when it is not. A student nothing can be built for is
// reported and takes nobody along.
func Plan(ctx context.Context, f *propose.Finder, r Roster, read func(string) (propose.Request, []string, error)) (Class, error) {
	if len(r.Unsafe) > 0 {
		return Class{}, fault.Errorf("nothing is planned for anybody while a field that keeps somebody from harm can't be read: %w", r.Unsafe)
	}
	if len(r.Students) == 0 {
		return Class{}, fault.Errorf("the roster has no student whose work can be planned")
	}
	if err := r.Bin.CheckAmounts(f.Catalogue()); err != nil {
		return Class{}, err
	}
	out := Class{Title: r.Title, Broken: r.others(), Budget: r.Budget, Students: make([]Place, len(r.Students))}
	wishes := wished(f, &r, read, out.Students)
	var known []head.Stack // what others would get
	for _, w := range wishes {
		if w.err = ctx.Err(); w.err != nil {
			continue
		}
		w.q.Most = cmp.Or(w.q.Most, min(mostLooksEach, max(leastLooks, mostLooks/len(wishes))))
		w.q.Bin = r.Bin
		asked := w.q
		var c advise.Choice
		if c, w.err = advise.First(ctx, f, w.q); w.err != nil {
			continue
		}
		w.q = c.Request
		if w.err = serve(ctx, f, w, fewOptions, known); w.err == nil {
			for _, o := range w.options {
				known = append(known, o.stack)
			}
			w.binds, w.err = advise.Binds(ctx, f, asked, &w.best)
		}
	}
	served := slices.DeleteFunc(slices.Clone(wishes), func(w *group) bool { return w.err != nil })
	if len(served) > 0 {
		s := &sharing{f: f, bin: r.Bin, wishes: served, budget: r.Budget}
		if err := s.settle(ctx, &out); err != nil {
			return out, err
		}
	}
	first := map[string]string{}
	for i := range out.Students {
		p := &out.Students[i]
		if p.Err == nil {
			p.Err = p.question.err
		}
		if p.Err != nil {
			p.Trouble = trouble(p.Err)
			continue
		}
		p.Binds = p.question.binds
		if name, ok := first[p.Stack]; ok {
			p.Alike = name
		} else {
			first[p.Stack] = p.Name
		}
	}
	out.Partial = ctx.Err() != nil
	warn(f, &out, r.Bin)
	return out, nil
}

// trouble is what stands in the way of a student's head, in one line.
func trouble(err error) string {
	var faults fault.Errors
	if !errors.As(err, &faults) {
		return strings.ReplaceAll(strings.TrimSuffix(err.Error(), "."), "\n", "; ")
	}
	var list []string
	for _, e := range faults {
		at := *e
		at.File, at.Line, at.Col = fmt.Sprintf("line %d", e.Line), 0, 0
		list = append(list, at.Error())
	}
	return strings.Join(list, "; ")
}

// wished reads the students' wishes and gathers the equal ones.
func wished(f *propose.Finder, r *Roster, read func(string) (propose.Request, []string, error), places []Place) []*group {
	type reading struct {
		q      propose.Request
		missed []string
		err    error
	}
	readings := map[string]reading{}
	byKey := map[string]*group{}
	var list []*group
	for i, st := range r.Students {
		p := &places[i]
		p.Name, p.Line = st.Name, st.Line
		x, ok := readings[st.Want]
		if !ok {
			x.q, x.missed, x.err = read(st.Want)
			readings[st.Want] = x
		}
		p.Missed = x.missed
		q := x.q
		known := rules.Known{}
		for path, is := range x.q.Known {
			known[path] = is
		}
		q.Known = known
		// The class's answers give way to the student's own words, and those
		// to the student's own answers. What may hurt is never made less of by
		// either: the careful answer of words and answers counts.
		var said gate.Stated
		for _, a := range r.Answers {
			if !x.q.Known[a.Path] {
				put(&q, &said, []Answer{a})
			}
		}
		put(&q, &said, st.Answers)
		q.Pass = gate.Settle(said.With(x.q.Pass.Stated()))
		at := f.Settle(q)
		p.Minor, p.NoLatex = q.Pass.Stated().Minor == gate.Yes, !at.Player.LatexOK
		p.Heads = cmp.Or(st.Heads, int(at.Player.Mallets), 2)
		q.Heads = p.Heads
		p.Request = q
		if p.Err = st.Broken.Err(); p.Err == nil {
			p.Err = x.err
		}
		if p.Err != nil {
			continue
		}
		key := fmt.Sprint(q.Facts, q.Pass, q.Pin, q.Heads, q.Known)
		w := byKey[key]
		if w == nil {
			w = &group{q: q, heads: p.Heads}
			byKey[key], list = w, append(list, w)
		}
		w.who = append(w.who, i)
		p.question = w
	}
	return list
}

// mostLooks is how many heads are looked at for all wishes together before the
// best so far will do, and leastLooks and mostLooksEach bound what that leaves
// for one, so that no wish holds up the class.
const mostLooks, leastLooks, mostLooksEach = 120_000, 1500, 8000

// fewOptions is how many of its best heads a wish brings to the sharing.
const fewOptions = 8

// serve finds the best few heads of a wish. What others would get says how
// good they have to be at least, which spares the search most of its way.
func serve(ctx context.Context, f *propose.Finder, w *group, few int, others []head.Stack) error {
	if err := f.Check(w.q); err != nil {
		return err
	}
	s := search.New(f, w.q)
	w.j = f.Judging(w.q)
	pool := search.NewGoal(few, w.floor(few, others))
	s.Run(ctx, pool)
	list := s.Heads(pool)
	if len(list) < few && ctx.Err() == nil { // a shaft that this wish would not get scored better
		pool = search.NewGoal(few, math.Inf(-1))
		s.Run(ctx, pool)
		list = s.Heads(pool)
	}
	if len(list) == 0 {
		if err := ctx.Err(); err != nil {
			return err
		}
		return search.Why(ctx, f, w.q)
	}
	var err error
	if w.best, err = f.First(list[:min(search.Shortlist, len(list))], w.q); err != nil {
		return err
	}
	w.add(w.best.Stack)
	for _, c := range list {
		w.add(c.Stack)
	}
	return nil
}

// floor is a score that at least so many heads, each on another rubber and
// core, reach.
func (w *group) floor(few int, others []head.Stack) float64 {
	best := map[string]float64{}
	for _, st := range others {
		if c, ok := w.j.Quick(st); ok {
			bare := c.Stack
			bare.Wrap, bare.Shaft = nil, nil
			key := bare.String()
			if old, twice := best[key]; !twice || c.Score > old {
				best[key] = c.Score
			}
		}
	}
	if len(best) < few {
		return math.Inf(-1)
	}
	scores := slices.Sorted(maps.Values(best))
	return scores[len(scores)-few] - 1e-9
}

// add weighs a head for the wish, by the reduced stroke and the same scale for
// all, and keeps it if no rule refuses it.
func (w *group) add(s head.Stack) {
	text := s.String()
	if slices.ContainsFunc(w.options, func(o option) bool { return o.text == text }) {
		return
	}
	c, ok := w.j.Quick(s)
	if !ok {
		return
	}
	o := option{stack: s, head: c.Head, text: text, score: c.Score}
	if w.best.Stack.String() == text && len(w.options) == 0 {
		w.options = append(w.options, o) // first by the full stroke, whatever the reduced one says
		return
	}
	if len(w.options) > 0 {
		o.score = min(o.score, w.options[0].score)
	}
	w.options = append(w.options, o)
}

// warn says what matters when some avoid latex and others cut it.
func warn(f *propose.Finder, c *Class, bin *stock.Bin) {
	caution, ok := f.Catalogue().Caution("latex-room")
	if !ok {
		return
	}
	var avoid []string
	latex := false
	for i := range c.Students {
		p := &c.Students[i]
		if p.NoLatex {
			avoid = append(avoid, p.Name)
		}
		latex = latex || p.Err == nil && p.Head.Facts.Head.Latex
	}
	if bin != nil {
		latex = latex || slices.ContainsFunc(bin.Items, func(it stock.Item) bool {
			t, _ := f.Catalogue().Tube(it.Part)
			m, _ := f.Catalogue().Material(t.Material)
			a, _ := f.Catalogue().Adhesive(it.Part)
			return m.Latex || a.Latex
		})
	}
	if len(avoid) > 0 && latex {
		c.Warnings = append(c.Warnings, Warning{caution.ID, caution.Hazard, caution.Do, caution.Defer, avoid})
	}
}

// Batches are the heads of a class, as they are built.
func (c *Class) Batches() (list []stock.Batch) {
	for i := range c.Students {
		if p := &c.Students[i]; p.Err == nil {
			list = append(list, stock.Batch{Head: p.Head.Head, Heads: p.Heads, Player: p.Head.Facts.Player})
		}
	}
	return list
}

// Summary says in one sentence how the class stands with its budget.
func (c *Class) Summary() string {
	n := 0
	var without []string
	for i := range c.Students {
		if c.Students[i].Err != nil {
			without = append(without, c.Students[i].Name)
		} else {
			n += c.Students[i].Heads
		}
	}
	s := fmt.Sprintf("%d heads for %s", n, c.Order.Total)
	switch {
	case c.Budget == 0 && c.Lost > 0:
		s += fmt.Sprintf("; the best for everybody, sharing nothing, would come to %s", c.Best)
	case c.Budget == 0:
	case c.Within && c.Lost > 0:
		s += fmt.Sprintf(", within the budget of %s; the best for everybody, sharing nothing, would come to %s", c.Budget, c.Best)
	case c.Within:
		s += fmt.Sprintf(", within the budget of %s", c.Budget)
	case c.Least == c.LeastBound:
		s += fmt.Sprintf(": the budget of %s can't be met; of the heads weighed, nothing costs less", c.Budget)
	default:
		s += fmt.Sprintf(": no way was found to meet the budget of %s; of the heads weighed, nothing can cost less than %s", c.Budget, c.LeastBound)
	}
	if len(without) > 0 {
		s += "; nothing could be planned for " + strings.Join(without, ", ")
	}
	return s + "."
}
