package answer

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/words"
)

// near knows the words of all ways to ask, and how much each tells.
type near struct {
	alike   map[string]string  // a word's stem to the one that stands for all like it; empty for filler
	weight  map[string]float64 // by stem; a word of many answers tells little
	strange float64            // what a word tells that is in no way to ask
	stems   []string           // all of them, in the order they stand
	ways    []way
	said    map[Found][]string // all stems of all ways to ask for one thing
}

// way is one way to ask, by what is asked and its words.
type way struct {
	of    Found
	asked asking
	words []string
	sum   float64 // of their weights
}

// Found is what a line asks for.
type Found struct {
	ID      string
	Trouble bool // of the catalogue's troubles, else of its answers
}

// A word that stands in no way to ask tells that something else may be meant:
// it counts as much as one of so many answers.
const strangers = 5

// How much it tells that the same is asked: how, how much, why, whether.
const askedWeight = 1.8

// What if asks for what would be, and is near to nothing that asks for what is.
const supposed = 0.75

// How much of the nearness is the likeness to the one likest way to ask, and to
// the few likest; the rest is how much of the line stands in any way to ask for
// the same. With each way left out in turn, of 2,659 ways 61 % find their own
// answer so, where 58 % did by the one likest alone, and 15 % fewer another.
const (
	oneWay  = 0.35
	fewWays = 0.35
	alike   = 3 // ways that are a few
)

// What is named beside the nearest is not much further off.
const beside = 0.75

// Where a thing is likelier asked, it counts for more.
const (
	atHome = 1.12
	almost = 0.97 // but never for as much as the same words
)

// Of fewer words than enough, in the line or in the way to ask, most lines could
// go on in many ways, and what is near counts for less.
const (
	enough   = 2
	doubtful = 0.55
	broad    = 0.8
)

func newNear(cat *knowledge.Catalogue) *near {
	n := &near{alike: map[string]string{}, weight: map[string]float64{}, said: map[Found][]string{}}
	for _, x := range cat.Alike {
		for _, w := range x.Words {
			if n.alike[stem(w)] = stem(x.ID); x.ID == knowledge.Filler {
				n.alike[stem(w)] = ""
			}
		}
	}
	for _, x := range cat.Answers {
		n.add(Found{ID: x.ID}, x.Asks)
	}
	for _, x := range cat.Troubles {
		n.add(Found{x.ID, true}, x.Asks)
	}
	in := map[string]int{}
	for _, list := range n.said {
		for _, s := range list {
			in[s]++
		}
	}
	for s, k := range in {
		n.weight[s] = tells(k, len(n.said))
	}
	n.strange = tells(strangers, len(n.said))
	for i := range n.ways {
		n.ways[i].sum = n.sum(n.ways[i].words)
	}
	return n
}

func (n *near) add(of Found, asks []string) {
	for _, ask := range asks {
		w := way{of: of, asked: askedBy(bare(ask)), words: n.split(ask)}
		n.ways = append(n.ways, w)
		for _, s := range w.words {
			if !slices.Contains(n.said[of], s) {
				n.said[of] = append(n.said[of], s)
			}
			if !slices.Contains(n.stems, s) {
				n.stems = append(n.stems, s)
			}
		}
	}
}

// tells is how much a word tells that stands in so many of the answers.
func tells(in, of int) float64 { return math.Log(1 + float64(of)/float64(in)) }

// sum is what words tell together.
func (n *near) sum(list []string) float64 {
	sum := 0.0
	for _, s := range list {
		if w, ok := n.weight[s]; ok {
			sum += w
		} else {
			sum += n.strange
		}
	}
	return sum
}

// to returns what has the ways to ask nearest to a plain line, and how near that
// is. Of equally near ones the likest wins, then the first. home reports whether
// something is likelier asked where the line is said.
func (n *near) to(plain string, home func(Found) bool) (of Found, how float64) {
	second, raw := 0.0, 0.0
	n.each(plain, home, func(x Found, near, bare float64) {
		switch {
		case near > how, near == how && bare > raw:
			of, how, raw, second = x, near, bare, how
		case near > second:
			second = near
		}
	})
	if how < clear && how-second < ahead {
		how = min(how, unclear)
	}
	return of, how
}

// Where two things lie nearly as near, and neither near, either may be meant: in
// three of ten such lines the first is.
const (
	clear   = 0.6
	ahead   = 0.05
	unclear = 0.45
)

// mark ends a plain line that ended with a question mark.
const mark = " ?"

// each calls yield once for each thing that may be asked for, in the order they
// stand, with how near a plain line is to that, and how alike they are before it
// is counted how little that is to go by.
func (n *near) each(plain string, home func(Found) bool, yield func(of Found, near, raw float64)) {
	marked := strings.HasSuffix(plain, mark)
	plain = strings.TrimSuffix(plain, mark)
	asked, said := askedBy(bare(plain)), n.split(plain)
	if marked && asked == says {
		asked = whether // it is for marimba also?
	}
	for i, s := range said {
		if _, heard := n.weight[s]; !heard && len(s) > 5 {
			if w, ok := words.Within(s, n.stems, 1+len(s)/10); ok && len(w) > 3 && s[0] == w[0] {
				said[i] = w
			}
		}
	}
	sum := n.sum(said)
	if sum == 0 {
		return
	}
	for first, next := 0, 0; first < len(n.ways); first = next {
		of := n.ways[first].of
		var likest [alike]float64 // of its ways to ask, the likest first
		var best *way
		for next = first; next < len(n.ways) && n.ways[next].of == of; next++ {
			w := &n.ways[next]
			x := n.like(said, sum, asked, w)
			if x > likest[0] {
				best = w
			}
			for k, y := range likest {
				likest[k], x = max(x, y), min(x, y)
			}
		}
		if best == nil {
			continue
		}
		near, raw := n.judge(said, sum, asked, best, likest[:], home(of))
		yield(of, near, raw)
	}
}

