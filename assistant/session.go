package assistant

import (
	"mallow/assistant/tell"
	"maps"
	"slices"
	"strings"

	"mallow/assistant/along"
	"mallow/assistant/answer"
	"mallow/assistant/gloss"
	"mallow/assistant/lesson"
	"mallow/assistant/page"
	"mallow/assistant/settled"
	"mallow/assistant/several"
	"mallow/assistant/shape"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/head"
	"mallow/rules/facts"
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

// state is what a conversation has come to. It is copied before each line, so
// that one can go back.
type state struct {
	settled.State
	stage    stage
	seen     bool   // a head has been proposed: from then on only the person changes things
	asked    string // the open question's id
	tries    int    // unclear answers to it
	teaching bool
	quiz     []lesson.Quiz           // predictions still to be made, the open one first
	owed     bool                    // the proposal is to be shown after the predictions
	choosing bool                    // a lesson is being chosen
	rest     []page.Page             // what goes deeper into what was shown, next screen first
	traced   []page.Page             // the rules behind what was said last, in full
	heard    reading.Reading         // what the person said so far, as it was read
	prompted string                  // the question that stood under the last reply
	back     []harm.Fact             // careful answers that may be taken back, once that is affirmed
	bench    *along.Build            // what is being built; nil for nothing
	due      due                     // what is to be done once the questions of safety are answered
	doctor   along.Doctor            // a trouble that is being looked into
	old      old                     // an old head whose stack is being found
	wish     string                  // stands in the way of every head, and may be given up
	without  string                  // that, in words
	later    []several.Head          // heads that are wanted after the one at hand
	benches  map[string]*along.Build // builds of heads that wait, by their names
	turning  bool                    // whether to go on with the next of them is asked
	pair     [2]string               // the heads of the last what-if, as it is and as supposed
	wondered reading.Reading         // what that what-if supposed
	last     settled.Last            // what was taken of the last line
	done     bool                    // a build has come to its end, or its sheet was handed out
}

// due is what waits for the questions of safety: a job, or else a set.
type due struct {
	Job    bool   `json:",omitempty"`
	ID     string `json:",omitempty"` // of the catalogue's jobs; empty to build
	Grades int    `json:",omitempty"` // of the set
	Line   string `json:",omitempty"` // that asked for the set
}

func (st state) clone() state {
	st.State = st.State.Clone()
	st.quiz = slices.Clone(st.quiz)
	st.bench = st.bench.Clone()
	st.later, st.benches = slices.Clone(st.later), maps.Clone(st.benches)
	return st
}

// open opens a question.
func (st *state) open(id string) { st.asked, st.stage, st.tries = id, asking, 0 }

// pick takes a head by hand, as the one that is on offer.
func (st *state) pick(s head.Stack) {
	st.Stack, st.stage, st.seen, st.asked = s.String(), proposed, true, ""
}

// Session is a conversation. It is for one goroutine.
type Session struct {
	kit  *Kit
	now  state
	past []state
	was  *state // before the line that is being answered
	kept int    // of past, before that line

	replaying bool
	best      best
	// Progress, when not nil, is told how many of the lines that are taken up
	// have been gone through.
	Progress func(done, of int)
}

// best is the head of a state that was taken up: it is known without being
// looked for.
type best struct {
	of           []byte // the state, as it is written
	stack, short string
}

// NewSession starts a conversation.
func NewSession(k *Kit) *Session {
	s := &Session{kit: k}
	s.restart()
	return s
}

func (s *Session) restart() {
	s.now = state{State: settled.New(s.kit.Ground)}
}

func (s *Session) teller() tell.Teller {
	n := &s.now
	return tell.Teller{Kit: s.kit, State: &n.State, Asked: n.asked, Proposed: n.stage == proposed, Building: n.bench != nil, Seen: n.seen, Later: n.later, Rest: &n.rest, Traced: &n.traced, Wish: &n.wish, Without: &n.without}
}

// Open returns the first words.
func (s *Session) Open() Reply {
	var r Reply
	r.Say("mallow helps you choose the layers of a mallet head and build it. Ask why, what if or what a word means at any time; say leave to go, and all you said is kept.")
	if n := s.kit.Owned(); n > 0 {
		r.Say("%s", UsesShelf(n))
	}
	return s.ask(r)
}

// Asked returns the id of the open question, or nothing.
func (s *Session) Asked() string {
	if s.now.bench != nil && s.now.asked == "" {
		return "build"
	}
	return s.now.asked
}

// Done reports whether the conversation has come to its end: something was
// built, or its sheet handed out.
func (s *Session) Done() bool { return s.now.done && s.now.bench == nil && len(s.now.later) == 0 }

// Proposes reports whether the conversation has come to a head that stands, with
// nothing left to ask.
func (s *Session) Proposes() bool { return s.now.stage == proposed }

// About returns a few words by which the conversation may be recognised.
func (s *Session) About() string {
	if s.now.bench != nil {
		return s.now.bench.About()
	}
	var words []string
	for _, path := range []string{"instrument.kind", "player.grip", "want.register", "want.softness"} {
		if w, ok := s.now.Said(path); ok {
			words = append(words, w)
		}
	}
	return strings.Join(words, ", ")
}

// Say answers a line.
func (s *Session) Say(line string) Reply {
	r := s.say(line)
	if gone := len(s.past) - mostBack; gone > 0 {
		s.past = slices.Delete(s.past, 0, gone)
	}
	return r
}

func (s *Session) say(line string) Reply {
	line = strings.TrimSpace(line)
	var first page.Page
	if len(s.now.back) > 0 {
		before := s.now.clone()
		r, all := hearing{s}.affirmed(line)
		if all {
			return s.onward(r, &before)
		}
		first = r.Page
	}
	before := s.now.clone()
	heard := heeding{s}.read(line)
	in, facts, line, spared := heard.In, heard.Harms, heard.Text, heard.Said
	first = append(first, spared...)
	if !in.Empty() {
		s.now.heard = s.now.heard.Then(in)
	}
	s.was, s.kept = &before, len(s.past)
	h, notes := hearing{s}.hear(facts)
	r, hurt := curious{s}.urgent(in, line, h)
	switch {
	case hurt:
	case len(spared) > 0 && in.Empty() && !h.Did():
		r = s.onward(Reply{}, &before)
	default:
		r = s.answer(in, line, h)
	}
	s.was = nil
	if len(h.Noted)+len(h.Open)+len(spared) > 0 && len(s.past) == s.kept { // so that one can go back
		s.past = append(s.past, before)
	}
	r.Page = slices.Concat(first, notes, r.Page)
	return hearing{s}.open(r, h)
}

// answer answers what a line says beside harm.
func (s *Session) answer(in reading.Reading, line string, h settled.Heard) Reply {
	if len(s.now.quiz) > 0 {
		return school{s}.predict(line)
	}
	if s.now.choosing {
		return school{s}.choose(line)
	}
	if r, ok := (queue{s}).turn(in, line); ok {
		return r
	}
	if r, ok := (heeding{s}).beside(line); ok {
		return r
	}
	if !h.Did() {
		if r, ok := s.give(line); ok {
			return r
		}
	}
	if s.now.bench != nil && s.now.asked == "" {
		return building{s}.atBench(in, line, h)
	}
	if s.now.doctor.ID != "" {
		if r, ok := (building{s}).examine(line); ok {
			return r
		}
	}
	if s.now.old.Open && !h.Did() {
		if r, ok := (building{s}).found(line); ok {
			return r
		}
	}
	if r, ok := (building{s}).order(line); ok {
		return r
	}
	if r, ok := (school{s}).lesson(line); ok {
		return r
	}
	switch answer.Plain(line) {
	case "":
		if line == "" {
			return s.enter()
		}
	case "more", "tell me more", "more please", "show more", "go deeper":
		return display{s}.more()
	case "the rules", "rules", "show the rules", "which rules":
		return display{s}.theRules()
	}
	if r, ok := (graduating{s}).set(in, line); ok {
		return r
	}
	if r, ok := (curious{s}).knows(in, line); ok {
		if len(h.Noted) > 0 && s.now.Facts != s.was.Facts {
			return s.onward(r, s.was)
		}
		return r
	}
	if r, ok := (building{s}).idle(line); ok {
		return r
	}
	if r, ok := (building{s}).onlyBuild(in, line); ok {
		return r
	}
	if r, ok := (building{s}).ails(in, line); ok {
		return r
	}
	plain := slices.Contains([]reading.Act{reading.Tell, reading.Yes, reading.No, reading.Unsure, reading.Change}, in.Act())
	if h.Did() && plain && len(in.Takes)+len(in.Parts)+len(in.Moves)+len(in.About) == 0 {
		var r Reply
		s.teller().Missed(&r.Said, in)
		if answer.IsQuestion(line) {
			curious{s}.aside(&r, line)
		}
		s.now.tries = 0
		if len(h.Noted) == 0 {
			return s.ask(r)
		}
		return s.onward(r, s.was)
	}
	return s.act(in, line)
}

// act does what was asked for.
func (s *Session) act(in reading.Reading, line string) Reply {
	var r Reply
	if s.replaying && slices.Contains([]reading.Act{
		reading.Why, reading.WhyNot, reading.Compare, reading.Define, reading.Show, reading.Help, reading.Leave, reading.Save,
	}, in.Act()) && !s.now.teaching && !slices.ContainsFunc(in.About, begins) {
		return r // they change nothing
	}
	if in.Act() == reading.Leave && s.now.teaching && strings.EqualFold(line, "stop") {
		s.now.teaching = false
		r.Say("No more guessing, then.")
		return s.ask(r)
	}
	switch in.Act() {
	case reading.Leave:
		r.Leave = true
		return r
	case reading.Save:
		r.Save = true
		return s.ask(r)
	case reading.Help:
		if len(in.Takes)+len(in.Moves)+len(in.Parts) > 0 { // I'm allergic to wool, what now
			curious{s}.aside(&r, line)
			break
		}
		tell.Help(&r.Said)
		return s.ask(r)
	case reading.Restart:
		if answer.IsQuestion(line) && len(in.Missed) > 0 { // the hole is off, start over?
			return curious{s}.unanswered(r, in, line)
		}
		s.remember()
		gone := s.now
		s.restart()
		r.Say("A new start; say undo to have the old answers back.")
		s.keep(&r, gone)
		return s.ask(r)
	case reading.Back, reading.Undo:
		if r, ok := (curious{s}).nearby(line, answer.NearLikely); ok && slices.Contains(in.Acts, reading.Show) {
			return r // go back, can you show me the parts
		}
		return s.back()
	case reading.Define:
		means, known := gloss.In(s.kit.Catalogue).Define(in, line)
		if !known {
			if r, ok := (curious{s}).nearby(line, answer.NearLikely); ok {
				return r
			}
		} else {
			r.Told = "term"
		}
		r.Say("%s", means)
		return s.ask(r)
	case reading.Show:
		return display{s}.show(in)
	case reading.Lesson:
		return school{s}.teach()
	}
	switch in.Act() {
	case reading.Why:
		least := answer.NearPlain
		if s.now.stage != proposed { // of which there would be reasons
			least = answer.NearLikely
		}
		_, shaped := shape.Read(line) // why 127 turns
		if r, ok := (curious{s}).nearby(line, least); ok && !shaped && len(in.Parts)+len(in.Supposed.Parts) == 0 {
			return r
		}
		if strings.Contains(line, " ") && !shaped && s.now.stage != proposed && (curious{s}).hint(&r, line) {
			return s.ask(r)
		}
		r.Told = "why"
		s.teller().Why(&r.Said, in, line)
		return s.ask(r)
	case reading.WhyNot:
		_, shaped := shape.Read(line)
		if len(in.Supposed.Parts) == 0 && (shaped || len(in.Supposed.Takes)+len(in.Supposed.Moves) > 0) {
			return supposing{s}.whatIf(r, in, line)
		}
		if r, ok := (curious{s}).nearby(line, answer.NearPlain); ok && len(in.Supposed.Parts) == 0 {
			return r
		}
		s.teller().WhyNot(&r.Said, in)
		return s.ask(r)
	case reading.WhatIf:
		return supposing{s}.whatIf(r, in, line)
	case reading.Compare:
		if s.now.stage == asking && s.now.asked != "" && len(in.About) == 0 && len(in.Supposed.Said) == 0 { // of what was asked
			return curious{s}.again()
		}
		if apart := s.kit.Answers().Apart(line); apart && !strings.HasPrefix(answer.Plain(line), "compare ") { // of what is not on offer
			least := answer.NearLikely
			if len(in.Supposed.Said) > 0 || slices.ContainsFunc(in.About, func(t reading.Topic) bool { return t.Kind == "choice" }) {
				least = answer.NearSure // birch or rattan tho
			}
			if r, ok := (curious{s}).nearby(line, least); ok {
				return r
			}
			if least == answer.NearLikely && (curious{s}).hint(&r, line) {
				return s.ask(r)
			}
		}
		r.Told = "compare"
		s.teller().Compare(&r.Said, in, line, s.earlier())
		return s.ask(r)
	case reading.Change:
		if len(in.Takes)+len(in.Moves)+len(in.Parts)+len(in.Withdraws) > 0 {
			break
		}
		return s.change(r, in)
	case reading.More:
		if in.Empty() {
			return display{s}.more()
		}
	case reading.Social:
		if in.Empty() {
			if !(curious{s}).guess(&r, in, line) {
				r.Say("%s", s.teller().Chat(in, line))
			}
			return s.ask(r)
		}
	case reading.Ask:
		if in.Empty() {
			return curious{s}.unanswered(r, in, line)
		}
		curious{s}.aside(&r, line)
	case reading.Default, reading.Unsure, reading.Skip:
		if !in.Empty() {
			break
		}
		if answer.IsQuestion(line) && in.Act() == reading.Unsure { // how do I know which
			return curious{s}.unanswered(r, in, line)
		}
		if in.Act() != reading.Default && s.now.asked == "" && s.now.stage == proposed { // a maybe is no yes, nor is a pass
			r.Say("No hurry. Ask why, what it costs or what if, change it in your own words, or say build when you like it.")
			return s.ask(r)
		}
		if in.Act() != reading.Unsure || !in.Elsewhere(s.now.asked) {
			return s.enter()
		}
		r.Say("That may stay open: I ask about it when it matters.")
		return s.ask(r)
	case reading.Yes, reading.No:
		if in.Empty() {
			if r, ok := (curious{s}).nearby(line, answer.NearLikely); ok && answer.IsQuestion(line) {
				return r // ok if it's a golf ball
			}
			return s.yesNo(r, in.Act() == reading.Yes, in)
		}
	}
	if in.Act() != reading.Ask && answer.IsQuestion(line) && len(in.Takes)+len(in.Parts) > 0 { // no drill here, now what
		curious{s}.aside(&r, line)
	}
	if reply, ok := s.wanted(r, in, line); ok {
		return reply
	}
	return s.tell(r, in, line)
}

// begins reports whether what a topic names is shown by beginning to build.
func begins(t reading.Topic) bool { return t.Kind == "shopping" || t.Kind == "cuts" }

// wanted does what is asked for by name alone: the sheet, or a head on offer.
func (s *Session) wanted(r Reply, in reading.Reading, line string) (Reply, bool) {
	if len(in.Takes)+len(in.Moves)+len(in.Parts) > 0 {
		return r, false
	}
	lower := strings.ToLower(line)
	makes := strings.Contains(lower, "build") || strings.Contains(lower, "make")
	if s.now.stage == asking && makes && slices.ContainsFunc(in.About, func(t reading.Topic) bool { return t.Kind == "sheet" || t.Kind == "stack" }) {
		s.remember() // in a hurry: only what nobody may guess is still asked
		s.now.seen = true
		r.Say("What you have not said is taken as most players have it.")
		return building{s}.build(r), true
	}
	if s.now.stage != proposed {
		return r, false
	}
	for _, t := range in.About {
		if begins(t) || t.Kind == "stack" && makes || t.Kind == "sheet" && !strings.Contains(lower, "sheet") {
			return building{s}.build(r), true
		}
		switch t.Kind {
		case "sheet":
			return s.whole(r), true
		case "stack":
			return s.present(r), true
		case "choice":
			c, ok := s.kit.Offers.Choice(&s.now.State, t.N)
			if !ok {
				r.Say("There is no choice %d.", t.N)
				return s.ask(r), true
			}
			before := s.now.clone()
			s.past = append(s.past, before)
			s.now.Stack = c.Stack.String()
			r.Say("Taken: choice %d.", t.N)
			return s.revise(r, &before), true
		case "drawing":
			display{s}.drawing(&r)
			return s.ask(r), true
		}
	}
	return r, false
}

// enter takes the stated default.
func (s *Session) enter() Reply {
	var r Reply
	switch {
	case s.now.stage == inviting:
		s.remember()
		s.now.stage = asking
		return s.next(r)
	case s.now.stage == proposed:
		return building{s}.build(r)
	case s.now.asked == "" && s.now.wish != "":
		s.remember()
		s.now.GiveUp(s.now.wish)
		r.Say("Given up: %s.", s.now.without)
		return s.present(r)
	case s.now.asked == "":
		return s.back()
	}
	s.remember()
	s.takeDefault(&r)
	return s.next(r)
}

// takeDefault answers the open question with what Enter takes.
func (s *Session) takeDefault(r *Reply) {
	q, _ := s.kit.Catalogue.Question(s.now.asked)
	_ = facts.Parse(&s.now.Facts, q.ID, s.kit.Asker.Enter(&s.now.State, q)) // checked by NewKit
	if q.Careful != "" {                                                    // nobody said so: it is only how it is taken
		s.now.Note(q.ID, q.Name+": not said, so taken with care")
		r.Say("%s", q.Unsaid)
	} else {
		s.now.Note(q.ID, s.now.Say(q.ID))
		r.Say("Taken: %s.", s.now.Say(q.ID))
	}
	s.now.tries = 0
	r.SayAll(s.now.Settle())
}

// yesNo is a plain yes or no where no question of that kind is open.
func (s *Session) yesNo(r Reply, yes bool, in reading.Reading) Reply {
	switch {
	case s.now.stage == inviting:
		return s.enter()
	case s.now.asked == "" && s.now.stage == asking && yes:
		return s.enter()
	case s.now.asked != "" && yes: // I see
		s.teller().Missed(&r.Said, in)
		return s.ask(r)
	case s.now.asked != "":
		return s.unclear(r, in, "")
	case yes:
		return building{s}.build(r)
	}
	r.Say("What should be different, then?")
	return s.ask(r)
}

// next asks the next question, or proposes.
func (s *Session) next(r Reply) Reply {
	if s.now.stage == inviting {
		s.now.stage = asking
	}
	if s.now.bench != nil {
		s.now.asked, s.now.stage = "", proposed
		return building{s}.recheck(r)
	}
	d := s.now.due
	switch q, owed := s.kit.Asker.Owed(&s.now.State); {
	case owed && d != due{}:
		s.now.open(q.ID)
		return s.ask(r)
	case d.Grades > 0:
		if q, ok := s.kit.Asker.Next(&s.now.State, s.now.seen); ok {
			s.now.open(q.ID)
		}
		return graduating{s}.show(r, d)
	case d.Job:
		return building{s}.start(r, d.ID)
	}
	if s.replaying {
		s.now.asked = ""
		return r
	}
	if q, ok := s.kit.Asker.Next(&s.now.State, s.now.seen); ok {
		s.now.open(q.ID)
		return s.ask(r)
	}
	s.now.asked = ""
	return s.present(r)
}
