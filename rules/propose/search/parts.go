package search

import (
	"cmp"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search/shafts"
	"mallow/rules/propose/search/turns"
	"mallow/rules/stock"
)

// kit is what a search may build from: the catalogue, or a bin, less what the
// request leaves out.
type kit struct {
	roots []*root
	tubes []tubeOption
	wraps []wrapOption
	hold  float64 // strike.Body.Hold

	worlds bool // there are parts in inches and in millimetres

	// classes are the wraps, by index, that differ only in how much yarn
	// there is, least first; all lists them class by class, ends the first and last of
	// each, and yarns those of no yarn and those of any.
	classes   [][]int
	all, ends []int
	yarns     [][]int

	usual []int     // wraps of plain heads: none, and a plain one
	walls []float64 // of the tubing

	shafts []knowledge.Shaft // the best for a middling head first
}

// root is the cores of one size and family, over which slices fit alike.
type root struct {
	diameter measure.Length
	family   string
	cores    []coreOption

	*part // of all of them
}

// coreOption is a core with the shaft that it would be put on.
type coreOption struct {
	core     knowledge.Core
	material knowledge.Material
	shaft    *knowledge.Shaft
	bare     head.Head // core and shaft alone
	facts    facts.Head
	body     strike.Core
	struck   float64 // kg: the ball, and the shaft in it, as a stroke meets them
	cents    float64 // of core and shaft
}

type tubeOption struct {
	slice  head.Slice
	rubber strike.Rubber // its wall is that of the fitted slice
	cents  float64       // per metre
	pack   float64       // cents a pack to buy, zero where there is some
	stock  []float64     // lengths on hand, m; nil is any amount
}

// wrapOption is a yarn and how full it is wound; no yarn is one as well.
type wrapOption struct {
	wrap  head.Wrap
	none  bool
	yarn  strike.Yarn // its wall is that of the wound yarn
	cents float64     // per kilogram
	pack  float64     // cents a pack to buy, zero where there is some
	most  float64     // kg on hand; +Inf is any amount
	class int
}

// kit collects the parts that a request may use.
func newKit(f *propose.Finder, q propose.Request, j *propose.Judging) *kit {
	k := &kit{}
	without := func(ids ...string) bool {
		return slices.ContainsFunc(ids, func(id string) bool { return slices.Contains(q.Pin.Without, id) })
	}
	heads := float64(q.Count())
	sold := f.Sold(q)
	for _, t := range f.Catalogue().Tubing {
		m, _ := f.Catalogue().Material(t.Material)
		stock, cents, pack := q.Bin.Lengths(t.ID), stock.CentsPer(t.Price, float64(t.Pack)), float64(t.Price)
		if q.Bin.OnHand(t.ID) > 0 {
			cents, pack = 0, 0
		}
		if without(t.ID, m.ID, m.Family) || !sold(t.ID) || q.Bin != nil && stock == nil {
			continue
		}
		k.tubes = append(k.tubes, tubeOption{slice: head.Slice{Tube: t, Rubber: m}, cents: cents, pack: pack, stock: stock})
	}
	if q.Pin.Tubing != nil {
		k.tubes = slices.DeleteFunc(k.tubes, func(t tubeOption) bool { return !slices.Contains(q.Pin.Tubing, t.slice.Tube.ID) })
	}
	if q.Pin.Yarn == "" && !without("no yarn") {
		k.wraps = append(k.wraps, wrapOption{none: true, most: math.Inf(1)})
	}
	for _, y := range f.Catalogue().Yarns {
		m, _ := f.Catalogue().Material(y.Fibre)
		most := q.Bin.Amount(y.ID) / heads
		if without(y.ID, m.ID, m.Family) || q.Pin.Yarn != "" && q.Pin.Yarn != y.ID || most <= 0 {
			continue
		}
		w := wrapOption{wrap: head.Wrap{Yarn: y, Fibre: m, TensionN: f.Hand(&j.Base)}, cents: stock.CentsPer(y.Price, float64(y.Pack)), pack: float64(y.Price), most: most}
		if q.Bin.OnHand(y.ID) > 0 {
			w.cents, w.pack = 0, 0
		}
		for _, turns := range turns.Tried(y) {
			w.wrap.Yarn.Wraps.Plain = turns // so that the plain wrap, scaled to the head, is this one
			k.wraps = append(k.wraps, w)
		}
	}
	k.shafts = shafts.Ranked(f, q, j, without)
	for _, c := range f.Catalogue().Cores {
		m, _ := f.Catalogue().Material(c.Material)
		if without(c.ID, m.ID, m.Family) || !sold(c.ID) || q.Pin.Core != "" && q.Pin.Core != c.ID || q.Bin.Amount(c.ID) < heads {
			continue
		}
		at := slices.IndexFunc(k.roots, func(r *root) bool { return r.diameter == c.Diameter && r.family == m.Family })
		if at < 0 {
			at = len(k.roots)
			k.roots = append(k.roots, &root{diameter: c.Diameter, family: m.Family})
		}
		o := coreOption{core: c, material: m}
		for i := range k.shafts {
			if shafts.Takes(c, &k.shafts[i]) {
				o.shaft = &k.shafts[i]
				break
			}
		}
		if o.shaft == nil && len(k.shafts) > 0 {
			continue // nothing to hold it by
		}
		bare(f, &o, &j.Base, q.Bin)
		k.roots[at].cores = append(k.roots[at].cores, o)
	}
	k.worlds = k.bothWorlds()
	k.roots = slices.DeleteFunc(k.roots, func(r *root) bool { return len(r.cores) == 0 })
	slices.SortStableFunc(k.roots, func(a, b *root) int {
		return cmp.Or(cmp.Compare(a.diameter, b.diameter), cmp.Compare(a.family, b.family))
	})
	bodies(f, k)
	for _, r := range k.roots {
		list := make([]int, len(r.cores))
		for i := range list {
			list[i] = i
		}
		r.part = partOf(r.cores, list)
	}
	k.classify()
	return k
}

