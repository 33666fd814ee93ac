// Package part reads the description of a part, and finds the parts of the
// catalogue that fit it. It never decides whether somebody has it.
package part

import (
	"cmp"
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/measure"
)

// Describer reads the description of one part.
type Describer struct {
	*cover.Chart
	Stock *Stock
}

// partItem reports whether item i can be a piece of the description of a part.
func (s Describer) partItem(i int) bool {
	it := s.Item(i)
	if it.ID != "" {
		return true
	}
	if it.Qty != nil {
		switch it.Qty.Dim {
		case quantity.Plain:
			return !year(s.Chart, i) && !s.Is(i+1, "colours", "colors", "shades", "hues", "kinds", "sorts", "types", "tints") // in three colours
		case quantity.Length, quantity.Pair, quantity.Mass, quantity.Shore, quantity.Pieces:
			return true
		case quantity.Money:
			return s.pound(i)
		}
		return false
	}
	if s.verb(i) {
		return false
	}
	if s.Stock.woodenStick(s.Chart, i) {
		return true
	}
	for _, slot := range []string{"kind", "material", "weight", "form", "role", "purpose", "bored"} {
		if it.Has(slot) != nil {
			return true
		}
	}
	return false
}

// year reports whether the number at item i is a year: bamboo I tried in 2015.
func year(s *cover.Chart, i int) bool {
	v := s.Item(i).Qty.Value
	return v >= 1900 && v < 2100 && s.Item(i).Qty.Whole && s.Is(i-1, "in", "since", "from", "of", "summer", "winter", "spring", "until", "till", "around")
}

// verb reports whether item i is no part although it is the word for one: wrap a
// pair, the glue smell.
func (s Describer) verb(i int) bool {
	return s.Is(i, "wrap", "wrapping") && (s.Starts(i+1, "a", "it", "them", "the", "my", "two", "for", "2", "too", "tight", "one", "their", "your", "his", "her", "own", "up", "mallets", "heads", "around", "round") ||
		s.Is(i-1, "be", "been", "am", "im", "hes", "shes", "theyre", "will", "of", "start", "started", "keep", "love", "like", "hate", "when", "while", "by", "doing") || s.Is(i-1, "the") && s.HasWord(i-3, i, "most", "rest", "all", "do", "does", "doing")) ||
		s.Is(i+1, "smell", "smells", "fumes", "fume", "vapour", "vapor", "vapours", "vapors") && s.Item(i).Has("kind") != nil
}

// pound reports whether the pounds at item i are of yarn: a pound or so of wool.
func (s Describer) pound(i int) bool {
	it := s.Item(i)
	if last := s.At(it.To - 1).Text; last != "pound" && last != "pounds" {
		return false
	}
	j := i + 1
	for s.Filler(j) || s.Item(j).Has("bound") != nil {
		j++
	}
	return s.At(s.Item(j).From-1).Is("of") && (s.Item(j).Any("material", "weight") || s.OfPart(j+1))
}

// partAdjective reports whether item i is a word that describes the part straight
// after it: a hard ball, grey wool.
func (s Describer) partAdjective(i int) bool {
	it := s.Item(i)
	if it.Has("want.softness") == nil && !s.Is(i, "clear") && it.Has("wish") == nil && it.Has("paint") == nil && it.Has("want.colour") == nil && !(s.Unknown(i) && (s.Item(i-1).Qty != nil || s.ofThat(i))) {
		return false
	}
	if it.Any("want.softness", "want.colour", "want.attack") && ofMallets(s, i+1) {
		return false
	}
	next := s.Item(i + 1)
	return next.ID != "" || s.OfPart(i+1) || next.Has("weight") != nil && s.OfPart(i+2) || s.partAdjective(i+1)
}

