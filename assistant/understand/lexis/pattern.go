package lexis

import (
	"slices"
	"strings"
)

// pattern is a way of saying something by construction: "stays (put|the same)".
// Of what stands in brackets between bars each is a way; an empty one leaves it
// out. Brackets that follow letters complete the word: cross(ed|ing|).
type pattern struct {
	groups []group
	senses []*Sense
}

// group is what may stand at one place of a pattern.
type group struct {
	node
	optional bool
}

// IsPattern reports whether a way of saying is a pattern.
func IsPattern(say string) bool { return strings.Contains(say, "(") }

// addPattern enters a pattern. Its words join the vocabulary.
func (l *Lexicon) addPattern(say string, s *Sense) {
	p := &pattern{senses: []*Sense{s}}
	for say != "" {
		head, rest, found := strings.Cut(say, "(")
		stem := ""
		var ways []string
		if found {
			var inner string
			inner, rest, _ = strings.Cut(rest, ")")
			ways = strings.Split(inner, "|")
			if head != "" && !strings.HasSuffix(head, " ") && !slices.ContainsFunc(ways, func(w string) bool { return strings.HasPrefix(w, " ") }) {
				at := strings.LastIndex(head, " ") + 1
				head, stem = head[:at], head[at:]
			}
		}
		for _, word := range strings.Fields(head) {
			l.addGroup(p, []string{word}, "")
		}
		if found {
			l.addGroup(p, ways, stem)
		}
		say = rest
	}
	for k := range p.groups { // by each word that it may begin with
		for word := range p.groups[k].next {
			l.patterns[word] = append(l.patterns[word], p)
		}
		if !p.groups[k].optional {
			break
		}
	}
}

// addGroup adds a group of ways, each after stem, to a pattern.
func (l *Lexicon) addGroup(p *pattern, ways []string, stem string) {
	g := group{}
	for _, w := range ways {
		if w = strings.TrimSpace(stem + w); w == "" {
			g.optional = true
			continue
		}
		if at := l.enter(&g.node, w, false); at != &g.node {
			at.senses = p.senses
		}
	}
	p.groups = append(p.groups, g)
}

// ends adds to out where pattern p, from its group k on, may end that goes on at
// tokens[i].
func (p *pattern) ends(tokens []Token, i, k int, out []int) []int {
	if k == len(p.groups) {
		if !slices.Contains(out, i) {
			out = append(out, i)
		}
		return out
	}
	g := &p.groups[k]
	if g.optional {
		out = p.ends(tokens, i, k+1, out)
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
			out = p.ends(tokens, j+1, k+1, out)
		}
	}
	return out
}
