// Package identify says what could be under the yarn of a finished head. It knows
// how likely each stack of parts is for what was measured; it never says what
// would be good.
package identify

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/knowledge/words"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Measured is what was measured on a finished head. A quantity of zero, or an
// empty id, was not measured. Each error is the half-width of a band that the
// truth lies in 95 times of 100; zero takes the usual one, from the limits of
// the catalogue where it has it.
type Measured struct {
	DiameterMM, DiameterErr  float64 // over the yarn
	MassG, MassErr           float64 // of the head without its shaft
	MalletG, MalletErr       float64 // of head and shaft together; needs Shaft
	Shaft                    string  // by its id in the catalogue
	ShaftMM, ShaftErr        float64 // its diameter; usually ± 0.2 mm
	BalanceMM, BalanceErr    float64 // from the butt of the shaft; needs Shaft
	Units                    string  // world that its parts were sold in, inch or metric; empty is inch
	Core                     string  // family, when it shows at the bore: plastic, wood or rubber
	Fibre                    string  // of the yarn, by its id in the catalogue
	Outermost                string  // tubing of the outermost layer, when its edge shows
	Layers                   *int    // rubber layers, when their edges can be counted
	RubberMM, RubberErr      float64 // from the core to the outside of the rubber, by a pin; usually ± 0.4 mm
	DurometerA, DurometerErr float64 // Shore A, pressed through the yarn
	Softness, SoftnessErr    float64 // against a known head, in notches; usually ± 1.5
	SoftnessKnown            bool    // Softness was judged; 0 is a softness too
}

// Likeness is a stack that could be under the yarn. Stacks that differ only in
// what does not show, such as the yarn's thickness or whether the ball came
// with its bore, count as one.
type Likeness struct {
	Stack head.Stack
	Facts facts.Head
	Share float64  // probability, 0 to 1, over all stacks that could be
	Also  []string // ids of cores and yarns that it could be as well, likeliest first

	readings map[string]reading
}

// reading is what a measurement would find on a head.
type reading struct {
	at, sigma float64
	label     string // of what is seen rather than measured
}

// Matches is what a finished head could be.
type Matches struct {
	Likely []Likeness // likeliest first
	Rest   float64    // share of all that is not listed
	Tried  int        // stacks of core and slices looked at
	// Next is the one cheap measurement that would best tell them apart, nil
	// when there is nothing left to tell.
	Next *NextMeasure
}

// Head lists the stacks of catalogue parts that a finished head could be, by
// how likely each is given the measurements, their errors and the tolerances
// of the parts. Before measuring, every ball counts alike, every tubing that
// fits as the layer rules of the book prefer it, and every yarn alike.
//
// All stacks that fit are weighed from tables of fits, and the likeliest of
// them again one by one.
func Head(ctx context.Context, f *propose.Finder, m Measured) (Matches, error) {
	t, err := newMatcher(f, m)
	if err != nil {
		return Matches{}, err
	}
	list, rest := t.walk(ctx)
	if err := ctx.Err(); err != nil {
		return Matches{}, err
	}
	out := t.finish(list, rest)
	if len(out.Likely) == 0 {
		return Matches{}, fault.Errorf("no stack of catalogue parts comes to %s; check the measurement, or the head has a part that is not in the catalogue", m)
	}
	out.Next = next(out.Likely, &t.m)
	return out, nil
}

func (m Measured) String() string {
	var s []string
	add := func(x float64, unit string) {
		if x > 0 {
			s = append(s, fmt.Sprintf("%.1f %s", x, unit))
		}
	}
	add(m.DiameterMM, "mm")
	add(m.MassG, "g")
	add(m.MalletG, "g with its shaft")
	return cmp.Or(strings.Join(s, " and "), "that")
}

// check reports what can't be matched.
func (m *Measured) check(cat *knowledge.Catalogue) error {
	if !(m.DiameterMM > 0) && !(m.MassG > 0) && !(m.MalletG > 0) {
		return fault.Errorf("matching needs at least the head's diameter or its mass, above zero")
	}
	for _, x := range []float64{m.DiameterMM, m.MassG, m.MalletG, m.ShaftMM, m.BalanceMM, m.RubberMM, m.DurometerA, m.Softness + 1e3,
		m.DiameterErr, m.MassErr, m.MalletErr, m.ShaftErr, m.BalanceErr, m.RubberErr, m.DurometerErr, m.SoftnessErr} {
		if !(x >= 0) || math.IsInf(x, 0) {
			return fault.Errorf("a measurement of %v: a number above zero is needed", x)
		}
	}
	unknown := func(what, id string, ids []string) error {
		return &fault.Error{What: fmt.Sprintf("%q is no %s of the catalogue", id, what), Hint: words.Hint(id, ids)}
	}
	if _, ok := cat.Tube(m.Outermost); m.Outermost != "" && !ok {
		return unknown("tubing", m.Outermost, cat.PartIDs())
	}
	if _, ok := cat.Shaft(m.Shaft); m.Shaft != "" && !ok {
		return unknown("shaft", m.Shaft, cat.PartIDs())
	}
	if x, ok := cat.Material(m.Fibre); m.Fibre != "" && (!ok || x.Family != "fibre") {
		return unknown("fibre", m.Fibre, nil)
	}
	if m.Shaft == "" && (m.MalletG > 0 || m.BalanceMM > 0) {
		return fault.Errorf("the mass or balance of head and shaft together says something only with the shaft's id")
	}
	if m.Layers != nil && (*m.Layers < 0 || *m.Layers > propose.MostLayers) {
		return fault.Errorf("%d layers: 0 to %d can be matched", *m.Layers, propose.MostLayers)
	}
	return nil
}
