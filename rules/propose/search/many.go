package search

import (
	"math"

	"mallow/knowledge/head"
	"mallow/rules/propose/search/bounds"
	"mallow/rules/propose/search/kit"
	"mallow/rules/propose/search/turns"
)

// Where cores are many, most of them differ little, and are dropped together: a part
// of the cores of a root is bound as a whole, and its halves where it may hold a head
// of use.

// wornAs is what a wrap comes to as it was wound.
func wornAs(o *kit.Wrap, wd *head.Wound) bounds.Yarn {
	y := bounds.Yarn{MM: wd.Wall.MM(), Turns: float64(wd.Turns), TensionN: wd.TensionN, Grams: wd.Mass.Grams(), Cents: o.Cents * float64(wd.Mass), PackCents: o.Pack}
	if !o.None {
		y.Fibre, y.Latex, y.Chemicals = o.Wrap.Yarn.Fibre, o.Wrap.Fibre.Latex, o.Wrap.Fibre.Chemicals
	}
	return y
}

// yarn bounds some wraps over a node.
func (b *box) yarn(n *node, wraps []int) (s bounds.Yarns) {
	for _, i := range wraps {
		y := wornAs(&b.Wraps[i], b.wind(n, i))
		s.Hold(&y)
	}
	return s
}

// anyYarn bounds no yarn, and all yarns, over a node, and keeps that for the next core.
func (b *box) anyYarn(n *node) []bounds.Yarns {
	if b.overOn != n {
		b.over, b.overOn = b.over[:0], n
		for _, ends := range b.Covers {
			b.over = append(b.over, b.yarn(n, ends))
		}
	}
	return b.over
}

// softYarn is thickest of all wraps, kept for the next core.
func (b *box) softYarn(n *node) yarnBody {
	if b.softOn != n {
		b.soft, b.softOn = b.thickest(n, b.Ends), n
	}
	return b.soft
}

// topHere is the most that a head of a node may score, on some cores, bare or wound, whose softness is between least and most.
func (w *worker) topHere(n *node, on *kit.Span, least, most, enough float64) float64 {
	top := math.Inf(-1)
	for i := range w.Covers {
		w.under(n, on, &w.anyYarn(n)[i])
		if top = max(top, w.top(w.likes(n, n.depth), least, most, enough)); top >= enough {
			break
		}
	}
	return top
}

// part looks at the heads of a node on a part of the cores, which are no harder than
// least: first at all of them at once, then at its halves or core by core.
func (w *worker) part(n *node, p *kit.Part, wraps []int, least float64) {
	if w.spent() {
		return
	}
	on := p.Span()
	most, ok := w.holds(n, &on, least)
	if !ok {
		return
	}
	if wraps = w.screen(n, &on, wraps, least, most); !w.serve(n, &on, wraps, least, most) {
		return
	}
	if len(p.Cores) > 1 {
		if wraps = w.struck(n, &on, wraps, least, most); len(wraps) == 0 {
			return
		}
	}
	for _, half := range p.Halves {
		w.part(n, half, wraps, least)
	}
	if p.Halves != nil {
		return
	}
	for _, i := range p.Cores {
		w.forget()
		for class := range turns.Runs(wraps, w.ClassOf) {
			w.class(n, i, class, least, most)
		}
		w.keep()
	}
}

// struck returns which of some wraps may be of use on some cores, by how soft the least of each
// class is on the hardest of them, and the most of it on the softest: cores of one kind differ
// little under rubber and yarn.
func (w *worker) struck(n *node, on *kit.Span, wraps []int, least, most float64) (left []int) {
	for class := range turns.Runs(wraps, w.ClassOf) {
		list, _, _, _ := w.ends(n, on, class, least, most)
		left = append(left, list...)
	}
	return left
}
