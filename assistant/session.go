package assistant

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/journal"
	"mallow/assistant/page"
	"mallow/assistant/understand"
	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// stage is how far a conversation has come.
type stage int

const (
	inviting stage = iota // nothing has been said yet
	asking
	proposed
)

// patience is how many unclear answers a question gets before its default is
// taken.
const patience = 3

// patienceHeads is how many heads are looked at before a reply settles for the
// best so far. Past it the score moves by hundredths of a point, and nobody
// should wait for that.
const patienceHeads = 12_000

// state is what a conversation has come to. It is copied before each line, so
// that one can go back.
type state struct {
	facts      facts.Facts
	known      rules.Known         // what was answered, or follows from answers
	said       map[string]string   // each answer in plain words, by fact
	order      []string            // the facts of said, in the order they were answered
	instrument string              // catalogue id
	only       map[string][]string // parts to choose from, by kind; a kind that is not there is open
	without    []string            // part ids to leave out
	stack      string              // a head picked by hand, as stack text; empty for the best
	stage      stage
	seen       bool   // a head has been proposed: from then on only the person changes things
	asked      string // the open question's id
	tries      int    // unclear answers to it
	teaching   bool
	quiz       []quiz // predictions still to be made, the open one first
	owed       bool   // the proposal is to be shown after the predictions
	choosing   bool   // a lesson is being chosen
}

func (st state) clone() state {
	st.known = maps.Clone(st.known)
	st.said = maps.Clone(st.said)
	st.order = slices.Clone(st.order)
	st.quiz = slices.Clone(st.quiz)
	st.only = maps.Clone(st.only)
	st.without = slices.Clone(st.without)
	return st
}

// Session is a conversation. It is for one goroutine.
type Session struct {
	kit  *Kit
	now  state
	past []state

	replaying bool
}

// NewSession starts a conversation.
func NewSession(k *Kit) *Session {
	s := &Session{kit: k}
	s.restart()
	return s
}

func (s *Session) restart() {
	s.now = state{facts: s.kit.start, known: rules.Known{}, said: map[string]string{}}
}

// Open returns the first words.
func (s *Session) Open() Reply {
	var r Reply
	r.say("mallow helps you choose the layers of a mallet head and build it. Ask why, what if or what a word means at any time; say leave to go, and all you said is kept.")
	return s.ask(r)
}

// Asked returns the id of the open question, or nothing.
func (s *Session) Asked() string { return s.now.asked }

// About returns a few words by which the conversation may be recognised.
func (s *Session) About() string {
	var words []string
	for _, path := range []string{"instrument.kind", "player.grip", "want.register", "want.softness"} {
		if w, ok := s.now.said[path]; ok {
			words = append(words, w)
		}
	}
	return strings.Join(words, ", ")
}

// Replay takes up a conversation that was broken off, without saying its
// replies again. The log tells which question was open at each line, so
// questions need not be weighed again.
func (s *Session) Replay(lines []journal.Line) Reply {
	s.replaying = true
	for _, l := range lines {
		_, known := s.kit.Catalogue.Question(l.Asked)
		switch {
		case known:
			s.now.asked, s.now.stage = l.Asked, asking
		case l.Asked == "" && s.now.stage == asking && len(s.now.quiz) == 0 && !s.now.choosing:
			s.now.asked = ""
			s.present(Reply{}) // a head was shown, or the clash that stands in its way
		}
		s.Say(l.Said)
	}
	s.replaying = false
	var r Reply
	r.say("Taken up again.")
	s.recall(&r)
	if s.now.stage == proposed {
		return s.present(r)
	}
	return s.next(r)
}

// Say answers a line.
func (s *Session) Say(line string) Reply {
	line = strings.TrimSpace(line)
	if len(s.now.quiz) > 0 {
		return s.predict(line)
	}
	if s.now.choosing {
		return s.choose(line)
	}
	if line == "" {
		return s.enter()
	}
	in := s.kit.Reader.Read(line, understand.Context{Asked: s.now.asked, Instrument: s.now.instrument})
	return s.act(in, line)
}

