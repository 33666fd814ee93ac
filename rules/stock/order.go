package stock

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/stock/cutting"
)

// Batch is a number of heads alike, and who makes them.
type Batch struct {
	Head   head.Head
	Heads  int
	Player facts.Player // settled
	Spares float64      // share of the slices that the maker is likely to spoil
}

// Order is what to buy for some heads, and how to cut it.
type Order struct {
	Lines []Line        `json:"lines"`
	Total measure.Money `json:"total"`
	// Bound is a proven lower bound of Total: no plan of cuts costs less.
	Bound measure.Money `json:"lower_bound"`
}

// Line is one part of an order. Amounts are in Unit.
type Line struct {
	Kind  string  `json:"kind"` // core, tubing, yarn, shaft or adhesive
	Part  string  `json:"part"`
	Name  string  `json:"name"`
	Unit  string  `json:"unit"`  // pieces, or m for tubing and yarn
	Need  float64 `json:"need"`  // for the heads
	Spare float64 `json:"spare"` // for mistakes
	Have  float64 `json:"have"`  // on hand, no more than is needed
	There float64 `json:"-"`     // on hand in all; infinite where nobody counted it
	Packs int     `json:"packs"` // to buy
	Pack  float64 `json:"pack"`  // amount in a pack; zero when it is not sold
	// Short is what is neither on hand nor sold.
	Short  float64       `json:"short,omitempty"`
	Price  measure.Money `json:"price"` // of a pack
	Cost   measure.Money `json:"cost"`
	Source string        `json:"source"` // of the price and the pack; demo is invented
	// Plan is how slices, wraps and shafts come out of lengths of stock; nil
	// for what is taken by the piece.
	Plan *cutting.Plan `json:"plan,omitempty"`
}

// NewOrder returns what heads take together: balls, slices cut from tubing,
// yarn, shafts and glue, with spare pieces for mistakes as the makers are
// likely to make them, less what is on hand. Without a bin, everything is
// bought. Of glue it is one bottle of each kind, whatever the number of heads.
func NewOrder(cat *knowledge.Catalogue, bin *Bin, list []Batch) (Order, error) {
	o := ordering{cat: cat, bin: bin, lim: &cat.Limits}
	for i := range list {
		o.add(&list[i])
	}
	var out Order
	for _, kind := range []string{"core", "tubing", "yarn", "shaft", "adhesive"} {
		for _, x := range o.lines {
			if x.Kind != kind {
				continue
			}
			bound, err := o.finish(x)
			if err != nil {
				return Order{}, fmt.Errorf("%s: %w", x.Part, err)
			}
			x.Cost = x.Price * measure.Money(x.Packs)
			out.Lines = append(out.Lines, x.Line)
			out.Total += x.Cost
			out.Bound += x.Price * measure.Money(bound)
		}
	}
	return out, nil
}

// ordering gathers what heads take, each part once, in the order met.
type ordering struct {
	cat   *knowledge.Catalogue
	lim   *knowledge.Limits
	bin   *Bin
	lines []*ordered
}

// ordered is a line in the making.
type ordered struct {
	Line
	pieces  []piece        // to be cut; nil for what is taken by the piece
	stock   measure.Length // they are cut from this, as sold
	kerf    measure.Length
	ends    measure.Length
	perUnit float64 // of the bin's unit in one of the line's
	spoilt  float64 // pieces expected to be spoilt
}

// piece is a number of equal lengths to be cut, and how many of them are
// expected to be spoilt.
type piece struct {
	length measure.Length
	count  int
	spoilt float64
}

// line returns the line of a part, a new one if it has not been met.
func (o *ordering) line(l Line) *ordered {
	for _, x := range o.lines {
		if x.Part == l.Part {
			return x
		}
	}
	x := &ordered{Line: l, perUnit: 1}
	o.lines = append(o.lines, x)
	return x
}

