package rules

import (
	"math/rand/v2"

	"mallow/knowledge/fault"
	"mallow/rules/schema"
	"mallow/rules/tally"
)

// Coverage puts n sets of facts, drawn by draw or by Draw when it is nil, to
// every rule.
func (b *Book[F]) Coverage(n int, draw func(*rand.Rand) F) tally.Coverage {
	return b.over(n, draw).coverage
}

// drawn is what the rules did over sets of facts.
type drawn struct {
	coverage tally.Coverage
	fired    []tally.Set  // by rule: on which of the sets
	unsaid   fault.Errors // texts that lacked a value
}

func (b *Book[F]) over(n int, draw func(*rand.Rand) F) drawn {
	if draw == nil {
		draw = b.Draw
	}
	rng := rand.New(rand.NewPCG(3, 4)) // the same sets every time
	d := drawn{coverage: tally.Coverage{Sets: n, Counts: make([]tally.Count, len(b.rules))}, fired: make([]tally.Set, len(b.rules))}
	for i, e := range b.rules {
		d.coverage.Counts[i].Rule, d.fired[i] = e.rule.ID, tally.NewSet(n)
	}
	said := make([]bool, len(b.rules)) // that it has no words
	f := bind[F](b.l.facts)
	for k := range n {
		f.facts = draw(rng)
		for i, e := range b.rules {
			if f.holds(e) != yes {
				continue
			}
			d.coverage.Counts[i].Fired++
			d.fired[i].Add(k)
			if !said[i] && !(e.reason.whole(&f.cells) && (e.change == nil || e.change.whole(&f.cells))) {
				said[i] = true
				d.unsaid = append(d.unsaid, e.problem(e.rule.Line, "guard against it in when: "+b.spell(&f.cells, e, e),
					"a text of rule %s can lack a finite value", e.rule.ID))
			}
		}
	}
	return d
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
		case schema.Number:
			low, high := f.Bounds()
			x := low + rng.Float64()*(high-low)
			if cuts := p.cuts[i]; len(cuts) > 0 && rng.IntN(2) == 0 {
				cut := cuts[rng.IntN(len(cuts))]
				x = min(max(cut+[]float64{-1, 0, 1}[rng.IntN(3)]*rng.Float64()*max(1, cut/4), low), high)
			}
			*c.num[i] = x
		case schema.Text:
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
	t := terms{map[int][]float64{}, map[int][]string{}}
	for i, f := range b.l.facts {
		if f.Kind == schema.Text {
			t.words[i] = f.OneOf
		}
	}
	for _, e := range b.rules {
		t.learn(b.l.facts, e.when)
	}
	for i, f := range b.l.facts {
		if f.Kind == schema.Text && len(f.OneOf) == 0 {
			t.words[i] = append(t.words[i], "") // any other
		}
	}
	return t
}

// learn notes the constants in n.
func (t terms) learn(list []schema.Fact, n *node) {
	for i, k := range n.kids {
		t.learn(list, k)
		if k.op != opFact {
			continue
		}
		open := k.kind == schema.Text && len(list[k.fact].OneOf) == 0
		switch other := n.kids[len(n.kids)-1-i]; {
		case n.op == opInNum:
			t.cuts[k.fact] = append(t.cuts[k.fact], n.nums...)
		case n.op == opInText && open:
			t.words[k.fact] = append(t.words[k.fact], n.texts...)
		case k.kind == schema.Number && other.op == opNumber:
			t.cuts[k.fact] = append(t.cuts[k.fact], other.num)
		case open && other.op == opText:
			t.words[k.fact] = append(t.words[k.fact], other.text)
		}
	}
}
