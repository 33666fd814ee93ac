// Package settled knows what a person has said about the head they need: the
// facts, the parts to choose from, and how each answer reads when it is said
// back. It never asks anything, and looks for no head.
package settled

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"mallow/assistant/hand"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// patience is how many heads are looked at before a reply settles for the best
// so far. Past it the score moves by hundredths of a point, and nobody should
// wait for that.
const patience = 8_000

// Ground is what every conversation starts from.
type Ground struct {
	Catalogue *knowledge.Catalogue
	Facts     facts.Facts // every open question at its default
	Usual     gate.Stated // what most people answer to the questions of safety
	Shelf     *stock.Bin  // what its owner has; nil when there is no shelf, or it is not to be used
}

// NewGround takes the defaults of the catalogue's questions, and checks that
// the questions fit the facts.
func NewGround(cat *knowledge.Catalogue) (*Ground, error) {
	g := &Ground{Catalogue: cat}
	for _, q := range cat.Questions {
		var scratch facts.Facts
		for _, c := range q.Choices {
			if err := facts.Parse(&scratch, q.ID, c.Value); err != nil {
				return nil, fmt.Errorf("%s: question %s: %w", q.Origin, q.ID, err)
			}
		}
		if q.Default == "" || q.Default == knowledge.Usual || isWish(q.ID) {
			continue
		}
		if err := facts.Parse(&g.Facts, q.ID, q.Default); err != nil {
			return nil, fmt.Errorf("%s: question %s: %w", q.Origin, q.ID, err)
		}
	}
	g.Usual = usual(cat, g.Facts)
	return g, nil
}

// isWish reports whether a fact is a wish that may simply not have been made,
// or a habit that nobody asked about, so that it stays empty until it is.
func isWish(path string) bool {
	return slices.Contains([]string{facts.WantColour, facts.WantAttack, facts.WantOpening, facts.WantLoudest, facts.WantMassG, facts.WantDiameterMM, facts.WantBudgetCents, facts.WantFewTurns, facts.PlayerTensionN, facts.BenchUnits}, path)
}

// State is what has been settled. Clone copies it, so that one can go back.
type State struct {
	*Ground
	Facts      facts.Facts
	Known      rules.Known         // what was answered, or follows from answers
	Instrument string              // catalogue id
	Only       map[string][]string // parts to choose from, by kind; a kind that is not there is open
	Have       []reading.Part      // parts said to be on hand
	Without    []string            // part ids to leave out
	Stack      string              // a head picked by hand, as stack text; empty for the best
	Own        Own                 // the head that somebody has already
	Group

	said    map[string]string // each answer in plain words, by fact
	order   []string          // the facts of said, in the order they were answered
	shared  bool              // the budget of a pair is its share of a total
	touched map[string]bool   // facts of harm that were asked about because of a word in passing
	held    map[string]bool   // careful answers that were stated and stay until they are taken back
}

// Own is what a head that somebody has already comes to, as they say: mine weigh 18 g.
// It is no wish. What was not said is zero.
type Own struct{ MassG, MM float64 }

// New returns the state in which nothing has been said.
func New(g *Ground) State {
	return State{Ground: g, Facts: g.Facts, Known: rules.Known{}, said: map[string]string{}}
}

// Clone returns a copy that shares nothing that changes.
func (st State) Clone() State {
	st.Known = maps.Clone(st.Known)
	st.said = maps.Clone(st.said)
	st.order = slices.Clone(st.order)
	st.Only = maps.Clone(st.Only)
	st.Without = slices.Clone(st.Without)
	st.Have = slices.Clone(st.Have)
	return st
}

// Note marks a fact as answered and keeps how it reads.
func (st *State) Note(path, words string) {
	st.Known[path] = true
	if _, ok := st.said[path]; !ok {
		st.order = append(st.order, path)
	}
	st.said[path] = words
}

// Reopen makes a question open again, with what followed from its answer.
func (st *State) Reopen(path string) {
	delete(st.Known, path)
	if _, ok := st.said[facts.PlayerMallets]; path == facts.PlayerGrip && !ok {
		delete(st.Known, facts.PlayerMallets) // it followed from the grip
	}
}

// Said returns how the answer to a fact reads, and whether it was given.
func (st *State) Said(path string) (string, bool) {
	words, ok := st.said[path]
	return words, ok
}

