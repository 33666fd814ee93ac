// Package harm reads from a line what may hurt somebody: a young age, an
// allergy, lungs, no adult about, no moving air. It knows the signs in people's
// words and errs on the careful side; it never settles what follows from them.
//
// It reads every line, whatever else is made of it, whoever in the group it is
// about and however it is spelt. What it reports of one line is no more than
// that line says; that a fact once stated stays is for whoever keeps it.
package harm

import (
	"slices"

	"mallow/knowledge"
	"mallow/rules/facts"
)

// The facts that lines of harm settle, by the paths that rules know them by.
const (
	Minor      = facts.PlayerMinor
	LatexOK    = facts.PlayerLatexOK
	RubberOK   = facts.PlayerRubberOK
	SolventOK  = facts.PlayerSolventOK
	Supervised = facts.BenchSupervised
	Ventilated = facts.BenchVentilated
)

// Fact is something that a line says about harm.
type Fact struct {
	Path  string
	Value bool
	// Doubt is set when the line opens the fact and doesn't settle it. Value is
	// then the careful answer, to hold until the person has been asked.
	Doubt bool
	// Faint is set beside Doubt when the line only touches on the fact: a child
	// in passing, an allergy that is over, a question. It is asked, and no answer
	// is taken meanwhile.
	Faint bool
	// TakesBack is set when the line takes back what was said before. Value is
	// then the less careful answer, which must not count before it was asked
	// again.
	TakesBack bool
	Text      string // the words it came from
	From, To  int    // the bytes of the very words, an age and the like; none of it is another figure
}

// Careful returns the answer to a fact of harm that can't hurt anybody.
func Careful(path string) bool { return path == Minor }

// Paths lists the facts of harm in the order in which they are reported.
func Paths() []string {
	return []string{Minor, LatexOK, RubberOK, SolventOK, Supervised, Ventilated}
}

// Aged reports whether what was read of a line says how old somebody is or who is
// there, so that a bare number among its words may be an age.
func Aged(list []Fact) bool {
	return slices.ContainsFunc(list, func(f Fact) bool { return f.Path == Minor || f.Path == Supervised })
}

// Settles reports whether a fact is one of harm.
func Settles(path string) bool { return slices.Contains(Paths(), path) }

// Reader reads lines for harm. It may be shared by goroutines.
type Reader struct {
	words *lexicon
}

// New returns a reader of the catalogue's words of harm.
func New(cat *knowledge.Catalogue) (*Reader, error) {
	l, err := newLexicon(cat)
	if err != nil {
		return nil, err
	}
	return &Reader{l}, nil
}

// Accounts reports whether a word is accounted for by one of the facts that a
// line was found to say: a word for a child by one about age, and so on. A word
// that no phrase of harm holds is not.
func (r *Reader) Accounts(word string, got []Fact) bool {
	c := r.words.heard[word]
	return c != 0 && slices.ContainsFunc(got, func(f Fact) bool { return c&of(f.Path) != 0 || c&signs == 0 })
}

// of returns the classes of words that say something about a fact.
func of(path string) class {
	switch path {
	case Minor, Supervised:
		return young | kin | pupil | student | school | college | grown | helper | beside | supervise | away | alone
	case LatexOK, RubberOK:
		return allergy | reaction | weak | marks | latex | rubber | other | lungs
	case SolventOK:
		return allergy | reaction | weak | fume | glue | lungs | baby
	}
	return air | noair
}

// Read returns what a line says about harm, at most one fact for each path.
// Asked is the path of the open question, or "". Of a text longer than 2000
// characters it reads the beginning.
func (r *Reader) Read(text, asked string) []Fact {
	l := r.words.line(text, asked)
	return l.facts()
}
