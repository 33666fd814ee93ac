package search

import (
	"cmp"
	"slices"

	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// kind is a way in which an alternative differs from the best: by enough to
// be worth showing.
type kind struct {
	name string
	is   func(best, h *facts.Head) bool
}

func kinds() []kind {
	return []kind{
		{"softer", func(b, h *facts.Head) bool { return h.Softness >= b.Softness+1.5 }},
		{"harder", func(b, h *facts.Head) bool { return h.Softness <= b.Softness-1.5 }},
		{"lighter", func(b, h *facts.Head) bool { return h.MassG <= 0.88*b.MassG }},
		{"smaller", func(b, h *facts.Head) bool { return h.DiameterMM <= b.DiameterMM-2 }},
		{"cheaper", func(b, h *facts.Head) bool { return h.CostCents <= 0.8*b.CostCents-1 }},
		{"other core", func(b, h *facts.Head) bool { return h.Core != b.Core }},
		{"fewer layers", func(b, h *facts.Head) bool { return h.Layers < b.Layers }},
		{"no latex", func(b, h *facts.Head) bool { return b.Latex && !h.Latex }},
	}
}

// alternatives returns a head of each kind that there is, best first. Each is
// the best of its kind among the heads that the search looked at closely and
// those that are one change away from the best: near relatives, which a maker
// can compare part by part. A head that is the best of several kinds stands
// once, under the first.
func (s *Search) alternatives(best propose.Candidate) ([]propose.Alternative, error) {
	b := best.Facts.Head
	near := s.relatives(best.Stack)
	var list []propose.Alternative
	done := map[string]bool{best.Stack.String(): true}
	for _, k := range kinds() {
		var c *propose.Candidate
		for i := range near {
			if x := &near[i]; k.is(&b, &x.Facts.Head) && (c == nil || x.Score > c.Score) {
				c = x
			}
		}
		for i := range s.seen { // sorted, best first
			if x := &s.seen[i]; k.is(&b, &x.facts) {
				if c == nil || x.score > c.Score {
					sketch := s.sketch(x)
					c = &sketch
				}
				break
			}
		}
		if c == nil || done[c.Stack.String()] {
			continue
		}
		done[c.Stack.String()] = true
		full, err := s.f.Consider(c.Stack, s.q)
		if err != nil {
			return nil, err
		}
		if full.Refused() != nil || !k.is(&b, &full.Facts.Head) {
			continue // by the full stroke it is no longer what it was taken for
		}
		list = append(list, propose.Alternative{Candidate: full, Kind: k.name, Trades: propose.Trades(&b, &full.Facts.Head)})
	}
	slices.SortStableFunc(list, func(a, b propose.Alternative) int { return cmp.Compare(b.Score, a.Score) })
	return list, nil
}

// relatives returns the heads one change away from a stack that no rule
// refuses.
func (s *Search) relatives(st head.Stack) []propose.Candidate {
	var list []head.Stack
	for _, e := range s.Edits(Edited{Stack: st}) {
		list = append(list, e.Stack)
	}
	return s.quickAll(list)
}