// ofMallets reports whether the materials from item i on are those of mallets, so that a
// word before them says how these are to be: hard wooden mallets; soft yarn ones.
func ofMallets(s Describer, i int) bool {
	j := i
	for s.Item(j).Has("material") != nil || s.partAdjective(j) || s.Item(j).Has("kind") != nil && s.Item(j).Has("kind").Value == "yarn" {
		j++
	}
	return j > i && (s.Says(j, "mallet", "mallets", "beater", "beaters", "head", "heads") || s.Says(j, "ones") && !s.HasWord(0, i, "have", "got", "ive", "own", "bought"))
}

// ofThat reports whether item i follows an amount of something pointed at: 50 g of
// that shiny cotton.
func (s Describer) ofThat(i int) bool {
	j := i - 1
	for s.Filler(j) && s.linkWord(j) {
		j--
	}
	return j < i-1 && s.Item(j).Qty != nil && s.At(s.Item(j).To).Is("of")
}

// Run returns the end of the stretch of items from i that describes one
// part, or i when there is none. A second kind begins another part, and the
// figure before it is that part's.
func (s Describer) Run(i int) int {
	if it := s.Item(i); !s.partItem(i) && !s.partAdjective(i) || it.Has("role") != nil && it.Has("weight") == nil && it.Qty == nil && !s.named(i) || it.Has("purpose") != nil {
		return i
	}
	anchored, end, head := false, i, 0
	for j := i; j < len(s.Items); j++ {
		it := s.Item(j)
		switch {
		case s.partItem(j):
			if it.Has("kind") != nil || s.glue(j) || Tool(s.Chart, j) {
				if head > 0 && !s.sameThing(head-1, j) {
					return head
				}
				head = j + 1
			}
			anchored = anchored || s.anchors(j)
			end = j + 1
			continue
		case s.partAdjective(j):
			continue
		case it.Mark == "-" || it.Mark == `"`:
			continue
		case s.By(it.From) && it.To == it.From+1:
			continue
		case s.linked(j):
			continue
		}
		break
	}
	if !anchored {
		return i
	}
	return end
}

// UsesOwn reports whether the part at item i of the clause that begins at from is one's own,
// to be used: use my old rattan shafts.
func UsesOwn(c *cover.Chart, from, i int) bool {
	j := c.Item(i).From
	for k := j - 1; k > j-4 && k > c.Item(from).From; k-- {
		switch t := c.At(k); {
		case (t.Is("my") || t.Is("our")) && (c.At(k-1).Is("use") || c.At(k-1).Is("using")):
			return true
		case !t.Is("old") && !t.Is("own") && !t.Is("leftover") && !t.Is("spare") && !t.Is("existing"):
			return false
		}
	}
	return false
}

// glue reports whether item j is a glue by its name.
func (s Describer) glue(j int) bool {
	x := s.Item(j).Has("material")
	return x != nil && x.Material().Kind == "glue"
}

// Tool reports whether item j names a tool.
func Tool(c *cover.Chart, j int) bool {
	x := c.Item(j).Has("material")
	return x != nil && x.Material().Kind == reading.Tool
}

// named reports whether the role at item i names the figure after it: wall 3.2 mm.
func (s Describer) named(i int) bool {
	x := s.Item(i).Has("role")
	return x != nil && x.Value != "long" && s.Item(s.past(i+1)).Qty != nil
}

// past returns i past words that may stand between a role and its figure.
func (s Describer) past(i int) int {
	for s.Filler(i) || s.Item(i).Mark == ":" || about(s.Item(i)) {
		i++
	}
	return i
}

// about reports whether an item says that a figure is a rough one.
func about(it *cover.Item) bool {
	x := it.Has("bound")
	return x != nil && x.Value == "about"
}

