package rules

import (
	"math"
	"slices"

	"mallow/rules/schema"
)

// Bounder puts whole boxes of facts to the rules on one thing that refuse or
// prefer: a search drops a box that they refuse, or can't like well enough,
// without looking at any of the heads in it. From box to box it puts only the
// rules anew that read what has changed. It is for one goroutine.
type Bounder[F any] struct {
	refuse, prefer []*judged
	lo, hi         *bound[F]
	box            box
	facts          []schema.Fact
	corners        []interface{ notice() }
}

// judged is a rule and what it came to over the last box.
type judged struct {
	*entry
	can   verdicts
	stale bool // it reads what has changed since
}

// corner is a fact at both corners, as it was in the last box, and the rules that
// read it.
type corner[V comparable] struct {
	lo, hi       *V
	wasLo, wasHi V
	readers      []*judged
}

func (c *corner[V]) notice() {
	if lo, hi := *c.lo, *c.hi; lo != c.wasLo || hi != c.wasHi {
		c.wasLo, c.wasHi = lo, hi
		for _, r := range c.readers {
			r.stale = true
		}
	}
}

// Bounder returns a bounder for the rules on the thing named. Facts that are
// not known are known nowhere in the boxes.
func (b *Book[F]) Bounder(on string, known Known) *Bounder[F] {
	sc := b.Scorer(on, known)
	return newBounder[F](b.l.facts, sc.bound.known, sc.refuse, sc.prefer)
}

func newBounder[F any](list []schema.Fact, known []bool, refuse, prefer []*entry) *Bounder[F] {
	s := &Bounder[F]{lo: bind[F](list), hi: bind[F](list), facts: list}
	s.lo.known, s.box = known, box{lo: &s.lo.cells, hi: &s.hi.cells}
	readers, reads := make([][]*judged, len(list)), []int{}
	watch := func(entries []*entry) []*judged {
		all := make([]*judged, len(entries))
		for i, e := range entries {
			all[i] = &judged{entry: e, stale: true}
			reads = e.when.reads(reads[:0])
			for _, fact := range reads {
				readers[fact] = append(readers[fact], all[i])
			}
		}
		return all
	}
	s.refuse, s.prefer = watch(refuse), watch(prefer)
	for i, r := range readers {
		switch lo, hi := &s.lo.cells, &s.hi.cells; {
		case r == nil:
		case lo.num[i] != nil:
			s.corners = append(s.corners, &corner[float64]{lo: lo.num[i], hi: hi.num[i], readers: r})
		case lo.text[i] != nil:
			s.corners = append(s.corners, &corner[string]{lo: lo.text[i], hi: hi.text[i], readers: r})
		default:
			s.corners = append(s.corners, &corner[bool]{lo: lo.truth[i], hi: hi.truth[i], readers: r})
		}
	}
	return s
}

// put moves the corners, and notices which rules that touches.
func (s *Bounder[F]) put(lo, hi *F) {
	s.lo.facts, s.hi.facts = *lo, *hi
	for _, c := range s.corners {
		c.notice()
	}
}

// over is what a rule comes to over the box.
func (s *Bounder[F]) over(r *judged) verdicts {
	if r.stale {
		r.can, r.stale = s.box.truth(r.when), false
	}
	return r.can
}

// Within returns a bounder and a scorer that agree with s, and with the book's
// own scorer, on any facts between lo and hi, and are quicker: they leave out
// the rules that can't fire there, and what hangs only on facts that are the
// same in lo and hi is worked out once.
func (s *Bounder[F]) Within(lo, hi *F) (*Bounder[F], *Scorer[F]) {
	s.put(lo, hi)
	fixed := s.box.fixed()
	keep := func(list []*judged, fires verdicts) (kept []*entry) {
		for _, r := range list {
			if s.over(r)&fires != 0 {
				kept = append(kept, &entry{rule: r.rule, when: s.lo.fold(r.when, fixed)})
			}
		}
		return kept
	}
	sc := &Scorer[F]{refuse: keep(s.refuse, canYes|canBroken), prefer: keep(s.prefer, canYes), bound: bind[F](s.facts)}
	sc.bound.known = s.lo.known
	return newBounder[F](s.facts, s.lo.known, sc.refuse, sc.prefer), sc
}

