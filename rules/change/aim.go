package change

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Aim is which ways a head is to be changed at once, and what of it is to stay.
type Aim struct {
	Moves []Move
	// Keep are facts, by path, and kinds of part (core, tube, yarn, shaft) that
	// are to stay as they are: limits, not wishes.
	Keep []string
	Only []string // kinds of part that may change; empty is any
	// Named are kinds of part that others were named for: an order, from which
	// follows what it comes to.
	Named []string
	// Limits are what the head may come to at most, or at least.
	Limits []Limit
}

// check says what an aim can't be.
func (a Aim) check() error {
	if len(a.Moves) == 0 {
		return fault.Errorf("a head is to be made something; it can be made %v", Ways())
	}
	for i, m := range a.Moves {
		switch {
		case !slices.Contains(Ways(), m.Way):
			return fault.Errorf("a head can't be made %q; it can be made %v", m.Way, Ways())
		case m.By < 0 || math.IsNaN(m.By) || math.IsInf(m.By, 0):
			return fault.Errorf("%s by %v: an amount above zero is needed", m.Way, m.By)
		case m.Fact() != "" && (Aim{Moves: a.Moves[:i]}).on(m.Fact()):
			return fault.Errorf("a head can't be made %s", a)
		}
	}
	return nil
}

// Limit is a bound on a fact of the head.
type Limit struct {
	Fact  string // path of the wish or of the fact
	Most  bool   // else least
	Value float64
}

// Weighed is an aim at a head that weighs other grams than its parts come to as they
// are computed: what it may weigh is moved by the difference, since what comes of it is
// taken to be off as far, and a little lighter is little of what it weighs.
func Weighed(aim Aim, q propose.Request, computed, grams float64) (Aim, propose.Request) {
	more := grams - computed
	aim.Moves = slices.Clone(aim.Moves)
	for i := range aim.Moves {
		if m := &aim.Moves[i]; m.Fact() == facts.WantMassG && m.By == 0 {
			m.By = max(plainG, tenth*grams*cmp.Or(m.Times, 1))
		}
	}
	aim.Limits = slices.Clone(aim.Limits)
	for i := range aim.Limits {
		if l := &aim.Limits[i]; l.Fact == facts.WantMassG || l.Fact == facts.HeadMassG {
			l.Value = max(0, l.Value-more)
		}
	}
	for _, g := range []*float64{&q.Facts.Want.MassG, &q.Facts.Want.LeastG, &q.Facts.Player.MostG, &q.Facts.Player.EasyG} {
		if *g > 0 {
			*g = max(1, *g-more)
		}
	}
	return aim, q
}

// floors are what a wish wants of a head at least, as limits: what falls short of
// one is then told by its name, where a rule would only refuse it.
func floors(w *facts.Want) (list []Limit) {
	if w.LeastG > 0 {
		list = append(list, Limit{Fact: facts.WantMassG, Value: w.LeastG})
	}
	if w.LeastMM > 0 {
		list = append(list, Limit{Fact: facts.WantDiameterMM, Value: w.LeastMM})
	}
	return list
}

// Within returns the move that brings a head within the grams and millimetres that a
// request bounds it by, the one it is furthest from; false where it lies within all.
func Within(was *facts.Head, q *propose.Request) (Move, bool) {
	w, p := &q.Facts.Want, &q.Facts.Player
	const hair = 1e-6
	most, move := hair, Move{}
	off := func(is bool, name string, by, of float64) {
		if is && by/of > most {
			most, move = by/of, Move{Way: name, By: by}
		}
	}
	off(w.LeastG > 0, "heavier", w.LeastG-was.MassG, was.MassG)
	off(w.LeastMM > 0, "larger", w.LeastMM-was.DiameterMM, was.DiameterMM)
	off(q.Known[facts.PlayerMostG], "lighter", was.MassG-p.MostG, was.MassG)
	off(q.Known[facts.PlayerMostMM], "smaller", was.DiameterMM-p.MostMM, was.DiameterMM)
	return move, move.Way != ""
}