// Answers lists what was said, in order.
func (st *State) Answers() []string {
	var list []string
	for _, path := range st.order {
		if path == facts.PlayerMallets && st.Known[facts.PlayerGrip] {
			continue // the grip says it
		}
		if words, ok := st.said[path]; ok {
			list = append(list, words)
		}
	}
	return list
}

// Settle draws what follows from the answers without asking. What has to be
// said about that it returns as sentences.
func (st *State) Settle() (notes []string) {
	f := &st.Facts
	if f.Player.Grip != "" && st.Known[facts.PlayerGrip] {
		if g, ok := st.Catalogue.Grip(f.Player.Grip); ok {
			f.Player.Mallets = float64(g.Mallets)
			st.Known[facts.PlayerMallets] = true
		}
	}
	if note := byRange(st); note != "" {
		notes = append(notes, note)
	}
	if k := f.Instrument.Kind; st.Known[facts.InstrumentKind] && st.Instrument == "" {
		bars := map[string]bool{}
		for _, inst := range st.Catalogue.Instruments {
			if inst.Kind == k {
				bars[inst.Bars] = true
			}
		}
		if len(bars) == 1 && !st.Known[facts.InstrumentBars] {
			for b := range bars {
				f.Instrument.Bars = b
			}
			st.Known[facts.InstrumentBars] = true
		}
	}
	if st.Known[gate.RubberOK] && !f.Player.RubberOK && (f.Player.LatexOK || !st.Known[gate.LatexOK]) {
		f.Player.LatexOK = false
		st.Note(gate.LatexOK, st.Say(gate.LatexOK))
	}
	if f.Player.Minor && st.Known[facts.PlayerMinor] && (f.Player.SolventOK || !st.Known[facts.PlayerSolventOK]) {
		if f.Player.SolventOK {
			notes = append(notes, "With a young maker there will be no solvent, whatever else was said: the glue will be water-based.")
		}
		f.Player.SolventOK = false
		st.Note(facts.PlayerSolventOK, "no solvent-based glue, since a maker is under 18")
	}
	if !f.Bench.Drill && !st.Known[facts.BenchDrill] && st.Pass().OfAge() && st.undrilled() {
		f.Bench.Drill = true
		notes = append(notes, "The balls you named are sold undrilled, so I take it that you can drill them.")
	}
	return notes
}

// byRange settles the kind of instrument where its bars and both ends of it were said, and
// one kind alone has those: steel bars from G5 to C8. It returns a sentence that says so.
func byRange(st *State) (note string) {
	f := &st.Facts.Instrument
	for _, path := range []string{facts.InstrumentBars, facts.InstrumentLowHz, facts.InstrumentHighHz} {
		if !st.Known[path] {
			return ""
		}
	}
	if st.Known[facts.InstrumentKind] {
		return ""
	}
	near := func(a, b float64) bool { return math.Abs(math.Log2(a/b)) < 1.0/24 }
	var found knowledge.Instrument
	for _, inst := range st.Catalogue.Instruments {
		if inst.Bars != f.Bars || !near(inst.Low.Hz(), f.LowHz) || !near(inst.High.Hz(), f.HighHz) {
			continue
		}
		if found.Kind != "" && found.Kind != inst.Kind {
			return ""
		}
		found = inst
	}
	if found.Kind == "" {
		return ""
	}
	f.Kind = found.Kind
	st.Note(facts.InstrumentKind, found.Kind)
	return fmt.Sprintf("With %s bars from %v to %v I take the instrument for %s, until you say another.", f.Bars, found.Low, found.High, found.Kind)
}

// undrilled reports whether the balls on hand, or those to choose from, come
// without a bore, whichever of those that fit their name they are.
func (st *State) undrilled() bool {
	ids := slices.Clone(st.Only["core"])
	for _, p := range st.Have {
		if p.Kind == "core" {
			ids = append(ids, p.IDs...)
		}
	}
	return len(ids) > 0 && !slices.ContainsFunc(ids, func(id string) bool {
		c, ok := st.Catalogue.Core(id)
		return !ok || c.Bore > 0
	})
}

