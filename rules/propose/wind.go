package propose

import "mallow/knowledge/head"

// LeastTurns and MostTurns are what a maker winds, from a wrap that closes over the
// ball to one that still fits an evening. Common practice, no source.
const LeastTurns, MostTurns = 60, 220

// wound returns the candidate with the turns of its yarn that score best by the
// reduced stroke: a search looks at a few wraps of each yarn alone. It climbs by
// ever smaller steps, so that a far better wrap beyond a worse one is missed. A
// wrap that a person has set, outside what is usual, stays.
func (j *Judging) wound(c Candidate, q Request) Candidate {
	w := c.Stack.Wrap
	if w == nil || w.Turns < LeastTurns || w.Turns > MostTurns {
		return c
	}
	most := q.Bin.Amount(w.Yarn.ID) / float64(q.Count())
	best, ok := j.Quick(c.Stack)
	if !ok {
		return c
	}
	for _, step := range []int{24, 12, 6, 3} {
		for _, by := range []int{step, -step} {
			for {
				at := *best.Stack.Wrap
				at.Turns += by
				if at.Turns < LeastTurns || at.Turns > MostTurns {
					break
				}
				st := best.Stack
				st.Wrap = &head.Wrap{}
				*st.Wrap = at
				next, ok := j.Quick(st)
				if !ok || next.Score <= best.Score || float64(next.Head.YarnMass) > most {
					break
				}
				best = next
			}
		}
	}
	return best
}
