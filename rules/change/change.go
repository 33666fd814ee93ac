// Package change finds the least work that makes an existing head what is wanted.
// It knows which edits there are and what they cost; it never starts a head anew.
package change

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

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
	Others    []propose.Candidate `json:"-"`      // the next cheapest ways of other kinds, at most three
	total     float64             // cents, as changes are compared
}

// Cannot is the error of a change that no head within two edits is.
type Cannot struct {
	Aim     Aim
	Keeping []string // what stands in the way: what a head that is so can't keep to
	// Kept is the head that comes nearest and keeps to everything; Made the
	// one that is as asked, and keeps to the most. Either may be nil.
	Kept, Made *propose.Candidate
}

func (e *Cannot) Error() string {
	s := "this head can't be made " + e.Aim.String() + " within two changes"
	if len(e.Keeping) > 0 {
		s += ": what stands in the way is " + strings.Join(e.Keeping, "; ")
	}
	for _, x := range []struct {
		say string
		c   *propose.Candidate
	}{{"nearest that keeps to all", e.Kept}, {"nearest that is so", e.Made}} {
		if x.c != nil {
			h := &x.c.Facts.Head
			s += fmt.Sprintf("; %s: %s, %+.1f notches, %.1f g, %.1f mm", x.say, x.c.Stack, h.Softness, h.MassG, h.DiameterMM)
		}
	}
	return s
}

// Unwrap returns the clash that it is.
func (e *Cannot) Unwrap() error {
	c := &propose.Clash{}
	for _, text := range append([]string{e.Aim.String()}, e.Keeping...) {
		c.Add(propose.Wish{Fact: "change", Text: text})
	}
	return c
}

// Find finds the cheapest change from a head that exists to one that the rules
// allow, the aim is met by, and all that was to stay is kept in: one edit, or one
// to the ball or the rubber and the yarn wound anew over it. What nobody asked to
// move stays within a notch and costs; another ball costs most.
//
// Cheapest counts the work first: what lies above has to come off and go back
// on, so that a maker starts from the outside; then the new parts, and what
// strays. The error is a *Cannot where no such head is to be had.
func Find(ctx context.Context, f *propose.Finder, from head.Stack, aim Aim, q propose.Request) (Change, error) {
	x, err := start(f, from, aim, q)
	if err != nil {
		return Change{}, err
	}
	return x.best(ctx)
}

// start lists all the ways to change a head.
func start(f *propose.Finder, from head.Stack, aim Aim, q propose.Request) (*changing, error) {
	if !slices.Contains(Ways(), aim.Way) {
		return nil, fault.Errorf("a head can't be made %q; it can be made %v", aim.Way, Ways())
	}
	if aim.By < 0 || math.IsNaN(aim.By) || math.IsInf(aim.By, 0) {
		return nil, fault.Errorf("%s by %v: an amount above zero is needed", aim.Way, aim.By)
	}
	if err := f.Check(q); err != nil {
		return nil, err
	}
	q.Facts.Bench.Units = cmp.Or(q.Facts.Bench.Units, f.World(from))
	aim.Limits = append(slices.Clone(aim.Limits), floors(&q.Facts.Want)...)
	q.Facts.Want.LeastG, q.Facts.Want.LeastMM = 0, 0
	if sh := from.Shaft; sh != nil && from.Core.Bore == 0 {
		from.Core.Bore = sh.Diameter // a head on its shaft has been drilled
	}
	was, err := f.Consider(from, q)
	if err != nil {
		return nil, err
	}
	x := &changing{f: f, q: q, j: f.Judging(q), s: search.New(f, q), goal: aim.of(was, &q)}
	x.j.Bright = !x.goal.sketched() || slices.Contains(aim.Keep, facts.WantColour) || slices.Contains(aim.Keep, facts.HeadBrightDB)
	x.had = map[stackKey]bool{x.key(&was.Stack, ""): true}
	starts := []*search.Edited{{Stack: from}}
	if bare := x.stripped(from); len(bare.Edits) > 0 {
		starts = append(starts, &bare)
		x.list(&bare)
	}
	for _, e := range starts {
		x.once(e)
		x.twice(e)
	}
	return x, nil
}

// changing looks for a change of one head.
type changing struct {
	f    *propose.Finder
	q    propose.Request
	j    *propose.Judging
	s    *search.Search
	goal goal
	had  map[stackKey]bool // stacks that were listed
	open queue             // ways that were not worked out as far as they may have to be
	// short fall short by their parts alone: they count where nothing else does.
	short []option
	// found meet the aim and keep to everything, as far as a sketch tells; kept only
	// the latter, made only the former.
	found, kept, made []*priced
}

