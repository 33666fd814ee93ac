// Package understand reads what people write and says what they mean: typed
// answers to facts, parts on hand, relative wishes, and things they want done.
//
// It is a grammar over a word list. The grammar is here; the words are data,
// in the catalogue, where a maker can dispute them. Reading is pure: the same
// text in the same context reads the same, and no text makes it fail. What it
// could not make sense of it reports rather than guesses.
package understand

import (
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// AskParts is what Context.Asked holds when the question was which parts are
// on hand. Parts named in the answer are then had, unless it says otherwise.
const AskParts = "parts"

// Context is what a text answers to.
type Context struct {
	// Asked is the path of the fact just asked about, such as want.mass_g, or
	// AskParts, or empty. It lets "28", "yes" and "3/4" be read.
	Asked string
	// Instrument is the catalogue id of the instrument settled so far, which
	// "top octave" is a part of.
	Instrument string
	// Apart lists facts that somebody else reads out of the same text. Answers
	// to them are in Reading.Apart and not said back.
	Apart []string
}

// Act is what a person wants done.
type Act string

// Acts. With any but Tell, the answers, parts and moves of a Reading are what
// the act is about rather than what the person tells.
const (
	Tell    Act = ""
	Why     Act = "why"
	WhyNot  Act = "whynot"
	WhatIf  Act = "whatif"
	Compare Act = "compare"
	Define  Act = "define"
	Back    Act = "back"
	Change  Act = "change"
	Restart Act = "restart"
	Show    Act = "show"
	Save    Act = "save"
	Leave   Act = "leave"
	Help    Act = "help"
	Lesson  Act = "lesson"
	Undo    Act = "undo"
	Yes     Act = "yes"
	No      Act = "no"
	Unsure  Act = "unsure"
	Default Act = "default" // take what you would take
	Skip    Act = "skip"
)

// Reading is what was made of a text.
type Reading struct {
	Act     Act
	About   []Topic
	Answers []Answer
	Apart   []Answer // to the facts of Context.Apart
	Parts   []Part
	Moves   []Move
	// Keep lists facts, and kinds of part, that are to stay as they are:
	// "lighter but same sound".
	Keep []string
	// Corrects is set when the text takes back something said before:
	// "no, vibes".
	Corrects bool
	// Understood says back, in plain words, what was taken from the text.
	Understood []string
	// Missed holds the stretches of the text that were not understood.
	Missed []string
}

// Answer is a fact that the text settles. Its path is a fact's, or
// instrument.id for an instrument of the catalogue.
type Answer struct {
	Path  string
	Value any // string, bool or float64, in the fact's unit
	// Not rules Value out instead of asking for it.
	Not bool
	// Bound is most or least when Value is a limit, about when it is a rough
	// figure, else empty.
	Bound string
	// Degree is how strongly it was put: 1 is plain, "very" is more, "a bit" less.
	Degree     float64
	Text       string  // the words it came from
	Confidence float64 // 0 to 1; less than 1 when a spelling or a unit was guessed, 0.5 or less: ask
}

// Move is a wish relative to what there is. By is signed, in Unit: notches of
// softness, g, mm, or, where Unit is empty, plain degrees: 1 is "lighter", 0.5
// "a bit lighter". A larger attack is a more blended one, a larger colour a
// brighter one.
type Move struct {
	Path string
	By   float64
	Unit string
	Text string
}

// Topic is something a text is about.
type Topic struct {
	// Kind is fact, layer, choice, part, term, question, sheet, shopping,
	// cuts, stack, answers, drawing, alternatives or, for words that nothing
	// is known by, text.
	Kind string
	// ID is a fact path, a part's kind, or a glossary term's id.
	ID string
	// N is a layer, from the core out, -1 for the outermost and 0 for
	// whichever is at hand; or a choice, 1 for the proposed head.
	N    int
	Text string
}

// Holding is how a person stands to a part.
type Holding string

// Holdings.
const (
	Named Holding = "named" // mentioned, or wished for
	Have  Holding = "have"
	Lack  Holding = "lack"
	Need  Holding = "need"
	Avoid Holding = "avoid"
)

// Part is a part that a text names, as far as it describes it: what it leaves
// open is zero.
type Part struct {
	Holding    Holding
	Kind       string // core, tube, yarn, shaft, glue
	Material   string // id or family of a material
	Diameter   measure.Length
	Bore, Wall measure.Length
	Outer      measure.Length // of tubing; with one of the others it gives the third
	Length     measure.Length // of a shaft
	DurometerA float64
	Weight     string // of a yarn: lace, fine, light, medium, bulky
	// IDs are the catalogue's parts that fit the description, in its order.
	IDs []string
	// Amount is in Unit: piece, skein, m or kg. Both are zero when the text
	// doesn't say how much. A number written below zero is kept as it is.
	Amount     float64
	Unit       string
	Text       string
	Confidence float64
}

// Reader reads texts. It may be shared by goroutines.
type Reader struct {
	cat   *knowledge.Catalogue
	words *lexicon
	yes   map[string]any    // what a plain yes means, by asked fact
	echo  map[string]string // how an answer is said, by path=value

	materials map[string]knowledge.Material
	partKinds map[string]string
}

// Read reads one line of free text. Of a text longer than 2000 characters it
// reads the beginning.
func (r *Reader) Read(text string, ctx Context) Reading {
	clean, cut := tidy(text)
	s := &sentence{r: r, ctx: ctx, text: clean}
	s.tokens = r.words.tokens(clean)
	s.scan()
	s.walk()
	if cut {
		s.out.Missed = append(s.out.Missed, "everything after the first 2000 characters")
	}
	for _, a := range s.out.Answers {
		if slices.Contains(ctx.Apart, a.Path) {
			s.out.Apart = append(s.out.Apart, a)
		}
	}
	s.out.Answers = slices.DeleteFunc(s.out.Answers, func(a Answer) bool { return slices.Contains(ctx.Apart, a.Path) })
	s.sayBack()
	return s.out
}
