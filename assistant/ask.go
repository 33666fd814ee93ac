package assistant

import (
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/rules"
	"mallow/rules/propose"
)

// What an answer must gain, in points of score, before another head counts as
// better than the one at hand. A notch of softness costs 3 points.
const gain = 0.5

// What the loss of a head that an answer rules out counts as, in points.
const hopeless = 10.0

// How many of a proposal's pool are scored anew for each answer.
const inPlay = 48

// worth is what is to be learnt from a question.
type worth struct {
	bits   float64 // entropy of which head its answers would choose
	regret float64 // points that the present head is expected to lose
}

// worth returns what an answer to q would tell. Each choice is tried on the
// heads in play; choices that leave the present head best, or nearly so, are
// one outcome, any other best head is an outcome of its own. The entropy of
// the outcomes, by the shares of the choices, is the information expected.
// It is zero when no answer would change the head.
func (s *Session) worth(q knowledge.Question, pool []propose.Candidate) worth {
	weights := map[int]float64{} // by place in the pool; the present head is 0
	total, regret := 0.0, 0.0
	for _, c := range s.choices(q) {
		share := c.Share
		if share == 0 {
			share = 1
		}
		total += share
		scores := s.kit.Finder.Rescore(pool, s.request(s.supposing(q, c)))
		best := slices.Index(scores, slices.Max(scores))
		lost := scores[best] - scores[0]
		switch {
		case math.IsInf(scores[best], -1): // nothing in play would do
			best, lost = -1, hopeless
		case math.IsInf(scores[0], -1):
			lost = hopeless
		case lost < gain:
			best, lost = 0, 0
		}
		weights[best] += share
		regret += share * lost
	}
	w := worth{regret: regret / total}
	for i := -1; i < len(pool); i++ { // in order, so that sums are the same every time
		if p := weights[i] / total; p > 0 {
			w.bits -= p * math.Log2(p)
		}
	}
	return w
}

// supposing is the state with an answer given.
func (s *Session) supposing(q knowledge.Question, c knowledge.Choice) *state {
	at := s.now.clone()
	_ = setText(&at.facts, q.ID, c.Value) // checked by NewKit
	at.known[q.ID] = true
	switch q.ID {
	case "player.grip":
		at.facts.Player.Mallets = 0
	case "instrument.kind":
		at.facts.Instrument.LowHz, at.facts.Instrument.HighHz, at.facts.Instrument.Bars = 0, 0, ""
	}
	return &at
}

// pick returns the question to ask next, or false when none is left whose
// answer would change the proposal.
//
// Wishes that most people do not have (a weight, a size, a budget) are not
// asked for; they may be said at any time. A question with a careful answer
// is about safety: it is asked whatever it is worth, unless it was answered
// or does not arise. Once a head has been proposed, only those are.
func (s *Session) pick() (knowledge.Question, bool) {
	var open []knowledge.Question
	for _, q := range s.kit.Catalogue.Questions {
		if !s.now.known[q.ID] && s.arises(q.ID) {
			open = append(open, q)
		}
	}
	if s.now.seen {
		open = slices.DeleteFunc(open, func(q knowledge.Question) bool { return q.Careful == "" })
	}
	var pool []propose.Candidate
	if p, err := s.propose(&s.now); err == nil {
		pool = p.Pool
	}
	pool = pool[:min(len(pool), inPlay)]
	best := worth{}
	var next *knowledge.Question
	for i := range open {
		q := &open[i]
		if q.Default == "" && q.Careful == "" || len(pool) == 0 {
			continue
		}
		if w := s.worth(*q, pool); w.bits > 1e-9 && (next == nil || w.bits > best.bits+1e-9 || math.Abs(w.bits-best.bits) <= 1e-9 && w.regret > best.regret+1e-9) {
			next, best = q, w
		}
	}
	if next != nil {
		return *next, true
	}
	for _, q := range open {
		if q.Careful != "" {
			return q, true
		}
	}
	return knowledge.Question{}, false
}

// arises reports whether a question makes sense after what was answered. A
// question that rules of the book ask arises when one of them fires; any other
// always does.
func (s *Session) arises(id string) bool {
	st := &s.now
	switch id {
	case "player.solvent_ok":
		return st.known["player.minor"] && !st.facts.Player.Minor
	case "instrument.bars":
		return st.known["instrument.kind"] && st.instrument == ""
	}
	at := st.facts
	at.Player.Mallets = float64(s.heads(st))
	asked := false
	for _, f := range s.kit.Book.Ask("player", at, nil) {
		if f.Rule.Do != rules.Ask || f.Rule.Give != id {
			continue
		}
		if f.State == rules.Fired {
			return true
		}
		asked = true
	}
	return !asked
}

// next asks the next question, or proposes.
func (s *Session) next(r Reply) Reply {
	if s.now.stage == inviting {
		s.now.stage = asking
	}
	if s.replaying {
		s.now.asked = ""
		return r
	}
	if q, ok := s.pick(); ok {
		s.now.asked, s.now.stage, s.now.tries = q.ID, asking, 0
		return s.ask(r)
	}
	s.now.asked = ""
	return s.present(r)
}
