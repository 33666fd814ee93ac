// Package head computes what a stack of parts comes to: how far each slice is
// stretched, whether it holds and can be pulled on by hand, the head's mass
// and size, and how it swings on its shaft.
//
// A head is taken as a ball with its slices centred on the equator, the
// circle half-way between shaft and crown, where it meets the bar. Angles are
// measured from the equator. What lies under a slice is taken as a sphere of
// the diameter at the equator, and does not give: a soft rubber core gives by
// up to half a millimetre of diameter under the usual slice.
package head

import (
	"errors"
	"fmt"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// Slice is a piece of tubing to be stretched over what lies below it.
type Slice struct {
	Tube   knowledge.Tube
	Rubber knowledge.Material
	Cut    measure.Length // unstretched length; zero takes the recommended cut
}

// Wrap is yarn wound over a head.
type Wrap struct {
	Yarn  knowledge.Yarn
	Fibre knowledge.Material
	Turns int // zero takes the yarn's plain wrap, scaled to the head
	// TensionN is the pull of the hand on the yarn, N; zero takes the ordinary.
	TensionN float64
}

// Stack is a head's parts from the inside out. Wrap and Shaft may be nil.
type Stack struct {
	Core     knowledge.Core
	Material knowledge.Material // of the core
	Slices   []Slice
	Wrap     *Wrap
	Shaft    *knowledge.Shaft
}

// Parts lists the ids of the parts of a stack from the inside out, each once, the shaft last.
func (s Stack) Parts() []string {
	ids := []string{s.Core.ID}
	for _, sl := range s.Slices {
		if !slices.Contains(ids, sl.Tube.ID) {
			ids = append(ids, sl.Tube.ID)
		}
	}
	if s.Wrap != nil {
		ids = append(ids, s.Wrap.Yarn.ID)
	}
	if s.Shaft != nil {
		ids = append(ids, s.Shaft.ID)
	}
	return ids
}

// Latex reports whether a part of the stack holds natural rubber latex.
func (s Stack) Latex() bool {
	return s.Material.Latex || s.Wrap != nil && s.Wrap.Fibre.Latex || slices.ContainsFunc(s.Slices, func(x Slice) bool { return x.Rubber.Latex })
}

// Chemicals reports whether a part of the stack may hold what cures and
// protects rubber.
func (s Stack) Chemicals() bool {
	return s.Material.Chemicals || s.Wrap != nil && s.Wrap.Fibre.Chemicals || slices.ContainsFunc(s.Slices, func(x Slice) bool { return x.Rubber.Chemicals })
}

// The sizes between which a part is taken to be meant. They keep slips of the
// pen out; what is buildable is for the fit to say.
const (
	leastCore, mostCore = 5 * measure.Millimetre, 100 * measure.Millimetre
	leastBore, mostBore = 2 * measure.Millimetre, 100 * measure.Millimetre
	leastWall, mostWall = 0.2 * measure.Millimetre, 25 * measure.Millimetre
	leastCut, mostCut   = measure.Inch / 16, 4 * measure.Inch
	mostTurns           = 5000
	mostTensionN        = 100
	leastTensionN       = 0.1
	mostSlices          = 8
)

// Check reports whether the stack's sizes are such that New computes a
// meaningful head. A stack from Parse has been checked.
func (s Stack) Check() error {
	if d := s.Core.Diameter; !(d >= leastCore && d <= mostCore) {
		return fmt.Errorf("core %s: a diameter of %v is not between %v and %v", s.Core.ID, d, leastCore.Mm(), mostCore.Mm())
	}
	if b := s.Core.Bore; !(b >= 0 && b < s.Core.Diameter) {
		return fmt.Errorf("core %s: a bore of %v does not fit in a ball of %v", s.Core.ID, b, s.Core.Diameter)
	}
	if !(s.Material.DensityKgM3.Value > 0) {
		return fmt.Errorf("core %s: material %q has no density", s.Core.ID, s.Material.ID)
	}
	if n := len(s.Slices); n > mostSlices {
		return fmt.Errorf("%d slices: more than %d are not computed", n, mostSlices)
	}
	for _, sl := range s.Slices {
		if err := sl.check(); err != nil {
			return fmt.Errorf("tubing %s: %w", sl.Tube.ID, err)
		}
	}
	if w := s.Wrap; w != nil {
		switch {
		case w.Turns < 0 || w.Turns > mostTurns:
			return fmt.Errorf("yarn %s: %d turns is not between 1 and %d", w.Yarn.ID, w.Turns, mostTurns)
		case !(w.Yarn.Tex.Value > 0):
			return fmt.Errorf("yarn %s: no tex, the mass of a kilometre in grams", w.Yarn.ID)
		case !(w.Yarn.Loose.Value > 0 && w.Yarn.Loose.Value <= 1):
			return fmt.Errorf("yarn %s: a packing of %g off the skein is not between 0 and 1", w.Yarn.ID, w.Yarn.Loose.Value)
		case !(w.Yarn.CrushPa.Value > 0):
			return fmt.Errorf("yarn %s: no crush_pa, what its fibres put against being squeezed", w.Yarn.ID)
		case !(w.TensionN >= 0 && w.TensionN <= mostTensionN):
			return fmt.Errorf("yarn %s: a tension of %g N is not between 0 and %d", w.Yarn.ID, w.TensionN, mostTensionN)
		case !(w.Fibre.DensityKgM3.Value > 0):
			return fmt.Errorf("yarn %s: fibre %q has no density", w.Yarn.ID, w.Fibre.ID)
		}
	}
	if sh := s.Shaft; sh != nil && !(sh.Diameter > 0 && sh.Diameter < s.Core.Diameter && sh.Length > 0 && sh.Mass > 0) {
		return fmt.Errorf("shaft %s: %v thick does not fit in a ball of %v", sh.ID, sh.Diameter, s.Core.Diameter)
	}
	return nil
}

func (s Slice) check() error {
	t := s.Tube
	switch {
	case !(t.Bore >= leastBore && t.Bore <= mostBore):
		return fmt.Errorf("a bore of %v is not between %v and %v", t.Bore, leastBore.Mm(), mostBore.Mm())
	case !(t.Wall >= leastWall && t.Wall <= mostWall):
		return fmt.Errorf("a wall of %v is not between %v and %v", t.Wall, leastWall.Mm(), mostWall.Mm())
	case t.Wall > t.Bore:
		return fmt.Errorf("a wall of %v is thicker than the bore of %v", t.Wall, t.Bore)
	case s.Cut != 0 && !(s.Cut >= leastCut && s.Cut <= mostCut):
		return fmt.Errorf("a slice of %v is not between %v and %v long", s.Cut, leastCut.In(), mostCut.In())
	case !(s.Rubber.DensityKgM3.Value > 0):
		return fmt.Errorf("material %q has no density", s.Rubber.ID)
	case !(s.Rubber.DurometerA.Value > 0):
		return errors.New("its rubber has no durometer reading")
	}
	return nil
}

// Verdict says whether a slice holds and can be pulled on.
type Verdict string

// Verdicts in the order they are decided.
const (
	Slack Verdict = "slack" // no stretch: it slaps
	Loose Verdict = "loose"
	Good  Verdict = "good"
	Hard  Verdict = "hard" // hard to pull on by hand
	Over  Verdict = "over" // past the rubber's limit, or past any hand
)

// Layer is one fitted slice. A slack one is laid on as it is, unstretched.
type Layer struct {
	Slice       Slice
	Under       measure.Length // diameter it is slipped over
	Stretch     float64        // at the bore
	StretchTol  float64
	MeanStretch float64        // through the wall
	Shortening  float64        // length once fitted over length cut, at the equator
	Wall        measure.Length // stretched, at the equator
	WallTol     measure.Length
	Outer       measure.Length // diameter over the fitted slice
	OuterTol    measure.Length
	HandN       float64        // force to open it over what lies below
	HandTolN    float64        // mostly the spread of the rubber's hardness
	GripPa      float64        // pressure on what lies below, at the equator
	CutMax      measure.Length // longest slice that grips over its whole length
	Cut         measure.Length // as given, else recommended
	EasyCut     measure.Length // longest slice that opens with an easy pull of the hands; zero when slack
	Span        measure.Length // from end to end along its axis, once fitted
	Reach       float64        // radians from the equator to where the slice ends or stops gripping
	Coverage    float64        // share of the strike zone it covers, 0..1
	Ledge       measure.Length // height of the step that its ends leave
	Overhang    measure.Length // how far each end goes past the end of the slice below
	Mass        measure.Mass
	MassTol     measure.Mass
	Verdict     Verdict
}

// Bed returns what the next slice is slipped over.
func (l Layer) Bed() Bed { return Bed{Diameter: l.Outer, Tol: l.OuterTol, Reach: l.Reach} }

// Head is a computed head.
type Head struct {
	Stack       Stack
	CoreMass    measure.Mass // less its bore
	CoreMassTol measure.Mass
	Layers      []Layer
	Bare        measure.Length // diameter over the rubber, before the yarn
	BareTol     measure.Length
	BareMass    measure.Mass // before the yarn
	BareMassTol measure.Mass
	Turns       int            // of yarn, as given, else the plain wrap
	YarnWall    measure.Length // thickness of the wound yarn at the equator
	YarnWallTol measure.Length
	YarnCover   float64        // how many times over the yarn covers the equator, laid side by side
	YarnLength  measure.Length // yarn to wind
	YarnMass    measure.Mass
	YarnMassTol measure.Mass
	TensionN    float64      // of the yarn as it was wound; zero without yarn
	RestPa      float64      // pressure between its fibres at rest, at the outside
	PressPa     float64      // and what the turns add to that, next to the rubber
	TensionTol  float64      // as a share of TensionN
	SliceHold   float64      // how the slices are held by what they lie on: 0 slide, 1 bonded
	Rod         Rod          // the shaft it is on, or a usual one
	Mass        measure.Mass // without the shaft
	MassTol     measure.Mass
	Diameter    measure.Length // outside the yarn
	DiameterTol measure.Length
	Swing       Swing
}

// New computes the head that a stack makes. Slices without a cut and a wrap
// without turns take the recommended ones. The stack must satisfy Check.
func New(s Stack, lim knowledge.Limits) Head {
	h := Head{Stack: s}
	h.CoreMass, h.CoreMassTol = coreMass(s, &lim)
	if len(s.Slices) > 0 {
		h.Layers = make([]Layer, len(s.Slices))
	}
	bed := Ball(s.Core)
	for i := range s.Slices {
		h.Layers[i] = Fit(bed, s.Slices[i], &lim)
		bed = h.Layers[i].Bed()
	}
	h.finish(&lim)
	return h
}

// Assemble makes a head of layers already fitted inside out, the first on the
// bare core and each next on the one before, so that a search need not fit
// them again. The layers are kept, not copied.
func Assemble(core knowledge.Core, material knowledge.Material, layers []Layer, wrap *Wrap, shaft *knowledge.Shaft, lim *knowledge.Limits) Head {
	h := Head{
		Stack:  Stack{Core: core, Material: material, Wrap: wrap, Shaft: shaft},
		Layers: layers,
	}
	if len(layers) > 0 {
		h.Stack.Slices = make([]Slice, len(layers))
		for i := range layers {
			h.Stack.Slices[i] = layers[i].Slice
		}
	}
	h.CoreMass, h.CoreMassTol = coreMass(h.Stack, lim)
	h.finish(lim)
	return h
}

// Rewrap returns the head with another wrap, or none, over the same rubber.
// The two share their layers.
func (h Head) Rewrap(wrap *Wrap, lim *knowledge.Limits) Head {
	h.Stack.Wrap = wrap
	h.finish(lim)
	return h
}

// finish computes everything from the core's mass and the layers outwards.
func (h *Head) finish(lim *knowledge.Limits) {
	core := h.Stack.Core
	h.BareMass, h.BareMassTol = h.CoreMass, h.CoreMassTol
	h.Bare, h.BareTol = core.Diameter, core.Tol
	for i := range h.Layers {
		l := &h.Layers[i]
		h.BareMass += l.Mass
		h.BareMassTol = rss(h.BareMassTol, l.MassTol)
		h.Bare, h.BareTol = l.Outer, l.OuterTol
	}
	h.wind(lim)
	h.SliceHold = lim.SliceHold.Value
	h.Rod = rodOf(h.Stack, lim)
	h.Mass = h.BareMass + h.YarnMass
	h.MassTol = rss(h.BareMassTol, h.YarnMassTol)
	h.Diameter = h.Bare + 2*h.YarnWall
	h.DiameterTol = rss(h.BareTol, 2*h.YarnWallTol)
	h.Swing = h.SwingAt(measure.Length(lim.HandM.Value), lim)
}
