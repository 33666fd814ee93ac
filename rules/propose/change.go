package propose

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Change is what to do to a head that exists.
type Change struct {
	Edits     []Edit      `json:"edits"`
	Head      Candidate   `json:"-"` // the head that comes of it
	Stack     string      `json:"stack"`
	Work      int         `json:"work"`   // pieces that come off, go on or go back on, the core for three
	CostCents float64     `json:"cost"`   // of new parts, packs shared out
	Trades    []Trade     `json:"trades"` // what else it moves
	Others    []Candidate `json:"-"`      // the next cheapest ways, at most three
}

// Edit is one step of a change.
type Edit struct {
	Do   string `json:"do"`   // add, remove or swap
	What string `json:"what"` // layer 1, layer 2, …, yarn, core
	From string `json:"from,omitempty"`
	To   string `json:"to,omitempty"`
}

// Aim is which way a head is to be changed: softer, harder, lighter, smaller,
// cheaper or no latex.
type Aim struct {
	Way string
	By  float64 // notches, grams, millimetres or cents; zero is a little: 2 notches, or a tenth
}

// Ways are what an Aim may be.
func Ways() []string {
	return []string{"softer", "harder", "lighter", "smaller", "cheaper", "no latex"}
}

// met reports whether a head is what the aim wants of the head it was.
func (a Aim) met(was, is *facts.Head) bool {
	by := a.By
	switch a.Way {
	case "softer", "harder":
		move := is.Softness - was.Softness
		if a.Way == "harder" {
			move = -move
		}
		by = cmp.Or(by, 2)
		return move >= by-0.5 && move <= by+1
	case "lighter":
		return is.MassG <= was.MassG-cmp.Or(by, was.MassG/10)
	case "smaller":
		return is.DiameterMM <= was.DiameterMM-cmp.Or(by, was.DiameterMM/10)
	case "cheaper":
		return is.CostCents <= was.CostCents-cmp.Or(by, was.CostCents/10)
	}
	return !is.Latex
}

// missed is how far the sound strays while something else is aimed at, in
// notches; for an aim at the sound, how far it is off.
func (a Aim) missed(was, is *facts.Head) float64 {
	switch a.Way {
	case "softer":
		return math.Abs(is.Softness - was.Softness - cmp.Or(a.By, 2))
	case "harder":
		return math.Abs(was.Softness - is.Softness - cmp.Or(a.By, 2))
	}
	return math.Abs(is.Softness - was.Softness)
}

// edited is a stack some edits away from the one that exists.
type edited struct {
	stack head.Stack
	edits []Edit
}

// Change finds the cheapest change from a head that exists to one that the
// rules allow and the aim is met by: one edit if one does, else two. The core,
// the yarn and any layer may be swapped, a layer added on top or any taken
// out.
//
// Cheapest counts the work first: what lies above has to come off and go back
// on, so that a maker starts from the outside; then the new parts, and how far
// the sound strays without being asked to. See workCents and strayCents.
func (f *Finder) Change(ctx context.Context, from head.Stack, aim Aim, q Request) (Change, error) {
	if !slices.Contains(Ways(), aim.Way) {
		return Change{}, fmt.Errorf("propose: a head can't be made %q; it can be made %v", aim.Way, Ways())
	}
	if aim.By < 0 || math.IsNaN(aim.By) || math.IsInf(aim.By, 0) {
		return Change{}, fmt.Errorf("propose: %s by %v: an amount above zero is needed", aim.Way, aim.By)
	}
	if err := f.check(q); err != nil {
		return Change{}, err
	}
	if sh := from.Shaft; sh != nil && from.Core.Bore == 0 {
		from.Core.Bore = sh.Diameter // a head on its shaft has been drilled
	}
	was, err := f.Consider(from, q)
	if err != nil {
		return Change{}, err
	}
	s := f.search(q)
	list := s.edits(edited{stack: from})
	best, err := s.cheapest(ctx, was, list, aim)
	if err != nil || best != nil {
		return s.changed(was, best), err
	}
	var twice []edited
	for _, e := range list {
		// Two edits are tried where the first is to the rubber or the core
		// and the second to the yarn or one layer more; rewinding goes with
		// any of them.
		if e.edits[0].What != "yarn" {
			twice = append(twice, s.edits(e)...)
		}
	}
	best, err = s.cheapest(ctx, was, twice, aim)
	if err != nil {
		return Change{}, err
	}
	if best == nil {
		c := &Clash{}
		c.add(Wish{Fact: "change", Text: "what this one would be, " + aim.String() + ", within two changes"})
		return Change{}, c
	}
	return s.changed(was, best), nil
}

