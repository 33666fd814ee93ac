// Package head computes what a stack of parts comes to: how far each slice is
// stretched, whether it holds and can be pulled on by hand, the head's mass
// and size, and how it swings on its shaft.
package head

import (
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
	Turns int
}

// Stack is a head's parts from the inside out. Wrap and Shaft may be nil.
type Stack struct {
	Core     knowledge.Core
	Material knowledge.Material // of the core
	Slices   []Slice
	Wrap     *Wrap
	Shaft    *knowledge.Shaft
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

// Layer is one fitted slice.
type Layer struct {
	Slice       Slice
	Under       measure.Length // diameter it is slipped over
	Stretch     float64        // at the bore
	MeanStretch float64        // through the wall
	Wall        measure.Length // stretched
	WallTol     measure.Length
	Outer       measure.Length // diameter over the fitted slice
	HandN       float64        // force to open it over what lies below
	GripPa      float64        // pressure on what lies below, at the equator
	CutMax      measure.Length // longest slice that grips over its whole length
	Cut         measure.Length // as given, else recommended
	Coverage    float64        // share of the strike zone it covers, 0..1
	Mass        measure.Mass
	MassTol     measure.Mass
	Verdict     Verdict
}

// Head is a computed head.
type Head struct {
	Stack       Stack
	CoreMass    measure.Mass
	Layers      []Layer
	YarnWall    measure.Length // thickness of the wound yarn
	YarnLength  measure.Length // yarn to wind
	YarnMass    measure.Mass
	Mass        measure.Mass // without the shaft
	MassTol     measure.Mass
	Diameter    measure.Length // outside the yarn
	DiameterTol measure.Length
	Swing       Swing
}

// Swing is how a head feels in the hand on its shaft, zero without a shaft.
type Swing struct {
	Mass        measure.Mass   // head and shaft
	Balance     measure.Length // centre of mass from the butt
	InertiaKgM2 float64        // about the hand
	FromButt    measure.Length // where the hand is taken to be
}