// act does what was asked for.
func (s *Session) act(in understand.Reading, line string) Reply {
	var r Reply
	if s.replaying && slices.Contains([]understand.Act{
		understand.Why, understand.WhyNot, understand.WhatIf, understand.Compare, understand.Define, understand.Show, understand.Help, understand.Leave, understand.Save,
	}, in.Act) && !s.now.teaching {
		return r // they change nothing
	}
	if in.Act == understand.Leave && s.now.teaching && strings.EqualFold(line, "stop") {
		s.now.teaching = false
		r.say("No more guessing, then.")
		return s.ask(r)
	}
	switch in.Act {
	case understand.Leave:
		r.Leave = true
		return r
	case understand.Save:
		r.Save = true
		return s.ask(r)
	case understand.Help:
		s.help(&r)
		return s.ask(r)
	case understand.Restart:
		s.remember()
		s.restart()
		r.say("A new start; say undo to have the old answers back.")
		return s.ask(r)
	case understand.Back, understand.Undo:
		return s.back()
	case understand.Define:
		s.define(&r, in, line)
		return s.ask(r)
	case understand.Show:
		return s.show(in)
	case understand.Lesson:
		return s.teach()
	}
	switch in.Act {
	case understand.Why:
		s.why(&r, in)
		return s.ask(r)
	case understand.WhyNot:
		s.whyNot(&r, in)
		return s.ask(r)
	case understand.WhatIf:
		return s.whatIf(r, in)
	case understand.Compare:
		s.compare(&r, in)
		return s.ask(r)
	case understand.Change:
		if len(in.Answers)+len(in.Moves)+len(in.Parts) > 0 {
			break
		}
		return s.change(r, in)
	case understand.Default, understand.Unsure, understand.Skip:
		if len(in.Answers) == 0 {
			return s.enter()
		}
	case understand.Yes, understand.No:
		if len(in.Answers)+len(in.Moves)+len(in.Parts) == 0 {
			return s.yesNo(r, in.Act == understand.Yes, in)
		}
	}
	if reply, ok := s.wanted(r, in, line); ok {
		return reply
	}
	return s.tell(r, in)
}

// wanted does what is asked for by name alone: the sheet, or a head on offer.
func (s *Session) wanted(r Reply, in understand.Reading, line string) (Reply, bool) {
	if len(in.Answers)+len(in.Moves)+len(in.Parts) > 0 {
		return r, false
	}
	makes := strings.Contains(strings.ToLower(line), "build") || strings.Contains(strings.ToLower(line), "make")
	if s.now.stage == asking && makes && slices.ContainsFunc(in.About, func(t understand.Topic) bool { return t.Kind == "sheet" || t.Kind == "stack" }) {
		// In a hurry: only what nobody may guess is still asked.
		s.remember()
		s.now.seen = true
		r.say("What you have not said is taken as most players have it.")
		return s.build(r), true
	}
	if s.now.stage != proposed {
		return r, false
	}
	for _, t := range in.About {
		switch t.Kind {
		case "sheet", "shopping", "cuts":
			return s.build(r), true
		case "stack":
			if makes {
				return s.build(r), true
			}
			return s.present(r), true
		case "choice":
			c, ok := s.choice(t.N)
			if !ok {
				r.say("There is no choice %d.", t.N)
				return s.ask(r), true
			}
			before := s.now.clone()
			s.past = append(s.past, before)
			s.now.stack = c.Stack.String()
			r.say("Taken: choice %d.", t.N)
			return s.revise(r, &before), true
		case "drawing":
			s.drawing(&r)
			return s.ask(r), true
		}
	}
	return r, false
}

// tell takes in answers, parts and wishes.
func (s *Session) tell(r Reply, in understand.Reading) Reply {
	before := s.now.clone()
	var troubles []string
	took := 0
	for _, a := range in.Answers {
		if trouble := s.answer(a); trouble != "" {
			troubles = append(troubles, trouble)
		} else {
			took++
		}
	}
	for _, p := range in.Parts {
		if trouble := s.part(p); trouble != "" {
			troubles = append(troubles, trouble)
		} else {
			took++
		}
	}
	if len(in.Keep) > 0 || len(in.Moves) > 0 {
		if trouble := s.move(in.Moves, in.Keep); trouble != "" {
			troubles = append(troubles, trouble)
		} else {
			took++
		}
	}
	if took == 0 {
		s.now = before
		if len(troubles) > 0 {
			r.say("%s", strings.Join(troubles, " "))
			return s.ask(r)
		}
		return s.unclear(r, in)
	}
	s.past = append(s.past, before)
	if len(in.Understood) > 0 {
		r.say("Taken: %s.", strings.Join(in.Understood, "; "))
	}
	s.missed(&r, in)
	for _, t := range troubles {
		r.say("%s", t)
	}
	s.now.tries = 0
	s.settle(&r)
	if before.stage == proposed {
		return s.revise(r, &before)
	}
	return s.next(r)
}

