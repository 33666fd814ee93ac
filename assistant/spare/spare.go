// Package spare reads that nothing is to be bought, or that things may be after all.
//
// It never decides what follows from that.
package spare

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// Wish is what a line says about buying.
type Wish int

const (
	None Wish = iota // nothing
	Only             // only what is on hand
	Free             // that may be taken back
)

// Shapes of what is said: a word, words to choose from, or in brackets words that
// may be left out.
const (
	only = `
without (having|needing) (to) buying|buy|purchasing|purchase|ordering|spending (anything|any|more|stuff|things|parts|money) (else|new|more|extra|stuff|parts|money)
only|just|solely (use|using|with|from|take|work|of) (with|up|only|just) what|whatever|stuff|parts|things|everything (that|is|stuff|parts) i|we|ive|weve|s|on|here|there (already|got) (have|got|own|hand|already) (already|on|here|lying|got|in) (hand|around|house|home)
use|using|with|from|stick|keep (with|to) only|just what|whatever|stuff|parts|things (that) i|we|ive|weve|is|s (already) (have|got|own|on) (already|on|here|lying|got) (hand|around|home)
only|just whats|whatevers on|here|there|around (hand)
make|making do with what i|we|ive|weve|is|s (already) (have|got|own|on|here) (already|here|hand|lying) (around)
nothing (more|else|new|extra) to|gets|is|should|must|may (be|get) buy|bought|purchased|purchase
i|we|please|lets|but|and|so (do|can|will|am|im|must|really|just) dont|cant|wont|cannot|wouldnt|couldnt|not (really) (want|wanna|going|like|really) (to) buy|buying|purchase|spend anything|any|more|stuff|things|money|another (else|new|more|extra|at|cent|penny|thing) (money|all|things|stuff)
(id|wed|would) (really) rather|prefer|please not|dont (to) buy|spend|purchase anything|owt|any|more|stuff|things|money|new (else|new|more)
(id|wed|would) (really|much) rather|prefer (to) buy|spend|purchase none|nothing|nowt (else|new|more)
buy|buying|purchase|spend|spending nothing (else|new|more)
no (more) money|cash|funds|budget (left) for|to (buy) (new|more|any|other|another) anything|balls|cores|tubing|yarn|parts|shopping|it|that|more|stuff|things
i|we|really cant|cannot|couldnt afford (to) (buy) (any|anything) new|more|anything|else|any|parts|balls|tubing (else|new|more)
buy|buying|spend|spending as little as possible
(total|new) spend|outlay small|minimal|tiny|low
no buying|shopping|purchases (anything|please|new)
`
	free = `
(i|we|you|id|ill|can|could|may|would|will|happy|fine|ok|okay|to|dont|mind) buy|buying|order|spend things|stuff|parts|something|what|whats|whatever|anything|more|missing (needed|missing|is) (missing|needed) (after) (all)
buying|shopping (things|stuff|parts|something) is|s (all) ok|fine|okay|right
not (just|only) what i|we|ive|is (have|got|on) (hand)
`
	undo   = "forget drop scrap back mind not longer neednt skip lift"
	asking = "do does must should is are why did"
	filler = "please thanks and but can could you i we want to lets let ok okay just it make do us is there must should be so then way a the head mallets mallet them id like would if possible really now this that by from time too well"
)

// word is a word of a line and where it stands.
type word struct {
	text     string
	from, to int
}

func words(line string) []word {
	var list []word
	from := -1
	end := func(to int) {
		if from >= 0 {
			text := strings.NewReplacer("'", "", "’", "").Replace(strings.ToLower(line[from:to]))
			list = append(list, word{text, from, to})
		}
		from = -1
	}
	for i, r := range line {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || r == '\'' || r == '’':
			if from < 0 {
				from = i
			}
		default:
			end(i)
		}
	}
	end(len(line))
	return list
}