// sameThing reports whether two words for a kind of part name one part: cotton
// thread yarn, wood balls cores.
func (s Describer) sameThing(i, j int) bool {
	if s.glue(j) && s.At(s.Item(i).To).Is("of") { // a tube of epoxy
		return true
	}
	if Tool(s.Chart, i) || Tool(s.Chart, j) {
		return false
	}
	if s.glue(i) || s.glue(j) {
		return !(s.glue(i) && s.glue(j)) && (s.Item(i).Any("kind") && s.Item(i).Has("kind").Value == "glue" || s.Item(j).Any("kind") && s.Item(j).Has("kind").Value == "glue")
	}
	a, b := s.Item(i).Has("kind").Value, s.Item(j).Has("kind").Value
	return a == b && (j == i+1 || s.Item(i).Has("weight") != nil) || b == "yarn" && s.Is(i, "ball", "balls") && s.At(s.Item(i).To).Is("of") // balls of yarn
}

// linked reports whether item j stands inside the description of a part, with a
// piece of it behind: a foot OF tubing, balls IN nylon, thread OF ABOUT 2 mm.
func (s Describer) linked(j int) bool {
	for k := j; k < j+4; k++ {
		if s.Is(k, "to") && s.HasWord(0, j, "prefer", "preferred", "prefers") { // cotton to wool
			return false
		}
		if k > j && s.partItem(k) {
			return true
		}
		if k > j && (s.Item(k).Has("paint") != nil || s.partAdjective(k)) {
			continue
		}
		if s.Is(k, "leftover", "spare", "surplus", "unused", "used", "secondhand", "assorted", "matching", "identical", "odd") { // two skeins of leftover wool
			continue
		}
		if !about(s.Item(k)) && !(s.Filler(k) && s.linkWord(k)) && !s.Dropped(k) {
			return false
		}
	}
	return false
}

// anchors reports whether item i by itself shows that a part is meant: a kind,
// a material, bore by wall, or "1/8 wall".
func (s Describer) anchors(i int) bool {
	it := s.Item(i)
	if it.ID != "" || s.OfPart(i) || it.Qty != nil && it.Qty.Dim == quantity.Pair {
		return true
	}
	if s.ofWeight(i-2, i+1) { // 45 m of lace weight
		return true
	}
	if it.Has("weight") != nil && s.skeins(i-1) || it.Qty != nil && it.Qty.Form == "skein" && s.ClauseEnds(i+1) { // a hank of 4-ply
		return true
	}
	if x := it.Has("form"); x != nil && x.Value == "skein" && s.Item(i-1).Qty != nil && s.Item(i-1).Qty.Dim == quantity.Mass { // two 100 gram skeins
		return true
	}
	if it.Qty != nil && it.Qty.Dim == quantity.Shore && s.Starts(i-1, "the", "my", "our", "those", "these") && !s.Is(i+1, "alone", "out") { // use the 55A
		return true
	}
	x := it.Has("role")
	return x != nil && (x.Value == "bore" || x.Value == "wall") && s.Item(i-1).Qty != nil
}

// ofWeight reports whether the items from..to are an amount of a weight of yarn.
func (s Describer) ofWeight(from, to int) bool {
	for i := from + 1; i < to; i++ {
		j := i - 1
		if s.Is(j, "of") {
			j--
		}
		if q := s.Item(j).Qty; s.Item(i).Has("weight") != nil && s.Item(i).Has("role") == nil && s.At(s.Item(i).From-1).Is("of") && q != nil && (q.Dim == quantity.Mass || q.Dim == quantity.Length && q.Value > 1) {
			return true
		}
	}
	return false
}

// skeins reports whether item i is a form that only yarn comes in, or an amount of it.
func (s Describer) skeins(i int) bool {
	if s.Filler(i) {
		i--
	}
	x, q := s.Item(i).Has("form"), s.Item(i).Qty
	return x != nil && x.Value == "skein" || q != nil && q.Form == "skein"
}

// linkWord reports whether a filler may stand inside the description of a part.
func (s Describer) linkWord(i int) bool {
	for k := s.Item(i).From; k < s.Item(i).To; k++ {
		switch s.At(k).Text {
		case "of", "a", "an", "the", "some", "in", "for", "my", "i", "old", "new", "nice", "good", "spare", "cheap", "whole", "decent", "lovely", "few", "other", "long", "short", "think", "guess", "maybe", "say", "from", "at", "to", "is", "are", "its", "has", "those", "these", "them", "that":
		default:
			return false
		}
	}
	return true
}

