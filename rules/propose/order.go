package propose

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/propose/cutting"
)

// Make is a number of heads alike.
type Make struct {
	Head  head.Head
	Heads int
}

// Order is what to buy, and how to cut it.
type Order struct {
	Lines []Line        `json:"lines"`
	Total measure.Money `json:"total"`
}

// Line is one part of an order. Amounts are in pieces, or in metres for tubing
// and yarn.
type Line struct {
	Kind  string        `json:"kind"` // core, tubing, yarn, shaft or adhesive
	Part  string        `json:"part"`
	Name  string        `json:"name"`
	Unit  string        `json:"unit"` // pieces or m
	Need  float64       `json:"need"` // for the heads
	Spare float64       `json:"spare"`
	Have  float64       `json:"have"` // on hand
	Packs int           `json:"packs"`
	Pack  float64       `json:"pack"` // amount in a pack
	Price measure.Money `json:"price"`
	Cost  measure.Money `json:"cost"`
	// Plan is how slices, shafts or wraps come out of lengths; nil for what is
	// bought by the piece.
	Plan *cutting.Plan `json:"plan,omitempty"`
}

// Allowances of the bench. Common practice, no source.
const (
	yarnTail    = 0.5 * measure.Metre // to start, finish and stitch the crown
	dowelFrom   = 0.6 * measure.Metre // a shaft this long is a dowel to be cut
	shaftLength = 16 * measure.Inch   // what a dowel is cut to
	sawKerf     = 1 * measure.Millimetre
)

// Order returns what the heads take: cores, slices, yarn, shafts and glue,
// less what is on hand, with spare pieces for mistakes as the request's maker
// is likely to make them.
func (f *Finder) Order(makes []Make, q Request) (Order, error) {
	if err := q.Bin.checkAmounts(f.cat); err != nil {
		return Order{}, err
	}
	j := f.judging(q)
	o := &ordering{f: f, bin: q.Bin, spares: j.w.spares}
	for _, m := range makes {
		if m.Heads < 0 {
			return Order{}, fmt.Errorf("propose: %d heads of %s: a number above zero is needed", m.Heads, m.Head.Stack)
		}
		o.add(m)
	}
	return o.finish(j.base.Player)
}

// ordering gathers what heads take, each part once, in the order met.
type ordering struct {
	f      *Finder
	bin    *Bin
	spares float64
	lines  []Line
	cut    map[string][]cutting.Piece
	glued  bool
	shafts bool
	wraps  bool
}

func (o *ordering) line(kind, part, name, unit string, pack float64, price measure.Money) *Line {
	for i := range o.lines {
		if o.lines[i].Part == part {
			return &o.lines[i]
		}
	}
	l := Line{Kind: kind, Part: part, Name: name, Unit: unit, Pack: pack, Price: price}
	if o.bin != nil {
		l.Have = o.bin.amount(part)
	}
	o.lines = append(o.lines, l)
	return &o.lines[len(o.lines)-1]
}

func (o *ordering) add(m Make) {
	if m.Heads == 0 {
		return
	}
	if o.cut == nil {
		o.cut = map[string][]cutting.Piece{}
	}
	n := float64(m.Heads)
	s := m.Head.Stack
	o.line("core", s.Core.ID, s.Core.Name, "pieces", float64(s.Core.Pack), s.Core.Price).Need += n
	for i := range m.Head.Layers {
		l := &m.Head.Layers[i]
		t := l.Slice.Tube
		x := o.line("tubing", t.ID, fmt.Sprintf("%s tubing, %s bore, %s wall", l.Slice.Rubber.Name, t.Bore.In(), t.Wall.In()), "m", float64(t.Pack), t.Price)
		x.Need += n * float64(l.Cut)
		o.cut[t.ID] = append(o.cut[t.ID], cutting.Piece{Length: l.Cut, Count: m.Heads})
		o.glued = o.glued || l.Verdict == head.Loose
	}
	if w := s.Wrap; w != nil {
		o.wraps = true
		perMetre := measure.Mass(w.Yarn.Tex.Value * 1e-6)
		x := o.line("yarn", w.Yarn.ID, w.Yarn.Name, "m", float64(w.Yarn.Pack/perMetre), w.Yarn.Price)
		if o.bin != nil {
			x.Have = o.bin.amount(w.Yarn.ID) / float64(perMetre)
		}
		long := measure.Length(math.Ceil(float64(m.Head.YarnLength+yarnTail)*100) / 100)
		x.Need += n * float64(long)
		o.cut[w.Yarn.ID] = append(o.cut[w.Yarn.ID], cutting.Piece{Length: long, Count: m.Heads})
	}
	if sh := s.Shaft; sh != nil {
		o.shafts = true
		x := o.line("shaft", sh.ID, sh.Name, "pieces", float64(sh.Pack), sh.Price)
		x.Need += n
		if sh.Length > dowelFrom {
			o.cut[sh.ID] = append(o.cut[sh.ID], cutting.Piece{Length: shaftLength, Count: m.Heads})
		}
	}
}