// yarnGrid is what a length of yarn is rounded up to: nobody measures a wrap
// closer. Common practice, no source.
const yarnGrid = measure.Metre / 2

// add gathers what a batch takes.
func (o *ordering) add(m *Batch) {
	p, spares := m.Player, m.Spares
	n, h := float64(m.Heads), &m.Head
	s := &h.Stack
	c := o.line(Line{Kind: "core", Part: s.Core.ID, Name: CoreName(s), Unit: "pieces", Pack: float64(s.Core.Pack), Price: s.Core.Price, Source: s.Core.PriceSource})
	c.Need += n
	if s.Shaft != nil && s.Core.Bore < s.Shaft.Diameter {
		c.spoilt += n * spares * o.lim.BoredSpares.Value
	}
	if sh := s.Shaft; sh != nil {
		x := o.line(Line{Kind: "shaft", Part: sh.ID, Name: sh.Name, Unit: "pieces", Pack: float64(sh.Pack), Price: sh.Price, Source: sh.PriceSource})
		if sh.Stock > 0 {
			x.stock, x.kerf = sh.Stock, measure.Length(o.lim.SawKerfM.Value)
			x.cut(sh.Length, m.Heads, 0)
		} else {
			x.Need += n
		}
		o.glue("core-shaft", s.Material, p)
	}
	for i := range h.Layers {
		l := &h.Layers[i]
		t := &l.Slice.Tube
		x := o.line(Line{Kind: "tubing", Part: t.ID, Name: TubeName(&l.Slice), Unit: "m", Pack: float64(t.Pack), Price: t.Price, Source: t.PriceSource})
		x.stock, x.kerf, x.ends = t.Pack, measure.Length(o.lim.KerfM.Value), measure.Length(o.lim.TubeEndsM.Value)
		x.cut(l.Cut, m.Heads, spares)
		if l.Verdict == head.Loose {
			o.glue("rubber-core", s.Material, p)
		}
	}
	if w := s.Wrap; w != nil {
		perMetre := kgPerMetre(&w.Yarn)
		x := o.line(Line{Kind: "yarn", Part: w.Yarn.ID, Name: w.Yarn.Name, Unit: "m", Pack: float64(w.Yarn.Pack) / perMetre, Price: w.Yarn.Price, Source: w.Yarn.PriceSource})
		x.stock, x.perUnit = measure.Length(x.Pack), perMetre
		long := h.YarnLength + measure.Length(o.lim.YarnTailM.Value)
		x.cut(yarnGrid*measure.Length(math.Ceil(float64(long/yarnGrid)-1e-9)), m.Heads, 0)
		o.glue("yarn-end", s.Material, p)
	}
}

// glue adds a bottle of what joins a joint.
func (o *ordering) glue(joint string, core knowledge.Material, p facts.Player) {
	if g, ok := Glue(o.cat, joint, core, p); ok {
		o.line(Line{Kind: "adhesive", Part: g.ID, Name: g.Name, Unit: "pieces", Pack: 1, Price: g.Price, Source: g.PriceSource}).Need = 1
	}
}

// cut adds pieces to be cut.
func (x *ordered) cut(length measure.Length, count int, spares float64) {
	if x.Unit == "m" {
		x.Need += float64(count) * float64(length)
	} else {
		x.Need += float64(count)
	}
	spoilt := float64(count) * spares
	for i := range x.pieces {
		if p := &x.pieces[i]; p.length == length {
			p.count, p.spoilt = p.count+count, p.spoilt+spoilt
			return
		}
	}
	x.pieces = append(x.pieces, piece{length, count, spoilt})
}