// bothWorlds reports whether balls and tubing are of both worlds of sizes.
func (k *kit) bothWorlds() bool {
	seen := map[string]bool{}
	for _, t := range k.tubes {
		seen[t.slice.Tube.Supply] = true
	}
	for _, r := range k.roots {
		for i := range r.cores {
			seen[r.cores[i].core.Supply] = true
		}
	}
	return seen[propose.Inch] && seen[propose.Metric]
}

// mixed reports whether a stack mixes the worlds of sizes.
func (s *Search) mixed(st head.Stack) bool {
	if !s.worlds {
		return false
	}
	for i := range st.Slices {
		tube := st.Slices[i].Tube.ID
		if s.f.Mixes(s.q, st.Core.ID, tube) || i > 0 && s.f.Mixes(s.q, st.Slices[i-1].Tube.ID, tube) {
			return true
		}
	}
	return false
}

// mixes reports whether a tubing over a node would mix the worlds in one head.
func (s *Search) mixes(n *node, tube string) bool {
	for _, c := range n.root.cores {
		if s.f.Mixes(s.q, c.core.ID, tube) {
			return true
		}
	}
	for at := n; at.up != nil; at = at.up {
		if s.f.Mixes(s.q, s.tubes[at.tube].slice.Tube.ID, tube) {
			return true
		}
	}
	return false
}

// classify groups the wraps of one yarn, of which more is softer. Of two yarns
// the thicker wrap need not be: it may be of fewer turns, and looser.
func (k *kit) classify() {
	same := func(a, b *wrapOption) bool {
		return a.none == b.none && a.wrap.Yarn.ID == b.wrap.Yarn.ID
	}
next:
	for i := range k.wraps {
		for c, class := range k.classes {
			if same(&k.wraps[class[0]], &k.wraps[i]) {
				k.classes[c] = append(class, i)
				continue next
			}
		}
		k.classes = append(k.classes, []int{i})
	}
	var none, some []int
	for c, class := range k.classes {
		slices.SortFunc(class, func(a, b int) int {
			return cmp.Compare(k.wraps[a].wrap.Yarn.Wraps.Plain, k.wraps[b].wrap.Yarn.Wraps.Plain)
		})
		for _, i := range class {
			k.wraps[i].class = c
		}
		k.all, k.ends = append(k.all, class...), append(k.ends, turns.Ends(class)...)
		if k.wraps[class[0]].none {
			none = append(none, class...)
		} else {
			some = append(some, turns.Ends(class)...)
		}
		if k.wraps[class[0]].none || len(k.usual) == 0 || len(k.usual) == 1 && k.wraps[k.usual[0]].none {
			k.usual = append(k.usual, class[len(class)/2])
		}
	}
	for _, ends := range [][]int{none, some} {
		if len(ends) > 0 {
			k.yarns = append(k.yarns, ends)
		}
	}
	for i := range k.tubes {
		if w := float64(k.tubes[i].slice.Tube.Wall); !slices.Contains(k.walls, w) {
			k.walls = append(k.walls, w)
		}
	}
}

// bare computes what does not depend on slices and yarn.
func bare(f *propose.Finder, o *coreOption, at *facts.Facts, bin *stock.Bin) {
	o.bare = head.New(head.Stack{Core: o.core, Material: o.material, Shaft: o.shaft}, f.Catalogue().Limits)
	c := propose.Candidate{Head: o.bare, Facts: *at} // which end holds hangs on bench and maker
	f.Describe(&c, bin)
	o.facts = c.Facts.Head
	o.cents = c.Facts.Head.CostCents
}

// reduce reduces a core on its shaft to what a stroke needs, and returns
// strike.Body.Hold.
func (o *coreOption) reduce() float64 {
	b, _ := strike.FromHead(o.bare) // what it can refuse, the catalogue has checked
	o.body, o.struck = b.Core, b.Mass
	return b.Hold
}

// bodies reduces the parts to what a stroke needs, each by way of a simple
// head that has it.
func bodies(f *propose.Finder, k *kit) {
	for _, r := range k.roots {
		for i := range r.cores {
			k.hold = r.cores[i].reduce()
		}
	}
	if len(k.roots) == 0 {
		return
	}
	any := k.roots[0].cores[0].bare.Stack
	for i := range k.tubes {
		s := any
		s.Slices = []head.Slice{k.tubes[i].slice}
		b, _ := strike.FromHead(head.New(s, f.Catalogue().Limits))
		k.tubes[i].rubber = b.Rubber[0]
	}
	for i := range k.wraps {
		if k.wraps[i].none {
			continue
		}
		s := any
		s.Wrap = &k.wraps[i].wrap
		b, _ := strike.FromHead(head.New(s, f.Catalogue().Limits))
		k.wraps[i].yarn = b.Yarn
	}
}
