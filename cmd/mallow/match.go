package main

import (
	"mallow/assistant/page"
	"mallow/assistant/show"
	"mallow/knowledge/measure"
	"mallow/rules/propose"
)

type matchCmd struct {
	Diameter string   `placeholder:"LENGTH" help:"Diameter over the yarn, such as '36.8 mm'."`
	Mass     string   `placeholder:"MASS" help:"Mass of the head without its shaft, such as '22.4 g'."`
	Shaft    string   `placeholder:"LENGTH" help:"Diameter of the shaft."`
	Core     string   `enum:",plastic,wood,rubber" default:"" help:"What the core is, when it shows at the bore: plastic, wood or rubber."`
	Fibre    string   `placeholder:"ID" help:"Fibre of the yarn, such as wool."`
	Layer    string   `placeholder:"ID" help:"Tubing of the outermost layer, when its edge shows."`
	Layers   *int     `placeholder:"N" help:"Rubber layers, when their edges can be counted."`
	Rubber   string   `placeholder:"LENGTH" help:"From the core to the outside of the rubber, by a pin."`
	Softness *float64 `placeholder:"STEPS" help:"Softness against a head you know, or by durometer through the yarn."`
	Most     int      `default:"12" help:"How many stacks to list (default ${default})."`
	JSON     bool     `name:"json" help:"Write JSON."`
}

func (c matchCmd) Run(a *app) error {
	m := propose.Measured{Core: c.Core, Fibre: c.Fibre, Outermost: c.Layer, Layers: c.Layers}
	for _, l := range []struct {
		flag, text string
		mm         *float64
	}{{"--diameter", c.Diameter, &m.DiameterMM}, {"--shaft", c.Shaft, &m.ShaftMM}, {"--rubber", c.Rubber, &m.RubberMM}} {
		if l.text == "" {
			continue
		}
		length, err := measure.ParseLength(l.text, measure.Millimetre)
		if err != nil {
			return usagef("%s: %w", l.flag, err)
		}
		*l.mm = length.MM()
	}
	if c.Mass != "" {
		mass, err := measure.ParseMass(c.Mass, measure.Gram)
		if err != nil {
			return usagef("--mass: %w", err)
		}
		m.MassG = mass.Grams()
	}
	if c.Softness != nil {
		m.Steps, m.SoftnessKnown = *c.Softness, true
	}
	if m.DiameterMM == 0 && m.MassG == 0 {
		return usagef("measure at least --diameter or --mass")
	}
	kit, err := a.kit()
	if err != nil {
		return err
	}
	found, err := kit.Finder.Match(a.ctx, m)
	if err != nil {
		return err
	}
	v := show.NewMatches(found, max(c.Most, 1))
	if c.JSON {
		return writeJSON(a.out, v)
	}
	return page.Text(a.out, v.Page(), a.style())
}