func (a Aim) String() string {
	unit := map[string]string{"softer": "notches", "harder": "notches", "lighter": "g", "smaller": "mm", "cheaper": "cents"}[a.Way]
	if a.By == 0 || unit == "" {
		return a.Way
	}
	return fmt.Sprintf("%g %s %s", a.By, unit, a.Way)
}

// edits lists the stacks one edit away.
func (s *search) edits(e edited) []edited {
	var list []edited
	with := func(edit Edit, change func(*head.Stack)) {
		x := edited{stack: e.stack, edits: append(slices.Clone(e.edits), edit)}
		x.stack.Slices = slices.Clone(e.stack.Slices)
		change(&x.stack)
		if len(x.stack.Slices) <= mostLayers {
			list = append(list, x)
		}
	}
	for i, sl := range e.stack.Slices {
		what := fmt.Sprintf("layer %d", i+1)
		with(Edit{"remove", what, sl.Tube.ID, ""}, func(t *head.Stack) { t.Slices = slices.Delete(t.Slices, i, i+1) })
		for k := range s.tubes {
			if to := s.tubes[k].slice; to.Tube.ID != sl.Tube.ID {
				with(Edit{"swap", what, sl.Tube.ID, to.Tube.ID}, func(t *head.Stack) { t.Slices[i] = to })
			}
		}
	}
	for k := range s.tubes {
		to := s.tubes[k].slice
		with(Edit{"add", fmt.Sprintf("layer %d", len(e.stack.Slices)+1), "", to.Tube.ID}, func(t *head.Stack) { t.Slices = append(t.Slices, to) })
	}
	for k := range s.wraps {
		o := &s.wraps[k]
		edit := Edit{"swap", "yarn", wrapText(e.stack.Wrap), ""}
		var wrap *head.Wrap
		if !o.none {
			w := o.wrap
			w.Turns = head.PlainTurns(w.Yarn, s.bare(e.stack))
			if y, ok := s.f.cat.Yarn(w.Yarn.ID); ok {
				w.Yarn = y
			}
			wrap = &w
			edit.To = wrapText(wrap)
		}
		if e.stack.Wrap == nil {
			edit.Do = "add"
		} else if wrap == nil {
			edit.Do = "remove"
		}
		if edit.From != edit.To {
			with(edit, func(t *head.Stack) { t.Wrap = wrap })
		}
	}
	for _, r := range s.roots {
		for i := range r.cores {
			c := &r.cores[i]
			if c.core.ID != e.stack.Core.ID && (e.stack.Shaft == nil || takes(c.core, e.stack.Shaft)) {
				with(Edit{"swap", "core", e.stack.Core.ID, c.core.ID}, func(t *head.Stack) { t.Core, t.Material = c.core, c.material })
			}
		}
	}
	return list
}

func wrapText(w *head.Wrap) string {
	if w == nil {
		return ""
	}
	if w.Turns == 0 {
		return w.Yarn.ID
	}
	return fmt.Sprintf("%s*%d", w.Yarn.ID, w.Turns)
}

// What a piece of work, a notch of sound that nobody asked to move, and a point
// of score other than softness count as when changes are compared. Common
// practice, no source: a layer or a wrap takes a quarter of an hour.
const workCents, strayCents, pointCents = 250, 500, 150