// priced is a way to change the head and what it costs. Until it is judged, total
// is at least what it costs, and moved what one stroke tells of it.
type priced struct {
	search.Edited
	at     int                // place in the list
	judged *propose.Candidate // all of it by the reduced stroke; nil until it is judged
	moved  float64            // as goal.moved has it
	cents  float64
	work   int
	total  float64
	breaks []string // what it does not keep to
}

// once lists the stacks that one edit makes: those of the search, and the yarn
// of the head itself wound with other turns.
func (x *changing) once(from *search.Edited) {
	list := x.s.Edits(*from)
	for i := range list {
		x.list(&list[i])
	}
	x.wound(from, turnsApart)
}

// stripped takes off the slices that are to be left out.
func (x *changing) stripped(from head.Stack) search.Edited {
	e := search.Edited{Stack: from}
	e.Stack.Slices = nil
	for i, s := range from.Slices {
		out := slices.Contains(x.q.Pin.Without, s.Tube.ID) || slices.Contains(x.q.Pin.Without, s.Tube.Material) || x.goal.Way == "no latex" && s.Rubber.Latex
		if !out {
			e.Stack.Slices = append(e.Stack.Slices, s)
			continue
		}
		e.Edits = append(e.Edits, search.Edit{Do: "remove", What: fmt.Sprintf("layer %d", i+1), From: s.Tube.ID})
	}
	return e
}

// twice lists the stacks that an edit to the ball or the rubber makes, with the
// yarn wound anew over it: the same with other turns, or another.
func (x *changing) twice(from *search.Edited) {
	once := x.s.Edits(*from)
	var yarns []*search.Edited
	for i := range once {
		if last(&once[i]).What == "yarn" {
			yarns = append(yarns, &once[i])
		}
	}
	for i := range once {
		e := &once[i]
		what := last(e).What
		if what == "yarn" {
			continue
		}
		x.wound(e, turnsOver)
		if what == "core" {
			continue
		}
		rubber := rubberOf(&e.Stack)
		for _, y := range yarns {
			x.add(option{from: e, yarn: y}, rubber)
		}
		x.again(e, what)
	}
}

// last is the edit that was made last.
func last(e *search.Edited) search.Edit { return e.Edits[len(e.Edits)-1] }

// again lists a second edit to the rubber after a first.
func (x *changing) again(e *search.Edited, first string) {
	if x.goal.By == 0 && x.goal.Way != "no latex" {
		return // a little takes no two slices
	}
	list := x.s.Edits(*e)
	for i := range list {
		if what := last(&list[i]).What; what != "yarn" && what != "core" && what != first {
			x.list(&list[i])
		}
	}
}

// How finely turns are tried when a head is wound anew, by itself and over another
// change.
const turnsApart, turnsOver = 8, 20

// wound lists the yarn of a head wound with other turns.
func (x *changing) wound(e *search.Edited, turnsApart int) {
	w := e.Stack.Wrap
	if w == nil {
		return
	}
	was, rubber := x.turns(w), rubberOf(&e.Stack)
	for n := propose.LeastTurns; n <= propose.MostTurns; n += turnsApart {
		if n-was >= turnsApart/2 || was-n >= turnsApart/2 {
			x.add(option{from: e, turns: n}, rubber)
		}
	}
}

// turns is how many turns a wrap is taken to have before it is changed.
func (x *changing) turns(w *head.Wrap) int {
	return cmp.Or(w.Turns, int(x.goal.was.Facts.Head.Turns))
}

// What counts when changes are compared, in cents: a piece of work; a notch, a
// gram and a millimetre that nobody asked to move, and that it is over a notch; each edit, another yarn and
// another ball; and a point of score other than softness. Common practice, no
// source: a layer or a wrap takes a quarter of an hour, and a head on another
// ball is another head.
const (
	workCents                       = 250
	strayCents, gramCents, mmCents  = 500, 60, 60
	farCents                        = 500
	editCents, yarnCents, coreCents = 150, 1000, 1500
	pointCents                      = 150
)

// begin works out what follows from the parts of an option, and either puts it among
// those that fall short by these alone, or back until it is likely enough to be the
// cheapest to be struck.
func (x *changing) begin(o option) {
	e := o.edited(x)
	if e.Stack.Check() != nil {
		return
	}
	c, _, ok := x.j.Parts(e.Stack)
	if !ok {
		return
	}
	was, h := &x.goal.was.Facts.Head, &c.Facts.Head
	h.BrightDB = was.BrightDB
	if x.goal.falls(&c) {
		x.short = append(x.short, o)
		return
	}
	// At best it is just as soft as it is to be.
	h.Softness = was.Softness
	if x.goal.sound() {
		h.Softness += x.goal.way.sign * x.goal.by
	}
	o.stage, o.least = toStrike, x.price(&e, &c).total-hair
	x.open.push(o)
}

