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
	"mallow/knowledge/strike"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
)

// Change is what to do to a head that exists.
type Change struct {
	Edits     []search.Edit       `json:"edits"`
	Head      propose.Candidate   `json:"-"` // the head that comes of it
	Stack     string              `json:"stack"`
	Work      int                 `json:"work"`   // pieces that come off, go on or go back on, the core for three
	CostCents float64             `json:"cost"`   // of new parts, packs shared out
	Trades    []propose.Trade     `json:"trades"` // what else it moves
	Others    []propose.Candidate `json:"-"`      // the next cheapest ways of other kinds
	total     float64             // cents, as changes are compared
}

// Cannot is the error of a change that no head within two edits is.
type Cannot struct {
	Aim     Aim
	Keeping []string // what stands in the way: what a head that is so can't keep to
	// Kept is the head that comes nearest and keeps to everything; Made the
	// one that is as asked, and keeps to the most. Either may be nil.
	Kept, Made *propose.Candidate
	Short      []Move // of several moves, those that Kept does not make
}

func (e *Cannot) Error() string {
	s := "this head can't be made " + e.Aim.String() + " within two changes"
	if len(e.Keeping) > 0 {
		s += ": what stands in the way is " + strings.Join(e.Keeping, "; ")
	}
	for _, x := range []struct {
		say string
		c   *propose.Candidate
	}{{"nearest that keeps to all" + e.But(), e.Kept}, {"nearest that is so", e.Made}} {
		if x.c != nil {
			h := &x.c.Facts.Head
			s += fmt.Sprintf("; %s: %s, %+.1f notches, %.1f g, %.1f mm", x.say, x.c.Stack, h.Softness, h.MassG, h.DiameterMM)
		}
	}
	return s
}

