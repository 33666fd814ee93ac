// Package assistant is the conversation: it asks about instrument, grip and
// sound, proposes a head, explains it, teaches over it, and hands out the
// build sheet.
//
// A Session is the conversation as a value: each line said gives a Reply,
// which is what to say, not yet rendered. It does no input or output, knows
// no clock, and gives the same replies to the same lines. Talk runs a Session
// between a reader of lines and a writer, and keeps it on disk.
package assistant

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"mallow/assistant/journal"
	"mallow/assistant/page"
	"mallow/assistant/sheet"
	"mallow/assistant/understand"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Kit is what a conversation draws on.
type Kit struct {
	Catalogue *knowledge.Catalogue
	Book      *rules.Book[facts.Facts]
	Finder    *propose.Finder
	Reader    *understand.Reader
	Sheets    *sheet.Maker

	start   facts.Facts // every open question at its default
	lessons []lesson
	found   memory
}

// NewKit gathers what a conversation draws on, and checks that the questions
// and lessons of the catalogue fit the facts.
func NewKit(cat *knowledge.Catalogue, book *rules.Book[facts.Facts]) (*Kit, error) {
	k := &Kit{Catalogue: cat, Book: book, found: memory{most: 64}}
	var err, unread error
	read := make(chan struct{}) // the reader takes as long as the rest
	go func() {
		defer close(read)
		k.Reader, unread = understand.New(cat)
	}()
	if k.Finder, err = propose.New(cat, book); err == nil {
		k.Sheets, err = sheet.NewMaker(cat)
	}
	<-read
	if err := cmp.Or(err, unread); err != nil {
		return nil, err
	}
	for _, q := range cat.Questions {
		var scratch facts.Facts
		for _, c := range q.Choices {
			if err := setText(&scratch, q.ID, c.Value); err != nil {
				return nil, fmt.Errorf("%s: question %s: %w", q.Origin, q.ID, err)
			}
		}
		if q.Default != "" && q.Default != knowledge.Usual && !isWish(q.ID) {
			if err := setText(&k.start, q.ID, q.Default); err != nil {
				return nil, fmt.Errorf("%s: question %s: %w", q.Origin, q.ID, err)
			}
		}
	}
	if k.lessons, err = newLessons(cat); err != nil {
		return nil, err
	}
	return k, nil
}

// isWish reports whether a fact is a wish that may simply not have been made,
// so that it stays empty until it is.
func isWish(path string) bool {
	return slices.Contains([]string{"want.colour", "want.attack", "want.opening", "want.loudest", "want.mass_g", "want.diameter_mm", "want.budget"}, path)
}

// Reply is what to say to a line.
type Reply struct {
	Page  page.Page
	Sheet *sheet.Sheet // to be rendered after Page
	Ask   *Ask         // the question now open, to be rendered last
	// Words are what the next answer may well be, for completion.
	Words       []string
	Predictions []journal.Prediction // what a learner predicted; times are zero
	Built       bool                 // the build sheet was handed out
	Save, Leave bool                 // the person asked for it
}

// Ask is an open question.
type Ask struct {
	ID      string // the fact it settles; empty for an open invitation
	Text    string
	Choices []string
	Enter   string // what Enter takes; empty for nothing
}

// say adds a paragraph.
func (r *Reply) say(format string, args ...any) {
	r.Page = append(r.Page, page.Para(fmt.Sprintf(format, args...)))
}

// list adds a list, unless it is empty.
func (r *Reply) list(items []string) {
	if len(items) > 0 {
		r.Page = append(r.Page, page.List{Items: items})
	}
}

// outcome is a remembered proposal. Proposals cost the most of all that a
// reply needs.
type outcome struct {
	proposal propose.Proposal
	short    *propose.Clash // why the proposal falls short of a wish; nil when it does not
	err      error
}

// find returns the proposal for a request. The same request always gets the
// same one. A softness out of reach is no error: the nearest heads are
// proposed, and short says so.
func (s *Session) find(q propose.Request) outcome {
	key := fmt.Sprint(q.Facts, q.Known, q.Pin, q.Heads)
	o, ok := s.kit.found.get(key)
	if ok {
		return o
	}
	o.proposal, o.err = s.kit.Finder.Propose(context.Background(), q)
	if errors.As(o.err, &o.short) && o.proposal.Best.Head.Mass > 0 {
		o.err = nil
		o.proposal.Alternatives = slices.DeleteFunc(slices.Clone(o.short.Nearest), func(a propose.Alternative) bool {
			return a.Stack.String() == o.proposal.Best.Stack.String()
		})
	}
	s.kit.found.put(key, o)
	return o
}

// memory holds the last proposals that were made, by request.
type memory struct {
	most  int // proposals held; each takes some hundred kilobytes
	mu    sync.Mutex
	found map[string]outcome
}

func (m *memory) get(key string) (outcome, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	o, ok := m.found[key]
	return o, ok
}

// put forgets all the rest when it is full.
func (m *memory) put(key string, o outcome) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.found == nil || len(m.found) >= m.most {
		m.found = map[string]outcome{}
	}
	m.found[key] = o
}

// propose returns the proposal for a state: the best head, or the one picked
// by hand as long as no rule refuses it.
func (s *Session) propose(st *state) (propose.Proposal, error) {
	q := s.request(st)
	o := s.findUsing(q, st.only["tube"])
	p := o.proposal
	if o.err != nil || st.stack == "" {
		return p, o.err
	}
	stack, err := head.Parse(s.kit.Catalogue, st.stack)
	if err != nil {
		return p, nil // its parts are gone from the catalogue; the best stands
	}
	if c, err := s.kit.Finder.Consider(stack, q); err == nil && c.Refused() == nil {
		p.Best = c
	}
	return p, nil
}

// short says what a proposal for a state falls short of, or nothing.
func (s *Session) short(st *state) string {
	o := s.findUsing(s.request(st), st.only["tube"])
	if o.err != nil || o.short == nil || st.stack != "" {
		return ""
	}
	return fmt.Sprintf("No head that can be built has %s, so this is the nearest.", strings.Join(o.short.Wishes, " together with "))
}

// findUsing is find for heads that have some of the tubing in them: whoever
// names tubing wants to see it used. A few sizes are tried as one layer and as
// two.
func (s *Session) findUsing(q propose.Request, tubing []string) outcome {
	const most = 3
	if len(tubing) == 0 || len(tubing) > most {
		return s.find(q)
	}
	var best outcome
	for _, outer := range append([]string{""}, tubing...) {
		for _, inner := range tubing {
			q.Pin.Tubing = []string{inner}
			if outer != "" {
				q.Pin.Tubing = append(q.Pin.Tubing, outer)
			}
			o := s.find(q)
			none := best.proposal.Best.Head.Mass == 0
			if o.err != nil && none || o.err == nil && (none || o.proposal.Best.Score > best.proposal.Best.Score) {
				best = o
			}
		}
	}
	return best
}