// strike puts what a stroke tells of an option where it belongs.
func (x *changing) strike(o option) {
	e := o.edited(x)
	c, ok := x.sketch(e.Stack)
	if !ok {
		return
	}
	breaks, reached := x.goal.breaks(&c), x.goal.likely(&c)
	if !reached && len(breaks) > 0 {
		return
	}
	p := x.price(&e, &c)
	p.at, p.breaks, p.moved = o.at, breaks, x.goal.moved(&c)
	switch {
	case reached && len(breaks) == 0:
		x.found = append(x.found, p)
		o.stage, o.least, o.known = toJudge, p.total, p
		x.open.push(o)
	case reached:
		x.made = append(x.made, p)
	default:
		x.kept = append(x.kept, p)
	}
}

// price is what a change costs, as far as it is known.
func (x *changing) price(e *search.Edited, c *propose.Candidate) *priced {
	p := &priced{Edited: *e, cents: x.newParts(e, &c.Head), work: x.work(e.Edits, len(e.Stack.Slices), e.Stack.Wrap != nil)}
	p.total = workCents*float64(p.work) + editCents*float64(len(e.Edits)) + p.cents + x.goal.astray(c)
	return p
}

// sketch is a head by one stroke, as bright as it was: that is told by strokes at
// other dynamics.
func (x *changing) sketch(st head.Stack) (propose.Candidate, bool) {
	c, _, ok := x.j.Begin(st)
	c.Facts.Head.BrightDB = x.goal.was.Facts.Head.BrightDB
	return c, ok
}

// judge works out all of a head by the reduced stroke, and reports whether no rule
// refuses it and it is what it seemed.
func (x *changing) judge(p *priced) bool {
	c, ok := x.j.Quick(p.Stack)
	if !ok {
		return false
	}
	p.judged, p.breaks, p.moved = &c, x.goal.breaks(&c), x.goal.moved(&c)
	p.total += pointCents * max(0, apart(x.j, &x.goal.was)-apart(x.j, &c))
	return true
}

// enough is how many kinds of change are worth a look: the best, and three beside it;
// mostJudged how many heads are judged for them.
const enough, mostJudged = 4, 2500

// judged are the changes that meet the aim, the cheapest first, as many as the
// cheapest of each kind may be among. Of the others it works out no more than it
// takes to tell that they are none of these.
func (x *changing) judged(ctx context.Context) (list []*priced) {
	best := map[string]float64{}
	for tried := 0; len(x.open) > 0 && tried < mostJudged && ctx.Err() == nil; {
		o := x.open.pop()
		done := 0
		for _, total := range best {
			if total <= o.least {
				done++
			}
		}
		if done >= enough {
			x.open.push(o)
			break
		}
		switch o.stage {
		case toBegin:
			x.begin(o)
			continue
		case toStrike:
			x.strike(o)
			continue
		}
		tried++
		p := new(*o.known)
		if !x.judge(p) || !x.goal.reached(p.judged) || len(p.breaks) > 0 {
			continue
		}
		list = append(list, p)
		if total, ok := best[p.kind()]; !ok || p.total < total {
			best[p.kind()] = p.total
		}
	}
	slices.SortStableFunc(list, func(a, b *priced) int {
		return cmp.Or(cmp.Compare(a.total, b.total), cmp.Compare(b.judged.Score, a.judged.Score))
	})
	return list
}

// best is the cheapest change by the full stroke, or why there is none.
func (x *changing) best(ctx context.Context) (Change, error) {
	found := x.judged(ctx)
	if err := ctx.Err(); err != nil {
		return Change{}, err
	}
	var sure []*priced
	tried := map[string]bool{}
	for _, p := range found {
		kind := p.kind()
		if tried[kind] { // one of each kind is enough to choose by
			continue
		}
		// By the full stroke, what was taken for a change that does may not.
		full, err := x.f.Consider(p.Stack, x.q)
		if err != nil {
			return Change{}, err
		}
		if full.Refused() == nil && x.goal.reached(&full) && len(x.goal.breaks(&full)) == 0 {
			p.judged, tried[kind] = &full, true
			sure = append(sure, p)
		}
		if len(sure) == enough {
			break
		}
	}
	if len(sure) == 0 {
		return Change{}, x.cannot()
	}
	b := sure[0]
	c := Change{Edits: b.Edits, Head: *b.judged, Stack: b.judged.Stack.String(), Work: b.work, CostCents: b.cents, total: b.total,
		Trades: propose.Trades(&x.goal.was.Facts.Head, &b.judged.Facts.Head)}
	for _, o := range sure[1:] {
		c.Others = append(c.Others, *o.judged)
	}
	return c, nil
}

