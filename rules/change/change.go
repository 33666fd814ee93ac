// Package change finds the least work that makes an existing head what is wanted.
// It knows which edits there are and what they cost; it never starts a head anew.
package change

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
	"mallow/rules/stock"
)

// Change is what to do to a head that exists.
type Change struct {
	Edits     []search.Edit       `json:"edits"`
	Head      propose.Candidate   `json:"-"` // the head that comes of it
	Stack     string              `json:"stack"`
	Work      int                 `json:"work"`   // pieces that come off, go on or go back on, the core for three
	CostCents float64             `json:"cost"`   // of new parts, packs shared out
	Trades    []propose.Trade     `json:"trades"` // what else it moves
	Others    []propose.Candidate `json:"-"`      // the next cheapest ways, at most three
}

// Aim is which way a head is to be changed: softer, harder, lighter, smaller,
// cheaper or no latex.
type Aim struct {
	Way string
	// Keep are the facts, by path, that are to stay as they are: limits, not
	// wishes.
	Keep []string
	By   float64 // notches, grams, millimetres or cents; zero is a little: 2 notches, or a tenth
}

// Ways are what an Aim may be.
func Ways() []string {
	return []string{"softer", "harder", "lighter", "smaller", "cheaper", "no latex"}
}

// How far a change may move what nobody asked to move: a notch, which is what
// people hear, and a gram or a millimetre of what was to be kept. Common
// practice, no source.
const (
	unasked       = 1.0
	keptG, keptMM = 1.0, 1.0
)

