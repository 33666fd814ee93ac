package rules

import (
	"math/rand/v2"

	"mallow/knowledge/fault"
)

// Coverage counts what the rules of a book did over many sets of facts.
type Coverage struct {
	Sets   int     `json:"sets"`
	Counts []Count `json:"counts"` // in the order of the book
	unsaid fault.Errors
}

// Count is how often a rule fired.
type Count struct {
	Rule  string `json:"rule"`
	Fired int    `json:"fired"`
}

// Quiet returns the rules that never fired.
func (c Coverage) Quiet() []string {
	var ids []string
	for _, n := range c.Counts {
		if n.Fired == 0 {
			ids = append(ids, n.Rule)
		}
	}
	return ids
}

// Coverage puts n sets of facts, drawn by draw or by Draw when it is nil, to
// every rule.
func (b *Book[F]) Coverage(n int, draw func(*rand.Rand) F) Coverage {
	if draw == nil {
		draw = b.Draw
	}
	rng := rand.New(rand.NewPCG(3, 4)) // the same sets every time
	c := Coverage{Sets: n, Counts: make([]Count, len(b.rules))}
	for i, e := range b.rules {
		c.Counts[i].Rule = e.rule.ID
	}
	said := make([]bool, len(b.rules)) // that it has no words
	f := bind[F](b.l.facts)
	for range n {
		f.facts = draw(rng)
		for i, e := range b.rules {
			if f.holds(e) != yes {
				continue
			}
			c.Counts[i].Fired++
			if !said[i] && !(e.reason.whole(&f.cells) && (e.change == nil || e.change.whole(&f.cells))) {
				said[i] = true
				c.unsaid = append(c.unsaid, e.problem(e.rule.Line, "guard against it in when: "+b.spell(&f.cells, e, e),
					"a text of rule %s can lack a finite value", e.rule.ID))
			}
		}
	}
	return c
}

// Draw draws facts at random: words out of their vocabulary, and numbers out
// of their range, half of them near the constants that rules compare them
// with. Facts drawn so do not fit together as those of a real head do.
func (b *Book[F]) Draw(rng *rand.Rand) F {
	p := b.terms()
	c := b.pool.Get().(*bound[F])
	defer b.pool.Put(c)
	for i, f := range b.l.facts {
		switch f.Kind {
		case Number:
			low, high := f.bounds()
			x := low + rng.Float64()*(high-low)
			if cuts := p.cuts[i]; len(cuts) > 0 && rng.IntN(2) == 0 {
				cut := cuts[rng.IntN(len(cuts))]
				x = min(max(cut+[]float64{-1, 0, 1}[rng.IntN(3)]*rng.Float64()*max(1, cut/4), low), high)
			}
			*c.num[i] = x
		case Text:
			words := p.words[i]
			*c.text[i] = words[rng.IntN(len(words))]
		default:
			*c.truth[i] = rng.IntN(2) == 0
		}
	}
	return c.facts
}

// terms are the constants that the rules of a book compare facts with.
type terms struct {
	cuts  map[int][]float64
	words map[int][]string
}

func (b *Book[F]) gather() terms {
	p := &prover{l: b.l, cuts: map[int][]float64{}}
	for _, e := range b.rules {
		p.want = append(p.want, wanted{e.when, true})
		p.learn(e.when, map[string]*pair{})
	}
	t := terms{p.cuts, map[int][]string{}}
	for i, f := range b.l.facts {
		if f.Kind == Text {
			t.words[i] = p.words(i)
		}
	}
	return t
}
