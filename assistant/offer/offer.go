// Package offer knows which heads answer what has been settled: the best, the
// choices beside it, the best with some part in it, and the one that moves the
// way that was asked. It never says how a head reads, and settles nothing that
// was not asked for.
package offer

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"

	"mallow/assistant/settled"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/memo"
	"mallow/rules/advise"
	"mallow/rules/gate"
	"mallow/rules/graded"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
)

// Offers finds heads, and remembers those it found. It may be used by several
// goroutines at once.
type Offers struct {
	// Watch, when not nil, is told now and then how many heads a search has
	// looked at.
	Watch func(tried int)
	// Breaks breaks a longer look off, once for each that it gives; nil never does. Begins, when
	// not nil, is told that such a look begins.
	Breaks <-chan os.Signal
	Begins func()

	cat     *knowledge.Catalogue
	finder  *propose.Finder
	found   memory
	changes *memo.Memo[string, changed]
}

// mostChanges is how many changes are remembered at least, of some ten kilobytes each.
const mostChanges = 64

// New returns offers that remember the given number of proposals. Each takes
// some hundred kilobytes.
func New(cat *knowledge.Catalogue, finder *propose.Finder, remember int) *Offers {
	return &Offers{cat: cat, finder: finder, found: memory{most: remember}, changes: memo.New[string, changed](mostChanges)}
}

// Propose returns the proposal for a state: the best head, or the one picked
// by hand as long as no rule refuses it.
func (o *Offers) Propose(st *settled.State) (propose.Proposal, error) {
	got := o.findUsing(context.Background(), st.Request(), st.Only["tube"])
	p, err := got.whole()
	if c, ok := o.picked(st); ok && err == nil {
		p.Best = c
	}
	return p, err
}

// picked is the head picked by hand, false where there is none, or a rule refuses
// it, or its parts are gone from the catalogue.
func (o *Offers) picked(st *settled.State) (c propose.Candidate, ok bool) {
	if st.Stack == "" {
		return c, false
	}
	stack, err := head.Parse(o.cat, st.Stack)
	if err != nil {
		return c, false
	}
	c, err = o.finder.Consider(stack, st.Request())
	return c, err == nil && c.Refused() == nil
}

// Pool returns the heads that a proposal is chosen from, under the usual answers to
// the open questions of safety: to weigh questions by, never to show.
func (o *Offers) Pool(st *settled.State) ([]propose.Candidate, error) {
	if tubing := st.Only["tube"]; len(tubing) > 0 {
		got := o.findUsing(context.Background(), st.Guess(), tubing)
		return got.proposal.Pool, got.err
	}
	got := o.look(context.Background(), st.Guess())
	return got.pool, got.err
}

// Best returns the head that is proposed for a state, without looking for others
// beside it.
func (o *Offers) Best(st *settled.State) (propose.Candidate, error) {
	q, tubing := st.Request(), st.Only["tube"]
	c, picked := o.picked(st)
	if picked && len(tubing) == 0 && o.look(context.Background(), q).err == nil {
		return c, nil
	}
	got := o.findUsing(context.Background(), q, tubing)
	if picked && got.err == nil {
		return c, nil
	}
	return got.proposal.Best, got.err
}

// Choice returns the nth head on offer, 1 for the best.
func (o *Offers) Choice(st *settled.State, n int) (propose.Candidate, bool) {
	p, err := o.Propose(st)
	switch {
	case err != nil:
	case n <= 1:
		return p.Best, true
	case n-2 < len(p.Alternatives):
		return p.Alternatives[n-2].Candidate, true
	}
	return propose.Candidate{}, false
}

// Consider returns a given head as it is for a state.
func (o *Offers) Consider(st *settled.State, stack head.Stack) (propose.Candidate, error) {
	return o.finder.Consider(stack, st.Request())
}

// Short says what a proposal for a state falls short of, or nothing.
func (o *Offers) Short(st *settled.State) string {
	if st.Stack != "" {
		return ""
	}
	got := o.findUsing(context.Background(), st.Request(), st.Only["tube"])
	if got.err != nil || got.short == nil {
		return ""
	}
	if why := got.short.Against; why != "" {
		return fmt.Sprintf("I propose none that has %s: %s. So this is the one that comes nearest.", strings.Join(got.short.Wishes, " together with "), why)
	}
	return fmt.Sprintf("No head that can be built has %s, so this is the nearest.", strings.Join(got.short.Wishes, " together with "))
}

// Binds lists what nobody said that keeps a state from a better head than the one
// that it gets.
func (o *Offers) Binds(st *settled.State, is propose.Candidate) []advise.Assumption {
	if st.Stack != "" {
		return nil
	}
	list, err := advise.Binds(context.Background(), o.finder, st.Request(), &is)
	if err != nil {
		return nil
	}
	return list
}

// Beside is the head that goes beside one at an end of the instrument, high or low,
// that it does not serve; false where there is none.
func (o *Offers) Beside(st *settled.State, c propose.Candidate, end string) (propose.Candidate, bool) {
	r, short := graded.Serves(context.Background(), o.finder, c, st.Request())
	if !short || r.Beside == nil || end != map[bool]string{true: "low", false: "high"}[r.LostBottom > r.LostTop] {
		return propose.Candidate{}, false
	}
	return *r.Beside, true
}

// Look is what a longer search comes to.
type Look struct {
	Tried  int                // heads looked at; zero when there was no need to look
	Proven bool               // that none can do better
	Broken bool               // it was broken off
	Better *propose.Candidate // than the one proposed; nil when there is none
}

