package part

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// Stock matches descriptions against the parts of a catalogue.
type Stock struct {
	cat       *knowledge.Catalogue
	materials map[string]knowledge.Material
	kinds     map[string]string // of parts, by id
}

// NewStock returns the stock of a catalogue.
func NewStock(cat *knowledge.Catalogue) *Stock {
	r := &Stock{cat, map[string]knowledge.Material{}, map[string]string{}}
	for _, m := range cat.Materials {
		r.materials[m.ID] = m
	}
	for _, p := range cat.Cores {
		r.kinds[p.ID] = "core"
	}
	for _, p := range cat.Tubing {
		r.kinds[p.ID] = "tube"
	}
	for _, p := range cat.Yarns {
		r.kinds[p.ID] = "yarn"
	}
	for _, p := range cat.Shafts {
		r.kinds[p.ID] = "shaft"
	}
	for _, p := range cat.Adhesives {
		r.kinds[p.ID] = "glue"
	}
	return r
}

// Complete works out a tube's bore or wall from its outside diameter.
func Complete(p *reading.Part) {
	switch {
	case p.Outer == 0:
	case p.Bore == 0 && p.Wall > 0 && p.Outer > 2*p.Wall:
		p.Bore = p.Outer - 2*p.Wall
	case p.Wall == 0 && p.Bore > 0 && p.Outer > p.Bore:
		p.Wall = (p.Outer - p.Bore) / 2
	}
}

// The slack allowed between a size as said and a part's own: sizes are said
// in round millimetres and in the nearest sixteenth.
const (
	sizeSlack   = 0.5 * measure.Millimetre
	wallSlack   = 0.25 * measure.Millimetre
	exactSlack  = 0.06 * measure.Millimetre
	lengthSlack = 8 * measure.Millimetre
	shoreSlack  = 3.0
)

// Match returns the ids of the catalogue's parts that fit a description, none
// when it says nothing but the kind.
func (r *Stock) Match(p reading.Part) []string {
	if len(p.IDs) > 0 {
		return p.IDs
	}
	if p.Made != "" && !strings.Contains(p.Material, "/") && (p.Holding == reading.Lack || p.Holding == reading.Avoid) {
		return nil // no mohair is not no wool
	}
	// A size in whole millimetres that there is means that size, and not the
	// fraction of an inch near it.
	exact := true
	near := func(said, is, slack measure.Length) bool {
		if exact {
			slack = exactSlack
		}
		return fits(said, is, slack)
	}
	if ids := r.match(p, near); len(ids) > 0 {
		return ids
	}
	exact = false
	ids := r.match(p, near)
	if len(ids) == 0 && p.Kind == "shaft" && p.Length > 0 {
		ids = r.match(p, cutFrom(p.Length))
	}
	if len(ids) > 0 || p.Bored == "" {
		return ids
	}
	p.Bored = "" // none is sold so, but a ball can be drilled
	return r.Match(p)
}

// cutFrom compares sizes for a shaft of that length, of which a shorter one is cut.
func cutFrom(length measure.Length) func(said, is, slack measure.Length) bool {
	return func(said, is, slack measure.Length) bool {
		if said == length {
			return is <= said
		}
		return fits(said, is, slack)
	}
}

// fits reports whether a size is what was said, to within slack, or nothing was said.
func fits(said, is, slack measure.Length) bool {
	return said == 0 || math.Abs(float64(said-is)) <= float64(slack)
}

// cords returns the yarns that are cord, where no more than that was said of one.
func (r *Stock) cords(said string) (ids []string) {
	if !slices.Contains(strings.Fields(strings.ToLower(said)), "cord") {
		return nil
	}
	for _, y := range r.cat.Yarns {
		if strings.Contains(y.Name, "cord") {
			ids = append(ids, y.ID)
		}
	}
	return ids
}

