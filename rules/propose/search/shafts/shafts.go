// Package shafts knows which shafts hold a core, and which the rules like best under a
// middling head. It never looks at slices and yarn, nor chooses a shaft for a head.
package shafts

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// Takes reports whether a core can be put on a shaft: its bore is the shaft's
// size to a hair, or it is drilled for it and keeps half its width.
func Takes(c knowledge.Core, s *knowledge.Shaft) bool {
	if c.Bore > 0 {
		return math.Abs(float64(c.Bore-s.Diameter)) < float64(measure.Inch)/128
	}
	return s.Diameter <= c.Diameter/2
}

// Ranked returns the shafts that may be used, the best first.
//
// The shaft barely touches the sound, and none of the head's layers: the search
// takes the one that fits a core which the rules like best under a middling head,
// then the cheapest; under the best heads found, the others are tried as well.
func Ranked(f *propose.Finder, q propose.Request, j *propose.Judging, without func(...string) bool) []knowledge.Shaft {
	type ranked struct {
		shaft knowledge.Shaft
		score float64
		cents float64
	}
	var list []ranked
	reads := map[*rules.Rule][]string{} // of the rules on heads that read facts of the shaft; nil of others
	ofShaft := func(r *rules.Rule) bool {
		paths, ok := reads[r]
		if !ok {
			if paths = f.Book().Reads(r); r.On != "head" || !slices.ContainsFunc(paths, shaftFact) {
				paths = nil
			}
			reads[r] = paths
		}
		return paths != nil
	}
	sold := f.Sold(q)
	for _, s := range f.Catalogue().Shafts {
		if without(s.ID, s.Material) || !sold(s.ID) || q.Pin.Shaft != "" && q.Pin.Shaft != s.ID || q.Bin.Amount(s.ID) < float64(q.Count()) {
			continue
		}
		core := slices.MaxFunc(f.Catalogue().Cores, func(a, b knowledge.Core) int { return cmp.Compare(a.Diameter, b.Diameter) })
		core.Bore = s.Diameter // as it will be
		m, _ := f.Catalogue().Material(core.Material)
		c := propose.Candidate{Head: head.New(head.Stack{Core: core, Material: m, Shaft: &s}, f.Catalogue().Limits), Facts: j.Base}
		f.Describe(&c, q.Bin)
		r := ranked{shaft: s, cents: stock.ShaftCents(&s)}
		refused := false
		for _, x := range f.Book().AskOf(ofShaft, c.Facts, nil) {
			if x.State != rules.Fired {
				continue
			}
			switch x.Rule.Do {
			case rules.Refuse: // of this shaft in any core, not of this core
				refused = refused || !slices.ContainsFunc(reads[x.Rule], otherHeadFact)
			case rules.Prefer:
				r.score += x.Rule.Weight
			}
		}
		if !refused {
			list = append(list, r)
		}
	}
	slices.SortStableFunc(list, func(a, b ranked) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.cents, b.cents))
	})
	out := make([]knowledge.Shaft, len(list))
	for i := range list {
		out[i] = list[i].shaft
	}
	return out
}

// otherHeadFact reports whether a fact is of the head and not of its shaft.
func otherHeadFact(path string) bool {
	return strings.HasPrefix(path, "head.") && !shaftFact(path)
}

func shaftFact(path string) bool {
	return path == facts.HeadShaft || path == facts.HeadShaftMM || path == facts.HeadShaftLong || path == facts.HeadInertiaGM2
}