func (s *Session) missed(r *Reply, in understand.Reading) {
	if len(in.Missed) > 0 {
		quoted := make([]string, len(in.Missed))
		for i, m := range in.Missed {
			quoted[i] = "“" + m + "”"
		}
		r.say("I could make nothing of %s.", strings.Join(quoted, ", "))
	}
}

// answer puts an answer into the facts, or says why it can't.
func (s *Session) answer(a understand.Answer) string {
	st := &s.now
	path, v := a.Path, a.Value
	if path == "instrument.id" {
		id, _ := v.(string)
		inst, ok := s.kit.Catalogue.Instrument(id)
		if !ok || a.Not {
			return ""
		}
		s.setInstrument(inst)
		return ""
	}
	if a.Not {
		switch was := v.(type) {
		case bool:
			v = !was
		case string:
			if slices.Contains(vocabulary(path), "even") {
				v = "even"
				break
			}
			rest := slices.DeleteFunc(vocabulary(path), func(w string) bool { return w == was })
			if len(rest) != 1 {
				return fmt.Sprintf("Not %s, then; which one is it?", plain(a.Text, was))
			}
			v = rest[0]
		case float64:
			return fmt.Sprintf("Not %s, then; what should it be?", plain(a.Text, fmt.Sprint(was)))
		}
	}
	if x, ok := v.(float64); ok && a.Bound == "most" {
		// A limit is no wish: it narrows what the grip allows.
		switch path {
		case "want.mass_g":
			st.facts.Player.MostG, st.facts.Player.EasyG = x, x
			s.note("player.most_g", fmt.Sprintf("at most %.1f g a head", x))
			return ""
		case "want.diameter_mm":
			st.facts.Player.MostMM = x
			s.note("player.most_mm", "at most "+(measure.Length(x)*measure.Millimetre).String()+" across")
			return ""
		}
	}
	st.stack = ""
	if !set(&st.facts, path, v) {
		return fmt.Sprintf("I can't use %q as an answer.", a.Text)
	}
	if path == "instrument.kind" && !s.sameKind() {
		st.instrument = ""
		st.facts.Instrument.LowHz, st.facts.Instrument.HighHz = 0, 0
		st.facts.Instrument.Bars = s.kit.start.Instrument.Bars
		for _, follows := range []string{"instrument.bars", "instrument.low_hz", "instrument.high_hz"} {
			delete(st.known, follows)
			delete(st.said, follows)
		}
	}
	if path == "player.grip" {
		st.facts.Player.Mallets = 0
	}
	if path == "player.mallets" && !st.known["player.grip"] {
		if x, _ := v.(float64); x <= 2 {
			st.facts.Player.Grip = "two"
			s.note("player.grip", s.sayFact("player.grip"))
		} else {
			st.facts.Player.Grip = "cross"
		}
	}
	s.note(path, s.sayFact(path))
	return ""
}

// sameKind reports whether the instrument named is of the kind settled.
func (s *Session) sameKind() bool {
	inst, ok := s.kit.Catalogue.Instrument(s.now.instrument)
	return ok && inst.Kind == s.now.facts.Instrument.Kind
}

func (s *Session) setInstrument(inst knowledge.Instrument) {
	st := &s.now
	st.instrument = inst.ID
	st.facts.Instrument = facts.Instrument{Kind: inst.Kind, Bars: inst.Bars, LowHz: inst.Low.Hz(), HighHz: inst.High.Hz()}
	s.note("instrument.kind", inst.Name)
	st.known["instrument.low_hz"], st.known["instrument.high_hz"] = true, true
}

