package main

import (
	"mallow/assistant/reply"
	"mallow/knowledge/measure"
	"mallow/rules/identify"
)

type matchCmd struct {
	Diameter  string   `placeholder:"LENGTH" help:"Diameter over the yarn, such as '36.8 mm'."`
	Mass      string   `placeholder:"MASS" help:"Mass of the head without its shaft, such as '22.4 g'."`
	Mallet    string   `placeholder:"MASS" help:"Mass of the whole mallet, head and shaft; needs --shaft-id."`
	Balance   string   `placeholder:"LENGTH" help:"Where the mallet balances, from the butt; needs --shaft-id."`
	ShaftID   string   `placeholder:"ID" help:"The shaft, by its id in the catalogue."`
	Shaft     string   `placeholder:"LENGTH" help:"Diameter of the shaft."`
	Units     string   `enum:"inch,metric" default:"inch" help:"Sizes that its balls and tubing were sold in: inch or metric (default ${default})."`
	Core      string   `enum:",plastic,wood,rubber" default:"" help:"What the core is, when it shows at the bore: plastic, wood or rubber."`
	Fibre     string   `placeholder:"ID" help:"Fibre of the yarn, such as wool."`
	Layer     string   `placeholder:"ID" help:"Tubing of the outermost layer, when its edge shows."`
	Layers    *int     `placeholder:"N" help:"Rubber layers, when their edges can be counted."`
	Rubber    string   `placeholder:"LENGTH" help:"From the core to the outside of the rubber, by a pin."`
	Durometer *float64 `placeholder:"A" help:"Shore A reading, pressed through the yarn."`
	Softness  *float64 `placeholder:"NOTCHES" help:"Softness against a head you know, in notches; higher is softer."`
	Most      int      `default:"12" help:"How many stacks to list (default ${default})."`
	output
}

func (c matchCmd) Run(a *app) error {
	m := identify.Measured{Units: c.Units, Core: c.Core, Fibre: c.Fibre, Outermost: c.Layer, Layers: c.Layers}
	// Between which each lies on any mallet, to tell the unit of a bare number.
	for _, l := range []struct {
		flag, text  string
		least, most measure.Length
		mm          *float64
	}{
		{"--diameter", c.Diameter, 10 * measure.Millimetre, 80 * measure.Millimetre, &m.DiameterMM},
		{"--shaft", c.Shaft, 3 * measure.Millimetre, 16 * measure.Millimetre, &m.ShaftMM},
		{"--rubber", c.Rubber, 0.4 * measure.Millimetre, 20 * measure.Millimetre, &m.RubberMM},
		{"--balance", c.Balance, 100 * measure.Millimetre, 500 * measure.Millimetre, &m.BalanceMM},
	} {
		if l.text == "" {
			continue
		}
		length, err := measure.LikelyLength(l.text, l.least, l.most)
		if err != nil {
			return usagef("%s: %w", l.flag, err)
		}
		*l.mm = length.MM()
	}
	for _, w := range []struct {
		flag, text  string
		least, most measure.Mass
		g           *float64
	}{
		{"--mass", c.Mass, 2 * measure.Gram, 120 * measure.Gram, &m.MassG},
		{"--mallet", c.Mallet, 10 * measure.Gram, 200 * measure.Gram, &m.MalletG},
	} {
		if w.text == "" {
			continue
		}
		mass, err := measure.LikelyMass(w.text, w.least, w.most)
		if err != nil {
			return usagef("%s: %w", w.flag, err)
		}
		*w.g = mass.Grams()
	}
	m.Shaft = c.ShaftID
	if c.Durometer != nil {
		m.DurometerA = *c.Durometer
	}
	if c.Softness != nil {
		m.Softness, m.SoftnessKnown = *c.Softness, true
	}
	switch {
	case m.Shaft == "" && (m.MalletG > 0 || m.BalanceMM > 0):
		return usagef("--mallet and --balance need --shaft-id, since the shaft's mass is taken off")
	case m.DiameterMM == 0 && m.MassG == 0 && m.MalletG == 0:
		return usagef("measure at least --diameter, --mass or --mallet")
	}
	kit, err := a.kit()
	if err != nil {
		return err
	}
	found, err := identify.Head(a.ctx, kit.Finder, m)
	if err != nil {
		return err
	}
	v, err := reply.NewMatches(reply.Default(kit.Catalogue), found, max(c.Most, 1))
	if err != nil {
		return err
	}
	return c.show(a, v)
}
