// Package kit knows what a search may build from: balls on their shafts, tubing and wraps, and what bounds
// some balls together. It never looks for a head, nor judges one.
package kit

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

// Kit is what a search may build from: the catalogue, or a bin, less what the
// request leaves out.
type Kit struct {
	Roots []*Root
	Tubes []Tube
	Wraps []Wrap
	Hold  float64 // strike.Body.Hold

	Worlds bool // there are parts in inches and in millimetres

	// Classes are the wraps, by index, that differ only in how much yarn
	// there is, least first; All lists them class by class, Ends the first and last of
	// each, and Covers those of no yarn and those of any.
	Classes   [][]int
	All, Ends []int
	Covers    [][]int

	Usual []int     // wraps of plain heads: none, and a plain one
	Walls []float64 // of the tubing

	Shafts []knowledge.Shaft // the best for a middling head first
}

// Root is the cores of one size and family, over which slices fit alike.
type Root struct {
	Diameter measure.Length
	Family   string
	Cores    []Core

	*Part // of all of them
}

// Core is a core with the shaft that it would be put on.
type Core struct {
	Core     knowledge.Core
	Material knowledge.Material
	Shaft    *knowledge.Shaft
	Bare     head.Head // core and shaft alone
	Facts    facts.Head
	Body     strike.Core
	Struck   float64 // kg: the ball, and the shaft in it, as a stroke meets them
	Cents    float64 // of core and shaft
}

// Tube is tubing to cut slices of.
type Tube struct {
	Slice  head.Slice
	Rubber strike.Rubber // its wall is that of the fitted slice
	Cents  float64       // per metre
	Pack   float64       // cents a pack to buy, zero where there is some
	Stock  []float64     // lengths on hand, m; nil is any amount
}

// Wrap is a yarn and how full it is wound; no yarn is one as well.
type Wrap struct {
	Wrap  head.Wrap
	None  bool
	Yarn  strike.Yarn // its wall is that of the wound yarn
	Cents float64     // per kilogram
	Pack  float64     // cents a pack to buy, zero where there is some
	Most  float64     // kg on hand; +Inf is any amount
	Class int
}

// New collects the parts that a request may use.
func New(f *propose.Finder, q propose.Request, j *propose.Judging) *Kit {
	k := &Kit{}
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
		k.Tubes = append(k.Tubes, Tube{Slice: head.Slice{Tube: t, Rubber: m}, Cents: cents, Pack: pack, Stock: stock})
	}
	if q.Pin.Tubing != nil {
		k.Tubes = slices.DeleteFunc(k.Tubes, func(t Tube) bool { return !slices.Contains(q.Pin.Tubing, t.Slice.Tube.ID) })
	}
	if q.Pin.Yarn == "" && !without("no yarn") {
		k.Wraps = append(k.Wraps, Wrap{None: true, Most: math.Inf(1)})
	}
	for _, y := range f.Catalogue().Yarns {
		m, _ := f.Catalogue().Material(y.Fibre)
		most := q.Bin.Amount(y.ID) / heads
		if without(y.ID, m.ID, m.Family) || q.Pin.Yarn != "" && q.Pin.Yarn != y.ID || most <= 0 {
			continue
		}
		w := Wrap{Wrap: head.Wrap{Yarn: y, Fibre: m, TensionN: f.Hand(&j.Base)}, Cents: stock.CentsPer(y.Price, float64(y.Pack)), Pack: float64(y.Price), Most: most}
		if q.Bin.OnHand(y.ID) > 0 {
			w.Cents, w.Pack = 0, 0
		}
		for _, turns := range turns.Tried(y) {
			w.Wrap.Yarn.Wraps.Plain = turns // so that the plain wrap, scaled to the head, is this one
			k.Wraps = append(k.Wraps, w)
		}
	}
	k.Shafts = shafts.Ranked(f, q, j, without)
	for _, c := range f.Catalogue().Cores {
		m, _ := f.Catalogue().Material(c.Material)
		if without(c.ID, m.ID, m.Family) || !sold(c.ID) || q.Pin.Core != "" && q.Pin.Core != c.ID || q.Bin.Amount(c.ID) < heads {
			continue
		}
		at := slices.IndexFunc(k.Roots, func(r *Root) bool { return r.Diameter == c.Diameter && r.Family == m.Family })
		if at < 0 {
			at = len(k.Roots)
			k.Roots = append(k.Roots, &Root{Diameter: c.Diameter, Family: m.Family})
		}
		o := Core{Core: c, Material: m}
		for i := range k.Shafts {
			if shafts.Takes(c, &k.Shafts[i]) {
				o.Shaft = &k.Shafts[i]
				break
			}
		}
		if o.Shaft == nil && len(k.Shafts) > 0 {
			continue // nothing to hold it by
		}
		Bare(f, &o, &j.Base, q.Bin)
		k.Roots[at].Cores = append(k.Roots[at].Cores, o)
	}
	k.Worlds = k.bothWorlds()
	k.Roots = slices.DeleteFunc(k.Roots, func(r *Root) bool { return len(r.Cores) == 0 })
	slices.SortStableFunc(k.Roots, func(a, b *Root) int {
		return cmp.Or(cmp.Compare(a.Diameter, b.Diameter), cmp.Compare(a.Family, b.Family))
	})
	bodies(f, k)
	for _, r := range k.Roots {
		list := make([]int, len(r.Cores))
		for i := range list {
			list[i] = i
		}
		r.Part = partOf(r.Cores, list)
	}
	k.classify()
	return k
}