// match returns the ids of the parts that fit a description, sizes as near as near
// has them.
func (r *Stock) match(p reading.Part, near func(said, is, slack measure.Length) bool) []string {
	var out []string
	switch p.Kind {
	case "core":
		if p.Material == "" && p.Diameter == 0 && p.Durometer == 0 && p.Bored == "" {
			return nil
		}
		for _, c := range r.cat.Cores {
			if r.ballOf(&c, p.Material) && near(p.Diameter, c.Diameter, sizeSlack) &&
				(p.Bored == "" || (p.Bored == "bored") == (c.Bore > 0)) && r.asHard(&c, p) {
				out = append(out, c.ID)
			}
		}
	case "tube":
		if p.Material == "" && p.Bore == 0 && p.Wall == 0 {
			return nil
		}
		for _, t := range r.cat.Tubing {
			if r.madeOf(t.Material, p.Material) && near(p.Bore, t.Bore, sizeSlack) && near(p.Wall, t.Wall, wallSlack) {
				out = append(out, t.ID)
			}
		}
	case "yarn":
		if p.Material == "" && p.Weight == "" {
			return r.cords(p.Text)
		}
		for _, y := range r.cat.Yarns {
			if r.madeOf(y.Fibre, p.Material) && (p.Weight == "" || slices.Contains(fields(y), p.Weight)) {
				out = append(out, y.ID)
			}
		}
	case "shaft":
		if p.Material == "" && p.Length == 0 && p.Diameter == 0 {
			return nil
		}
		for _, x := range r.cat.Shafts {
			if r.madeOf(x.Material, p.Material) && near(p.Length, x.Length, lengthSlack) && near(p.Diameter, x.Diameter, sizeSlack) {
				out = append(out, x.ID)
			}
		}
	}
	return out
}

// fields returns the words of a yarn's id and name.
func fields(y knowledge.Yarn) []string {
	return strings.FieldsFunc(strings.ToLower(y.ID+" "+y.Name), func(r rune) bool {
		return r == ' ' || r == '-' || r == ',' || r == '('
	})
}

// asHard reports whether a ball is as hard as was said. The catalogue's rubbers have
// a figure on scale A; a figure on scale D is of what is too hard for that.
func (r *Stock) asHard(c *knowledge.Core, p reading.Part) bool {
	a := cmp.Or(c.DurometerA, r.materials[c.Material].DurometerA.Value)
	switch {
	case p.Durometer == 0:
		return true
	case p.Shore == "D":
		return (a == 0 || a >= hardOf) && r.materials[c.Material].Family != "wood"
	}
	return math.Abs(a-p.Durometer) <= shoreSlack
}

// hardOf is the durometer from which a ball of rubber is called hard.
const hardOf = 80

// ballOf reports whether a ball is of what was said. People call hard rubber what is
// moulded hard as well as what is cured hard, and acrylic the plastic as well as the
// fibre.
func (r *Stock) ballOf(c *knowledge.Core, said string) bool {
	return r.madeOf(c.Material, said) || r.materials[said].Name == r.materials[c.Material].Name || said == "hard-rubber" && c.Material == "rubber" && c.DurometerA >= hardOf
}

// madeOf reports whether a material is what was said: by id, by the start of
// its id, or by family; of several between strokes, one.
func (r *Stock) madeOf(id, said string) bool {
	if one, rest, several := strings.Cut(said, "/"); several {
		return r.madeOf(id, one) || r.madeOf(id, rest)
	}
	return said == "" || id == said || strings.HasPrefix(id, said+"-") || r.materials[id].Family == said
}

// Thin makes a shaft of wood that no ball is turned of, where no ball was named: a
// length of ebony, turned to 8 mm.
func (r *Stock) Thin(c *cover.Chart, p *reading.Part) {
	if p.Kind == "core" && p.Durometer == 0 && p.Diameter >= 4*measure.Millimetre && p.Diameter <= 12*measure.Millimetre && r.wooden(p.Material) &&
		!slices.ContainsFunc(c.Items, func(it cover.Item) bool { x := it.Has("kind"); return x != nil && x.Value == "core" }) {
		p.Kind = "shaft"
	}
}

// canBe reports whether a part of a kind can be made of a material that makes another
// kind, or that one, likely: a rod of beech, a ball of maple.
func (r *Stock) canBe(material, likely, kind string) bool {
	switch {
	case likely == kind, kind == "core" && likely == "shaft":
		return true
	case likely != "core":
		return false
	}
	return kind == "shaft" && material != "rubber" || kind == "tube" && material == "rubber"
}

// wooden reports whether a material is a wood.
func (r *Stock) wooden(material string) bool {
	return material == "wood" || r.materials[material].Family == "wood"
}

// woodenStick reports whether item i is the everyday word for shafts, behind what
// those are of: pine sticks; sticks by itself may be whole mallets.
func (r *Stock) woodenStick(c *cover.Chart, i int) bool {
	x := c.Item(i - 1).Has("material")
	return c.Is(i, "stick", "sticks") && x != nil && c.Item(i-1).Has("kind") == nil && (x.Material().Kind == "shaft" || r.wooden(x.Material().ID))
}