// How far a change may move what nobody asked to move: a notch, which is what
// people hear; three for another colour or attack, which softness makes most of; and of
// what was to be kept a gram, a millimetre or a tenth, and half a notch. Common practice, no source.
const (
	unasked       = 1.0
	withColour    = 3.0
	keptG, keptMM = 1.0, 1.0
	keptNotches   = 0.5
	sameMM        = 0.6 // of a ball: 1 1/8 in and 28 mm are one size
	tenth         = 0.1
	quarter       = 0.25 // of the grams of bare balls, which lie far apart
)

// goal is an aim at a head that exists.
type goal struct {
	Aim
	ways []going
	was  propose.Candidate
	pin  propose.Pin
	word func(softness float64) string // that a softness goes by
	at   float64                       // softness that the head is to have where no move of it is asked for
}

func (a Aim) of(was propose.Candidate, q *propose.Request) goal {
	g := goal{Aim: a, was: was, pin: q.Pin, at: was.Facts.Head.Softness}
	for _, m := range a.Moves {
		g.ways = append(g.ways, m.from(&was.Facts))
	}
	if said := q.Facts.Want.Softness; q.Known[facts.WantSoftness] && math.Abs(said-g.at) > unasked && !g.keepsSoftness() && g.sound() == nil {
		g.at = said // lighter, and hard: it need not stay what it is
	}
	return g
}

// aims reports whether one of the moves goes some way.
func (a Aim) aims(ways ...string) bool {
	return slices.ContainsFunc(a.Moves, func(m Move) bool { return slices.Contains(ways, m.Way) })
}

// on reports whether one of the moves is of some facts.
func (a Aim) on(paths ...string) bool {
	return slices.ContainsFunc(a.Moves, func(m Move) bool { return slices.Contains(paths, m.Fact()) })
}

// Moved reports whether a head is at least half as far on the ways of the aim as
// another as was wished for.
func (a Aim) Moved(was, is propose.Candidate) bool {
	g := a.of(was, &propose.Request{})
	return !slices.ContainsFunc(g.ways, func(w going) bool {
		return w.of == nil || w.moved(&was.Facts.Head, &is.Facts.Head) < w.by/2
	})
}

// Reach moves the figures of a head that was another before to what the aim wants; it
// leaves what the aim does not move.
func (a Aim) Reach(h *facts.Head, was *facts.Facts) {
	for _, m := range a.Moves {
		w := m.from(was)
		by := w.sign * w.by
		switch w.fact {
		case facts.WantSoftness:
			h.Softness += by
		case facts.WantMassG:
			h.MassG = max(1, h.MassG+by)
		case facts.WantDiameterMM:
			h.DiameterMM = max(1, h.DiameterMM+by)
		case facts.WantBudgetCents:
			h.CostCents = max(1, h.CostCents+by)
		}
	}
}

// sound is the move of the softness itself, nil where there is none.
func (g *goal) sound() *going {
	for i := range g.ways {
		if g.ways[i].fact == facts.WantSoftness {
			return &g.ways[i]
		}
	}
	return nil
}

// character reports whether the aim is at how a head sounds other than how soft it is.
func (a Aim) character() bool {
	return a.on(facts.WantColour, facts.WantAttack, facts.WantOpening)
}

// sketched reports whether a sketch tells how bright a head is to be; it tells all
// else but how far it opens up.
func (a Aim) sketched() bool { return !a.on(facts.WantColour) }

// falls reports whether a head falls short of the aim, or of what was to stay, as
// far as its parts tell without a stroke.
func (g *goal) falls(is *propose.Candidate) bool {
	for i := range g.ways {
		switch w := &g.ways[i]; w.fact {
		case facts.WantMassG, facts.WantDiameterMM, facts.WantBudgetCents, facts.HeadTurns, facts.HeadLayers, facts.HeadRubberMM, facts.HeadCoreMM, facts.HeadCoreA:
			if !g.reaches(w, is) {
				return true
			}
		}
	}
	bounded := func(l Limit) bool { return l.Fact == facts.WantSoftness || l.Fact == facts.HeadSoftness }
	return g.sound() != nil && !slices.ContainsFunc(g.Limits, bounded) && len(g.breaks(is)) > 0
}