// LengthOf returns a quantity as a length, in a guessed unit if need be.
func (s Describer) LengthOf(q *quantity.Quantity) measure.Length {
	if q.Dim == quantity.Plain {
		q.Guess = true
		return measure.Length(q.Value * quantity.GuessUnit(*q))
	}
	return measure.Length(q.Value)
}

// Describe reads the items from..to as one part. Bare is set when nothing but
// its kind is said.
func (s Describer) Describe(from, to int) (p reading.Part, bare bool) {
	return s.DescribeAs("", from, to)
}

// DescribeAs is describe for a kind that is known already, or "".
func (s Describer) DescribeAs(kind string, from, to int) (p reading.Part, bare bool) {
	p.Kind = kind
	likely := ""
	bare = true
	named, balls := false, false // the kind, as a ball
	purpose := ""
	bareForm := false          // an amount was taken of a form that no number counts
	var lengths []int          // items
	var sizes []measure.Length // what those are
	for i := from; i < to; i++ {
		it := s.Item(i)
		if it.ID != "" {
			p.Kind, p.IDs, bare = s.Stock.kinds[it.ID], []string{it.ID}, false
			continue
		}
		if x := it.Has("bored"); x != nil {
			p.Bored, bare = x.Value, false
			continue
		}
		if s.Stock.woodenStick(s.Chart, i) {
			p.Kind, named = "shaft", true
			continue
		}
		if x := it.Has("purpose"); x != nil {
			purpose = x.Value
			continue
		}
		if x := it.Has("kind"); x != nil {
			p.Kind = x.Value
			named, balls = true, balls || s.Is(i, "ball", "balls")
			if m := s.within(it, "material"); m != nil { // rubber balls
				p.Material, p.Made = m.Material().ID, m.Material().Made
				bare = false
			}
		}
		if x := it.Has("material"); x != nil {
			m := x.Material()
			p.Material, p.Made, likely, bare = m.ID, m.Made, m.Kind, false
			if m.Kind == "glue" || m.Kind == reading.Tool { // a tube of epoxy
				p.Kind = m.Kind
			}
			continue
		}
		if x := it.Has("weight"); x != nil && (it.Has("role") == nil || ofYarn(s.Chart, i+1) && s.Item(i-1).Qty == nil) && (it.Has("kind") == nil || it.Has("kind").Value == "yarn") {
			p.Weight = x.Value
		}
		if it.Qty != nil {
			bare = false
			if s.measures(&p, i, to) {
				lengths, sizes = append(lengths, i), append(sizes, s.LengthOf(it.Qty))
			}
		}
		if x := it.Has("form"); x != nil && it.Has("kind") == nil && p.Amount == 0 && x.Value != "piece" && x.Value != "vessel" {
			form(&p, x.Value, 1)
			bare, bareForm = false, true
		}
	}
	for _, i := range lengths {
		if role := s.role(i, from, to); p.Kind == "" && (role == "wall" || role == "bore" || role == "outer") {
			p.Kind = "tube"
		}
	}
	if p.Kind == "" {
		p.Kind = cmp.Or(purpose, likely)
	}
	if p.Kind == "" && p.Durometer > 0 && len(lengths) == 0 {
		p.Kind = "core"
	}
	if p.Kind == "" && (p.Unit == "skein" || p.Unit == "kg" && s.skeins(to-1) || p.Weight != "" && s.ofWeight(from, to)) {
		p.Kind = "yarn"
	}
	switch {
	case likely == "yarn" && p.Material == "acrylic" && balls && p.Amount == 0 && shortBars(s.Chart): // bells, acrylic balls
		p.Kind = "core"
	case (p.Kind == "yarn" && p.Material == "acrylic" || p.Kind == "shaft" && likely == "shaft" && !named) && small(sizes): // 3/4 acrylic, 28 mm maple
		p.Kind = "core"
	case p.Kind == "core" && likely == "core" && !named && p.Durometer == 0 && s.Stock.wooden(p.Material) && thin(sizes): // 9 mm beech
		p.Kind = "shaft"
	case p.Kind == "yarn" && balls, p.Kind == "core" && likely == "yarn" && balls && !small(sizes) && p.Durometer == 0: // 3 balls cotton
		p.Kind = "yarn"
		if p.Amount == 0 && s.At(s.Item(from).From-1).Is("a") {
			p.Amount = 1
		}
		if p.Amount > 0 && p.Unit != "kg" {
			p.Unit = "skein"
		}
	}
	if p.Unit == "skein" && p.Kind == "core" && !named && spun[p.Material] && !s.HasWord(from, to, "ball", "balls") { // three spools of nylon
		p.Kind = "yarn"
	}
	if p.Unit == "skein" && p.Kind == "core" { // two balls of nylon
		if p.Unit = "piece"; bareForm {
			p.Amount, p.Unit = 0, ""
		}
	}
	if p.Kind != "yarn" {
		p.Weight = ""
	}
	if p.Unit == "bottle" && p.Kind != "glue" { // two jars of beads
		p.Amount, p.Unit = 0, ""
	}
	for _, i := range lengths {
		s.place(&p, i, from, to)
	}
	if p.Kind == "yarn" && p.Unit == "skein" && p.Length > 0 { // a hundred metre reel
		p.Amount, p.Unit, p.Length = max(1, p.Amount)*float64(p.Length), "m", 0
	}
	Complete(&p)
	return p, bare && p.Weight == ""
}

