package answer

import (
	"math"
	"slices"
	"strings"

	"mallow/knowledge"
)

// near knows the words of all ways to ask, and how much each tells.
type near struct {
	weight  map[string]float64 // by word; a word of many answers tells little
	unheard float64            // of a word in no way to ask
	ways    []way
}

// way is one way to ask, by its words.
type way struct {
	id    string
	words []string
	sum   float64 // of their weights
}

// A word that stands in no way to ask tells that something else may be meant:
// it counts as much as one of so many answers.
const unheard = 20

// Of fewer words than enough, most lines could go on in many ways, and what is
// near counts for less.
const (
	enough   = 3
	doubtful = 0.7
)

func newNear(list []knowledge.Answer) *near {
	n := &near{weight: map[string]float64{}, unheard: tells(unheard, len(list))}
	in := map[string]map[string]bool{} // answers by word
	for _, x := range list {
		for _, ask := range x.Asks {
			w := way{id: x.ID, words: stems(ask)}
			n.ways = append(n.ways, w)
			for _, s := range w.words {
				if in[s] == nil {
					in[s] = map[string]bool{}
				}
				in[s][x.ID] = true
			}
		}
	}
	for s, ids := range in {
		n.weight[s] = tells(len(ids), len(list))
	}
	for i := range n.ways {
		for _, s := range n.ways[i].words {
			n.ways[i].sum += n.weight[s]
		}
	}
	return n
}

// tells is how much a word tells that stands in so many of the answers.
func tells(in, of int) float64 { return math.Log(1 + float64(of)/float64(in)) }

// to returns the answer that has the way nearest to a plain line: the share of
// what both say in what either says. Of equally near ones the first wins.
func (n *near) to(plain string) (id string, how float64) {
	said := stems(plain)
	sum := 0.0
	for _, s := range said {
		w, heard := n.weight[s]
		if !heard {
			w = n.unheard
		}
		sum += w
	}
	if sum == 0 {
		return "", 0
	}
	for _, w := range n.ways {
		both := 0.0
		for _, s := range w.words {
			if slices.Contains(said, s) {
				both += n.weight[s]
			}
		}
		if x := 2 * both / (sum + w.sum); x > how {
			id, how = w.id, x
		}
	}
	if len(said) < enough && how < 1 {
		how *= doubtful
	}
	return id, how
}

// leads are what people put before a question, longer ones first.
var leads = []string{
	"my mum asks if", "my dad asks if", "my mum asks", "my dad asks", "mum asks if", "mum asks", "can you tell me if", "can you tell me", "i want to know if", "i want to know",
	"id like to know", "i wonder if", "i wonder", "do you know if", "do you know", "tell me",
	"ok", "okay", "so", "and", "but", "well", "um", "uh", "hm", "hmm", "oh", "sorry", "please", "pls", "hey", "hi", "also", "then", "now", "just", "wait", "right",
}

// askers are the words that a question begins with.
var askers = []string{"what", "whats", "how", "why", "which", "when", "where", "wheres", "who", "whose", "is", "are", "am", "do", "does", "did", "can", "could", "will", "would", "should", "shall", "may", "must", "has", "have you", "any", "isnt", "arent", "dont i", "wont", "cant i"}

// IsQuestion reports whether a line asks, by its mark or by how it begins.
func IsQuestion(line string) bool {
	if strings.HasSuffix(strings.TrimSpace(line), "?") {
		return true
	}
	plain := Plain(line)
	plain, said := bare(plain)+" ", plain
	return strings.Contains(said, "asks ") || slices.ContainsFunc(askers, func(w string) bool { return strings.HasPrefix(plain, w+" ") })
}

// bare is a plain line without what people put before a question.
func bare(plain string) string {
	for {
		i := slices.IndexFunc(leads, func(w string) bool { return strings.HasPrefix(plain, w+" ") })
		if i < 0 {
			return plain
		}
		plain = plain[len(leads[i])+1:]
	}
}

// stems are the words of a plain line, once each, without the endings that
// count for nothing here.
func stems(plain string) []string {
	var list []string
	for _, w := range strings.Fields(bare(plain)) {
		if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") {
			w = w[:len(w)-1]
		}
		if len(w) > 5 {
			w = strings.TrimSuffix(w, "ing")
		}
		if !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return list
}
