package rules

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
)

// A proof asks whether some facts make each of a few conditions come out as
// wanted. It cuts the box of all facts into smaller ones until each is shown
// to hold none, or facts are found that do. The numbers are cut at the
// constants that conditions compare them with; where a condition compares two
// quantities, the proof distinguishes the sign of their difference. That
// settles what rules are made of, though not everything that could be
// written: then the answer is that it can't tell.

// wanted is a condition and how it is to come out.
type wanted struct {
	when *node
	as   bool
}

// finding is the outcome of a proof.
type finding uint8

const (
	undecided finding = iota
	none              // no facts do
	some              // the facts in the prover's point do
)

// maxBoxes bounds the work of one proof.
const maxBoxes = 4000

type prover struct {
	l     *language
	box   box
	point *cells // facts that do, when there are some
	want  []wanted
	facts []int             // that the conditions read
	cuts  map[int][]float64 // where to cut numbers
	pairs []pair            // comparisons of two quantities
	left  int               // boxes still allowed
	rng   *rand.Rand
}

// pair is the comparisons of the same two quantities, whichever way round.
type pair struct{ same, swapped []*node }

// newCells returns cells of their own, each number and text at its zero.
func newCells(list []Fact) *cells {
	c := &cells{num: make([]*float64, len(list)), text: make([]*string, len(list)), truth: make([]*bool, len(list))}
	for i, f := range list {
		switch f.Kind {
		case Number:
			c.num[i] = new(float64)
		case Text:
			c.text[i] = new(string)
		default:
			c.truth[i] = new(bool)
		}
	}
	return c
}

// prove looks for facts that make all of want come out, trying hints first.
func (l *language) prove(hints []Example, want ...wanted) (finding, *cells) {
	p := &prover{
		l: l, want: want, cuts: map[int][]float64{}, left: maxBoxes, point: newCells(l.facts),
		box: box{lo: newCells(l.facts), hi: newCells(l.facts), signs: map[*node]sign{}},
		// The same question gets the same answer.
		rng: rand.New(rand.NewPCG(1, 2)),
	}
	pairs := map[string]*pair{}
	for _, w := range want {
		p.facts = w.when.reads(p.facts)
		p.learn(w.when, pairs)
	}
	for _, key := range slices.Sorted(maps.Keys(pairs)) {
		p.pairs = append(p.pairs, *pairs[key])
	}
	for _, i := range p.facts {
		f := l.facts[i]
		switch f.Kind {
		case Number:
			*p.box.lo.num[i], *p.box.hi.num[i] = f.bounds()
			slices.Sort(p.cuts[i])
			p.cuts[i] = slices.Compact(p.cuts[i])
		case Text: // different ends stand for any word
			*p.box.lo.text[i], *p.box.hi.text[i] = "", "?"
		default:
			*p.box.hi.truth[i] = true
		}
	}
	if p.try(hints) {
		return some, p.point
	}
	return p.search(0), p.point
}

// learn notes where a condition can change.
func (p *prover) learn(n *node, pairs map[string]*pair) {
	for _, k := range n.kids {
		p.learn(k, pairs)
	}
	switch n.op {
	case opInNum:
		if x := n.kids[0]; x.op == opFact {
			p.cuts[x.fact] = append(p.cuts[x.fact], n.nums...)
		}
	case opLess, opLessEq, opMore, opMoreEq, opEqNum:
		a, b := n.kids[0], n.kids[1]
		if a.op == opNumber {
			a, b = b, a
		}
		switch {
		case a.op == opFact && b.op == opNumber:
			p.cuts[a.fact] = append(p.cuts[a.fact], b.num)
		case len(n.reads(nil)) > 1:
			x, y := n.kids[0].tree.String(), n.kids[1].tree.String()
			if pairs[x+" - "+y] == nil && pairs[y+" - "+x] == nil {
				pairs[x+" - "+y] = new(pair)
			}
			if at := pairs[x+" - "+y]; at != nil {
				at.same = append(at.same, n)
			} else {
				at := pairs[y+" - "+x]
				at.swapped = append(at.swapped, n)
			}
		}
	}
}