// likely reports whether a head may be what the aim wants, by what a sketch of it
// holds: a darker head is hardly a harder one.
func (g *goal) likely(is *propose.Candidate) bool {
	const hair = 0.2 // notches
	softer := is.Facts.Head.Softness - g.was.Facts.Head.Softness
	for i := range g.ways {
		w, ok := &g.ways[i], false
		switch {
		case g.sound() == nil && w.Way == "darker":
			ok = softer > -hair
		case g.sound() == nil && w.Way == "brighter":
			ok = softer < hair
		case w.fact == facts.WantColour, w.fact == facts.WantOpening:
			ok = true // which takes strokes at other dynamics
		default:
			ok = g.reaches(w, is)
		}
		if !ok {
			return false
		}
	}
	return true
}

// share is how much of the way a head has gone of what it has gone least of; 0 where no
// move has a measure.
func (g *goal) share(is *propose.Candidate) float64 {
	least := math.Inf(1)
	for i := range g.ways {
		if w := &g.ways[i]; w.by > 0 {
			least = min(least, w.moved(&g.was.Facts.Head, &is.Facts.Head)/w.by)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// reached reports whether a head is what the aim wants.
func (g *goal) reached(is *propose.Candidate) bool { return len(g.short(is)) == 0 }

// short lists the moves that a head does not make.
func (g *goal) short(is *propose.Candidate) (list []Move) {
	for i := range g.ways {
		if !g.reaches(&g.ways[i], is) {
			list = append(list, g.ways[i].Move)
		}
	}
	return list
}

// reaches reports whether a head makes one of the moves.
func (g *goal) reaches(w *going, is *propose.Candidate) bool {
	move := w.moved(&g.was.Facts.Head, &is.Facts.Head)
	switch sound := w.fact == facts.WantSoftness; {
	case w.fact == facts.HeadLayers:
		return math.Round(move) == math.Round(w.by)
	case w.fact == facts.HeadRubberMM && is.Facts.Head.Layers != g.was.Facts.Head.Layers:
		return false // a slice less is no thinner one
	case w.fact == facts.HeadTurns && (w.By > 0 || w.Way == Wound):
		return math.Abs(move-w.by) <= fewOff
	case w.Way == NoLatex:
		return !is.Facts.Head.Latex
	case w.Way == Without:
		return has(is.Stack, g.pin.Without) == ""
	case sound && w.By == 0 && g.bare(): // bare balls lie far apart
		return move >= leastPlain*w.by && (w.Times != 0 && w.Times < 1 || g.reworded(w, is.Facts.Head.Softness))
	case sound && w.By == 0:
		return move >= w.least() && move <= w.most()
	case sound:
		return math.Abs(move-w.by) <= g.met(w)
	}
	return move >= w.by-1e-9
}

// reworded reports whether a softness goes by another word than that of the head that
// there is, where that is the last of its side: what is as hard as can be is to be softer.
func (g *goal) reworded(w *going, softness float64) bool {
	const far = 100 // notches: beyond any word
	was := g.was.Facts.Head.Softness
	return g.word == nil || g.word(softness) != g.word(was) || g.word(was) != g.word(was-far*w.sign)
}

// met is how many notches off a head may be whose move has a number; it is no less than
// half way there.
func (g *goal) met(w *going) float64 {
	if !g.bare() {
		return met
	}
	return max(met, min(metBare, w.by/2))
}

// without reports whether something is to be left out of the head, and no more.
func (a Aim) without() bool {
	return !slices.ContainsFunc(a.Moves, func(m Move) bool { return m.Way != NoLatex && m.Way != Without })
}

// keepsSoftness reports whether the softness is to stay.
func (a Aim) keepsSoftness() bool {
	return slices.Contains(a.Keep, facts.WantSoftness) || slices.Contains(a.Keep, facts.HeadSoftness)
}

// bare reports whether the head that there is has no yarn.
func (g *goal) bare() bool { return g.was.Facts.Head.Turns == 0 }

// strays is how many notches off a head may be whose softness nobody asked to move.
func (g *goal) strays() float64 {
	switch {
	case g.ordered() && !g.keepsSoftness():
		return math.Inf(1)
	case g.without() && g.keepsSoftness(): // what may not be in a head goes before how soft it is
		return unasked
	case g.without():
		return withColour
	case g.keepsSoftness() && (g.bare() || len(g.Moves) > 1): // several moves at once leave less room, and most people hear a notch
		return unasked
	case g.keepsSoftness():
		return keptNotches
	case g.character() && g.bare():
		return math.Inf(1) // bare balls lie far apart, and the nearest is the cheapest
	case g.bare(): // a ball of the next size is softer, too
		return withColour
	case g.character():
		return withColour
	}
	return unasked
}

// window is between what softnesses lies all that the aim is reached by, and what
// nobody asked to move kept to.
func (g *goal) window() (least, most float64) {
	switch w := g.sound(); {
	case w == nil:
		least, most = -g.strays(), g.strays()
	case w.By > 0:
		least, most = w.by-g.met(w), w.by+g.met(w)
	case g.bare():
		least, most = leastPlain*w.by, math.Inf(1)
	default:
		least, most = w.least(), w.most()
	}
	if w := g.sound(); w != nil && w.sign < 0 {
		least, most = -most, -least
	}
	const hair = 1e-9
	return g.at + least - hair, g.at + most + hair
}

// breaks lists what a head does not keep to, in words.
func (g *goal) breaks(is *propose.Candidate) (list []string) {
	was, h := &g.was.Facts.Head, &is.Facts.Head
	if was.Turns > 0 && h.Turns == 0 {
		list = append(list, "a wound head stays wound")
	}
	switch off := math.Abs(h.Softness - g.at); {
	case g.sound() != nil || off <= g.strays():
	case g.keepsSoftness():
		list = append(list, "the same softness")
	case g.character():
		list = append(list, fmt.Sprintf("no more than %g notches off the softness", withColour))
	default:
		list = append(list, fmt.Sprintf("no more than %.3g notches off the softness, which nobody asked to move", g.strays()))
	}
	grams := tenth
	if was.Turns == 0 {
		grams = quarter
	}
	within := func(x, was, kept, share float64) bool { return x <= was+0.05 && x >= was-max(kept, was*share) }
	between := func(x, was, kept float64) bool { return math.Abs(x-was) <= max(kept, was*tenth) }
	for _, path := range g.Keep {
		switch path {
		case facts.WantMassG, facts.HeadMassG:
			switch up := g.aims("larger", "heavier"); {
			case g.aims("smaller"): // as light as its size makes it, but no heavier
				least := was.MassG*math.Pow(h.DiameterMM/was.DiameterMM, 3) - keptG
				if h.MassG > was.MassG+0.05 || h.MassG < min(least, was.MassG*(1-tenth)) {
					list = append(list, fmt.Sprintf("no heavier than %.1f g, and no lighter than its size makes it", was.MassG))
				}
			case up:
				if !between(h.MassG, was.MassG, keptG) {
					list = append(list, fmt.Sprintf("the same weight, %.1f g", was.MassG))
				}
			case !within(h.MassG, was.MassG, keptG, grams):
				list = append(list, fmt.Sprintf("no heavier than %.1f g, and hardly lighter", was.MassG))
			}
		case facts.WantDiameterMM, facts.HeadDiameterMM:
			if !within(h.DiameterMM, was.DiameterMM, keptMM, tenth) {
				list = append(list, fmt.Sprintf("no larger than %.1f mm, and hardly smaller", was.DiameterMM))
			}
		case facts.HeadCoreMM:
			if math.Abs(h.CoreMM-was.CoreMM) > sameMM {
				list = append(list, fmt.Sprintf("the same size of ball, %.1f mm", was.CoreMM))
			}
		case facts.WantColour, facts.HeadBrightDB:
			if !g.without() && math.Abs(h.BrightDB-was.BrightDB) > -g.was.Facts.Instrument.MediumDB*plainDB {
				list = append(list, "the same colour")
			}
		case facts.WantBudgetCents, facts.HeadCostCents:
			if h.CostCents > was.CostCents+0.5 {
				list = append(list, "no dearer")
			}
		}
	}
	for _, kind := range kinds() {
		kept := slices.Contains(g.Keep, kind) || len(g.Only) > 0 && !slices.Contains(g.Only, kind) || kind != "shaft" && g.orders()
		if kept && !g.may(kind) && !g.goes(kind) && !same(kind, g.was.Stack, is.Stack) {
			list = append(list, "the same "+map[string]string{"core": "ball", "tube": "slices", "yarn": "yarn", "shaft": "shaft"}[kind])
		}
	}
	for _, l := range g.Limits {
		x, form, per := 0.0, "", 1.0
		switch l.Fact {
		case facts.WantMassG, facts.HeadMassG:
			x, form = h.MassG, "%.4g g"
		case facts.WantDiameterMM, facts.HeadDiameterMM:
			x, form = h.DiameterMM, "%.4g mm"
		case facts.WantSoftness, facts.HeadSoftness:
			x, form = h.Softness, "%.4g notches"
		case facts.HeadTurns:
			x, form = h.Turns, "%.4g turns"
		case facts.WantBudgetCents:
			x, form, per = 2*h.CostCents, "%.2f a pair", 100
		default:
			continue
		}
		if l.Most && x > l.Value+1e-6 || !l.Most && x < l.Value-1e-6 {
			list = append(list, fmt.Sprintf("%s "+form, map[bool]string{true: "at most", false: "at least"}[l.Most], l.Value/per))
		}
	}
	if part := has(is.Stack, g.pin.Without); part != "" {
		list = append(list, "a head without "+part)
	}
	return list
}

// kinds are the kinds of part that a head is made of.
func kinds() []string { return []string{"core", "tube", "yarn", "shaft"} }

// same reports whether two stacks have the same part of a kind. The same yarn
// may be wound with other turns.
func same(kind string, a, b head.Stack) bool {
	switch kind {
	case "core":
		return a.Core.ID == b.Core.ID
	case "tube":
		return slices.EqualFunc(a.Slices, b.Slices, func(x, y head.Slice) bool { return x.Tube.ID == y.Tube.ID })
	case "yarn":
		return (a.Wrap == nil) == (b.Wrap == nil) && (a.Wrap == nil || a.Wrap.Yarn.ID == b.Wrap.Yarn.ID)
	}
	return (a.Shaft == nil) == (b.Shaft == nil) && (a.Shaft == nil || a.Shaft.ID == b.Shaft.ID)
}

// has names the first part of a stack that is among some parts and materials, or
// nothing.
func has(st head.Stack, ids []string) string {
	out := func(id, of string) bool { return slices.Contains(ids, id) || slices.Contains(ids, of) }
	if out(st.Core.ID, st.Core.Material) {
		return st.Core.Name
	}
	for _, s := range st.Slices {
		if out(s.Tube.ID, s.Tube.Material) {
			return s.Rubber.Name + " tubing"
		}
	}
	if st.Wrap != nil && out(st.Wrap.Yarn.ID, st.Wrap.Yarn.Fibre) {
		return st.Wrap.Yarn.Name
	}
	return ""
}

// astray is what a head has moved that nobody asked to move, in cents.
func (g *goal) astray(is *propose.Candidate) float64 {
	was, h := &g.was.Facts.Head, &is.Facts.Head
	over := func(fact string, move float64) float64 {
		if i := slices.IndexFunc(g.ways, func(w going) bool { return w.fact == fact }); i >= 0 {
			return math.Abs(math.Abs(move) - g.ways[i].by)
		}
		return math.Abs(move)
	}
	stray := over(facts.WantSoftness, h.Softness-g.at)
	if g.follows(h.Softness) {
		stray = 0
	}
	if g.bare() {
		stray *= bareStray
	}
	sum := strayCents * stray
	off := math.Abs(h.Softness - g.at)
	if g.bare() {
		off *= bareStray
	}
	if g.sound() == nil && off > unasked && !g.follows(h.Softness) && !g.orders() {
		sum += farCents + strayCents*(off-unasked)*2 // another colour may take it, where nothing nearer does
	}
	mass := was.MassG
	if g.on(facts.WantDiameterMM) && !slices.Contains(g.Keep, facts.WantMassG) {
		mass *= math.Pow(h.DiameterMM/was.DiameterMM, 3) // a smaller head is a lighter one
	}
	sum += gramCents * over(facts.WantMassG, h.MassG-mass)
	sum += mmCents * over(facts.WantDiameterMM, h.DiameterMM-was.DiameterMM)
	if g.followed() {
		sum *= follows
	}
	if g.on(facts.HeadCoreMM) {
		sum += ballMMCents * over(facts.HeadCoreMM, h.CoreMM-was.CoreMM)
	}
	if !g.on(facts.HeadTurns) && was.Turns > 0 {
		sum += turnCents*math.Abs(h.Turns-was.Turns) + moreCents*max(0, h.Turns-was.Turns)
		sum += fewCents * max(0, min(fewTurns, was.Turns)-h.Turns)
	}
	if g.aims("smaller", "lighter") && !g.on(facts.HeadTurns) { // a smaller ball does that, and the cover stays
		if sum += rewoundCents * max(0, was.Turns-h.Turns-tenth*was.Turns); !same("yarn", g.was.Stack, is.Stack) {
			sum += yarnCents
		}
	}
	if g.orders() {
		sum += orderedCents * over(facts.HeadTurns, h.Turns-was.Turns)
	}
	if !same("core", g.was.Stack, is.Stack) {
		if sum += g.coreCents(); g.on(facts.HeadCoreMM) && (was.Material != h.Material || was.CoreA != h.CoreA) || g.on(facts.HeadCoreA) && was.CoreMM != h.CoreMM {
			sum += coreCents // a smaller ball is one of its kind
		}
		if g.bare() && was.Material != h.Material && g.on(facts.WantMassG, facts.WantDiameterMM) && g.sound() == nil {
			sum += materialCents
		}
	}
	if !same("yarn", g.was.Stack, is.Stack) {
		sum += yarnCents
		if was.Fibre != h.Fibre {
			sum += fibreCents
		}
	}
	switch {
	case g.without() && otherSize(g.was.Stack, is.Stack):
		sum += sizeCents
	case !g.without() && otherRubber(g.was.Stack, is.Stack):
		sum += rubberCents
	}
	return sum
}

// follows reports whether a softness has moved, by no more than a change of character
// may, the way that the attack moves with: clearer is harder. Colour has ways of its own.
func (g *goal) follows(softness float64) bool {
	off := softness - g.at
	switch {
	case g.sound() != nil:
		return false
	case g.aims("clearer"):
		off = -off
	case !g.aims("more blended"):
		return false
	}
	return !g.keepsSoftness() && off > 0 && off <= withColour
}

// coreCents is what another ball costs by itself. It is where the weight of a head lies,
// and much of its size, so that who wants another of these expects another ball.
func (g *goal) coreCents() float64 {
	if g.on(facts.WantMassG, facts.WantDiameterMM) || g.may("core") {
		return ballCents
	}
	return coreCents
}

func (a Aim) String() string {
	list := make([]string, len(a.Moves))
	for i, m := range a.Moves {
		list[i] = m.String()
	}
	return List(list)
}

// List joins words: softer, lighter and smaller.
func List(words []string) string {
	if last := len(words) - 1; last > 1 {
		return strings.Join(words[:last], ", ") + " and " + words[last]
	}
	return strings.Join(words, " and ")
}
