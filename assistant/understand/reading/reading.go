// Package reading holds what is made of a text, as values: acts, facts, parts,
// moves, what is asked and what was missed. It never reads a text itself.
package reading

import (
	"slices"
	"strings"

	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/lexis"
	"mallow/knowledge/measure"
)

// Act is what a person wants done.
type Act string

// Acts.
const (
	Tell    Act = "tell"
	Why     Act = "why"
	WhyNot  Act = "whynot"
	WhatIf  Act = "whatif"
	Compare Act = "compare"
	Define  Act = "define"
	Ask     Act = "ask" // any other question
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
	Social  Act = "social"
	More    Act = "more"
)

// Reading is what was made of a text.
type Reading struct {
	// Acts holds one act for each clause, in order; clauses of the same act
	// that follow one another count as one.
	Acts  []Act
	About []Topic
	Takes []Take
	Parts []Part
	Moves []Move
	// Keeps lists facts, and kinds of part, that are to stay as they are:
	// "lighter but same sound".
	Keeps []string
	// Withdraws lists facts, and kinds of part, that are taken back.
	Withdraws []string
	// Grades is of how many grades a graded set is asked for, 0 for none.
	Grades int
	// Asks lists what has to be asked before anything depends on it.
	Asks []Doubt
	// Missed holds the stretches of the text that were not understood.
	Missed []string
	// Spans says of every word, in order, what became of it.
	Spans []Span `json:"-"`

	// Supposed is what a why not, what if or compare supposes. Nothing of it is
	// told.
	Supposed Supposed
	// Harm is what the text says about harm. Its answers stand in Takes and
	// Asks as well.
	Harm []harm.Fact
	// Weighed holds what a second opinion was formed of, to teach that.
	Weighed []Answer
	Heard   []Heard `json:"-"`
	// Corrects is set when the text takes back something said before:
	// "no, vibes".
	Corrects bool
	// Talk is what kind of small talk the text holds: thanks, worry, greeting
	// or chat; empty for none.
	Talk string
	// Said says back, in plain words, what was taken from the text, and Noted
	// what it says about harm.
	Said, Noted []string
}

// Elsewhere reports whether the text speaks of something else than the wish or
// the instrument that is asked for by its path: no idea about latex, at how soft.
func (r Reading) Elsewhere(asked string) bool {
	of, what, _ := strings.Cut(asked, ".")
	return of != "player" && of != "bench" && len(r.About) > 0 && !slices.ContainsFunc(r.About, func(t Topic) bool {
		return t.Kind != "part" && (t.Kind != "fact" || strings.HasSuffix(t.ID, "."+what))
	})
}

// Supposed is what a question is put about.
type Supposed struct {
	Takes []Take
	Parts []Part
	Moves []Move
	Said  []string // in plain words
}

// Apart returns the reading without what it says about harm, and that.
func (r Reading) Apart() (Reading, []harm.Fact) {
	r.Takes = slices.DeleteFunc(slices.Clone(r.Takes), func(t Take) bool { return harm.Settles(t.Path) })
	r.Asks = slices.DeleteFunc(slices.Clone(r.Asks), func(d Doubt) bool { return harm.Settles(d.Path) })
	r.Withdraws = slices.DeleteFunc(slices.Clone(r.Withdraws), harm.Settles)
	return r, r.Harm
}

// InAll is the unit of a move of the turns to so many, and Share that of one by a part of
// what there is: ten per cent heavier.
const InAll, Share = "turns in all", "share"

// GradedSet is what the word list calls how many grades a graded set has that is
// asked for. It is no fact of a head.
const GradedSet = "want.grades"

// Act returns the act that decides what is done with the text: the first that
// is no telling and no small talk, else Tell.
func (r Reading) Act() Act {
	if slices.Contains(r.Acts, WhatIf) && len(r.Takes)+len(r.Moves)+len(r.Parts) == 0 { // you said medium hard; what if I wrap more
		return WhatIf
	}
	for _, weak := range [][]Act{{Tell, Social, Yes, No, Default, Unsure, Skip}, {Tell, Social}} {
		for _, a := range r.Acts {
			if !slices.Contains(weak, a) {
				return a
			}
		}
	}
	if len(r.Acts) > 0 && !slices.Contains(r.Acts, Tell) {
		return r.Acts[0]
	}
	return Tell
}

// Empty reports whether nothing that settles anything was read.
func (r Reading) Empty() bool {
	return len(r.Takes)+len(r.Parts)+len(r.Moves)+len(r.Keeps)+len(r.Withdraws)+r.Grades == 0
}