// bothWorlds reports whether balls and tubing are of both worlds of sizes.
func (k *Kit) bothWorlds() bool {
	seen := map[string]bool{}
	for _, t := range k.Tubes {
		seen[t.Slice.Tube.Supply] = true
	}
	for _, r := range k.Roots {
		for i := range r.Cores {
			seen[r.Cores[i].Core.Supply] = true
		}
	}
	return seen[propose.Inch] && seen[propose.Metric]
}

// classify groups the wraps of one yarn, of which more is softer. Of two yarns
// the thicker wrap need not be: it may be of fewer turns, and looser.
func (k *Kit) classify() {
	same := func(a, b *Wrap) bool {
		return a.None == b.None && a.Wrap.Yarn.ID == b.Wrap.Yarn.ID
	}
next:
	for i := range k.Wraps {
		for c, class := range k.Classes {
			if same(&k.Wraps[class[0]], &k.Wraps[i]) {
				k.Classes[c] = append(class, i)
				continue next
			}
		}
		k.Classes = append(k.Classes, []int{i})
	}
	var none, some []int
	for c, class := range k.Classes {
		slices.SortFunc(class, func(a, b int) int {
			return cmp.Compare(k.Wraps[a].Wrap.Yarn.Wraps.Plain, k.Wraps[b].Wrap.Yarn.Wraps.Plain)
		})
		for _, i := range class {
			k.Wraps[i].Class = c
		}
		k.All, k.Ends = append(k.All, class...), append(k.Ends, turns.Ends(class)...)
		if k.Wraps[class[0]].None {
			none = append(none, class...)
		} else {
			some = append(some, turns.Ends(class)...)
		}
		if k.Wraps[class[0]].None || len(k.Usual) == 0 || len(k.Usual) == 1 && k.Wraps[k.Usual[0]].None {
			k.Usual = append(k.Usual, class[len(class)/2])
		}
	}
	for _, ends := range [][]int{none, some} {
		if len(ends) > 0 {
			k.Covers = append(k.Covers, ends)
		}
	}
	for i := range k.Tubes {
		if w := float64(k.Tubes[i].Slice.Tube.Wall); !slices.Contains(k.Walls, w) {
			k.Walls = append(k.Walls, w)
		}
	}
}

// Bare computes what does not depend on slices and yarn.
func Bare(f *propose.Finder, o *Core, at *facts.Facts, bin *stock.Bin) {
	o.Bare = head.New(head.Stack{Core: o.Core, Material: o.Material, Shaft: o.Shaft}, f.Catalogue().Limits)
	c := propose.Candidate{Head: o.Bare, Facts: *at} // which end holds hangs on bench and maker
	f.Describe(&c, bin)
	o.Facts = c.Facts.Head
	o.Cents = c.Facts.Head.CostCents
}

// Reduce reduces a core on its shaft to what a stroke needs, and returns
// strike.Body.Hold.
func (o *Core) Reduce() float64 {
	b, _ := strike.FromHead(o.Bare) // what it can refuse, the catalogue has checked
	o.Body, o.Struck = b.Core, b.Mass
	return b.Hold
}

// bodies reduces the parts to what a stroke needs, each by way of a simple
// head that has it.
func bodies(f *propose.Finder, k *Kit) {
	for _, r := range k.Roots {
		for i := range r.Cores {
			k.Hold = r.Cores[i].Reduce()
		}
	}
	if len(k.Roots) == 0 {
		return
	}
	any := k.Roots[0].Cores[0].Bare.Stack
	for i := range k.Tubes {
		s := any
		s.Slices = []head.Slice{k.Tubes[i].Slice}
		b, _ := strike.FromHead(head.New(s, f.Catalogue().Limits))
		k.Tubes[i].Rubber = b.Rubber[0]
	}
	for i := range k.Wraps {
		if k.Wraps[i].None {
			continue
		}
		s := any
		s.Wrap = &k.Wraps[i].Wrap
		b, _ := strike.FromHead(head.New(s, f.Catalogue().Limits))
		k.Wraps[i].Yarn = b.Yarn
	}
}
