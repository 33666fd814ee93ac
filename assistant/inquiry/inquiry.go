// Package inquiry knows which question is worth asking next, which answers it
// leaves open, and where each would lead. It never words a reply, and takes no
// answer.
package inquiry

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"mallow/assistant/offer"
	"mallow/assistant/settled"
	"mallow/knowledge"
	"mallow/knowledge/correct"
	"mallow/knowledge/head"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// Gain is what an answer must gain, in points of score, before another head counts as
// better than the one at hand. A notch of softness costs 3 points.
const Gain = 0.5

// What the loss of a head that an answer rules out counts as, in points.
const hopeless = 10.0

// How many of a proposal's pool are scored anew for each answer.
const inPlay = 48

// Asker picks questions. It may be used by several goroutines at once.
type Asker struct {
	cat    *knowledge.Catalogue
	book   *rules.Book[facts.Facts]
	finder *propose.Finder
	offers *offer.Offers
}

// New returns an asker of the catalogue's questions.
func New(cat *knowledge.Catalogue, book *rules.Book[facts.Facts], finder *propose.Finder, offers *offer.Offers) *Asker {
	return &Asker{cat, book, finder, offers}
}

// Next returns the question to ask next, or false when none is left whose
// answer would change the proposal.
//
// Wishes that most people do not have (a weight, a size, a budget) are not
// asked for; they may be said at any time. A question with a careful answer
// is about safety: it is asked whatever it is worth, unless it was answered
// or does not arise. Once a head has been seen, only those are.
func (a *Asker) Next(st *settled.State, seen bool) (knowledge.Question, bool) {
	open := a.open(st, seen)
	pool := a.pool(st)
	best := worth{}
	var next *knowledge.Question
	for i := range open {
		q := &open[i]
		if q.ID == facts.BenchUnits {
			return *q, true // what can be had at all hangs on it
		}
		if q.Default == "" && q.Careful == "" || len(pool) == 0 {
			continue
		}
		if w := a.worth(st, *q, pool); w.bits > 1e-9 && (next == nil || w.bits > best.bits+1e-9 || math.Abs(w.bits-best.bits) <= 1e-9 && w.regret > best.regret+1e-9) {
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

// open are the questions that may still be asked.
func (a *Asker) open(st *settled.State, seen bool) []knowledge.Question {
	var open []knowledge.Question
	for _, q := range a.cat.Questions {
		if !st.Known[q.ID] && a.Arises(st, q.ID) && !(seen && q.Careful == "") {
			open = append(open, q)
		}
	}
	return open
}

// Open is how many questions may still be asked at most.
func (a *Asker) Open(st *settled.State, seen bool) int {
	n := 0
	for _, q := range a.open(st, seen) {
		if q.Default != "" || q.Careful != "" {
			n++
		}
	}
	return n
}

// Owed returns a question of safety that has to be answered before anything
// is built, if one is open.
func (a *Asker) Owed(st *settled.State) (knowledge.Question, bool) {
	for _, q := range a.cat.Questions {
		if q.Careful != "" && !st.Known[q.ID] && a.Arises(st, q.ID) {
			return q, true
		}
	}
	return knowledge.Question{}, false
}

// Arises reports whether a question makes sense after what was answered. A
// question that rules of the book ask arises when one of them fires; any other
// always does.
func (a *Asker) Arises(st *settled.State, id string) bool {
	switch id {
	case gate.RubberOK:
		return false // few react to it: who does says so
	case gate.LatexOK:
		if st.Known[gate.RubberOK] && !st.Facts.Player.RubberOK {
			return false
		}
	case facts.PlayerTensionN:
		if a.cat.Limits.TensionN.Source == correct.Learnt {
			return false // their measured heads say it
		}
	case facts.BenchUnits:
		return len(st.Worlds()) == 2 // their own units say it, else inches
	case facts.PlayerSolventOK:
		return st.Known[facts.PlayerMinor] && !st.Facts.Player.Minor
	case facts.InstrumentBars:
		return st.Known[facts.InstrumentKind] && st.Instrument == ""
	}
	at := st.Facts
	at.Player.Mallets = float64(st.Heads())
	asked := false
	for _, f := range a.book.Ask("player", at, nil) {
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

// Choices are a question's answers that are still open.
func (a *Asker) Choices(st *settled.State, q knowledge.Question) []knowledge.Choice {
	if q.ID != facts.PlayerGrip || !st.Known[facts.PlayerMallets] {
		return q.Choices
	}
	var out []knowledge.Choice
	for _, c := range q.Choices {
		if g, ok := a.cat.Grip(c.Value); ok && float64(g.Mallets) == st.Facts.Player.Mallets {
			out = append(out, c)
		}
	}
	if len(out) == 0 {
		return q.Choices
	}
	return out
}

// Enter is the value that Enter takes.
func (a *Asker) Enter(st *settled.State, q knowledge.Question) string {
	if q.Careful != "" || q.Default != knowledge.Usual {
		return cmp.Or(q.Careful, q.Default, q.Choices[0].Value)
	}
	at := st.Facts
	at.Want = a.finder.Usual(st.Guess())
	aim, _ := facts.Get(&at, q.ID).(float64)
	off := func(c knowledge.Choice) float64 {
		v, _ := strconv.ParseFloat(c.Value, 64) // checked by the catalogue
		return math.Abs(v - aim)
	}
	return slices.MinFunc(q.Choices, func(a, b knowledge.Choice) int { return cmp.Compare(off(a), off(b)) }).Value
}

// Lead is where an answer would lead.
type Lead struct {
	Choice knowledge.Choice
	To     *head.Stack // nil when none of the heads in play would do
}

// Leads returns where each answer to a question would lead, or nothing when
// no head is in play.
func (a *Asker) Leads(st *settled.State, q knowledge.Question) []Lead {
	pool := a.pool(st)
	if pool == nil {
		return nil
	}
	var list []Lead
	for _, c := range a.Choices(st, q) {
		at := st.Supposing(q, c)
		scores := a.finder.Rescore(pool, at.Guess())
		best := slices.Index(scores, slices.Max(append([]float64{math.Inf(-1)}, scores...)))
		lead := Lead{Choice: c}
		if best >= 0 && !math.IsInf(scores[best], -1) {
			lead.To = &pool[best].Stack
		}
		list = append(list, lead)
	}
	return list
}

// pool is the heads in play.
func (a *Asker) pool(st *settled.State) []propose.Candidate {
	pool, err := a.offers.Pool(st)
	if err != nil {
		return nil
	}
	return pool[:min(len(pool), inPlay)]
}

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
func (a *Asker) worth(st *settled.State, q knowledge.Question, pool []propose.Candidate) worth {
	weights := map[int]float64{} // by place in the pool; the present head is 0
	total, regret := 0.0, 0.0
	for _, c := range a.Choices(st, q) {
		share := c.Share
		if share == 0 {
			share = 1
		}
		total += share
		at := st.Supposing(q, c)
		scores := a.finder.Rescore(pool, at.Guess())
		best := slices.Index(scores, slices.Max(scores))
		lost := scores[best] - scores[0]
		switch {
		case math.IsInf(scores[best], -1): // nothing in play would do
			best, lost = -1, hopeless
		case math.IsInf(scores[0], -1):
			lost = hopeless
		case lost < Gain:
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