// Then returns what two readings of one person say together: the later of two
// answers to one fact.
func (r Reading) Then(next Reading) Reading {
	out := next
	corrected := func(p Part) bool {
		return slices.ContainsFunc(next.Parts, func(n Part) bool { return n.Was != "" && n.Was == p.Text })
	}
	out.Takes, out.Parts = nil, append(slices.DeleteFunc(slices.Clone(r.Parts), corrected), next.Parts...)
	for _, t := range r.Takes {
		if !slices.ContainsFunc(next.Takes, func(n Take) bool { return n.Path == t.Path }) && !slices.Contains(next.Withdraws, t.Path) {
			out.Takes = append(out.Takes, t)
		}
	}
	out.Takes = append(out.Takes, next.Takes...)
	return out
}

// Take is a fact that the text settles. Its path is a fact's, or
// instrument.id for an instrument of the catalogue.
type Take struct {
	Path  string
	Value any // string, bool or float64, in the fact's unit
	// Not rules Value out instead of asking for it.
	Not bool
	// Bound is most or least when Value is a limit, about when it is a rough
	// figure, else empty.
	Bound string
	// Degree is how strongly it was put: 1 is plain, "very" is more, "a bit" less.
	Degree float64
	// Head counts, from 0, which of several heads it is said of.
	Head int
	Text string  // the words it came from
	Sure float64 // 0 to 1; less than 1 when a spelling or a unit was guessed
}

// Owner is what became of a stretch of a text.
type Owner string

// Owners.
const (
	Used   Owner = "used"   // the reading rests on it
	Filler Owner = "filler" // it carries nothing that mallow needs, or is a mark
	Missed Owner = "missed" // it is named as not understood
)

// Span is a stretch of a text with one owner; fillers between what was missed
// are missed with it.
type Span struct {
	Text  string
	Owner Owner
}

// Doubt is a fact that the text may settle and that has to be asked.
type Doubt struct {
	Path string
	Text string // the words that leave it open; none where the text may say more than was found
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
type Topic = lexis.Topic

// Holding is how a person stands to a part.
type Holding string

// Holdings.
const (
	Named Holding = "named" // mentioned, or wished for
	Have  Holding = "have"
	Lack  Holding = "lack"
	Need  Holding = "need"
	Avoid Holding = "avoid"
	Allow Holding = "allow" // may be used, and need not
)

// Part is a part that a text names, as far as it describes it: what it leaves
// open is zero.
type Part struct {
	Holding    Holding
	Kind       string // core, tube, yarn, shaft, glue, or Tool
	Material   string // id or family of a material
	Made       string // what it is of, in plain words, where the catalogue has no such material
	Diameter   measure.Length
	Bore, Wall measure.Length
	Outer      measure.Length // of tubing; with one of the others it gives the third
	Length     measure.Length // of a shaft, or of each piece of tubing
	Durometer  float64        // of a ball, on the scale Shore
	Shore      string         // A or D, or "" where nobody said: then it is A
	Bored      string         // of a ball: bored, solid or "" when nothing was said
	Weight     string         // of a yarn: lace, fine, light, medium, bulky
	// IDs are the catalogue's parts that fit the description, in its order.
	IDs []string
	// Amount is in Unit: piece, skein, bottle, m or kg. Both are zero when the text
	// doesn't say how much. A number written below zero is kept as it is.
	Amount float64
	Unit   string
	Text   string
	Was    string // the Text of the part named before that this one corrects, or ""
	Sure   float64
}

// Tool is the kind of what is no part of a head: a needle, a saw.
const Tool = "tool"

// AnyGlue reports whether it is glue of whatever kind, and not rubber cement.
func (p Part) AnyGlue() bool {
	return p.Kind == "glue" && p.Material+p.Made == "" && strings.Contains(strings.ToLower(p.Text), "glue")
}

// Sized reports whether a size of the part was said.
func (p Part) Sized() bool {
	return p.Diameter+p.Bore+p.Wall+p.Outer+p.Length > 0 || p.Durometer > 0
}

// hardness returns a durometer figure as it was said, with the letter of its scale.
func (p Part) hardness() string {
	if p.Durometer == 0 {
		return ""
	}
	return lexis.FormatNumber(p.Durometer) + p.Shore
}

// Short is a short answer without its capitals and marks.
func Short(line string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(line), func(r rune) bool { return strings.ContainsRune(" \t,.;:!", r) }), " ")
}