// finish adds spares and works out the packs. It returns a proven lower bound
// of the packs.
func (o *ordering) finish(x *ordered) (bound int, err error) {
	if x.pieces == nil {
		x.Spare = max(0, math.Ceil(x.spoilt-1e-9))
		all := x.Need + x.Spare
		if o.bin != nil {
			x.There = o.bin.OnHand(x.Part)
			x.Have = min(all, x.There)
		}
		switch short := all - math.Floor(x.Have+1e-9); {
		case short > 0 && x.Pack > 0:
			x.Packs = int(math.Ceil(short/x.Pack - 1e-9))
		case short > 0:
			x.Short = short
		}
		return x.Packs, nil
	}
	job := cutting.Job{Kerf: x.kerf, Ends: x.ends, Buy: x.stock, Want: x.wanted()}
	all := 0.0
	for _, p := range job.Want {
		all += float64(p.Count) * float64(p.Length)
	}
	if x.Unit == "m" {
		x.Spare = all - x.Need
	}
	if o.bin != nil && x.Kind == "shaft" { // on hand they are cut already
		x.There = o.bin.OnHand(x.Part)
		x.Have = min(x.Need, math.Floor(x.There))
		job.Want = []cutting.Piece{{Length: x.pieces[0].length, Count: int(x.Need - x.Have)}}
	} else if o.bin != nil {
		for _, l := range o.bin.pieces(x.Part) {
			l /= x.perUnit
			x.There += l
			x.Have = min(all, x.Have+l)
			if math.IsInf(l, 1) {
				return 0, nil // as much as one likes
			}
			job.Have = append(job.Have, cutting.Piece{Length: measure.Length(l), Count: 1})
		}
	}
	plan, err := job.Plan()
	if short := (*cutting.Short)(nil); errors.As(err, &short) && x.stock == 0 {
		x.Short = all - x.Have
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	x.Plan = &plan
	lengths := 1.0 // of stock in a pack
	if x.Kind == "shaft" {
		lengths = max(1, x.Pack)
	}
	packs := func(bars int) int { return int(math.Ceil(float64(bars) / lengths)) }
	x.Packs = packs(plan.Bought)
	return packs(plan.Bound), nil
}

// wanted lists the pieces to cut, longest first, with spares. A spare serves
// for any piece that is no longer, so there are as many spares of a length or
// more as pieces of that length or more are expected to be spoilt, rounded up.
func (x *ordered) wanted() []cutting.Piece {
	slices.SortFunc(x.pieces, func(a, b piece) int { return cmp.Compare(b.length, a.length) })
	var list []cutting.Piece
	spoilt, given := 0.0, 0
	for _, p := range x.pieces {
		spoilt += p.spoilt
		more := int(math.Ceil(spoilt-1e-9)) - given
		given += more
		list = append(list, cutting.Piece{Length: p.length, Count: p.count + more})
	}
	return list
}

// Glue returns what to join a joint with, in a head on a core: without solvent,
// latex and the chemicals of rubber where that can be had, and never with a
// solvent for a minor. A shaft is glued only with what holds on its core; there
// may be nothing, and then the core has to hold it. In plastic or rubber it
// wants glue that sets by itself, since no water can leave the bore.
func Glue(cat *knowledge.Catalogue, joint string, core knowledge.Material, p facts.Player) (knowledge.Adhesive, bool) {
	var list []knowledge.Adhesive
	for _, a := range cat.Adhesives {
		solvent := a.Base == "solvent"
		if !slices.Contains(a.Joins, joint) || a.Latex && !p.LatexOK || a.Chemicals && !p.RubberOK || solvent && (p.Minor || !p.SolventOK) || joint == "core-shaft" && !a.BondsOn(core) {
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

// CoreName is a ball in words.
func CoreName(s *head.Stack) string {
	return cmp.Or(s.Core.Name, fmt.Sprintf("%s ball, %s", s.Material.Name, s.Core.Diameter))
}

// TubeName is tubing in words.
func TubeName(s *head.Slice) string {
	return fmt.Sprintf("%s tubing, %s bore, %s wall", cmp.Or(s.Rubber.Name, s.Tube.Material), s.Tube.Bore.Sold(), s.Tube.Wall.Sold())
}