// Balls reports whether the items from..to are a number of balls and no more.
func (s Describer) Balls(from, to int) bool {
	for i := from + 1; i < to-1; i++ {
		if !s.partAdjective(i) && !s.Is(i, "small", "big", "large", "little", "full", "whole", "tiny") {
			return false
		}
	}
	return to >= from+2 && s.Item(from).Qty != nil && s.Item(from).Qty.Dim == quantity.Plain && s.Is(to-1, "ball", "balls")
}

// ofYarn reports whether item i is yarn, or what yarn is of: thick wool.
func ofYarn(c *cover.Chart, i int) bool {
	kind, made := c.Item(i).Has("kind"), c.Item(i).Has("material")
	return kind != nil && kind.Value == "yarn" || made != nil && made.Material().Kind == "yarn"
}

// shortBars reports whether the line names an instrument that is played with bare balls.
func shortBars(c *cover.Chart) bool {
	return slices.ContainsFunc(c.Items, func(it cover.Item) bool {
		x := it.Has("instrument.kind")
		return x != nil && (x.Value == "bells" || x.Value == "xylophone")
	})
}

// spun are materials of balls that yarn is spun of as well.
var spun = map[string]bool{"nylon": true, "acrylic": true, "polyester": true, "polypropylene": true}

// small reports whether one of the lengths is a ball's and not a yarn's.
func small(lengths []measure.Length) bool {
	return slices.ContainsFunc(lengths, func(l measure.Length) bool { return l >= 15*measure.Millimetre && l <= 60*measure.Millimetre })
}

// thin reports whether one of the lengths is one across a shaft, and none is a ball's.
func thin(lengths []measure.Length) bool {
	found := false
	for _, l := range lengths {
		found = found || l >= 4*measure.Millimetre && l <= 12*measure.Millimetre
		if l > 12*measure.Millimetre && l <= 60*measure.Millimetre {
			return false
		}
	}
	return found
}

// within returns a sense of slot that words within an item of several have:
// rubber balls.
func (s Describer) within(it *cover.Item, slot string) *lexis.Sense {
	var out *lexis.Sense
	for k := it.From; k < it.To && out == nil; k++ {
		s.Phrases(k, func(senses []*lexis.Sense, n int) {
			for _, x := range senses {
				if x.Slot == slot && k+n <= it.To {
					out = x
				}
			}
		})
	}
	return out
}

