package assistant

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"mallow/assistant/along"
	"mallow/assistant/journal"
	"mallow/assistant/lesson"
	"mallow/assistant/page"
	"mallow/assistant/settled"
	"mallow/assistant/several"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/head"
	"mallow/rules/propose"
)

// mostBack is how many answers one can go back. It bounds what a long
// conversation takes of memory, and of the disk.
const mostBack = 24

// errBusy says that a conversation can't be written as a value now: something
// is being built.
var errBusy = errors.New("a build is under way")

// savedState is a state as it is written beside a session's lines. What can be
// shown again without it, as what goes deeper into the last reply, is left out.
type savedState struct {
	State    settled.State
	Stage    stage           `json:",omitempty"`
	Seen     bool            `json:",omitempty"`
	Asked    string          `json:",omitempty"`
	Tries    int             `json:",omitempty"`
	Teaching bool            `json:",omitempty"`
	Quiz     []savedQuiz     `json:",omitempty"`
	Owed     bool            `json:",omitempty"`
	Choosing bool            `json:",omitempty"`
	Heard    reading.Reading `json:",omitzero"`
	Prompted string          `json:",omitempty"`
	Back     []harm.Fact     `json:",omitempty"`
	Due      due             `json:",omitzero"`
	Doctor   along.Doctor    `json:",omitzero"`
	Old      old             `json:",omitzero"`
	Wish     string          `json:",omitempty"`
	Without  string          `json:",omitempty"`
	Later    []several.Head  `json:",omitempty"`
	Turning  bool            `json:",omitempty"`
	Pair     [2]string       `json:",omitzero"`
	Wondered reading.Reading `json:",omitzero"`
	Last     settled.Last    `json:",omitzero"`
	Done     bool            `json:",omitempty"`
}

type savedQuiz struct {
	lesson.Quiz
	Shown []savedBlock // in place of the quiz's
}

// savedBlock is any block of a page: the one that is there.
type savedBlock struct {
	Heading *page.Heading `json:",omitempty"`
	Para    *page.Para    `json:",omitempty"`
	List    *page.List    `json:",omitempty"`
	Table   *page.Table   `json:",omitempty"`
	Picture *page.Picture `json:",omitempty"`
}

// snapshot is a whole conversation as it is written.
type snapshot struct {
	Now  savedState
	Past []savedState
	// The head that is proposed, as stack text, and what it falls short of;
	// empty for none.
	Best, Short string
}

func (st state) saved() (savedState, error) {
	if st.bench != nil || len(st.benches) > 0 {
		return savedState{}, errBusy
	}
	x := savedState{st.State, st.stage, st.seen, st.asked, st.tries, st.teaching, nil, st.owed, st.choosing, st.heard, st.prompted,
		st.back, st.due, st.doctor, st.old, st.wish, st.without, st.later, st.turning, st.pair, st.wondered, st.last, st.done}
	for _, q := range st.quiz {
		y := savedQuiz{Quiz: q}
		for _, b := range q.Shown {
			var z savedBlock
			switch b := b.(type) {
			case page.Heading:
				z.Heading = &b
			case page.Para:
				z.Para = &b
			case page.List:
				z.List = &b
			case page.Table:
				z.Table = &b
			case page.Picture:
				z.Picture = &b
			default:
				return x, fmt.Errorf("a %T can't be kept", b)
			}
			y.Shown = append(y.Shown, z)
		}
		x.Quiz = append(x.Quiz, y)
	}
	return x, nil
}

func (x savedState) state(ground *settled.Ground) state {
	st := state{x.State, x.Stage, x.Seen, x.Asked, x.Tries, x.Teaching, nil, x.Owed, x.Choosing, nil, nil, x.Heard, x.Prompted,
		x.Back, nil, x.Due, x.Doctor, x.Old,
		x.Wish, x.Without, x.Later, nil, x.Turning, x.Pair, x.Wondered, x.Last, x.Done}
	st.Ground = ground
	for _, l := range st.later {
		if l.State != nil {
			l.State.Ground = ground
		}
	}
	for _, y := range x.Quiz {
		q := y.Quiz
		for _, z := range y.Shown {
			switch {
			case z.Heading != nil:
				q.Shown = append(q.Shown, *z.Heading)
			case z.Para != nil:
				q.Shown = append(q.Shown, *z.Para)
			case z.List != nil:
				q.Shown = append(q.Shown, *z.List)
			case z.Table != nil:
				q.Shown = append(q.Shown, *z.Table)
			case z.Picture != nil:
				q.Shown = append(q.Shown, *z.Picture)
			}
		}
		st.quiz = append(st.quiz, q)
	}
	return st
}