// patient is how many heads a longer search looks at, some three seconds' worth;
// worthwhile is by how many points one has to be better.
const patient, worthwhile = 150_000, 0.1

// Further looks on for a better head than the one proposed for a state, where that
// was not proven to be the best and not picked by hand, until that is broken off.
func (o *Offers) Further(st *settled.State) (look Look) {
	q := st.Request()
	was := o.findUsing(context.Background(), q, st.Only["tube"])
	if st.Stack != "" || was.err != nil || was.short != nil || !was.proposal.Partial {
		return look
	}
	ctx, end := context.WithCancel(context.Background())
	defer end()
	go func() {
		select {
		case <-o.Breaks:
			end()
		case <-ctx.Done():
		}
	}()
	if o.Begins != nil {
		o.Begins()
	}
	q.Most = patient
	more := o.findUsing(ctx, q, st.Only["tube"])
	if look.Broken = ctx.Err() != nil; more.err != nil {
		return look
	}
	look.Tried, look.Proven = more.proposal.Tried, !more.proposal.Partial
	if best := more.proposal.Best; best.Score >= was.proposal.Best.Score+worthwhile {
		look.Better = &best
	}
	return look
}

// outcome is a proposal and what it falls short of.
type outcome struct {
	proposal propose.Proposal
	short    *propose.Clash // why the proposal falls short of a wish; nil when it does not
	err      error
	// beside finds the alternatives; nil where the proposal has them.
	beside func() ([]propose.Alternative, error)
}

// whole is the proposal with its alternatives, worked out under the same pass.
func (o outcome) whole() (propose.Proposal, error) {
	p, err := o.proposal, o.err
	if err == nil && o.beside != nil {
		p.Alternatives, err = o.beside()
	}
	p.Alternatives = slices.Clone(p.Alternatives)
	for i := range p.Alternatives {
		p.Alternatives[i].Pass = p.Best.Pass
	}
	return p, err
}

// outcomeOf is the outcome of a proposal. A softness out of reach is no error: the
// nearest heads are proposed, and short says so.
func outcomeOf(p propose.Proposal, err error) outcome {
	got := outcome{proposal: p, err: err}
	if errors.As(err, &got.short) && p.Best.Head.Mass > 0 {
		got.err = nil
		got.proposal.Alternatives = slices.DeleteFunc(slices.Clone(got.short.Nearest), func(a propose.Alternative) bool {
			return a.Stack.String() == p.Best.Stack.String()
		})
	}
	return got
}

// under returns the outcome with its heads worked out under another pass, which
// allows the same.
func (o outcome) under(p gate.Pass) outcome {
	o.proposal.Best.Pass = p
	return o
}

// looked is a search that is remembered: nothing in a reply costs more. What is
// computed in full only when it is to be shown is worked out once.
type looked struct {
	pool []propose.Candidate
	err  error
	best func() outcome
}

// find returns the proposal for a request.
func (o *Offers) find(ctx context.Context, q propose.Request) outcome {
	return o.look(ctx, q).best().under(q.Pass)
}

// look searches for a request. The same request always finds the same, but where ctx ends
// first: that is not remembered.
func (o *Offers) look(ctx context.Context, q propose.Request) looked {
	key := o.finder.Key(q)
	exactly := key + fmt.Sprint(q.Pass) // what stands in the way is told by what was said
	for _, k := range []string{exactly, key} {
		if got, ok := o.found.get(k); ok {
			return got
		}
	}
	q.Progress = o.Watch
	choice, err := advise.First(ctx, o.finder, q)
	if err != nil {
		return looked{err: err, best: func() outcome { return outcome{err: err} }}
	}
	x, err := search.Look(ctx, o.finder, choice.Request)
	got := looked{pool: x.Pool(), err: err}
	if err != nil {
		key = exactly
		got.best = func() outcome { return outcomeOf(propose.Proposal{}, err) }
	} else {
		got.best = sync.OnceValue(func() outcome {
			best := outcomeOf(x.Best(context.Background()))
			if best.short == nil {
				best.beside = sync.OnceValues(x.Alternatives)
			}
			return best
		})
	}
	if ctx.Err() == nil {
		o.found.put(key, got)
	}
	return got
}

// findUsing is find for heads that have some of the tubing in them: whoever
// names tubing wants to see it used. A few sizes are tried as one layer and as
// two.
func (o *Offers) findUsing(ctx context.Context, q propose.Request, tubing []string) outcome {
	const most = 3
	if len(tubing) == 0 || len(tubing) > most {
		return o.find(ctx, q)
	}
	var best outcome
	for _, outer := range append([]string{""}, tubing...) {
		for _, inner := range tubing {
			q.Pin.Tubing = []string{inner}
			if outer != "" {
				q.Pin.Tubing = append(q.Pin.Tubing, outer)
			}
			got := o.find(ctx, q)
			none := best.proposal.Best.Head.Mass == 0
			if got.err != nil && none || got.err == nil && (none || got.proposal.Best.Score > best.proposal.Best.Score) {
				best = got
			}
		}
	}
	return best
}

// memory holds the last searches, by request.
type memory struct {
	most  int
	mu    sync.Mutex
	found map[string]looked
}

func (m *memory) get(key string) (looked, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	x, ok := m.found[key]
	return x, ok
}

// put forgets all the rest when it is full.
func (m *memory) put(key string, x looked) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.found == nil || len(m.found) >= m.most {
		m.found = map[string]looked{}
	}
	m.found[key] = x
}