// note marks a fact as answered and keeps how it reads.
func (s *Session) note(path, words string) {
	st := &s.now
	st.known[path] = true
	if _, ok := st.said[path]; !ok {
		st.order = append(st.order, path)
	}
	st.said[path] = words
}

// settle draws what follows from the answers without asking.
func (s *Session) settle(r *Reply) {
	st := &s.now
	f := &st.facts
	if f.Player.Grip != "" && st.known["player.grip"] {
		if g, ok := s.kit.Catalogue.Grip(f.Player.Grip); ok {
			f.Player.Mallets = float64(g.Mallets)
			st.known["player.mallets"] = true
		}
	}
	if k := f.Instrument.Kind; st.known["instrument.kind"] && st.instrument == "" {
		bars := map[string]bool{}
		for _, inst := range s.kit.Catalogue.Instruments {
			if inst.Kind == k {
				bars[inst.Bars] = true
			}
		}
		if len(bars) == 1 && !st.known["instrument.bars"] {
			for b := range bars {
				f.Instrument.Bars = b
			}
			st.known["instrument.bars"] = true
		}
	}
	if f.Player.Minor && st.known["player.minor"] && (f.Player.SolventOK || !st.known["player.solvent_ok"]) {
		if f.Player.SolventOK {
			r.say("With a young maker there will be no solvent, whatever else was said: the glue will be water-based.")
		}
		f.Player.SolventOK = false
		s.note("player.solvent_ok", "water-based glue only, since a maker is under 18")
	}
}

// part takes in a part that was named.
func (s *Session) part(p understand.Part) string {
	st := &s.now
	if len(p.IDs) == 0 && p.Holding == understand.Avoid && p.Material == "" {
		p.IDs = s.allOf(p.Kind) // "no yarn"
	}
	if len(p.IDs) == 0 {
		return fmt.Sprintf("Nothing in the catalogue fits “%s”.", p.Text)
	}
	switch p.Holding {
	case understand.Avoid, understand.Lack:
		if p.Material == "latex" && p.Holding == understand.Avoid {
			st.facts.Player.LatexOK = false
			s.note("player.latex_ok", s.sayFact("player.latex_ok"))
			return ""
		}
		st.without = append(st.without, p.IDs...)
		s.note("without "+p.Text, "without "+p.Text)
	default:
		if p.Kind != "core" && p.Kind != "tube" && p.Kind != "yarn" && p.Kind != "shaft" {
			return ""
		}
		if st.only == nil {
			st.only = map[string][]string{}
		}
		if p.Holding == understand.Have { // one may have several
			st.only[p.Kind] = append(slices.Clone(st.only[p.Kind]), p.IDs...)
		} else {
			st.only[p.Kind] = p.IDs
		}
		s.note("with "+p.Kind, "with "+p.Text)
	}
	st.stack = ""
	return ""
}

// request is what a state asks of the finder.
func (s *Session) request(st *state) propose.Request {
	q := propose.Request{Facts: st.facts, Known: st.known, Heads: s.heads(st), Pin: propose.Pin{Without: slices.Clone(st.without)}, Most: patienceHeads}
	for _, kind := range []string{"core", "tube", "yarn", "shaft"} {
		only, ok := st.only[kind]
		if !ok {
			continue
		}
		for _, id := range s.allOf(kind) {
			if !slices.Contains(only, id) {
				q.Pin.Without = append(q.Pin.Without, id)
			}
		}
	}
	return q
}

// heads is how many heads are built: as many as are held at once.
func (s *Session) heads(st *state) int {
	if g, ok := s.kit.Catalogue.Grip(st.facts.Player.Grip); ok {
		return g.Mallets
	}
	return 2
}

// allOf returns the ids of a kind of part.
func (s *Session) allOf(kind string) []string {
	var ids []string
	cat := s.kit.Catalogue
	switch kind {
	case "core":
		for _, x := range cat.Cores {
			ids = append(ids, x.ID)
		}
	case "tube":
		for _, x := range cat.Tubing {
			ids = append(ids, x.ID)
		}
	case "yarn":
		for _, x := range cat.Yarns {
			ids = append(ids, x.ID)
		}
	case "shaft":
		for _, x := range cat.Shafts {
			ids = append(ids, x.ID)
		}
	}
	return ids
}