// like is how alike a line is to one way to ask: the share of what both say in
// what either says.
func (n *near) like(said []string, sum float64, asked asking, w *way) float64 {
	both := 0.0
	for _, s := range w.words {
		if slices.Contains(said, s) {
			both += n.weight[s]
		}
	}
	if both == 0 {
		return 0
	}
	x := 2 * (both + askedWeight*asked.like(w.asked)) / (sum + w.sum + 2*askedWeight)
	if (asked == supposing) != (w.asked == supposing) {
		x *= supposed
	}
	return x
}

// judge is how near a line is to the thing that best is a way to ask for: by how
// alike it is to that and to the few likest, and by how much of its words stands in
// any way to ask for the thing; raw is the same before it is counted how few words
// that is by.
func (n *near) judge(said []string, sum float64, asked asking, best *way, likest []float64, home bool) (near, raw float64) {
	all, of := 0.0, 0
	for _, x := range likest {
		if all += x; x > 0 {
			of++
		}
	}
	covered, shared := 0.0, 0
	for _, s := range said {
		if slices.Contains(n.said[best.of], s) {
			covered += n.weight[s]
			shared++
		}
	}
	x := oneWay*likest[0] + fewWays*all/float64(of) + (1-oneWay-fewWays)*covered/sum
	if likest[0] == 1 {
		x = 1
	}
	if x < 1 && home {
		x = min(almost, x*atHome)
	}
	raw = x
	switch {
	case x == 1:
	case shared < enough && shared < len(said), shared <= enough && x < clear:
		x = min(x, unclear) // of what the line is about, no more than a word
	case len(said) < enough:
		x *= doubtful
	case len(best.words) < enough && (asked != best.asked || covered < sum):
		x *= broad
	}
	return x, raw
}

// names reports whether a plain line says next to nothing but what stands in
// the ways to ask for one thing.
func (n *near) names(plain string, of Found) bool {
	const nearly = 0.75
	said := n.split(plain)
	known := 0.0
	for _, s := range said {
		if slices.Contains(n.said[of], s) {
			known += n.weight[s]
		}
	}
	return known > 0 && known >= nearly*n.sum(said)
}

// A sum of money tells something else than a word for money.
const (
	cost  = "cost"
	purse = "cost-sum"
)

// split are the words of a plain line that tell something, once each, by the
// stem that stands for all that mean the same.
func (n *near) split(plain string) []string {
	var list []string
	sum := false // of money, just before
	for _, w := range strings.Fields(bare(plain)) {
		if w[0] >= '0' && w[0] <= '9' {
			if sum = slices.Equal(list[max(0, len(list)-1):], []string{cost}); sum {
				list[len(list)-1] = purse // money 10
				continue
			}
			sum = true
			continue // which number it is tells nothing
		}
		w = stem(w)
		if to, ok := n.alike[w]; ok {
			w = to
		}
		if w == cost && sum { // 10 dollars
			w = purse
		}
		sum = false
		if w != "" && !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return list
}

// stem is a word without the endings that count for nothing in a question.
func stem(w string) string {
	if len(w) > 5 && strings.HasSuffix(w, "in") { // slippin
		w += "g"
	}
	if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") {
		w = w[:len(w)-1]
	}
	for _, end := range []string{"ing", "able", "ed"} {
		if len(w) > len(end)+3 && strings.HasSuffix(w, end) {
			w = w[:len(w)-len(end)]
			if k := len(w) - 1; w[k] == w[k-1] && w[k] != 'l' && w[k] != 's' { // cutting, wrapped
				w = w[:k]
			}
			break
		}
	}
	if len(w) > 3 {
		w = strings.TrimSuffix(w, "e")
	}
	return w
}

// among returns the answers whose ways to ask are nearest to a plain line, no
// more than most of them and none less near than least.
func (n *near) among(plain string, home func(Found) bool, least float64, most int) []Found {
	how := map[Found]float64{}
	var list []Found
	n.each(plain, home, func(of Found, near, raw float64) {
		if near >= least && !of.Trouble {
			list = append(list, of)
			how[of] = raw
		}
	})
	slices.SortStableFunc(list, func(a, b Found) int { return cmp.Compare(how[b], how[a]) })
	list = list[:min(most, len(list))]
	return slices.DeleteFunc(list, func(of Found) bool { return how[of] < beside*how[list[0]] })
}

// Where hardly more is shared than a word, but much of what is said, and nothing
// else lies as near, that may be meant.
const (
	maybe   = 0.45
	further = 0.08
)

// perhaps returns the answer that a plain line may ask for, though by too few words
// to be sure of it.
func (n *near) perhaps(plain string, home func(Found) bool) (of Found, ok bool) {
	first, second := 0.0, 0.0
	n.each(plain, home, func(x Found, near, raw float64) {
		switch {
		case near < NearHand:
		case raw > first:
			of, first, second = x, raw, first
		case raw > second:
			second = raw
		}
	})
	return of, first >= maybe && first-second >= further && !of.Trouble
}