// Supposing returns the state with an answer to q given.
func (st *State) Supposing(q knowledge.Question, c knowledge.Choice) State {
	at := st.Clone()
	_ = facts.Parse(&at.Facts, q.ID, c.Value) // checked by NewGround
	at.Known[q.ID] = true
	switch q.ID {
	case facts.PlayerGrip:
		at.Facts.Player.Mallets = 0
	case facts.InstrumentKind:
		at.Facts.Instrument.LowHz, at.Facts.Instrument.HighHz, at.Facts.Instrument.Bars = 0, 0, ""
	}
	return at
}

// Guess is Request with the open questions of safety as most people answer
// them: to see which question is worth asking, never to show a head by.
func (st *State) Guess() propose.Request {
	q := st.Request()
	q.Pass = gate.Settle(st.Stated().Or(st.Usual))
	return q
}

// Request is what the state asks of a finder of heads.
func (st *State) Request() propose.Request {
	q := propose.Request{Facts: st.Facts, Pass: st.Pass(), Known: st.Known, Heads: st.Heads(), Pin: propose.Pin{Without: slices.Clone(st.Without)}, Most: patience}
	for _, kind := range []string{"core", "tube", "yarn", "shaft"} {
		only, ok := st.Only[kind]
		if !ok {
			continue
		}
		for _, id := range hand.All(st.Catalogue, kind) {
			if !slices.Contains(only, id) {
				q.Pin.Without = append(q.Pin.Without, id)
			}
		}
	}
	reacts := st.Known[facts.PlayerRubberOK] && !st.Facts.Player.RubberOK
	q.Facts.Want.Sliced, q.Facts.Want.Wound = len(st.Only["tube"]) > 0 && !reacts, len(st.Only["yarn"]) > 0
	q.Facts.Want.Ball = ball(st)
	if worlds := st.Worlds(); len(worlds) == 1 && q.Facts.Bench.Units == "" {
		q.Facts.Bench.Units = worlds[0]
	}
	if h := st.Hand(); len(h.Bin.Items) > 0 {
		q.Bin = h.Bin
	}
	spare(st, &q)
	return q
}

// ball is the family of the balls that were asked for by name, or else are on hand, ""
// for none or several.
func ball(st *State) (family string) {
	ids := st.Only["core"]
	if len(ids) == 0 {
		for _, p := range st.Have {
			if p.Kind == "core" {
				ids = append(ids, p.IDs...)
			}
		}
	}
	for _, id := range ids {
		c, _ := st.Catalogue.Core(id)
		m, _ := st.Catalogue.Material(c.Material)
		if family != "" && family != m.Family {
			return ""
		}
		family = m.Family
	}
	return family
}

// Worlds are the sizes, inch or metric, that the parts are sold in that were
// named: the person's own units.
func (st *State) Worlds() []string {
	var list []string
	add := func(ids []string) {
		of := map[string]bool{}
		for _, id := range ids {
			of[st.Catalogue.Supply(id)] = true
		}
		if len(of) != 1 {
			return // a word that fits both says nothing
		}
		for world := range of {
			if world != "" && !slices.Contains(list, world) {
				list = append(list, world)
			}
		}
	}
	for _, kind := range []string{"core", "tube", "shaft"} {
		add(st.Only[kind])
	}
	for _, p := range st.Have {
		add(p.IDs)
	}
	return list
}

// Hand is what there is to build from: what was said to be on hand, and the
// shelf.
func (st *State) Hand() hand.Hand {
	h, err := hand.Of(st.Catalogue, st.Have, st.Facts.Bench.Drill && st.Known[facts.BenchDrill])
	if err != nil { // can't be: Part has tried each
		h.Bin = &stock.Bin{}
	}
	if st.Shelf != nil {
		h.Bin.Items = append(h.Bin.Items, st.Shelf.Items...)
	}
	return h
}

// Assumed is what is newly assumed of the parts on hand since an earlier
// state, and what has to be asked about them.
func (st *State) Assumed(before *State) []string {
	was := before.Hand()
	old := slices.Concat(was.Asks, was.Notes)
	now := st.Hand()
	return slices.DeleteFunc(slices.Concat(now.Asks, now.Notes), func(s string) bool { return slices.Contains(old, s) })
}

// Heads is how many heads are built: as many as was said, else as are held at
// once.
func (st *State) Heads() int {
	if st.Each > 0 {
		return st.Each
	}
	if g, ok := st.Catalogue.Grip(st.Facts.Player.Grip); ok {
		return g.Mallets
	}
	return 2
}