// remember keeps the state to come back to.
func (s *Session) remember() { s.past = append(s.past, s.now.clone()) }

func (s *Session) back() Reply {
	var r Reply
	if len(s.past) == 0 {
		r.say("There is nothing to go back to.")
		return s.ask(r)
	}
	s.now = s.past[len(s.past)-1]
	s.past = s.past[:len(s.past)-1]
	if s.now.stage == proposed {
		r.say("Back to how it was.")
		if c, err := s.best(); err == nil {
			r.Page = append(r.Page, s.stackTable("From the inside out", c))
			r.say("%s", s.inShort(c))
		}
		return s.ask(r)
	}
	r.say("Back one answer.")
	return s.ask(r)
}

// enter takes the stated default.
func (s *Session) enter() Reply {
	var r Reply
	switch {
	case s.now.stage == inviting:
		s.remember()
		s.now.stage = asking
		return s.next(r)
	case s.now.asked == "":
		return s.ask(r)
	}
	s.remember()
	s.takeDefault(&r)
	return s.next(r)
}

// enters is the value that Enter takes.
func (s *Session) enters(q knowledge.Question) string {
	if q.Careful != "" || q.Default != knowledge.Usual {
		return cmp.Or(q.Careful, q.Default, q.Choices[0].Value)
	}
	at := s.now.facts
	at.Want = s.kit.Finder.Usual(s.request(&s.now))
	aim, _ := value(at, q.ID).(float64)
	off := func(c knowledge.Choice) float64 {
		v, _ := strconv.ParseFloat(c.Value, 64) // checked by the catalogue
		return math.Abs(v - aim)
	}
	return slices.MinFunc(q.Choices, func(a, b knowledge.Choice) int { return cmp.Compare(off(a), off(b)) }).Value
}

// takeDefault answers the open question with what Enter takes.
func (s *Session) takeDefault(r *Reply) {
	q, _ := s.kit.Catalogue.Question(s.now.asked)
	_ = setText(&s.now.facts, q.ID, s.enters(q)) // checked by NewKit
	s.note(q.ID, s.sayFact(q.ID))
	r.say("Taken: %s.", s.sayFact(q.ID))
	s.now.tries = 0
	s.settle(r)
}

// unclear asks again, more narrowly; in the end it takes the default.
func (s *Session) unclear(r Reply, in understand.Reading) Reply {
	if s.now.asked == "" {
		if len(in.Missed) > 0 {
			s.missed(&r, in)
		} else {
			r.say("I could make nothing of that.")
		}
		if s.now.stage == inviting {
			s.now.stage = asking
			return s.next(r)
		}
		return s.ask(r)
	}
	s.now.tries++
	q, _ := s.kit.Catalogue.Question(s.now.asked)
	if s.now.tries >= patience {
		s.remember()
		r.say("That is not getting clearer, so I go on with the stated answer; say change to come back to it.")
		s.takeDefault(&r)
		return s.next(r)
	}
	s.missed(&r, in)
	if len(in.Missed) == 0 {
		r.say("That does not answer the question.")
	}
	r.say("Answers that I understand here: %s.", strings.Join(q.Examples, "; "))
	return s.ask(r)
}

// yesNo is a plain yes or no where no question of that kind is open.
func (s *Session) yesNo(r Reply, yes bool, in understand.Reading) Reply {
	switch {
	case s.now.stage == inviting:
		return s.enter()
	case s.now.asked != "":
		return s.unclear(r, in)
	case yes:
		return s.build(r)
	}
	r.say("What should be different, then?")
	return s.ask(r)
}

// change opens a question again.
func (s *Session) change(r Reply, in understand.Reading) Reply {
	for _, t := range in.About {
		if q, ok := s.kit.Catalogue.Question(t.ID); ok && t.Kind == "fact" {
			s.remember()
			s.now.asked, s.now.stage, s.now.tries = q.ID, asking, 0
			delete(s.now.known, q.ID)
			if _, ok := s.now.said["player.mallets"]; q.ID == "player.grip" && !ok {
				delete(s.now.known, "player.mallets") // it followed from the grip
			}
			if said, ok := s.now.said[q.ID]; ok {
				r.say("Until now: %s.", said)
			}
			return s.ask(r)
		}
	}
	r.say("Which answer shall change? These are yours:")
	r.list(s.answers())
	return s.ask(r)
}