// Snapshot returns what the conversation has come to, to be kept beside its
// lines, and false where it can't be kept just now.
func (s *Session) Snapshot() ([]byte, bool) {
	var x snapshot
	var err error
	if x.Now, err = s.now.saved(); err != nil {
		return nil, false
	}
	for _, st := range s.past {
		y, err := st.saved()
		if err != nil {
			return nil, false
		}
		x.Past = append(x.Past, y)
	}
	if s.now.stage == proposed {
		if _, ok := s.best.known(s.kit, &s.now.State); ok {
			x.Best, x.Short = s.best.stack, s.best.short
		} else {
			c, err := s.kit.Offers.Best(&s.now.State)
			if err != nil {
				return nil, false
			}
			x.Best, x.Short = c.Stack.String(), s.kit.Offers.Short(&s.now.State)
		}
	}
	data, err := json.Marshal(x)
	return data, err == nil
}

// Replay takes up a conversation that was broken off, without saying its
// replies again. The log tells which question was open at each line, so
// questions need not be weighed again.
func (s *Session) Replay(lines []journal.Line) Reply {
	s.replaying = true
	for i, l := range lines {
		if s.Progress != nil {
			s.Progress(i, len(lines))
		}
		_, known := s.kit.Catalogue.Question(l.Asked)
		switch {
		case known:
			s.now.asked, s.now.stage = l.Asked, asking
		case l.Asked == "" && s.now.stage == asking && len(s.now.quiz) == 0 && !s.now.choosing && len(s.now.back) == 0:
			s.now.asked = ""
			s.present(Reply{}) // a head was shown, or the clash that stands in its way
		}
		s.Say(l.Said)
	}
	s.replaying = false
	var r Reply
	r.Say("Taken up again.")
	s.teller().Recall(&r.Said)
	if s.now.bench != nil {
		return building{s}.along(r, s.now.bench.Show())
	}
	if s.now.stage == proposed {
		return s.present(r)
	}
	return s.next(r)
}

// TakeUp goes on with a conversation that was broken off: from a snapshot of it
// after so many lines, or, where there is none that can be used, from its
// lines alone. It reports which.
func (s *Session) TakeUp(lines []journal.Line, state []byte, after int) (Reply, bool) {
	if state != nil {
		if r, ok := (resuming{s}).resume(state, lines[after:]); ok {
			return r, true
		}
	}
	return s.Replay(lines), false
}

// resuming is the conversation while it is taken up from a snapshot.
type resuming struct{ *Session }

// resume goes on from a snapshot, and from the lines that were said after it.
// It reports false, and changes nothing, where the snapshot can't be used.
func (s resuming) resume(data []byte, after []journal.Line) (Reply, bool) {
	var x snapshot
	if json.Unmarshal(data, &x) != nil {
		return Reply{}, false
	}
	was := *s.Session
	s.now, s.past = x.Now.state(s.kit.Ground), nil
	for _, y := range x.Past {
		s.past = append(s.past, y.state(s.kit.Ground))
	}
	if of, err := json.Marshal(s.now.State); err == nil && x.Best != "" {
		s.best = best{of, x.Best, x.Short}
	}
	if len(after) > 0 {
		return s.Replay(after), true
	}
	r, ok := s.again()
	if !ok {
		*s.Session = was
	}
	return r, ok
}

// again says what a conversation that is taken up has come to: the answers, and
// the head, or the open question.
func (s resuming) again() (Reply, bool) {
	var r Reply
	r.Say("Taken up again.")
	s.teller().Recall(&r.Said)
	if s.now.stage != proposed {
		return s.ask(r), true
	}
	c, ok := s.best.known(s.kit, &s.now.State)
	if !ok {
		return r, false
	}
	s.teller().OfferOne(&r.Said, c, s.best.short)
	return s.ask(r), true
}

// known is the head of a state, where that is the one that was taken up from a
// snapshot: it need not be looked for.
func (b best) known(kit *Kit, now *settled.State) (propose.Candidate, bool) {
	if b.stack == "" {
		return propose.Candidate{}, false
	}
	of, err := json.Marshal(*now)
	if err != nil || !bytes.Equal(of, b.of) {
		return propose.Candidate{}, false
	}
	st, err := head.Parse(kit.Catalogue, b.stack)
	if err != nil {
		return propose.Candidate{}, false
	}
	c, err := kit.Offers.Consider(now, st)
	return c, err == nil && c.Refused() == nil
}
