package lexis

import (
	"iter"
	"slices"
	"strings"
	"sync"
)

// pattern is a way of saying something by construction: "stays (put|the same)".
// Of what stands in brackets between bars each is a way; an empty one leaves it
// out. Brackets that follow letters complete the word: cross(ed|ing).
//
// There are thousands, and a line needs a few: what follows from how it is written
// is worked out when a line first has a word that it may begin with.
type pattern struct {
	say    string
	senses []*Sense
	once   sync.Once
	groups []group
}

// group is what may stand at one place of a pattern.
type group struct {
	node
	optional bool
}

// IsPattern reports whether a way of saying is a pattern.
func IsPattern(say string) bool { return strings.Contains(say, "(") }

// places are the ways that may stand at each place of a pattern, in order. An empty
// one leaves the place out.
func places(say string) iter.Seq[[]string] {
	return func(yield func([]string) bool) {
		for say != "" {
			head, rest, found := strings.Cut(say, "(")
			var ways []string
			if found {
				var inner string
				inner, rest, _ = strings.Cut(rest, ")")
				ways = strings.Split(inner, "|")
				if head != "" && !strings.HasSuffix(head, " ") && !slices.ContainsFunc(ways, func(w string) bool { return strings.HasPrefix(w, " ") }) {
					at := strings.LastIndex(head, " ") + 1
					for k, w := range ways {
						ways[k] = head[at:] + w
					}
					head = head[:at]
				}
			}
			for word := range strings.FieldsSeq(head) {
				if !yield([]string{word}) {
					return
				}
			}
			for k, w := range ways {
				ways[k] = strings.TrimSpace(w)
			}
			if found && !yield(ways) {
				return
			}
			say = rest
		}
	}
}

// addPattern enters a pattern by each word that it may begin with. Its words join
// the vocabulary.
func (l *Lexicon) addPattern(say string, s *Sense) {
	p := &pattern{say: say, senses: []*Sense{s}}
	begins := true
	for ways := range places(say) {
		for _, way := range ways {
			first := l.learn(way)
			if !begins || first == "" {
				continue
			}
			if v, ok := l.numbers[first]; ok {
				first = FormatNumber(v)
			}
			if !slices.Contains(l.patterns[first], p) {
				l.patterns[first] = append(l.patterns[first], p)
			}
		}
		begins = begins && slices.Contains(ways, "")
	}
}

// learn makes the words of a way known, and returns the first.
func (l *Lexicon) learn(way string) (first string) {
	for word := range strings.FieldsSeq(way) {
		if !strings.ContainsFunc(word, func(r rune) bool { return r < 'a' || r > 'z' }) {
			if _, ok := l.vocab[word]; !ok {
				l.vocab[word] = false
			}
		} else {
			var at node
			l.enter(&at, word, false)
			word = ""
			if len(at.few) > 0 {
				word = at.few[0].word
			}
		}
		if first == "" {
			first = word
		}
	}
	return first
}

// compiled returns what may stand at each place of a pattern.
func (p *pattern) compiled(l *Lexicon) []group {
	p.once.Do(func() {
		for ways := range places(p.say) {
			g := group{}
			for _, w := range ways {
				if w == "" {
					g.optional = true
				} else if at := l.enter(&g.node, w, false); at != &g.node {
					at.senses = p.senses
				}
			}
			p.groups = append(p.groups, g)
		}
	})
	return p.groups
}

// ends adds to out where the groups of a pattern may end that go on at tokens[i]. None
// ends with a comma, which parts it from what follows.
func ends(groups []group, tokens []Token, i int, out []int) []int {
	if len(groups) == 0 {
		if !slices.Contains(out, i) && !(i > 0 && tokens[i-1].Is(",")) {
			out = append(out, i)
		}
		return out
	}
	g := &groups[0]
	if g.optional {
		out = ends(groups[1:], tokens, i, out)
	}
	at := &g.node
	for j := i; j < len(tokens); j++ {
		if tokens[j].Is("-") && j > 0 && tokens[j].Near {
			continue
		}
		if at = at.step(tokens[j].Text); at == nil {
			break
		}
		if at.senses != nil {
			out = ends(groups[1:], tokens, j+1, out)
		}
	}
	return out
}