// cheapest returns the few cheapest of the stacks that the rules allow and the
// aim is met by, cheapest first.
func (s *search) cheapest(ctx context.Context, was Candidate, list []edited, aim Aim) ([]priced, error) {
	var found []priced
	j := s.f.judging(s.q)
	seen := map[string]bool{was.Stack.String(): true}
	for i := range list {
		if ctx.Err() != nil {
			break
		}
		e := &list[i]
		if e.stack.Check() != nil {
			continue
		}
		c, ok := s.quick(e.stack, j)
		if !ok || !aim.met(&was.Facts.Head, &c.Facts.Head) {
			continue
		}
		if text := c.Stack.String(); seen[text] {
			continue
		} else {
			seen[text] = true
		}
		p := priced{edited: e, sketch: c, cents: s.newParts(e), work: e.work(len(was.Stack.Slices), was.Stack.Wrap != nil)}
		p.total = workCents*float64(p.work) + p.cents + strayCents*aim.missed(&was.Facts.Head, &c.Facts.Head)
		p.total += pointCents * max(0, j.apart(&was)-j.apart(&c))
		found = append(found, p)
	}
	slices.SortStableFunc(found, func(a, b priced) int {
		return cmp.Or(cmp.Compare(a.total, b.total), cmp.Compare(b.sketch.Score, a.sketch.Score))
	})
	found = found[:min(len(found), 8)]
	// By the full stroke, what was taken for a change that does may not.
	var sure []priced
	for _, p := range found {
		full, err := s.f.Consider(p.edited.stack, s.q)
		if err != nil {
			return nil, err
		}
		if full.Refused() == nil && aim.met(&was.Facts.Head, &full.Facts.Head) {
			p.sketch = full
			sure = append(sure, p)
		}
		if len(sure) == 4 {
			break
		}
	}
	if len(sure) == 0 {
		return nil, ctx.Err()
	}
	return sure, nil
}

// apart is a candidate's score apart from its softness, which a change moves
// on purpose.
func (j *judging) apart(c *Candidate) float64 {
	return c.Score + j.w.softness*math.Abs(c.Facts.Head.Softness-j.base.Want.Softness)
}

type priced struct {
	*edited
	sketch Candidate
	cents  float64
	work   int
	total  float64
}

// work counts the pieces that come off and go on. Everything outside the
// innermost edit comes off; what is kept goes back on.
func (e *edited) work(layers int, wrapped bool) int {
	const core = -1
	inner := layers + 1 // the yarn, counted from the inside
	for _, x := range e.edits {
		at := layers + 1
		var n int
		switch {
		case x.What == "core":
			at = core
		case x.What != "yarn":
			if _, err := fmt.Sscanf(x.What, "layer %d", &n); err == nil {
				at = n - 1
			}
		}
		inner = min(inner, at)
	}
	work := 0
	if inner == core {
		work, inner = 3, 0 // find, drill and fit a core
	}
	if wrapped {
		work++ // unwind
	}
	work += max(0, layers-inner)              // pull off
	work += max(0, len(e.stack.Slices)-inner) // pull on
	if e.stack.Wrap != nil {
		work++ // wind
	}
	return work
}

// newParts is the price of the parts that the edits bring in: a new layer, a
// new core, and the yarn if anything below it is touched.
func (s *search) newParts(e *edited) float64 {
	h := head.New(e.stack, s.f.cat.Limits)
	if s.q.Bin != nil {
		return 0
	}
	var cents float64
	for _, x := range e.edits {
		if x.Do == "remove" {
			continue
		}
		for i := range h.Layers {
			if t := h.Layers[i].Slice.Tube; t.ID == x.To {
				cents += s.f.sliceCents(centsPer(t.Price, float64(t.Pack)), h.Layers[i].Cut)
				break
			}
		}
		if x.What == "core" {
			cents += centsPer(e.stack.Core.Price, float64(e.stack.Core.Pack))
		}
	}
	if w := e.stack.Wrap; w != nil { // it is wound anew whatever is changed
		cents += centsPer(w.Yarn.Price, float64(w.Yarn.Pack)) * float64(h.YarnMass)
	}
	return cents
}

func (s *search) changed(was Candidate, best []priced) Change {
	if len(best) == 0 {
		return Change{}
	}
	b := best[0]
	c := Change{Edits: b.edits, Head: b.sketch, Stack: b.sketch.Stack.String(), Work: b.work, CostCents: b.cents, Trades: trades(&was.Facts.Head, &b.sketch.Facts.Head)}
	for _, o := range best[1:] {
		c.Others = append(c.Others, o.sketch)
	}
	return c
}

// bare returns the diameter over the rubber.
func (s *search) bare(st head.Stack) measure.Length {
	st.Wrap = nil
	return head.New(st, s.f.cat.Limits).Bare
}