// met reports whether a head is what the aim wants of the head it was. What was
// to be kept may not grow, and hardly shrink; a wound head stays wound; and only
// an aim at the sound moves it by more than a notch.
func (a Aim) met(was, is *facts.Head) bool {
	by := a.By
	if was.Turns > 0 && is.Turns == 0 {
		return false
	}
	if a.Way != "softer" && a.Way != "harder" && math.Abs(is.Softness-was.Softness) > unasked {
		return false
	}
	for _, path := range a.Keep {
		switch path {
		case facts.WantMassG, facts.HeadMassG:
			if is.MassG > was.MassG+0.05 || is.MassG < was.MassG-max(keptG, was.MassG/10) {
				return false
			}
		case facts.WantDiameterMM, facts.HeadDiameterMM:
			if is.DiameterMM > was.DiameterMM+0.05 || is.DiameterMM < was.DiameterMM-max(keptMM, was.DiameterMM/10) {
				return false
			}
		case facts.WantSoftness, facts.HeadSoftness:
			if math.Abs(is.Softness-was.Softness) > unasked/2 {
				return false
			}
		}
	}
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

// Find finds the cheapest change from a head that exists to one that the
// rules allow and the aim is met by: one edit if one does, else two. The core,
// the yarn and any layer may be swapped, a layer added on top or any taken
// out.
//
// Cheapest counts the work first: what lies above has to come off and go back
// on, so that a maker starts from the outside; then the new parts, and how far
// the sound strays without being asked to. See workCents and strayCents.
func Find(ctx context.Context, f *propose.Finder, from head.Stack, aim Aim, q propose.Request) (Change, error) {
	if !slices.Contains(Ways(), aim.Way) {
		return Change{}, fault.Errorf("a head can't be made %q; it can be made %v", aim.Way, Ways())
	}
	if aim.By < 0 || math.IsNaN(aim.By) || math.IsInf(aim.By, 0) {
		return Change{}, fault.Errorf("%s by %v: an amount above zero is needed", aim.Way, aim.By)
	}
	if err := f.Check(q); err != nil {
		return Change{}, err
	}
	if sh := from.Shaft; sh != nil && from.Core.Bore == 0 {
		from.Core.Bore = sh.Diameter // a head on its shaft has been drilled
	}
	was, err := f.Consider(from, q)
	if err != nil {
		return Change{}, err
	}
	x := &changing{f: f, q: q, j: f.Judging(q), was: was, aim: aim}
	s := search.New(f, q)
	list := s.Edits(search.Edited{Stack: from})
	best, err := x.cheapest(ctx, list)
	if err != nil || best != nil {
		return x.changed(best), err
	}
	var twice []search.Edited
	for _, e := range list {
		// Two edits are tried where the first is to the rubber or the core
		// and the second to the yarn or one layer more; rewinding goes with
		// any of them.
		if e.Edits[0].What != "yarn" {
			twice = append(twice, s.Edits(e)...)
		}
	}
	best, err = x.cheapest(ctx, twice)
	if err != nil {
		return Change{}, err
	}
	if best == nil {
		c := &propose.Clash{}
		c.Add(propose.Wish{Fact: "change", Text: "what this one would be, " + aim.String() + ", within two changes"})
		return Change{}, c
	}
	return x.changed(best), nil
}

// changing looks for a change of one head.
type changing struct {
	f   *propose.Finder
	q   propose.Request
	j   *propose.Judging
	was propose.Candidate
	aim Aim
}

func (a Aim) String() string {
	unit := map[string]string{"softer": "notches", "harder": "notches", "lighter": "g", "smaller": "mm", "cheaper": "cents"}[a.Way]
	if a.By == 0 || unit == "" {
		return a.Way
	}
	return fmt.Sprintf("%g %s %s", a.By, unit, a.Way)
}

// What a piece of work, a notch of sound that nobody asked to move, and a point
// of score other than softness count as when changes are compared. Common
// practice, no source: a layer or a wrap takes a quarter of an hour.
const workCents, strayCents, pointCents = 250, 500, 150

// cheapest returns the few cheapest of the stacks that the rules allow and the
// aim is met by, cheapest first.
func (x *changing) cheapest(ctx context.Context, list []search.Edited) ([]priced, error) {
	var found []priced
	was, aim, j := &x.was, x.aim, x.j
	seen := map[string]bool{was.Stack.String(): true}
	for i := range list {
		if ctx.Err() != nil {
			break
		}
		e := &list[i]
		if e.Stack.Check() != nil {
			continue
		}
		c, ok := j.Quick(e.Stack)
		if !ok || !aim.met(&was.Facts.Head, &c.Facts.Head) {
			continue
		}
		if text := c.Stack.String(); seen[text] {
			continue
		} else {
			seen[text] = true
		}
		p := priced{Edited: e, sketch: c, cents: x.newParts(e), work: work(e, len(was.Stack.Slices), was.Stack.Wrap != nil)}
		p.total = workCents*float64(p.work) + p.cents + strayCents*aim.missed(&was.Facts.Head, &c.Facts.Head)
		p.total += pointCents * max(0, apart(j, was)-apart(j, &c))
		found = append(found, p)
	}
	slices.SortStableFunc(found, func(a, b priced) int {
		return cmp.Or(cmp.Compare(a.total, b.total), cmp.Compare(b.sketch.Score, a.sketch.Score))
	})
	found = found[:min(len(found), 8)]
	// By the full stroke, what was taken for a change that does may not.
	var sure []priced
	for _, p := range found {
		full, err := x.f.Consider(p.Edited.Stack, x.q)
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
func apart(j *propose.Judging, c *propose.Candidate) float64 {
	return c.Score + j.SoftnessOff(c.Facts.Head.Softness)
}

type priced struct {
	*search.Edited
	sketch propose.Candidate
	cents  float64
	work   int
	total  float64
}

// work counts the pieces that come off and go on. Everything outside the
// innermost edit comes off; what is kept goes back on.
func work(e *search.Edited, layers int, wrapped bool) int {
	const core = -1
	inner := layers + 1 // the yarn, counted from the inside
	for _, x := range e.Edits {
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
	pieces := 0
	if inner == core {
		pieces, inner = 3, 0 // find, drill and fit a core
	}
	if wrapped {
		pieces++ // unwind
	}
	pieces += max(0, layers-inner)              // pull off
	pieces += max(0, len(e.Stack.Slices)-inner) // pull on
	if e.Stack.Wrap != nil {
		pieces++ // wind
	}
	return pieces
}

// newParts is the price of the parts that the edits bring in: a new layer, a
// new core, and the yarn if anything below it is touched. What is on hand is
// free; with a bin, what is not comes by the pack.
func (x *changing) newParts(e *search.Edited) float64 {
	h := head.New(e.Stack, x.f.Catalogue().Limits)
	var cents float64
	add := func(part string, share, pack float64) {
		switch {
		case x.q.Bin.OnHand(part) > 0:
		case x.q.Bin != nil:
			cents += pack
		default:
			cents += share
		}
	}
	for _, d := range e.Edits {
		if d.Do == "remove" {
			continue
		}
		for i := range h.Layers {
			if t := h.Layers[i].Slice.Tube; t.ID == d.To {
				add(t.ID, stock.SliceCents(stock.CentsPer(t.Price, float64(t.Pack)), h.Layers[i].Cut, &x.f.Catalogue().Limits), float64(t.Price))
				break
			}
		}
		if d.What == "core" {
			core := &e.Stack.Core
			add(core.ID, stock.CentsPer(core.Price, float64(core.Pack)), float64(core.Price))
		}
	}
	if w := e.Stack.Wrap; w != nil { // it is wound anew whatever is changed
		share := stock.CentsPer(w.Yarn.Price, float64(w.Yarn.Pack)) * float64(h.YarnMass)
		if was := x.was.Stack.Wrap; was != nil && was.Yarn.ID == w.Yarn.ID {
			add(w.Yarn.ID, share, share) // most of it comes off the head again
		} else {
			add(w.Yarn.ID, share, float64(w.Yarn.Price))
		}
	}
	return cents
}

func (x *changing) changed(best []priced) Change {
	if len(best) == 0 {
		return Change{}
	}
	b := best[0]
	c := Change{Edits: b.Edits, Head: b.sketch, Stack: b.sketch.Stack.String(), Work: b.work, CostCents: b.cents, Trades: propose.Trades(&x.was.Facts.Head, &b.sketch.Facts.Head)}
	for _, o := range best[1:] {
		c.Others = append(c.Others, o.sketch)
	}
	return c
}