// answers lists what was said, in order.
func (s *Session) answers() []string {
	var list []string
	for _, path := range s.now.order {
		if path == "player.mallets" && s.now.known["player.grip"] {
			continue // the grip says it
		}
		if words, ok := s.now.said[path]; ok {
			list = append(list, words)
		}
	}
	return list
}

func (s *Session) help(r *Reply) {
	r.say("Say what you need in your own words; one sentence may answer many questions. At any time you can also say:")
	r.list([]string{
		"why: the reason for a question, a layer or a part (why this layer, why wool)",
		"why not …: what speaks against a part (why not a 70A rubber ball)",
		"what if …: what would move (what if I play four mallets, what if the wall is thicker)",
		"what is …: what a word means (what is a durometer)",
		"compare …: two heads or two parts side by side (compare 1 and 2)",
		"softer, harder, lighter, smaller, cheaper, no latex: another head",
		"back, undo, change …, start again: to correct",
		"show answers, show the head, show the drawing",
		"teach me: predict first, then see",
		"build: the build sheet; save; leave",
	})
}

// ask puts the open question under the reply.
func (s *Session) ask(r Reply) Reply {
	switch {
	case len(s.now.quiz) > 0:
		r.Ask = s.now.quiz[0].ask()
		r.Words = s.now.quiz[0].Choices
	case s.now.choosing:
		r.Ask = &Ask{Text: "Which lesson?"}
	case s.now.stage == inviting:
		r.Ask = &Ask{Text: "What do you need? Say it in a sentence, or press Enter and I ask one thing at a time."}
	case s.now.asked != "":
		r.Ask = s.question(s.now.asked)
	case s.now.stage == asking: // nothing that can be built meets the answers
		r.Ask = &Ask{Text: "Which answer shall change? Say undo, change …, or show answers."}
	case s.now.stage == proposed:
		r.Ask = &Ask{Text: "Say build for the build sheet, or what should be different: softer, lighter, smaller, cheaper, no latex. Or ask: why, why not …, what if …, compare 1 and 2."}
	}
	r.Words = append(r.Words, s.words(r.Ask)...)
	return r
}

// question is a question of the catalogue as it is asked now.
func (s *Session) question(id string) *Ask {
	q, _ := s.kit.Catalogue.Question(id)
	a, enter := &Ask{ID: id, Text: q.Ask}, s.enters(q)
	for _, c := range s.choices(q) {
		a.Choices = append(a.Choices, c.Say)
		if c.Value == enter {
			a.Enter = c.Say
		}
	}
	return a
}

// choices are a question's answers that are still open.
func (s *Session) choices(q knowledge.Question) []knowledge.Choice {
	if q.ID != "player.grip" || !s.now.known["player.mallets"] {
		return q.Choices
	}
	var out []knowledge.Choice
	for _, c := range q.Choices {
		if g, ok := s.kit.Catalogue.Grip(c.Value); ok && float64(g.Mallets) == s.now.facts.Player.Mallets {
			out = append(out, c)
		}
	}
	if len(out) == 0 {
		return q.Choices
	}
	return out
}

// words are likely next words, for completion.
func (s *Session) words(a *Ask) []string {
	var words []string
	if a != nil {
		words = append(words, a.Choices...)
	}
	words = append(words, "why", "why not", "what if", "what is", "compare", "back", "change", "start again", "show", "save", "leave", "help")
	if s.now.stage == proposed {
		words = append(words, "build", "softer", "harder", "lighter", "smaller", "cheaper", "no latex", "teach me")
	}
	return words
}

