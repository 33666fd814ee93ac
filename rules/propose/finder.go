package propose

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/knowledge/words"
	"mallow/rules"
	"mallow/rules/facts"
)

// Finder finds heads in a catalogue by the rules of a book. It is safe for
// use by several goroutines.
type Finder struct {
	cat  *knowledge.Catalogue
	book *rules.Book[facts.Facts]
	// late says that a layer rule that refuses or prefers reads facts of the
	// head, so that it can tell only once the whole head is known.
	late bool
	// onlySolvent says that no glue without solvent joins rubber.
	onlySolvent bool
	memory      memory
}

// New returns a finder. The error lists what the book's rules give that the
// catalogue, or the search, does not have.
func New(cat *knowledge.Catalogue, book *rules.Book[facts.Facts]) (*Finder, error) {
	f := &Finder{cat: cat, book: book, memory: newMemory()}
	if err := Gives(cat, book).Err(); err != nil {
		return nil, err
	}
	if len(cat.Cores) == 0 || len(cat.Dynamics) == 0 || len(cat.Instruments) == 0 {
		return nil, fault.Errorf("the catalogue needs at least a core, a dynamic and an instrument")
	}
	for _, r := range book.Rules() {
		if r.On == "layer" && (r.Do == rules.Refuse || r.Do == rules.Prefer) {
			f.late = f.late || slices.ContainsFunc(book.Reads(r), func(path string) bool { return strings.HasPrefix(path, "head.") })
		}
	}
	f.onlySolvent = !slices.ContainsFunc(cat.Adhesives, func(a knowledge.Adhesive) bool {
		return a.Base != "solvent" && (slices.Contains(a.Joins, "rubber-core") || slices.Contains(a.Joins, "rubber-rubber"))
	})
	return f, nil
}

// Gives reports every rule that gives a step, caution, question or weight that
// nobody knows.
func Gives(cat *knowledge.Catalogue, book *rules.Book[facts.Facts]) fault.Errors {
	var errs fault.Errors
	known := map[rules.Effect][]string{rules.Choose: weightNames()}
	for _, s := range cat.Steps {
		known[rules.Step] = append(known[rules.Step], s.ID)
	}
	for _, c := range cat.Cautions {
		known[rules.Caution] = append(known[rules.Caution], c.ID)
	}
	for _, q := range cat.Questions {
		known[rules.Ask] = append(known[rules.Ask], q.ID)
	}
	what := map[rules.Effect]string{rules.Choose: "weight of the search", rules.Step: "step", rules.Caution: "caution", rules.Ask: "question"}
	for _, r := range book.Rules() {
		ids, gives := known[r.Do], what[r.Do] != ""
		if !gives || slices.Contains(ids, r.Give) {
			continue
		}
		hint := words.Hint(r.Give, ids)
		if hint == "" && r.Do == rules.Choose {
			hint = "one of " + strings.Join(ids, ", ")
		}
		errs = append(errs, &fault.Error{File: r.File, Line: r.Line, Col: 1, Hint: hint,
			What: fmt.Sprintf("rule %s gives %s %q, which is not there", r.ID, what[r.Do], r.Give)})
	}
	return errs
}

// Book returns the rules that the finder asks.
func (f *Finder) Book() *rules.Book[facts.Facts] { return f.book }

// LateLayers reports whether a layer rule that refuses or prefers reads facts of
// the head, so that it can tell only once the whole head is known.
func (f *Finder) LateLayers() bool { return f.late }

// OnlySolvent reports whether no glue without solvent joins rubber.
func (f *Finder) OnlySolvent() bool { return f.onlySolvent }

// Catalogue returns the catalogue that the finder draws on.
func (f *Finder) Catalogue() *knowledge.Catalogue { return f.cat }

// Consider computes one head in full: fit, mass, size and swing, the strokes
// over the instrument asked for, every fact, and every rule's answer.
func (f *Finder) Consider(s head.Stack, q Request) (Candidate, error) {
	if err := s.Check(); err != nil {
		return Candidate{}, err
	}
	base := f.Settle(q)
	set := f.setting(base)
	h := head.New(f.wound(s, &base), f.cat.Limits)
	rep, err := f.memory.report(h, set)
	if err != nil {
		return Candidate{}, fault.Errorf("%s: %w", s, err)
	}
	c := Candidate{Stack: h.Stack, Head: h, Report: rep, Facts: base, Pass: q.Pass}
	f.Describe(&c, q.Bin)
	f.soundOf(&c.Facts.Head, &rep, base.Want.Register)
	known := f.Told(base, q.Known)
	f.ask(&c, known)
	c.Score, _ = f.judging(q, base, known).Score(&c.Facts, c.Layers)
	return c, nil
}