// form takes n of a form that parts come in as the amount.
func form(p *reading.Part, form string, n float64) {
	p.Amount, p.Unit = n, "piece"
	switch form {
	case "pair":
		p.Amount *= 2
	case "dozen":
		p.Amount *= 12
	case "skein":
		p.Unit = "skein"
	case "vessel":
		p.Unit = "bottle"
	}
}

// measures takes the quantity at item i unless it is a length, which counts only
// once the kind is known; then it returns true.
func (s Describer) measures(p *reading.Part, i, to int) (length bool) {
	q := s.Item(i).Qty
	switch q.Dim {
	case quantity.Pair:
		if k := s.likely(*p, i, to); q.Times > 0 && (k == "core" || k == "shaft") { // acetal 28 mm x 6
			p.Amount, p.Unit = q.Times, "piece"
			return true
		}
		p.Bore, p.Wall = measure.Length(q.Value), measure.Length(q.Wall)
		if p.Kind == "" {
			p.Kind = "tube"
		}
	case quantity.Shore:
		p.Durometer, p.Shore = q.Value, q.Scale
	case quantity.Mass: // 2 x 50 g
		if p.Unit != "piece" && p.Unit != "skein" {
			p.Amount = 1
		}
		p.Amount, p.Unit = p.Amount*q.Value, "kg"
	case quantity.Money: // a pound of wool
		if !s.pound(i) {
			return false
		}
		p.Amount, p.Unit = q.Value/100*float64(measure.Pound), "kg"
	case quantity.Pieces:
		form(p, q.Form, q.Value)
	case quantity.Length:
		return true
	case quantity.Plain:
		if s.Says(i+1, "gauge", "swg", "awg", "denier") { // 14 gauge wire
			return false
		}
		if q.Spelt && q.Value == 1 && i == to-1 && p.Material+p.Made != "" && p.Amount == 0 { // a plastic one
			return false
		}
		if !q.Whole || q.Frac || !s.counts(i, to) {
			return true
		}
		if size := p.Amount; p.Kind == "core" && p.Unit == "piece" && size >= 12 && size <= 60 && p.Diameter == 0 && s.By(s.Item(i).From-1) { // balls 25 x10
			p.Diameter = measure.Length(size) * measure.Millimetre
			p.Amount = 0
		}
		if p.Amount > 1 && s.Item(i-1).Qty == nil && !s.By(s.Item(i).To) { // twelve balls … 25
			return q.Value > 4
		}
		p.Amount, p.Unit = q.Value, "piece"
		if s.Minus(i) {
			p.Amount = -p.Amount
		}
	}
	return false
}

// likely returns the kind of the part that is described about item i.
func (s Describer) likely(p reading.Part, i, to int) string {
	if p.Kind != "" {
		return p.Kind
	}
	for _, j := range []int{i - 1, i + 1, i + 2} {
		if x := s.Item(j).Has("kind"); x != nil && j < to {
			return x.Value
		}
		if x := s.Item(j).Has("material"); x != nil && j < to {
			return x.Material().Kind
		}
	}
	return ""
}

// counts reports whether the whole number at item i counts pieces: it does
// unless it is said what it measures.
func (s Describer) counts(i, to int) bool {
	v := s.Item(i).Qty.Value
	if v >= 15 && v <= 60 && s.Is(i-1, "is", "are", "be", "measure", "measures") && s.Item(i-2).Has("kind") != nil {
		return false // the balls are 25
	}
	if t := s.At(s.Item(i).From - 1); v >= 15 && v <= 60 && (t.Is("ball") || t.Is("core") || t.Is("bead") || t.Is("sphere")) {
		return false // a plastic ball 33
	}
	return (i+1 >= to || s.Item(i+1).Has("role") == nil) && s.Item(i-1).Has("role") == nil
}