// search cuts the box. Depth counts what has been cut: first each fact that
// is read, then each pair.
func (p *prover) search(depth int) finding {
	if p.left--; p.left < 0 {
		return undecided
	}
	all := true
	for _, w := range p.want {
		v := p.box.truth(w.when)
		if !w.as {
			v = v.not()
		}
		if v&(canYes|canBroken) == 0 {
			return none
		}
		all = all && v == canYes
	}
	if all || depth == len(p.facts)+len(p.pairs) {
		if p.try(nil) {
			return some
		}
		return undecided
	}
	if depth >= len(p.facts) {
		return p.splitPair(depth, p.pairs[depth-len(p.facts)])
	}
	i := p.facts[depth]
	switch p.l.facts[i].Kind {
	case Truth:
		return p.either(depth, []func(){
			func() { *p.box.lo.truth[i], *p.box.hi.truth[i] = false, false },
			func() { *p.box.lo.truth[i], *p.box.hi.truth[i] = true, true },
		}, func() { *p.box.lo.truth[i], *p.box.hi.truth[i] = false, true })
	case Text:
		var cases []func()
		for _, word := range p.words(i) {
			cases = append(cases, func() { *p.box.lo.text[i], *p.box.hi.text[i] = word, word })
		}
		return p.either(depth, cases, func() { *p.box.lo.text[i], *p.box.hi.text[i] = "", "?" })
	}
	// Each cut is a piece by itself, so that < and <= differ.
	low, high := *p.box.lo.num[i], *p.box.hi.num[i]
	var cases []func()
	piece := func(a, b float64) {
		if a <= b {
			cases = append(cases, func() { *p.box.lo.num[i], *p.box.hi.num[i] = a, b })
		}
	}
	from := low
	for _, cut := range p.cuts[i] {
		if cut < low || cut > high {
			continue
		}
		piece(from, math.Nextafter(cut, math.Inf(-1)))
		piece(cut, cut)
		from = math.Nextafter(cut, math.Inf(1))
	}
	piece(from, high)
	return p.either(depth, cases, func() { *p.box.lo.num[i], *p.box.hi.num[i] = low, high })
}

// splitPair assumes each sign of a difference in turn.
func (p *prover) splitPair(depth int, at pair) finding {
	assume := func(s sign) func() {
		return func() {
			for _, n := range at.same {
				p.box.signs[n] = s
			}
			for _, n := range at.swapped {
				p.box.signs[n] = -s
			}
		}
	}
	return p.either(depth, []func(){assume(minus), assume(zero), assume(plus)}, func() {
		for _, n := range slices.Concat(at.same, at.swapped) {
			delete(p.box.signs, n)
		}
	})
}

// either searches each case.
func (p *prover) either(depth int, cases []func(), undo func()) finding {
	out := none
	for _, set := range cases {
		set()
		switch p.search(depth + 1) {
		case some:
			return some
		case undecided:
			out = undecided
		}
	}
	undo()
	return out
}

// words returns the words that a text can be, as far as conditions tell them
// apart.
func (p *prover) words(fact int) []string {
	if words := p.l.facts[fact].OneOf; len(words) > 0 {
		return words
	}
	var words []string
	for _, w := range p.want {
		words = w.when.wordsOf(fact, words)
	}
	return append(words, "") // any other
}

// wordsOf adds the words that n compares a fact with.
func (n *node) wordsOf(fact int, words []string) []string {
	for i, k := range n.kids {
		words = k.wordsOf(fact, words)
		if k.op != opFact || k.fact != fact {
			continue
		}
		switch n.op {
		case opInText:
			words = append(words, n.texts...)
		case opEqText:
			if other := n.kids[1-i]; other.op == opText {
				words = append(words, other.text)
			}
		}
	}
	return words
}

// tries is how many facts are drawn from a box before it is given up. Boxes
// are cut fine enough that most draws from one that holds any facts do.
const tries = 60

// try draws facts from the box, with those of hints where there are any, and
// reports whether some come out as wanted.
func (p *prover) try(hints []Example) bool {
	for range tries {
		for _, i := range p.facts {
			switch p.l.facts[i].Kind {
			case Number:
				lo, hi := *p.box.lo.num[i], *p.box.hi.num[i]
				*p.point.num[i] = lo + p.rng.Float64()*(hi-lo)
				if p.rng.IntN(3) == 0 { // equal quantities are found at the ends
					*p.point.num[i] = lo
				}
			case Text:
				word := *p.box.lo.text[i]
				if word != *p.box.hi.text[i] {
					words := p.words(i)
					word = words[p.rng.IntN(len(words))]
				}
				*p.point.text[i] = word
			default:
				*p.point.truth[i] = *p.box.lo.truth[i]
				if *p.box.hi.truth[i] != *p.point.truth[i] {
					*p.point.truth[i] = p.rng.IntN(2) == 0
				}
			}
		}
		for _, x := range hints {
			for path, v := range x.Facts {
				p.point.set(p.l.byPath[path], v)
			}
		}
		if !slices.ContainsFunc(p.want, func(w wanted) bool { return p.point.isTrue(w.when) != decided(w.as) }) {
			return true
		}
	}
	return false
}