// Bound returns the most that Score can return for any facts between lo and
// hi, and a rule that refuses them all when there is one. Every number lies
// between its values in lo and hi, ends included; lo may be -Inf and hi +Inf.
// A text or a truth is as in lo where lo and hi agree, and may be anything
// where they differ. It allocates nothing.
func (s *Bounder[F]) Bound(lo, hi *F) (most float64, refused *Rule) {
	s.put(lo, hi)
	for _, r := range s.refuse {
		if s.over(r)&^(canYes|canBroken) == 0 {
			return math.Inf(-1), r.rule
		}
	}
	for _, r := range s.prefer {
		v := s.over(r)
		if w := r.rule.Weight; w > 0 && v&canYes != 0 || v == canYes {
			most += w
		}
	}
	return most, nil
}

// box is two corners of a box of facts; lo says which are known.
type box struct{ lo, hi *cells }

// fixed tells which facts are the same all over the box.
func (b box) fixed() []bool {
	same := make([]bool, len(b.lo.num))
	for i := range same {
		n, t, u := b.lo.num[i], b.lo.text[i], b.lo.truth[i]
		same[i] = n != nil && *n == *b.hi.num[i] || t != nil && *t == *b.hi.text[i] || u != nil && *u == *b.hi.truth[i]
	}
	return same
}

// verdicts is a set of verdicts, one bit each: those that some facts in a box
// may meet.
type verdicts uint8

const (
	canNo      verdicts = 1 << no
	canYes     verdicts = 1 << yes
	canUnknown verdicts = 1 << unknown
	canBroken  verdicts = 1 << broken
	either              = canNo | canYes
)

func (v verdicts) not() verdicts {
	return v&^either | v&canNo<<1 | v&canYes>>1
}

// truth is isTrue over a box. It treats the two sides of an expression as if
// they moved freely of each other, so it may say "either" where the truth is
// fixed, but never the other way about.
func (b box) truth(n *node) verdicts {
	switch n.op {
	case opFact:
		switch {
		case b.lo.known != nil && !b.lo.known[n.fact]:
			return canUnknown
		case *b.lo.truth[n.fact] != *b.hi.truth[n.fact]:
			return either
		}
		return 1 << decided(*b.lo.truth[n.fact])
	case opTruth:
		return 1 << decided(n.truth)
	case opNot:
		return b.truth(n.kids[0]).not()
	case opAnd:
		x := b.truth(n.kids[0])
		if x == canNo {
			return x
		}
		y := b.truth(n.kids[1])
		var out verdicts
		if (x|y)&canNo != 0 {
			out |= canNo
		}
		if x&y&canYes != 0 {
			out |= canYes
		}
		if x != canNo && y != canNo {
			out |= (x | y) &^ either
		}
		return out
	case opOr:
		x := b.truth(n.kids[0])
		if x == canYes {
			return x
		}
		y := b.truth(n.kids[1])
		var out verdicts
		if (x|y)&canYes != 0 {
			out |= canYes
		}
		if x&y&canNo != 0 {
			out |= canNo
		}
		if y != canYes {
			out |= (x | y) &^ either
		}
		return out
	case opIf:
		x := b.truth(n.kids[0])
		out := x &^ either
		if x&canYes != 0 {
			out |= b.truth(n.kids[1])
		}
		if x&canNo != 0 {
			out |= b.truth(n.kids[2])
		}
		return out
	case opEqTruth:
		x, y := b.truth(n.kids[0]), b.truth(n.kids[1])
		out := (x | y) &^ either
		if x&y&either != 0 {
			out |= canYes
		}
		if x.not()&y&either != 0 {
			out |= canNo
		}
		return out
	case opEqText:
		x, fixedX, vx := b.text(n.kids[0])
		y, fixedY, vy := b.text(n.kids[1])
		out := (vx | vy) &^ either
		switch {
		case vx&vy&canYes == 0:
		case !fixedX || !fixedY:
			out |= either
		default:
			out |= 1 << decided(x == y)
		}
		return out
	case opInText:
		x, fixed, v := b.text(n.kids[0])
		out := v &^ either
		switch {
		case v&canYes == 0:
		case !fixed:
			out |= either
		default:
			out |= 1 << decided(slices.Contains(n.texts, x))
		}
		return out
	case opInNum:
		x, v := b.number(n.kids[0])
		out := v &^ either
		if v&canYes != 0 {
			switch {
			case x.lo == x.hi:
				out |= 1 << decided(slices.Contains(n.nums, x.lo))
			case slices.ContainsFunc(n.nums, func(m float64) bool { return x.lo <= m && m <= x.hi }):
				out |= either
			default:
				out |= canNo
			}
		}
		return out
	}
	x, vx := b.number(n.kids[0])
	y, vy := b.number(n.kids[1])
	out := (vx | vy) &^ either
	if vx&vy&canYes == 0 {
		return out
	}
	if n.op == opCompare {
		return out | n.by.can(x, y)
	}
	switch {
	case x.hi < y.lo || y.hi < x.lo:
		return out | canNo
	case x.lo == x.hi && y.lo == y.hi:
		return out | canYes
	}
	return out | either
}