// kind tells ways to change a head apart that are worth a choice: by what is
// done to which piece.
func (p *priced) kind() string {
	var list []string
	for _, e := range p.Edits {
		yarn, _, _ := strings.Cut(e.To, "*")
		list = append(list, e.Do+" "+e.What+" "+map[bool]string{true: yarn}[e.What == "yarn" && strings.HasPrefix(e.From, yarn)])
	}
	return strings.Join(list, ", ")
}

// mostNear is how many heads are taken for the one that comes nearest.
const mostNear = 20

// cannot says what stands in the way, and what comes nearest.
func (x *changing) cannot() error {
	e := &Cannot{Aim: x.goal.Aim}
	x.rest()
	full := func(list []*priced) *propose.Candidate {
		for _, p := range list[:min(3, len(list))] {
			if c, err := x.f.Consider(p.Stack, x.q); err == nil && c.Refused() == nil {
				return &c
			}
		}
		return nil
	}
	all := func(list []*priced, take func(p *priced) bool) (of []*priced) {
		for _, seen := range list[:min(mostJudged, len(list))] {
			if len(of) == mostNear {
				break
			}
			if p := new(*seen); x.judge(p) && take(p) {
				of = append(of, p)
			}
		}
		return of
	}
	nearest := func(list []*priced) {
		slices.SortStableFunc(list, func(a, b *priced) int {
			return cmp.Or(x.goal.less(a.moved, b.moved), cmp.Compare(a.total, b.total))
		})
	}
	x.kept = append(x.kept, x.found...) // what seemed to meet the aim, and does not
	nearest(x.kept)
	kept := all(x.kept, func(p *priced) bool { return len(p.breaks) == 0 })
	nearest(kept)
	const some = 0.1 // of the way: less is no nearer
	if len(kept) > 0 && x.goal.by > 0 && kept[0].moved >= some*x.goal.by {
		e.Kept = full(kept)
	}
	least := func(list []*priced) {
		slices.SortStableFunc(list, func(a, b *priced) int {
			return cmp.Or(cmp.Compare(len(a.breaks), len(b.breaks)), cmp.Compare(a.total, b.total))
		})
	}
	least(x.made)
	made := all(x.made, func(p *priced) bool { return x.goal.reached(p.judged) && len(p.breaks) > 0 })
	if least(made); len(made) > 0 {
		e.Keeping, e.Made = made[0].breaks, full(made[:1])
	}
	return e
}

// apart is a candidate's score apart from its softness, which a change moves
// on purpose.
func apart(j *propose.Judging, c *propose.Candidate) float64 {
	return c.Score + j.SoftnessOff(c.Facts.Head.Softness)
}

// work counts the pieces that come off and go on, to a number of slices and yarn or
// none over them. Everything outside the innermost edit comes off; what is kept goes
// back on.
func (x *changing) work(edits []search.Edit, slices int, wound bool) int {
	const core = -1
	was := &x.goal.was.Stack
	layers := len(was.Slices)
	inner := layers + 1 // the yarn, counted from the inside
	for _, e := range edits {
		at := layers + 1
		switch n, layer := strings.CutPrefix(e.What, "layer "); {
		case e.What == "core":
			at = core
		case layer:
			if i, err := strconv.Atoi(n); err == nil {
				at = i - 1
			}
		}
		inner = min(inner, at)
	}
	pieces := 0
	if inner == core {
		pieces, inner = 3, 0 // find, drill and fit a core
	}
	if was.Wrap != nil {
		pieces++ // unwind
	}
	pieces += max(0, layers-inner) // pull off
	pieces += max(0, slices-inner) // pull on
	if wound {
		pieces++ // wind
	}
	return pieces
}

// newParts is the price of the parts that the edits bring in: a new layer, a
// new core, and the yarn if anything below it is touched. What is on hand is
// free; with a bin, what is not comes by the pack.
func (x *changing) newParts(e *search.Edited, h *head.Head) float64 {
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
		if was := x.goal.was.Stack.Wrap; was != nil && was.Yarn.ID == w.Yarn.ID {
			add(w.Yarn.ID, share, share) // most of it comes off the head again
		} else {
			add(w.Yarn.ID, share, float64(w.Yarn.Price))
		}
	}
	return cents
}