// Hand returns the pull on the yarn that a head is worked out for under the
// settled facts, as head.Wrap has it: zero for the ordinary, which stays what the
// maker's own measured heads say of it.
func (f *Finder) Hand(at *facts.Facts) float64 {
	if at.Player.TensionN == f.cat.Limits.TensionN.Value {
		return 0
	}
	return at.Player.TensionN
}

// wound returns a stack with its yarn wound by the player's hand, unless it says
// itself how it is wound.
func (f *Finder) wound(s head.Stack, at *facts.Facts) head.Stack {
	if n := f.Hand(at); s.Wrap != nil && s.Wrap.TensionN == 0 && n != 0 {
		w := *s.Wrap
		w.TensionN = n
		s.Wrap = &w
	}
	return s
}

// ask puts the candidate to the whole book.
func (f *Finder) ask(c *Candidate, known rules.Known) {
	c.Trace = f.book.Ask("player", c.Facts, known)
	for i, l := range c.Layers {
		at := c.Facts
		at.Layer = l
		for _, x := range f.book.Ask("layer", at, known) {
			x.About = fmt.Sprintf("layer %d", i+1)
			c.Trace = append(c.Trace, x)
		}
	}
	c.Trace = append(c.Trace, f.book.Ask("head", c.Facts, known)...)
}

// Rescore returns the score that each candidate of a pool would have for
// another request, -Inf for one that a rule refuses. It takes the heads'
// facts as they are, which is good enough to see whether an answer would
// change the order; only where the yarn would be wound by another hand, they are
// worked out anew.
func (f *Finder) Rescore(pool []Candidate, q Request) []float64 {
	j := f.Judging(q)
	out := make([]float64, len(pool))
	for i := range pool {
		c := &pool[i]
		if w := c.Stack.Wrap; w != nil && w.TensionN != f.Hand(&j.Base) {
			st := c.Stack
			loose := *w
			loose.TensionN = 0
			st.Wrap = &loose
			again, ok := j.Quick(st)
			out[i] = again.Score
			if !ok {
				out[i] = math.Inf(-1)
			}
			continue
		}
		out[i], _ = j.Again(c)
	}
	return out
}

// First computes the candidates in full, each also with the turns of its yarn
// that do best, and returns the best of them.
func (f *Finder) First(list []Candidate, q Request) (Candidate, error) {
	best := Candidate{Score: math.Inf(-1)}
	j := f.Judging(q)
	for i, c := range list {
		stacks := []head.Stack{c.Stack}
		if w := j.wound(c, q).Stack; w.Wrap != nil && w.Wrap.Turns != c.Stack.Wrap.Turns {
			stacks = append(stacks, w)
		}
		for k, st := range stacks {
			full, err := f.Consider(st, q)
			if err != nil {
				return best, err
			}
			if full.Score > best.Score || i+k == 0 {
				best = full
			}
		}
	}
	return best, nil
}

// Check reports what makes a request impossible to answer at all.
func (f *Finder) Check(q Request) error {
	if err := q.Bin.Check(f.cat); err != nil {
		return err
	}
	if q.Heads < 0 {
		return fault.Errorf("%d heads: a number above zero is needed", q.Heads)
	}
	w := q.Facts.Want
	for _, x := range []struct {
		what  string
		value float64
	}{{"mass", w.MassG}, {"diameter", w.DiameterMM}, {"budget", w.BudgetCents}} {
		if x.value < 0 || math.IsNaN(x.value) || math.IsInf(x.value, 0) {
			return fault.Errorf("a %s of %v can't be built to; it has to be above zero", x.what, x.value)
		}
	}
	if math.IsNaN(w.Softness) || math.IsInf(w.Softness, 0) {
		return fault.Errorf("a softness of %v notches is no number to build to", w.Softness)
	}
	return nil
}