// text is textOf over a box; fixed says that it is the same everywhere.
func (b box) text(n *node) (s string, fixed bool, v verdicts) {
	switch n.op {
	case opFact:
		if b.lo.known != nil && !b.lo.known[n.fact] {
			return "", false, canUnknown
		}
		s := *b.lo.text[n.fact]
		return s, s == *b.hi.text[n.fact], canYes
	case opIf:
		switch x := b.truth(n.kids[0]); x {
		case canYes:
			return b.text(n.kids[1])
		case canNo:
			return b.text(n.kids[2])
		default:
			_, _, v1 := b.text(n.kids[1])
			_, _, v2 := b.text(n.kids[2])
			return "", false, x&^either | v1 | v2
		}
	case opString:
		_, v := b.number(n.kids[0])
		return "", false, v
	case opJoin:
		_, _, v1 := b.text(n.kids[0])
		_, _, v2 := b.text(n.kids[1])
		return "", false, v1 | v2
	}
	return n.text, true, canYes
}

// span is the numbers from lo to hi.
type span struct{ lo, hi float64 }

func (x span) less(y span) verdicts {
	switch {
	case x.hi < y.lo:
		return canYes
	case x.lo >= y.hi:
		return canNo
	}
	return either
}

func (x span) join(y span) span { return span{min(x.lo, y.lo), max(x.hi, y.hi)} }

// number is numberOf over a box. A number that may come out infinite or
// undefined is taken to be anything, and broken as well.
func (b box) number(n *node) (span, verdicts) {
	var x span
	v := canYes
	switch n.op {
	case opNumber:
		return span{n.num, n.num}, v
	case opFact:
		if b.lo.known != nil && !b.lo.known[n.fact] {
			return x, canUnknown
		}
		return span{*b.lo.num[n.fact], *b.hi.num[n.fact]}, v
	case opIf:
		t := b.truth(n.kids[0])
		v = t &^ either
		first := true
		for i, side := range []verdicts{canYes, canNo} {
			if t&side == 0 {
				continue
			}
			y, vy := b.number(n.kids[i+1])
			v |= vy
			if first {
				x, first = y, false
			} else {
				x = x.join(y)
			}
		}
		return x, v
	}
	x, v = b.number(n.kids[0])
	if n.by.one != nil {
		return n.by.over1(x), v
	}
	for _, k := range n.kids[1:] {
		y, vy := b.number(k)
		if v&vy&canYes == 0 {
			return x, (v | vy) &^ canYes
		}
		v |= vy
		if x.lo == x.hi && y.lo == y.hi {
			r := n.by.two(x.lo, y.lo)
			if r-r != 0 {
				return x, v&^canYes | canBroken
			}
			x = span{r, r}
			continue
		}
		x = n.by.over2(x, y)
		if math.IsNaN(x.lo) || math.IsNaN(x.hi) {
			x = span{math.Inf(-1), math.Inf(1)}
			v |= canBroken
		}
	}
	return x, v
}