// Cut returns what a line says about buying, and the line without it, empty where it
// says nothing else.
func Cut(line string) (rest string, w Wish) {
	said := words(line)
	if from, to, ok := find(said, shapes(only)); ok {
		ahead := said[:from]
		switch {
		case slices.ContainsFunc(ahead, func(w word) bool { return slices.Contains(strings.Fields(undo), w.text) }):
			return "", Free
		case len(ahead) > 0 && slices.Contains(strings.Fields(asking), ahead[0].text) && !strings.Contains(line, "without"): // do I have to
			return line, None
		}
		return without(line, said, from, to), Only
	}
	if from, to, ok := find(said, shapes(free)); ok {
		return without(line, said, from, to), Free
	}
	return line, None
}

// alone are words that list what there is as all there is, and asks those of a question
// what can be made of that.
var (
	alone = regexp.MustCompile(`\b(?:i|we|i've|we've|ive|weve) (?:only|just) (?:got|have|own)\b|\b(?:all|everything) (?:that )?(?:i|we|i've|we've|ive|weve) (?:have|got|own)\b|\bnothing else (?:here|at home|there|in the house)\b`)
	asks  = regexp.MustCompile(`\b(?:can|could|will|would|may|might) (?:i|we|you|one|that|this|these|those|they|it|anything|something)\b[^?.;]*\?`)
)

// Alone reports whether a line lists what there is as all there is, and asks what can be
// made of it: I only got rubber balls and cord, can that become marimba mallets?
func Alone(line string) bool {
	line = strings.ReplaceAll(strings.ToLower(line), "’", "'")
	at := alone.FindStringIndex(line)
	return at != nil && asks.MatchString(line[at[0]:])
}

// without is a line without the words from one up to another.
func without(line string, said []word, from, to int) string {
	left := slices.Concat(said[:from], said[to:])
	if !slices.ContainsFunc(left, func(w word) bool { return !slices.Contains(strings.Fields(filler), w.text) }) {
		return ""
	}
	rest := strings.Trim(line[:said[from].from]+line[said[to-1].to:], " ,;:-")
	for _, ask := range []string{"can it be ", "could it be ", "can you make it ", "could you make it ", "can we make it ", "can i make it "} {
		if len(rest) > len(ask) && strings.EqualFold(rest[:len(ask)], ask) {
			return "make it " + strings.TrimRight(rest[len(ask):], "? ") // it is a wish, not what it is like
		}
	}
	return rest
}

// slot is one place of a shape: the words that may stand there.
type slot struct {
	words    []string
	optional bool
}

// shapes reads a list of shapes.
func shapes(list string) [][]slot {
	var all [][]slot
	for line := range strings.Lines(strings.TrimSpace(list)) {
		var shape []slot
		for text := range strings.FieldsSeq(line) {
			inner, optional := strings.CutPrefix(text, "(")
			shape = append(shape, slot{strings.Split(strings.TrimSuffix(inner, ")"), "|"), optional})
		}
		all = append(all, shape)
	}
	return all
}

// find returns where a shape fits words, at the first place and as long as it may be.
func find(said []word, all [][]slot) (from, to int, ok bool) {
	for from = range said {
		for _, shape := range all {
			if n := fit(said[from:], shape); n > 0 {
				to = max(to, from+n)
			}
		}
		if to > 0 {
			return from, to, true
		}
	}
	return 0, 0, false
}

// fit returns how many words a shape takes up from the first, 0 where it does not fit.
func fit(said []word, shape []slot) int {
	if len(shape) == 0 {
		return 0
	}
	if len(said) > 0 && slices.Contains(shape[0].words, said[0].text) {
		if n := fit(said[1:], shape[1:]); n > 0 {
			return n + 1
		}
		if !slices.ContainsFunc(shape[1:], func(s slot) bool { return !s.optional }) {
			return 1
		}
	}
	if shape[0].optional {
		return fit(said, shape[1:])
	}
	return 0
}
