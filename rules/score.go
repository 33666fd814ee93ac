package rules

// Scorer puts many sets of facts to the rules on one thing that refuse or
// prefer. It is for one goroutine.
type Scorer[F any] struct {
	refuse []*entry
	prefer []*entry
	bound  *bound[F]
}

// Scorer returns a scorer for the rules on the thing named.
func (b *Book[F]) Scorer(on string, known Known) *Scorer[F] {
	s := &Scorer[F]{bound: bind[F](b.l.facts)}
	s.bound.known = knownOf(b.l.facts, known)
	for _, e := range b.rules {
		switch {
		case e.rule.On != on:
		case e.rule.Do == Refuse:
			s.refuse = append(s.refuse, e)
		case e.rule.Do == Prefer:
			s.prefer = append(s.prefer, e)
		}
	}
	return s
}

// Score returns the sum of the weights of the prefer rules that fire on f,
// or the first rule that refuses it. It allocates nothing.
func (s *Scorer[F]) Score(f *F) (score float64, refused *Rule) {
	s.bound.facts = *f
	for _, e := range s.refuse {
		if s.bound.holds(e) == yes {
			return 0, e.rule
		}
	}
	for _, e := range s.prefer {
		if s.bound.holds(e) == yes {
			score += e.rule.Weight
		}
	}
	return score, nil
}
