package search

import (
	"cmp"
	"slices"

	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search/shafts"
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
func (s *Search) alternatives(best propose.Candidate, from *found) ([]propose.Alternative, error) {
	b := best.Facts.Head
	near := s.relatives(from)
	var list []propose.Alternative
	done := map[string]bool{best.Stack.String(): true}
	for _, k := range kinds() {
		var x *found
		for _, list := range [][]found{near, s.seen} { // each sorted, best first
			at := slices.IndexFunc(list, func(x found) bool { return k.is(&b, &x.facts) })
			if at >= 0 && (x == nil || list[at].score > x.score) {
				x = &list[at]
			}
		}
		if x == nil {
			continue
		}
		st := s.stack(x)
		if sh := best.Stack.Shaft; sh != nil && shafts.Takes(st.Core, sh) {
			st.Shaft = sh
		}
		if done[st.String()] {
			continue
		}
		done[st.String()] = true
		full, err := s.f.Consider(st, s.q)
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

// relatives returns the heads one change away from one that no rule refuses, best
// first.
func (s *Search) relatives(x *found) []found {
	workers := s.workers()
	list := s.near(workers[0], x)
	s.share(workers, list, func(w *worker, t task) {
		if t.class == anyYarn {
			return
		}
		wrap := x.wrap
		if class := w.Classes[t.class]; !slices.Contains(class, wrap) {
			wrap = class[len(class)/2]
		}
		if r, ok := w.weigh(t.n, t.core, wrap); ok {
			w.plain = append(w.plain, r)
		}
	})
	var out []found
	for _, w := range workers {
		out = append(out, w.plain...)
	}
	slices.SortFunc(out, func(a, b found) int { return a.compare(&b) })
	return out
}