// finish adds spares and glue and works out the packs.
func (o *ordering) finish(p facts.Player) (Order, error) {
	var out Order
	for i := range o.lines {
		if err := o.packs(&o.lines[i]); err != nil {
			return Order{}, err
		}
	}
	for _, join := range []struct {
		wanted bool
		what   string
	}{{o.shafts, "core-shaft"}, {o.glued, "rubber-core"}, {o.wraps, "yarn-end"}} {
		if !join.wanted {
			continue
		}
		a, ok := o.f.glue(join.what, p)
		if !ok || slices.ContainsFunc(o.lines, func(l Line) bool { return l.Part == a.ID }) {
			continue
		}
		l := Line{Kind: "adhesive", Part: a.ID, Name: a.Name, Unit: "pieces", Need: 1, Pack: 1, Price: a.Price}
		if o.bin != nil {
			l.Have = o.bin.amount(a.ID)
		}
		if l.Have < 1 {
			l.Packs, l.Cost = 1, a.Price
		}
		o.lines = append(o.lines, l)
	}
	out.Lines = o.lines
	for _, l := range out.Lines {
		out.Total += l.Cost
	}
	return out, nil
}

// packs works out how many packs a line takes.
func (o *ordering) packs(l *Line) error {
	pieces := o.cut[l.Part]
	if pieces == nil { // bought by the piece
		l.Spare = math.Ceil(l.Need*o.spares - 1e-9)
		short := l.Need + l.Spare - l.Have
		if short > 0 {
			l.Packs = int(math.Ceil(short/max(1, l.Pack) - 1e-9))
		}
		l.Cost = l.Price * measure.Money(l.Packs)
		return nil
	}
	job := cutting.Job{Kerf: measure.Length(o.f.cat.Limits.KerfM.Value), Buy: measure.Length(l.Pack)}
	switch l.Kind {
	case "yarn":
		job.Kerf = 0
	case "shaft":
		sh, _ := o.f.cat.Shaft(l.Part)
		job.Kerf, job.Buy = sawKerf, sh.Length
	}
	for _, p := range pieces {
		extra := int(math.Ceil(float64(p.Count)*o.spares - 1e-9))
		l.Spare += float64(extra)
		if l.Unit == "m" {
			l.Spare += float64(extra) * (float64(p.Length) - 1)
		}
		job.Want = append(job.Want, cutting.Piece{Length: p.Length, Count: p.Count + extra})
	}
	if o.bin != nil && l.Kind != "shaft" {
		for _, have := range o.bin.lengths(l.Part) {
			if l.Kind == "yarn" {
				have *= l.Have / max(o.bin.amount(l.Part), 1e-12) // kilograms to metres
			}
			if math.IsInf(have, 1) {
				return nil // as much as one likes
			}
			job.Have = append(job.Have, cutting.Piece{Length: measure.Length(have), Count: 1})
		}
	}
	plan, err := job.Plan()
	if err != nil {
		return fmt.Errorf("propose: %s: %w", l.Part, err)
	}
	l.Plan, l.Packs = &plan, plan.Bought
	if l.Kind == "shaft" {
		l.Packs = int(math.Ceil(float64(max(0, plan.Bought-int(l.Have))) / max(1, l.Pack)))
	}
	l.Cost = l.Price * measure.Money(l.Packs)
	return nil
}

// glue returns what to join a joint with: without solvent and latex where that
// can be had, and never with a solvent for a minor. A shaft in a plastic or
// rubber core wants glue that sets by itself, since no water can leave the
// bore; that is no work for a minor.
func (f *Finder) glue(joint string, p facts.Player) (knowledge.Adhesive, bool) {
	var list []knowledge.Adhesive
	for _, a := range f.cat.Adhesives {
		solvent := a.Base == "solvent"
		if !slices.Contains(a.Joins, joint) || a.Latex && !p.LatexOK || solvent && (p.Minor || !p.SolventOK) {
			continue
		}
		list = append(list, a)
	}
	if len(list) == 0 {
		return knowledge.Adhesive{}, false
	}
	rank := func(a knowledge.Adhesive) int {
		switch {
		case a.Base == "reactive" && joint == "core-shaft" && !p.Minor:
			return 0
		case a.Base == "none", a.Base == "water":
			return 1
		case a.Base == "reactive":
			return 2
		}
		return 3
	}
	return slices.MinFunc(list, func(a, b knowledge.Adhesive) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.Price, b.Price))
	}), true
}
