package answer

import (
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
	place   map[string]int     // of a stem among them
	stands  [][]int            // by stem: the things with a way to ask that has it
	ways    []way
	said    map[Found][]string // all stems of all ways to ask for one thing
	letters *letters
	subject map[string][]string // by answer: what it speaks of
}

// way is one way to ask, by what is asked and its words.
type way struct {
	of     Found
	thing  int // its place among all things
	asked  asking
	words  []string
	places []int   // of the words, among all stems
	sum    float64 // of their weights
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

// Nor is why to how many, nor where to why.
const amiss = 0.6

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
const beside = 0.6

// Where a thing is likelier asked, it counts for more.
const (
	atHome = 1.12
	almost = 0.97 // but never for as much as the same words
)

// Of fewer words than enough most lines could go on in many ways, and what asks for
// something else counts for less: why 133 turns, how many turns.
const (
	enough   = 2
	doubtful = 0.75
)

func newNear(cat *knowledge.Catalogue) *near {
	n := &near{alike: map[string]string{}, weight: map[string]float64{}, place: map[string]int{}, said: map[Found][]string{}, subject: map[string][]string{}}
	for _, x := range cat.Alike {
		for _, w := range x.Words {
			if n.alike[stem(w)] = stem(x.ID); x.ID == knowledge.Filler {
				n.alike[stem(w)] = ""
			}
		}
	}
	var lines [][]string
	for _, x := range cat.Answers {
		n.add(Found{ID: x.ID}, len(lines), x.Asks)
		lines = append(lines, x.Asks)
	}
	for _, x := range cat.Troubles {
		n.add(Found{x.ID, true}, len(lines), x.Asks)
		lines = append(lines, x.Asks)
	}
	n.letters = newLetters(lines)
	for _, x := range cat.Subjects {
		for _, id := range x.Answers {
			n.subject[id] = append(n.subject[id], x.ID)
		}
	}
	for k, s := range n.stems {
		n.weight[s] = tells(len(n.stands[k]), len(n.said))
	}
	n.strange = tells(strangers, len(n.said))
	for i := range n.ways {
		n.ways[i].sum = n.sum(n.ways[i].words)
	}
	return n
}

func (n *near) add(of Found, thing int, asks []string) {
	for _, ask := range asks {
		w := way{of: of, thing: thing, asked: askedBy(bare(ask)), words: n.split(ask)}
		for _, s := range w.words {
			if !slices.Contains(n.said[of], s) {
				n.said[of] = append(n.said[of], s)
			}
			k, ok := n.place[s]
			if !ok {
				k = len(n.stems)
				n.place[s], n.stems, n.stands = k, append(n.stems, s), append(n.stands, nil)
			}
			if at := n.stands[k]; len(at) == 0 || at[len(at)-1] != thing {
				n.stands[k] = append(at, thing)
			}
			w.places = append(w.places, k)
		}
		n.ways = append(n.ways, w)
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
	first, second := n.best(plain, home)
	if first.near == 1 {
		return first.of, 1
	}
	how = min(almost, sure*first.near+lead*(first.near-second.near))
	if !strings.HasSuffix(plain, mark) && askedBy(bare(plain)) == says {
		how = min(how, first.near+stated) // two mallets, medium: near to little, and yet to nothing asked
	}
	return first.of, how
}

// stated is how much being ahead can add for a line that is no question.
const stated = 0.15

// scored is a thing and how near a line is to it.
type scored struct {
	of   Found
	near float64
}

// best returns the two things that a plain line is nearest to; the second speaks
// of something else than the first.
func (n *near) best(plain string, home func(Found) bool) (first, second scored) {
	var all []scored
	n.each(plain, home, func(x scored) {
		if all = append(all, x); x.near > first.near {
			first = x
		}
	})
	for _, x := range all {
		if x.of != first.of && x.near > second.near && !n.together(x.of.ID, first.of.ID) {
			second = x
		}
	}
	return first, second
}

// together reports whether two things speak of one.
func (n *near) together(a, b string) bool {
	return slices.ContainsFunc(n.subject[a], func(s string) bool { return slices.Contains(n.subject[b], s) })
}

// How sure a thing is meant: by how near it is, and by how far it lies ahead of
// the next.
const (
	sure = 0.85
	lead = 1.7
)

// mark ends a plain line that ended with a question mark.
const mark = " ?"

// each calls yield once for each thing that may be asked for, in the order they
// stand, with how near a plain line is to that.
func (n *near) each(plain string, home func(Found) bool, yield func(scored)) {
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
	l := line{asked: asked, words: len(said), sum: n.sum(said), tells: make([]float64, len(n.stems)), covers: make([]float64, n.letters.of)}
	for _, s := range said {
		if k, ok := n.place[s]; ok {
			l.tells[k] = n.weight[s]
			for _, thing := range n.stands[k] {
				l.covers[thing] += n.weight[s]
			}
		}
	}
	letters := n.letters.like(bare(plain))
	for first, next := 0, 0; first < len(n.ways); first = next {
		of, thing := n.ways[first].of, n.ways[first].thing
		var likest [alike]float64 // of its ways to ask, the likest first
		var best *way
		for next = first; next < len(n.ways) && n.ways[next].of == of; next++ {
			w := &n.ways[next]
			x := l.like(w)
			if x > likest[0] {
				best = w
			}
			for k, y := range likest {
				likest[k], x = max(x, y), min(x, y)
			}
		}
		switch {
		case l.sum == 0: // what do you do
			yield(scored{of, letters[thing]})
		case best != nil:
			near := l.judge(best, likest[:], home(of))
			if near < 1 {
				near = (1-spelt)*near + spelt*letters[thing]
			}
			yield(scored{of, near})
		}
	}
}

// line is what a line says, as it is held against ways to ask.
type line struct {
	asked  asking
	words  int       // that tell something
	sum    float64   // of what they tell
	tells  []float64 // by stem; 0 where the line has not got it
	covers []float64 // by thing: what those words tell that stand in any way to ask for it
}

// like is how alike a line is to one way to ask: the share of what both say in
// what either says.
func (l *line) like(w *way) float64 {
	both := 0.0
	for _, k := range w.places {
		both += l.tells[k]
	}
	if both == 0 {
		return 0
	}
	x := 2 * (both + askedWeight*l.asked.like(w.asked)) / (l.sum + w.sum + 2*askedWeight)
	switch {
	case (l.asked == supposing) != (w.asked == supposing):
		x *= supposed
	case l.asked.like(w.asked) == 0:
		x *= amiss
	}
	return x
}

// judge is how near a line is to the thing that best is a way to ask for: by how
// alike it is to that and to the few likest, and by how much of its words stands in
// any way to ask for the thing.
func (l *line) judge(best *way, likest []float64, home bool) float64 {
	all, of := 0.0, 0
	for _, x := range likest {
		if all += x; x > 0 {
			of++
		}
	}
	x := oneWay*likest[0] + fewWays*all/float64(of) + (1-oneWay-fewWays)*l.covers[best.thing]/l.sum
	if likest[0] == 1 {
		x = 1
	}
	if x < 1 && home {
		x = min(almost, x*atHome)
	}
	if x < 1 && l.words < enough && l.asked != best.asked {
		x *= doubtful
	}
	return x
}

// spelt is how much of the nearness is the likeness of the letters.
const spelt = 0.4

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