// But says what of several moves the nearest head that keeps to all does not make.
func (e *Cannot) But() string {
	if len(e.Short) == 0 {
		return ""
	}
	return ", but is not " + Aim{Moves: e.Short}.String()
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
// to the ball or the rubber and the yarn wound anew over it, another yarn over another
// ball only where something has to go. What nobody asked to
// move stays within a notch and costs; another ball costs most. Others is how many
// more are looked for, of other kinds.
//
// Cheapest counts the work first: what lies above has to come off and go back
// on, so that a maker starts from the outside; then the new parts, and what
// strays. The error is a *Cannot where no such head is to be had.
func Find(ctx context.Context, f *propose.Finder, from head.Stack, aim Aim, q propose.Request, others int) (Change, error) {
	x, err := start(f, from, aim, q)
	if err != nil {
		return Change{}, err
	}
	if x.goal.had() {
		return Change{}, ErrNone
	}
	return x.best(ctx, others)
}

// had reports whether nothing is asked of the head but to do without what is not in it.
func (g *goal) had() bool {
	if g.without() {
		return g.reached(&g.was) && g.was.Refused() == nil
	}
	return g.orders() && g.reached(&g.was) // it is so already: no slices, so many turns
}

// ErrNone is the error of a head that is to be made without what is not in it.
var ErrNone = fault.Errorf("there is nothing to change: none of what is to be left out is in the head, or it is so already")

// start lists all the ways to change a head.
func start(f *propose.Finder, from head.Stack, aim Aim, q propose.Request) (*changing, error) {
	if err := aim.check(); err != nil {
		return nil, err
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
	x := &changing{f: f, q: q, j: f.Judging(q), s: search.New(f, q), goal: aim.of(was, &q), beneath: beneath(f.Book())}
	x.goal.word = func(softness float64) string { return strike.Grade(softness, x.j.Sound.Scale) }
	x.goal.usual()
	x.j.Bright = !x.goal.sketched() || slices.Contains(aim.Keep, facts.WantColour) || slices.Contains(aim.Keep, facts.HeadBrightDB)
	x.most, x.points = x.s.Most(x.j.Bright), apart(x.j, &was)
	if math.IsInf(x.points, -1) {
		x.points = 0 // the head is refused as it is, and what it is changed to is to be liked all the same
	} else {
		x.likes, _ = x.j.Likes(&was.Facts, was.Layers)
		x.points -= x.likes
	}
	x.softest[0], x.softest[1] = x.goal.window()
	head := &under{Edited: search.Edited{Stack: from}}
	x.had = map[stackKey]bool{x.key(&was.Stack, x.name(head)): true}
	x.near(head)
	if bare := x.stripped(from); len(bare.Edits) > 0 {
		u := &under{Edited: bare}
		x.add(option{on: u})
		x.near(u)
	}
	return x, nil
}

// changing looks for a change of one head.
type changing struct {
	f       *propose.Finder
	q       propose.Request
	j       *propose.Judging
	s       *search.Search
	most    search.Most
	goal    goal
	beneath bool              // the rules on layers can tell before the yarn is wound
	points  float64           // of the head as it is, apart from its softness and its slices
	likes   float64           // of its slices
	softest [2]float64        // least and most notches of a head that is as is wanted
	had     map[stackKey]bool // stacks that were listed
	at      int               // the last place in the list
	open    queue             // ways that were not worked out as far as they may have to be
	judged  int               // how many were judged
	// short can't be what is wanted, as far as was worked out: they count where
	// nothing else is.
	short []*option
	// found meet the aim and keep to everything, as far as a sketch tells; kept only
	// the latter, made only the former.
	found, kept, made []*priced
}

// priced is a way to change the head and what it costs. Until it is judged, total
// is at least what it costs, and share and short what one stroke tells of it.
type priced struct {
	search.Edited
	way    *option
	judged *propose.Candidate // all of it by the reduced stroke; nil until it is judged
	share  float64            // as goal.share has it
	short  []Move             // that it does not make
	cents  float64
	work   int
	total  float64
	breaks []string // what it does not keep to
}

// stripped takes off the slices that are to be left out.
func (x *changing) stripped(from head.Stack) search.Edited {
	e := search.Edited{Stack: from}
	e.Stack.Slices = nil
	for i, s := range from.Slices {
		out := slices.Contains(x.q.Pin.Without, s.Tube.ID) || slices.Contains(x.q.Pin.Without, s.Tube.Material) || x.goal.aims(NoLatex) && s.Rubber.Latex
		if !out {
			e.Stack.Slices = append(e.Stack.Slices, s)
			continue
		}
		e.Edits = append(e.Edits, search.Edit{Do: "remove", What: fmt.Sprintf("layer %d", i+1), From: s.Tube.ID})
	}
	return e
}

// near lists the stacks that one edit makes: those of the search, and the yarn of
// the head itself wound with other turns. An edit to the ball or the rubber is
// followed up only once it is its turn.
func (x *changing) near(head *under) {
	list := x.s.Edits(head.Edited)
	for i := range list {
		if e := &list[i]; last(e).What == "yarn" {
			for _, y := range fuller(e) {
				head.yarns = append(head.yarns, y)
				x.add(option{on: head, yarn: y})
			}
		}
	}
	x.wound(head, turnsApart)
	for i := range list {
		switch e := &list[i]; last(e).What {
		case "yarn":
		case "core":
			if was, is := head.Stack.Core, e.Stack.Core; was.Material == is.Material && was.Diameter == is.Diameter && was.DurometerA == is.DurometerA && was.DurometerD == is.DurometerD {
				continue // the same ball, bored or not
			}
			u := &under{Edited: *e, once: true}
			if x.goal.without() { // ball and slices may both have to go
				u.yarns = head.yarns
			}
			x.later(u)
		default:
			x.later(&under{Edited: *e, once: true, yarns: head.yarns})
		}
	}
}

// unfold lists what an edit to the ball or the rubber makes, alone and with the yarn
// wound anew over it: the same with other turns, or another. After one edit comes
// a second.
func (x *changing) unfold(u *under) {
	if x.goal.aims(NoLatex) && u.Stack.Latex() && !u.once {
		return
	}
	if x.add(option{on: u}); u.once {
		x.wound(u, turnsOver)
		for _, y := range u.yarns {
			x.add(option{on: u, yarn: y})
		}
		x.again(u)
	}
}

// last is the edit that was made last.
func last(e *search.Edited) search.Edit { return e.Edits[len(e.Edits)-1] }

// again lists a second edit to the rubber after a first.
func (x *changing) again(u *under) {
	first := last(&u.Edited).What
	if m := x.goal.Moves; first == "core" || len(m) == 1 && m[0].By == 0 && m[0].Way != NoLatex {
		return // a little takes no two slices
	}
	list := x.s.Reslice(u.Edited)
	for i := range list {
		what := last(&list[i]).What
		if n, ok := layer(what); what != first && (u.allowed || ok && n <= u.holds+1) { // what is refused further in stays so
			x.later(&under{Edited: list[i]})
		}
	}
}

// layer is the number of the layer that an edit is of, 1 the innermost.
func layer(what string) (n int, ok bool) {
	text, ok := strings.CutPrefix(what, "layer ")
	n, err := strconv.Atoi(text)
	return n, ok && err == nil
}

// How finely turns are tried when a head is wound anew, by itself and over another
// change.
const turnsApart, turnsOver = 8, 20

// wound lists the yarn of a head wound with other turns.
func (x *changing) wound(u *under, turnsApart int) {
	w := u.Stack.Wrap
	if w == nil {
		return
	}
	was := x.turns(w)
	for _, m := range x.goal.ways { // as many as were said
		if m.fact == facts.HeadTurns && m.by > 0 {
			x.add(option{on: u, turns: was + int(math.Round(m.sign*m.by))})
		}
	}
	for n := propose.LeastTurns; n <= propose.MostTurns; n += turnsApart {
		if n-was >= turnsApart/2 || was-n >= turnsApart/2 {
			x.add(option{on: u, turns: n})
		}
	}
}

// turns is how many turns a wrap is taken to have before it is changed.
func (x *changing) turns(w *head.Wrap) int {
	return cmp.Or(w.Turns, int(x.goal.was.Facts.Head.Turns))
}

// What counts when changes are compared, in cents: a piece of work; a notch, a
// gram and a millimetre that nobody asked to move, and that it is over a notch; a turn
// more or fewer, the time that one more takes, one fewer than covers a head well, and to go by another word, where neither was asked for; each edit, another yarn, one of
// another fibre, slices of a rubber that the head had none of, or of
// another size where only their rubber is to go, and another ball, less where weight or size is what is to
// move; and a point of score other than softness. Common practice, no
// source: a layer or a wrap takes a quarter of an hour, and a head on another
// ball is another head.
const (
	workCents                       = 250
	strayCents, gramCents, mmCents  = 500, 60, 60
	turnCents, moreCents, wordCents = 2, 3, 250
	farCents                        = 500
	fewCents, fewTurns              = 8, 80
	editCents, yarnCents, coreCents = 150, 1000, 1500
	fibreCents, ballCents           = 1250, 500
	materialCents                   = 500 // of a bare ball, where its size or its weight alone is to move
	rubberCents, sizeCents          = 1000, 600
	follows                         = 0.1 // of what strays by itself after an order about the parts
	rewoundCents                    = 40  // of a turn fewer, where weight or size is to go down: another ball does that, and the cover stays
	orderedCents                    = 15  // of a turn, where another part alone was spoken of, or how many turns
	ballMMCents                     = 200 // of a ball that is to be another size
	bareStray                       = 0.3 // of a notch's, of bare balls, whose words are notches wide
	pointCents                      = 150
)

// begin works out what follows from the parts of an option, and what it costs at
// least if it is just as soft as is best.
func (x *changing) begin(o *option) {
	c, _, ok := x.parts(o)
	if !ok {
		return
	}
	was, h := &x.goal.was.Facts.Head, &c.Facts.Head
	h.BrightDB = was.BrightDB
	points, allowed := x.most.Parts(h, x.softest[0], x.softest[1])
	if !allowed || x.goal.falls(&c) {
		x.short = append(x.short, o)
		return
	}
	// What it costs, but for being off in softness.
	h.Softness = x.ideal()
	o.cents = x.price(o, &c) + x.lost(points, o.on.likes)
	o.stage, o.least = toStrike, o.cents-hair
	x.open.push(o)
}

// ideal is the softness that costs nothing.
func (x *changing) ideal() float64 {
	s := x.goal.at
	if w := x.goal.sound(); w != nil {
		s += w.sign * w.by
	}
	return s
}

// lost is what a head costs that has so many points, apart from those for its
// softness, and for its slices. What a head gains in grams makes no odd slice usual.
func (x *changing) lost(points, slices float64) float64 {
	return pointCents * (max(0, x.points-points) + max(0, x.likes-slices))
}

// strike puts what a stroke tells of an option where it belongs.
func (x *changing) strike(o *option) {
	c, b, ok := x.parts(o)
	if !ok {
		return
	}
	h := &c.Facts.Head
	x.j.Strike(&c, &b)
	h.BrightDB = x.goal.was.Facts.Head.BrightDB // that is told by strokes at other dynamics
	x.windings(o).tell(int(h.Turns), h.Softness)
	breaks, reached := x.goal.breaks(&c), x.goal.likely(&c)
	if !reached && len(breaks) > 0 {
		return
	}
	total := x.price(o, &c)
	p := &priced{Edited: o.edited(x), way: o, total: total, breaks: breaks, share: x.goal.share(&c), short: x.goal.short(&c)}
	p.cents, p.work = o.on.cents+x.yarnCents(&c.Head), o.work
	switch {
	case reached && len(breaks) == 0:
		x.found = append(x.found, p)
		points, allowed := x.most.Struck(h)
		if !allowed {
			return
		}
		o.stage, o.known, o.least = toJudge, p, max(o.least, total+x.lost(points, o.on.likes)-hair)
		x.open.push(o)
	case reached:
		x.made = append(x.made, p)
	default:
		x.kept = append(x.kept, p)
	}
}

// price is what a change costs, as far as it is known.
func (x *changing) price(o *option, c *propose.Candidate) float64 {
	return workCents*float64(o.work) + editCents*float64(o.edits()) + o.on.cents + x.yarnCents(&c.Head) + x.goal.astray(c) + x.renamed(c)
}

// renamed is what it costs that a head goes by another word than the one it has been
// called by, where nobody asked to move its softness.
func (x *changing) renamed(c *propose.Candidate) float64 {
	scale := &x.j.Sound.Scale
	if x.goal.sound() != nil || x.goal.follows(c.Facts.Head.Softness) || strike.Grade(x.goal.at, *scale) == strike.Grade(c.Facts.Head.Softness, *scale) {
		return 0
	}
	return wordCents
}

// judge works out all of a head by the reduced stroke, and reports whether no rule
// refuses it and it is what it seemed.
func (x *changing) judge(p *priced) bool {
	c, b, ok := x.parts(p.way)
	if !ok {
		return false
	}
	x.j.Strike(&c, &b)
	if !x.j.Finish(&c, &b) {
		return false
	}
	p.judged, p.breaks, p.share, p.short = &c, x.goal.breaks(&c), x.goal.share(&c), x.goal.short(&c)
	likes, _ := x.j.Likes(&c.Facts, c.Layers)
	p.total += x.lost(apart(x.j, &c)-likes, likes)
	return true
}

// mostJudged is how many heads are judged.
const mostJudged = 2500

// next is the next cheapest change that meets the aim, by the reduced stroke, of
// a kind that was not seen; nil where there is none. Of the others it works out no
// more than it takes to tell that they cost more.
func (x *changing) next(ctx context.Context, seen map[string]bool) *priced {
	for len(x.open) > 0 && x.judged < mostJudged && ctx.Err() == nil {
		o := x.open.pop()
		switch o.stage {
		case toUnfold:
			x.unfold(o.on)
		case toBegin:
			x.begin(o)
		case toStrike:
			if x.likely(o) {
				x.strike(o)
			}
		case toJudge:
			if seen[o.known.kind()] {
				continue
			}
			x.judged++
			p := new(*o.known)
			if x.judge(p) && x.goal.reached(p.judged) && len(p.breaks) == 0 {
				o.stage, o.known, o.least = toTake, p, p.total
				x.open.push(o)
			}
		case toTake:
			if !seen[o.known.kind()] {
				return o.known
			}
		}
	}
	return nil
}

// best is the cheapest change by the full stroke, or why there is none.
func (x *changing) best(ctx context.Context, others int) (Change, error) {
	var c Change
	seen := map[string]bool{} // one of each kind is enough to choose by
	for len(seen) <= others {
		p := x.next(ctx, seen)
		if p == nil {
			break
		}
		// By the full stroke, what was taken for a change that does may not.
		full, err := x.f.Consider(p.Stack, x.q)
		if err != nil {
			return Change{}, err
		}
		if full.Refused() != nil || !x.goal.reached(&full) || len(x.goal.breaks(&full)) > 0 {
			continue
		}
		if len(seen) == 0 {
			c = Change{Edits: p.Edits, Head: full, Stack: full.Stack.String(), Work: p.work, CostCents: p.cents, total: p.total,
				Trades: propose.Trades(&x.goal.was.Facts.Head, &full.Facts.Head)}
		} else {
			c.Others = append(c.Others, full)
		}
		seen[p.kind()] = true
	}
	if err := ctx.Err(); err != nil {
		return Change{}, err
	}
	if len(seen) == 0 {
		return Change{}, x.cannot()
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
	several := len(x.goal.Moves) > 1
	nearest := func(list []*priced) {
		slices.SortStableFunc(list, func(a, b *priced) int {
			if c := cmp.Compare(len(a.short), len(b.short)); c != 0 && several {
				return c
			}
			return cmp.Or(cmp.Compare(min(1, b.share), min(1, a.share)), cmp.Compare(a.total, b.total))
		})
	}
	x.kept = append(x.kept, x.found...) // what seemed to meet the aim, and does not
	nearest(x.kept)
	kept := all(x.kept, func(p *priced) bool { return len(p.breaks) == 0 })
	nearest(kept)
	const some = 0.1 // of the way: less is no nearer
	if len(kept) > 0 && (kept[0].share >= some || several && len(kept[0].short) < len(x.goal.Moves)) {
		if e.Kept = full(kept); e.Kept != nil && several {
			e.Short = x.goal.short(e.Kept)
		}
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
