package knowledge

import (
	"fmt"
	"slices"

	"mallow/knowledge/measure"
)

// ShaftEnd is a way of making the end of a shaft, and so what holds it in a core.
type ShaftEnd struct {
	ID    string   `yaml:"id"`
	Name  string   `yaml:"name"`
	Hold  string   `yaml:"hold"`  // glue, or shape: the ball itself holds it
	On    []string `yaml:"on"`    // shape alone: materials of cores, or families of them, that it holds in
	Drill bool     `yaml:"drill"` // the ball is drilled for it, besides the bore of its shaft
	// Thicker is by how many millimetres the end is thicker than the bore, what
	// stands out of it not counted.
	Thicker   Quantity `yaml:"thicker"`
	Fasteners []string `yaml:"fasteners"` // ids of what it takes besides; any one of them
	Hazards   []string `yaml:"hazards"`   // caution ids
	Note      string   `yaml:"note"`
	Source    string   `yaml:"source"`
	Origin    Origin   `yaml:"-"`
}

// Fastener is a small part that holds a shaft by its shape: a pin, a wedge, an
// insert with a thread.
type Fastener struct {
	ID       string         `yaml:"id"`
	Name     string         `yaml:"name"`
	Kind     string         `yaml:"kind"`     // pin, wedge, insert
	Material string         `yaml:"material"` // in plain words
	Diameter measure.Length `yaml:"diameter"` // across; of an insert its outside
	Note     string         `yaml:"note"`
	Source   string         `yaml:"source"`
	Origin   Origin         `yaml:"-"`
}

// ShaftEnd and Fastener return the record with an id, and whether there is one.
func (c *Catalogue) ShaftEnd(id string) (ShaftEnd, bool) {
	return find(c.ShaftEnds, func(r *ShaftEnd) bool { return r.ID == id })
}

func (c *Catalogue) Fastener(id string) (Fastener, bool) {
	return find(c.Fasteners, func(r *Fastener) bool { return r.ID == id })
}

// EndIn returns the way to make the end of a shaft for a core of a material:
// the first of the catalogue that holds there. Where the ball may not be
// drilled for it, none that is drilled for counts. It returns false where
// nothing would hold.
func (c *Catalogue) EndIn(m Material, drill bool) (ShaftEnd, bool) {
	for _, e := range c.ShaftEnds {
		if (drill || !e.Drill) && c.holds(e, m) {
			return e, true
		}
	}
	return ShaftEnd{}, false
}

// holds reports whether an end holds in a core of a material: by a glue that
// takes on it, or by its shape.
func (c *Catalogue) holds(e ShaftEnd, m Material) bool {
	if e.Hold == "glue" {
		return len(c.ShaftGlues(m)) > 0
	}
	return slices.Contains(e.On, m.ID) || slices.Contains(e.On, m.Family)
}

func (c *checker) shaftEnd(e ShaftEnd) {
	c.at("shaft_ends", e.ID)
	c.need("name", e.Name != "")
	c.oneOf("hold", e.Hold, "glue", "shape")
	c.need("on", len(e.On) > 0 || e.Hold != "shape")
	for i, on := range e.On {
		if !slices.ContainsFunc(c.cat.Materials, func(m Material) bool { return m.ID == on || m.Family == on }) {
			c.bad(fmt.Sprintf("on.%d", i+1), "a material, or a family of them", "%q is neither", on)
		}
	}
	if e.Thicker != (Quantity{}) {
		c.quantity("thicker", e.Thicker, 0, 1)
	}
	c.references("fasteners", e.Fasteners, "fasteners")
	c.references("hazards", e.Hazards, "cautions")
	c.source("source", e.Source)
}

func (c *checker) fastener(f Fastener) {
	c.at("fasteners", f.ID)
	c.need("name", f.Name != "")
	c.oneOf("kind", f.Kind, "pin", "wedge", "insert")
	c.need("material", f.Material != "")
	c.need("diameter", f.Diameter > 0)
	c.source("source", f.Source)
}