// sayFact reads a fact in the words of its question.
func (s *Session) sayFact(path string) string {
	v := value(s.now.facts, path)
	q, ok := s.kit.Catalogue.Question(path)
	if ok {
		for _, c := range q.Choices {
			var at facts.Facts
			if setText(&at, path, c.Value) == nil && value(at, path) == v {
				return inContext(q, c.Say)
			}
		}
	}
	switch x := v.(type) {
	case float64:
		switch path {
		case "want.softness":
			return fmt.Sprintf("%s (%s)", strike.Grade(x, s.kit.Catalogue.Scale), notches(x))
		case "player.mallets":
			return fmt.Sprintf("%g mallets", x)
		case "want.mass_g":
			return fmt.Sprintf("about %.1f g a head", x)
		case "want.diameter_mm":
			return "about " + (measure.Length(x) * measure.Millimetre).String() + " across"
		case "want.budget":
			return "at most " + measure.Money(x).String() + " for a pair"
		case "instrument.low_hz":
			return "from " + measure.NoteNear(x).String() + " up"
		case "instrument.high_hz":
			return "up to " + measure.NoteNear(x).String()
		}
		return fmt.Sprintf("%s: %g", path, x)
	case string:
		return x
	}
	return fmt.Sprintf("%s: %v", path, v)
}

// inContext makes a choice readable away from its question.
func inContext(q knowledge.Question, say string) string {
	if q.Name == "" {
		return say
	}
	return q.Name + ": " + say
}

// plain picks the words of a text if it has any.
func plain(text, otherwise string) string { return cmp.Or(strings.TrimSpace(text), otherwise) }

// notches is a place on the softness scale in words.
func notches(v float64) string {
	switch {
	case v > 0.05:
		return fmt.Sprintf("%.1f notches softer than the medium mark", v)
	case v < -0.05:
		return fmt.Sprintf("%.1f notches harder than the medium mark", -v)
	}
	return "on the medium mark"
}

// show shows what was asked for.
func (s *Session) show(in understand.Reading) Reply {
	var r Reply
	for _, t := range in.About {
		switch t.Kind {
		case "sheet", "shopping", "cuts":
			return s.build(r)
		case "answers":
			s.recall(&r)
			return s.ask(r)
		case "drawing":
			s.drawing(&r)
			return s.ask(r)
		case "stack", "alternatives", "choice":
			return s.present(r)
		case "fact":
			if s.now.stage == proposed && s.showFact(&r, t.ID) {
				return s.ask(r)
			}
		}
	}
	if s.now.stage == proposed {
		return s.present(r)
	}
	s.recall(&r)
	return s.ask(r)
}

// showFact says one thing about the proposed head, and reports whether that
// is a thing a head has.
func (s *Session) showFact(r *Reply, path string) bool {
	c, err := s.best()
	if err != nil {
		return false
	}
	h := c.Facts.Head
	switch path {
	case "want.softness":
		r.say("%s", s.inShort(c))
	case "want.colour", "want.attack", "want.opening", "want.register", "want.loudest":
		r.say("%s", s.sound(c))
	case "want.mass_g", "head.mass_g":
		r.say("The head weighs %.1f ± %.1f g without its shaft.", h.MassG, h.MassTolG)
	case "want.diameter_mm", "head.diameter_mm":
		r.say("The head is %s over everything, ± %.1f mm.", c.Head.Diameter, c.Head.DiameterTol.MM())
	case "want.budget", "head.cost":
		r.say("The parts of a pair come to %s by the prices built in, which are invented.", measure.Money(math.Round(2*h.CostCents)))
	case "head.hand_n":
		if len(c.Head.Layers) == 0 {
			r.say("There is no slice to pull on.")
		}
		for i, l := range c.Head.Layers {
			r.say("Layer %d takes about %.0f N to open over what lies below it: %s.", i+1, l.HandN, fits(l.Verdict))
		}
	default:
		return false
	}
	return true
}

// recall says what was said so far.
func (s *Session) recall(r *Reply) {
	said := s.answers()
	if len(said) == 0 {
		r.say("You have not told me anything yet.")
		return
	}
	r.say("So far you said:")
	r.list(said)
}

func (s *Session) drawing(r *Reply) {
	sh, err := s.Sheet()
	if err != nil {
		r.say("%s", sentence(err))
		return
	}
	for _, b := range sh.Page(page.MinWidth) {
		if p, ok := b.(page.Picture); ok {
			r.Page = append(r.Page, p)
		}
	}
}
