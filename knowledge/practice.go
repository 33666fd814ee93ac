package knowledge

import (
	"slices"

	"mallow/knowledge/yamlfile"
)

// Practice is what the heads that makers wind, or leave bare, for an instrument
// usually come to. Of the records that fit a request the first holds.
type Practice struct {
	ID        string    `yaml:"id"`
	Kind      string    `yaml:"kind"`      // of instrument
	Words     []string  `yaml:"words"`     // of softness; empty for any
	Registers []string  `yaml:"registers"` // empty for any
	Grams     []float64 `yaml:"grams"`     // from, to
	MM        []float64 `yaml:"mm"`        // over all: from, to
	Turns     []float64 `yaml:"turns"`     // of a wound head: from, to
	Source    string    `yaml:"source"`
	Origin    Origin    `yaml:"-"`
}

// Practised returns what heads of a softness, said in its word, usually come to
// for a part of an instrument, and whether anything is known of it.
func (c *Catalogue) Practised(kind, word, register string) (Practice, bool) {
	of := func(list []string, x string) bool { return len(list) == 0 || slices.Contains(list, x) }
	return find(c.Practice, func(r *Practice) bool {
		return r.Kind == kind && of(r.Words, word) && of(r.Registers, register)
	})
}

// Hands are words that tell whose hands will play: see catalog/hands.yaml.
type Hands struct {
	ID     string   `yaml:"id"`
	Say    []string `yaml:"say"`
	Source string   `yaml:"source"`
	Origin Origin   `yaml:"-"`
}

// Saying returns the words of the record of hands with an id.
func (c *Catalogue) Saying(id string) []string {
	x, _ := find(c.Hands, func(h *Hands) bool { return h.ID == id })
	return x.Say
}

// practice checks the records of this file.
func (c *checker) practice() {
	for _, x := range c.cat.Hands {
		c.at("hands", x.ID)
		c.source("source", x.Source)
		c.need("say", len(x.Say) > 0)
	}
	for _, x := range c.cat.Practice {
		c.at("practice", x.ID)
		c.source("source", x.Source)
		if !slices.ContainsFunc(c.cat.Instruments, func(i Instrument) bool { return i.Kind == x.Kind }) {
			c.bad("kind", "the kind of an instrument", "%q is no kind of instrument", yamlfile.Clip(x.Kind))
		}
		for _, word := range x.Words {
			if _, ok := c.cat.Scale.For(x.Kind).Said(word); !ok {
				c.bad("words", "a grade of the scale", "%q is no word for a softness", yamlfile.Clip(word))
			}
		}
		for field, pair := range map[string][]float64{"grams": x.Grams, "mm": x.MM, "turns": x.Turns} {
			if len(pair) != 2 || pair[0] > pair[1] || pair[0] < 0 {
				c.bad(field, "two numbers, the lesser first", "%v is no stretch", pair)
			}
		}
	}
}
