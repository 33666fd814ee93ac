package propose

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Class is the plan for a class.
type Class struct {
	Students []StudentPlan
	Order    Order // for all together
	Budget   measure.Money
	Within   bool // the order is within the budget, or there is none
	// Shared lists the parts that were given up, the dearest for what they
	// add first, so that the class buys fewer kinds.
	Shared []string
}

// StudentPlan is one student's head, or why there is none.
type StudentPlan struct {
	Student Student
	Head    Candidate // computed in full
	Alike   string    // name of the first student with the same head
	Lost    float64   // points given up to the budget
	Err     error
}

// group is the students with the same answers.
type group struct {
	q     Request
	heads int
	who   []int
	best  found
	s     *search
	top   float64 // score of the best without regard to the budget
	err   error
}

// Class finds a head for each student, and one order for all. Where that costs
// more than the budget, it gives up parts that few students need and that cost
// much, one after the other, and finds the best without them, until the order
// is within the budget or nobody could be served with less.
func (f *Finder) Class(ctx context.Context, r Roster) (Class, error) {
	if len(r.Students) == 0 {
		return Class{}, fmt.Errorf("propose: the roster names no students")
	}
	out := Class{Students: make([]StudentPlan, len(r.Students)), Budget: r.Budget}
	var groups []*group
	byFacts := map[facts.Facts]*group{}
	for i, st := range r.Students {
		out.Students[i].Student = st
		g := byFacts[st.Facts]
		if g == nil {
			g = &group{q: Request{Facts: st.Facts, Known: st.Known, Heads: r.Each}}
			byFacts[st.Facts] = g
			groups = append(groups, g)
		}
		g.who = append(g.who, i)
		g.heads += g.q.heads()
	}
	for _, g := range groups {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		if g.err = f.check(g.q); g.err == nil {
			g.err = f.serve(ctx, g, nil)
			g.top = g.best.score
		}
		if g.err != nil && ctx.Err() == nil {
			if _, ok := g.err.(*Clash); ok {
				g.err = f.clash(ctx, g.q)
			}
		}
	}
	served := slices.DeleteFunc(slices.Clone(groups), func(g *group) bool { return g.err != nil })
	order, err := f.joint(served)
	if err != nil {
		return out, err
	}
	for r.Budget > 0 && order.Total > r.Budget && ctx.Err() == nil {
		better, part, ok := f.share(ctx, served, order, out.Shared)
		if !ok {
			break
		}
		order, out.Shared = better, append(out.Shared, part)
	}
	out.Order, out.Within = order, r.Budget == 0 || order.Total <= r.Budget
	first := map[string]string{}
	for _, g := range groups {
		var c Candidate
		if g.err == nil {
			if c, err = f.Consider(g.s.stack(&g.best), g.q); err != nil {
				g.err = err
			}
		}
		for _, i := range g.who {
			p := &out.Students[i]
			p.Err = g.err
			if g.err != nil {
				continue
			}
			p.Head, p.Lost = c, g.top-g.best.score
			stack := c.Stack.String()
			if name, ok := first[stack]; ok {
				p.Alike = name
			} else {
				first[stack] = p.Student.Name
			}
		}
	}
	return out, ctx.Err()
}

// serve finds the best head for a group without some parts.
func (f *Finder) serve(ctx context.Context, g *group, without []string) error {
	q := g.q
	q.Pin.Without = append(slices.Clone(q.Pin.Without), without...)
	s := f.search(q)
	goal := newGoal(1, math.Inf(-1))
	s.run(ctx, goal)
	if len(goal.best) == 0 {
		return cmp.Or(ctx.Err(), error(&Clash{}))
	}
	g.best, g.s = goal.best[0], s
	return nil
}

// joint is one order for several groups.
func (f *Finder) joint(groups []*group) (Order, error) {
	var makes []Make
	q := Request{}
	q.Facts.Player.Level = "many"
	for i, g := range groups {
		if i == 0 {
			q = g.q // spares as the first needs them; a class is alike
		}
		makes = append(makes, Make{Head: head.New(g.s.stack(&g.best), f.cat.Limits), Heads: g.heads})
	}
	return f.Order(makes, q)
}

// share gives up the part that saves most for what it costs in points, and
// returns the order without it.
func (f *Finder) share(ctx context.Context, groups []*group, order Order, without []string) (Order, string, bool) {
	lines := slices.DeleteFunc(slices.Clone(order.Lines), func(l Line) bool { return l.Cost == 0 || l.Kind == "adhesive" })
	slices.SortStableFunc(lines, func(a, b Line) int {
		return cmp.Compare(float64(b.Cost)/(b.Need+1e-9), float64(a.Cost)/(a.Need+1e-9))
	})
	type trial struct {
		order Order
		part  string
		rate  float64
		was   map[*group]group
	}
	var best *trial
	for _, l := range lines[:min(3, len(lines))] {
		was := map[*group]group{}
		ok := true
		lost := 0.0
		for _, g := range groups {
			if !slices.Contains(g.parts(), l.Part) {
				continue
			}
			was[g] = *g
			if f.serve(ctx, g, append(slices.Clone(without), l.Part)) != nil {
				ok = false
				break
			}
			lost += (was[g].best.score - g.best.score) * float64(len(g.who))
		}
		if ok {
			if o, err := f.joint(groups); err == nil && o.Total < order.Total {
				t := &trial{o, l.Part, float64(order.Total-o.Total) / (lost + 1), map[*group]group{}}
				for g := range was {
					t.was[g] = *g // as it would be
				}
				if best == nil || t.rate > best.rate {
					best = t
				}
			}
		}
		for g, old := range was {
			*g = old
		}
	}
	if best == nil {
		return order, "", false
	}
	for g, new := range maps.All(best.was) {
		*g = new
	}
	return best.order, best.part, true
}

// parts lists the ids of the group's head.
func (g *group) parts() []string {
	st := g.s.stack(&g.best)
	ids := []string{st.Core.ID}
	for _, sl := range st.Slices {
		ids = append(ids, sl.Tube.ID)
	}
	if st.Wrap != nil {
		ids = append(ids, st.Wrap.Yarn.ID)
	}
	if st.Shaft != nil {
		ids = append(ids, st.Shaft.ID)
	}
	return ids
}
