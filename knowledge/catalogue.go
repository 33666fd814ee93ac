package knowledge

import "slices"

// Catalogue is everything known, validated: every reference between records
// resolves, so look-ups by an id taken from the catalogue can't fail. Its YAML
// names are the kinds of record that a knowledge file may hold.
type Catalogue struct {
	Sources     []Source     `yaml:"sources"`
	Materials   []Material   `yaml:"materials"`
	Cores       []Core       `yaml:"cores"`
	Tubing      []Tube       `yaml:"tubing"`
	Yarns       []Yarn       `yaml:"yarns"`
	Shafts      []Shaft      `yaml:"shafts"`
	Adhesives   []Adhesive   `yaml:"adhesives"`
	ShaftEnds   []ShaftEnd   `yaml:"shaft_ends"` // the likeliest first
	Fasteners   []Fastener   `yaml:"fasteners"`
	Solvents    []Solvent    `yaml:"solvents"`
	Tools       []Tool       `yaml:"tools"`
	Instruments []Instrument `yaml:"instruments"`
	Grips       []Grip       `yaml:"grips"`
	Dynamics    []Dynamic    `yaml:"dynamics"` // softest first
	Steps       []Step       `yaml:"steps"`    // by Order
	Cautions    []Caution    `yaml:"cautions"`
	Terms       []Term       `yaml:"terms"`
	Words       []Word       `yaml:"words"`
	Lessons     []Lesson     `yaml:"lessons"`
	Questions   []Question   `yaml:"questions"`
	Practice    []Practice   `yaml:"practice"`
	Hands       []Hands      `yaml:"hands"`
	Answers     []Answer     `yaml:"answers"`
	Alike       []Alike      `yaml:"alike"`
	Subjects    []Subject    `yaml:"subjects"`
	Gauges      []Gauge      `yaml:"gauges"`
	Jobs        []Job        `yaml:"jobs"`
	Troubles    []Trouble    `yaml:"troubles"`
	Limits      Limits       `yaml:"limits"`
	Scale       Scale        `yaml:"scale"`

	// Hidden is what overlays have taken away.
	Hidden []Hidden `yaml:"-"`
}

// Hidden is a record that an overlay has taken away.
type Hidden struct {
	Kind, ID string
	Origin   Origin // of the record that hides
}

// The look-ups below return the record with an id, and whether there is one.
// The lists are short enough to be searched from end to end.

func (c *Catalogue) Source(id string) (Source, bool) {
	return find(c.Sources, func(r *Source) bool { return r.ID == id })
}

func (c *Catalogue) Material(id string) (Material, bool) {
	return find(c.Materials, func(r *Material) bool { return r.ID == id })
}

func (c *Catalogue) Trouble(id string) (Trouble, bool) {
	return find(c.Troubles, func(r *Trouble) bool { return r.ID == id })
}

func (c *Catalogue) Core(id string) (Core, bool) {
	return find(c.Cores, func(r *Core) bool { return r.ID == id })
}

func (c *Catalogue) Tube(id string) (Tube, bool) {
	return find(c.Tubing, func(r *Tube) bool { return r.ID == id })
}

func (c *Catalogue) Yarn(id string) (Yarn, bool) {
	return find(c.Yarns, func(r *Yarn) bool { return r.ID == id })
}

func (c *Catalogue) Shaft(id string) (Shaft, bool) {
	return find(c.Shafts, func(r *Shaft) bool { return r.ID == id })
}

// ShaftGlues returns what holds a shaft in a core of a material, none of them
// with a solvent. There is nothing for a material that glue doesn't take on.
func (c *Catalogue) ShaftGlues(m Material) []Adhesive {
	var list []Adhesive
	for _, a := range c.Adhesives {
		if a.Base != "solvent" && slices.Contains(a.Joins, "core-shaft") && a.BondsOn(m) {
			list = append(list, a)
		}
	}
	return list
}

func (c *Catalogue) Adhesive(id string) (Adhesive, bool) {
	return find(c.Adhesives, func(r *Adhesive) bool { return r.ID == id })
}

func (c *Catalogue) Solvent(id string) (Solvent, bool) {
	return find(c.Solvents, func(r *Solvent) bool { return r.ID == id })
}

func (c *Catalogue) Tool(id string) (Tool, bool) {
	return find(c.Tools, func(r *Tool) bool { return r.ID == id })
}

func (c *Catalogue) Instrument(id string) (Instrument, bool) {
	return find(c.Instruments, func(r *Instrument) bool { return r.ID == id })
}

func (c *Catalogue) Grip(id string) (Grip, bool) {
	return find(c.Grips, func(r *Grip) bool { return r.ID == id })
}

func (c *Catalogue) Dynamic(id string) (Dynamic, bool) {
	return find(c.Dynamics, func(r *Dynamic) bool { return r.ID == id })
}

func (c *Catalogue) Step(id string) (Step, bool) {
	return find(c.Steps, func(r *Step) bool { return r.ID == id })
}

func (c *Catalogue) Caution(id string) (Caution, bool) {
	return find(c.Cautions, func(r *Caution) bool { return r.ID == id })
}

func (c *Catalogue) Term(id string) (Term, bool) {
	return find(c.Terms, func(r *Term) bool { return r.ID == id })
}

func (c *Catalogue) Job(id string) (Job, bool) {
	return find(c.Jobs, func(r *Job) bool { return r.ID == id })
}

func (c *Catalogue) Lesson(id string) (Lesson, bool) {
	return find(c.Lessons, func(r *Lesson) bool { return r.ID == id })
}

func (c *Catalogue) Question(id string) (Question, bool) {
	return find(c.Questions, func(r *Question) bool { return r.ID == id })
}

func find[T any](list []T, is func(*T) bool) (T, bool) {
	for i := range list {
		if is(&list[i]) {
			return list[i], true
		}
	}
	var none T
	return none, false
}

// PartIDs returns the ids of all cores, tubing, yarns and shafts, in that
// order. No two parts share an id.
func (c *Catalogue) PartIDs() []string {
	return slices.Concat(
		ids(c.Cores, func(r *Core) string { return r.ID }),
		ids(c.Tubing, func(r *Tube) string { return r.ID }),
		ids(c.Yarns, func(r *Yarn) string { return r.ID }),
		ids(c.Shafts, func(r *Shaft) string { return r.ID }),
	)
}

func ids[T any](list []T, id func(*T) string) []string {
	out := make([]string, len(list))
	for i := range list {
		out[i] = id(&list[i])
	}
	return out
}

// Supply returns where a part's size is sold, inch or metric; empty is everywhere,
// or no part that has a size.
func (c *Catalogue) Supply(id string) string {
	if x, ok := c.Core(id); ok {
		return x.Supply
	}
	if x, ok := c.Tube(id); ok {
		return x.Supply
	}
	x, _ := c.Shaft(id)
	return x.Supply
}
