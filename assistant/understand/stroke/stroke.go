// Package stroke reads how a sentence ties the sound of a head to the force of the
// stroke: that it is to open up, to stay or something between. It knows the parts such
// a sentence is made of, and never takes anything.
package stroke

import (
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/rules/facts"
)

// How a sound goes with the force of the stroke, as the facts name it.
const (
	Opens  = "opens"
	Even   = "even"
	Steady = "steady"
)

// Tie is what a sentence says of sound and force, with the tokens that do, from first
// to last. How is "" when it says nothing.
type Tie struct {
	How    string
	Tokens []int
	Only   bool // a phrase of the sentence says so too, and is to be taken
}

// reader counts what a sentence has.
type reader struct {
	*cover.Chart
	has     map[string]int // how many of each kind
	denied  bool           // a change that is not to be
	unfixed bool           // a sameness that is not to be
	bright  bool           // it turns brighter, whatever is said of the sound
	wished  bool           // somebody would love it to change: a bit is not said of how much
	tokens  []int
}

// Read reads the tokens from..to of one sentence.
func Read(c *cover.Chart, from, to int) Tie {
	r := reader{Chart: c, has: map[string]int{}}
	lastNot := -10
	for i := from; i < to; i++ {
		r.wished = r.wished || r.At(i).Is("love") || r.At(i).Is("if") && r.At(i+1).Is("only")
	}
	for i := from; i < to; {
		x, n := c.Lex.Longest(c.Tokens, i, "stroke")
		if x == nil || (x.Value == "soft" || x.Value == "loud") && r.part(i+n) || x.Value == "grow" && r.compared(i, n) || x.Value == "slight" && r.calm(i, from, to) {
			i++
			continue
		}
		r.has[x.Value]++
		near := i-lastNot <= 4
		switch x.Value {
		case "not":
			lastNot = i
		case "same":
			r.unfixed = r.unfixed || near
			r.mark(i, n)
		case "brighten", "change":
			r.bright = r.bright || x.Value == "brighten"
			r.denied = r.denied || near
			r.mark(i, n)
		case "soft", "loud", "grow", "slight", "sound":
			r.mark(i, n)
		}
		i += n
	}
	return Tie{How: r.how(), Tokens: r.tokens}
}

// calm reports whether token i stands among words of soft strokes alone, that are to be
// tame while loud ones are not: but quiet strokes should stay tame.
func (r *reader) calm(i, from, to int) bool {
	ends := func(i int) bool {
		return slices.Contains([]string{",", ";", "but", "and", "yet", "while", "though"}, r.At(i).Text)
	}
	first, last := i, i+1
	for first > from && !ends(first-1) {
		first--
	}
	for last < to && !ends(last) {
		last++
	}
	soft := false
	for k := first; k < last; k++ {
		x, _ := r.Lex.Longest(r.Tokens, k, "stroke")
		switch {
		case x == nil:
		case x.Value == "soft" && !r.part(k+1):
			soft = true
		case x.Value == "brighten", x.Value == "change", x.Value == "loud", x.Value == "grow":
			return false
		}
	}
	return soft
}

// mark takes the n tokens at i for the tie.
func (r *reader) mark(i, n int) {
	for k := range n {
		r.tokens = append(r.tokens, i+k)
	}
}

// part reports whether token i is a thing that the word before it describes: soft heads,
// hard vibraphone mallets.
func (r *reader) part(i int) bool {
	if x, n := r.Lex.Longest(r.Tokens, i, "instrument.kind"); x != nil {
		i += n
	}
	return slices.Contains([]string{"head", "heads", "mallet", "mallets", "ones", "one", "pair", "pairs", "beater", "beaters", "stick", "sticks", "yarn", "core", "cores", "ball", "balls", "rubber", "set"}, r.At(i).Text)
}

// compared reports whether the n tokens at i are a wish beside another or held against
// a head: brighter and harder, harder than that.
func (r *reader) compared(i, n int) bool {
	if !r.At(i).Is("harder") || n > 1 {
		return false
	}
	if i < 2 || !r.At(i-1).Is("and") {
		return r.At(i + 1).Is("than")
	}
	x, _ := r.Lex.Longest(r.Tokens, i-2, "stroke")
	return r.At(i+1).Is("than") || x != nil && x.Value == "brighten"
}

// how weighs what was found.
func (r *reader) how() string {
	changes := r.has["change"] + r.has["brighten"]
	force := r.has["soft"] > 0 && r.has["loud"] > 0 || r.has["when"] > 0 && r.has["loud"]+r.has["grow"] > 0
	sound := r.has["sound"] > 0 || r.bright || r.has["it"] > 0 && r.has["same"] == 0
	switch {
	case !force || !sound || changes+r.has["same"] == 0:
		return ""
	case r.unfixed && r.denied:
		return Even
	case r.has["same"] > 0 && !r.unfixed && (changes == 0 || r.denied), r.denied && r.has["slight"] == 0 && r.has["same"] == 0:
		return Steady
	case changes == 0 || r.denied || r.has["same"] > 0:
		return ""
	case r.has["slight"] > 0 && !r.wished:
		return Even
	}
	return Opens
}

// Sentence returns the tokens of the sentence in which item i stands.
func Sentence(c *cover.Chart, i int) (from, to int) {
	ends := func(i int) bool { return c.SentenceEnds(i) || c.Item(i).Mark == ":" }
	first, last := i, i
	for first > 0 && !ends(first-1) {
		first--
	}
	for last < len(c.Items) && !ends(last) {
		last++
	}
	return c.Item(first).From, c.Item(last - 1).To
}

// Takes reports whether item it only helps to say how sound and force go together: the
// words for soft and loud in it are no wish, and nothing is to be brighter for good.
func (t Tie) Takes(it *cover.Item) bool {
	if t.How == "" || it.Mark != "" || it.Qty != nil || it.Any("holding", "mend", "reply", "kind", "material", "instrument.kind") {
		return false
	}
	for i := it.From; i < it.To; i++ {
		if slices.Contains(t.Tokens, i) {
			return true
		}
	}
	return false
}

// Brightens reports whether item i speaks of a sound that turns brighter, in the clause
// that begins at item from.
func Brightens(c *cover.Chart, from, i int) bool {
	for _, x := range c.Item(i).Senses {
		if x.Slot == "move" && x.Value == facts.WantColour && x.Num > 0 {
			return true
		}
		if x.Slot == facts.WantColour && x.Value == "bright" {
			return c.HasWord(max(from, i-4), i+1, "get", "gets", "getting", "turn", "turns", "become", "becomes", "go", "goes", "grow", "grows", "gone", "going")
		}
	}
	return false
}
