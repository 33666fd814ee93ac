package head

import (
	"cmp"
	"math"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/rubber"
)

// Bed is what a slice is slipped over: a sphere, as far as the next slice can
// tell.
type Bed struct {
	Diameter measure.Length // at the equator
	Tol      measure.Length
	Reach    float64 // radians from the equator to the ledge where the slice below ends; zero without one
}

// Ball returns a bare core as a bed.
func Ball(c knowledge.Core) Bed { return Bed{Diameter: c.Diameter, Tol: c.Tol} }

// Fit stretches a slice over a bed. A slice without a cut takes the
// recommended one: the longest that grips, but reaching no further than
// lim.CutReachDeg nor past the slice below, and no longer than hands open
// easily as long as it covers the strike zone; in 1/16 in, or in millimetres
// for tubing of metric bore.
//
// Every ring of the slice is taken to shorten as it likes. A slice that slips
// on a wet ball also pulls itself lengthwise, and follows the ball's curve: its
// wall comes out up to 7 % thinner than given here for stretches to 1.5, and
// more beyond; the tests hold the fuller model.
//
// Tubing and bed must be such as Stack.Check passes.
func Fit(on Bed, s Slice, lim *knowledge.Limits) Layer {
	l := Layer{Slice: s, Under: on.Diameter, Stretch: float64(on.Diameter / s.Tube.Bore)}
	l.StretchTol = l.Stretch * rss(float64(on.Tol/on.Diameter), float64(s.Tube.BoreTol/s.Tube.Bore))
	l.widen(on)
	l.lay(on, lim)
	l.pull(lim)
	l.weigh(lim)
	l.Verdict = l.verdict(lim)
	return l
}

// widen computes the section at the equator.
func (l *Layer) widen(on Bed) {
	t := l.Slice.Tube
	g := ring{inner: t.Bore / 2, outer: t.Bore/2 + t.Wall, short: 1} // slack
	if l.Stretch > 1 {
		g = stretched(t.Bore, t.Wall, l.Under)
	}
	l.MeanStretch = float64((g.inner + g.outer) / (t.Bore + t.Wall))
	l.Shortening = g.short
	l.Wall = g.outer - g.inner
	l.WallTol = l.Wall * measure.Length(rss(float64(t.WallTol/t.Wall), float64(t.BoreTol/t.Bore)/2))
	l.Outer = 2 * g.outer
	l.OuterTol = rss(on.Tol, 2*l.WallTol)
	l.GripPa = rubber.Shear(l.Slice.Rubber.DurometerA.Value) * g.grip
}

// lay computes how long the slice may be, is, and how far round it reaches.
func (l *Layer) lay(on Bed, lim *knowledge.Limits) {
	a := arcOf(l)
	below := cmp.Or(on.Reach, math.Pi/2)
	zone := lim.StrikeZoneDeg.Value * math.Pi / 180
	if l.Stretch > 1 {
		l.CutMax = a.length(min(a.end, below))
		l.EasyCut = measure.Length(lim.EasyHandN.Value / l.handPerCut())
	}
	l.Cut = l.Slice.Cut
	if l.Cut == 0 {
		longest := a.length(min(a.end, below, reachLimit(lim)))
		l.Cut = recommend(longest, l.EasyCut, a.length(zone), gridOf(l.Slice.Tube.Bore))
	}
	ends := a.angle(l.Cut) // gripping or not
	l.Reach = min(ends, a.end)
	l.Overhang = max(0, measure.Length(ends-below)*l.Under/2)
	if zone > 0 {
		l.Coverage = min(1, l.Reach/zone)
	}
	l.Span, l.Ledge = l.Cut, l.Slice.Tube.Wall
	if l.Stretch > 1 {
		// Past where it grips, an end stands straight out.
		l.Span = l.Under*measure.Length(math.Sin(l.Reach)) + max(0, l.Cut-a.length(a.end))
		// The wall thickens towards the ends as the stretch falls to 1.
		thin := math.Log(float64(l.Slice.Tube.Wall/l.Wall)) / math.Log(l.Stretch)
		l.Ledge = l.Slice.Tube.Wall * measure.Length(math.Pow(l.Stretch*math.Cos(l.Reach), -thin))
	}
}

// handPerCut is the force, in N, to open a metre of slice: the two halves of
// the ring carry the grip between them.
func (l *Layer) handPerCut() float64 { return l.GripPa * float64(l.Under) * l.Shortening }

// pull computes the force to open the slice.
func (l *Layer) pull(lim *knowledge.Limits) {
	if l.Stretch <= 1 {
		return
	}
	l.HandN = l.handPerCut() * float64(l.Cut)
	hard := l.Slice.Rubber.DurometerA
	stiffer := rubber.Shear(hard.Value + hard.Tol)
	softer := rubber.Shear(hard.Value - hard.Tol)
	l.HandTolN = l.HandN * rss(
		(stiffer-softer)/(stiffer+softer),
		float64(l.Slice.Tube.WallTol/l.Slice.Tube.Wall),
		rubber.Nominal(l.MeanStretch+l.StretchTol)/rubber.Nominal(l.MeanStretch)-1,
		lim.CutToleranceM.Value/float64(l.Cut),
	)
}

// weigh computes the mass, which stretching does not change.
func (l *Layer) weigh(lim *knowledge.Limits) {
	d, w := l.Slice.Tube.Bore, l.Slice.Tube.Wall
	density := l.Slice.Rubber.DensityKgM3
	volume := math.Pi * float64(w*(d+w)*l.Cut)
	l.Mass = measure.Mass(volume * density.Value)
	l.MassTol = l.Mass * measure.Mass(rss(
		float64(l.Slice.Tube.WallTol*(d+2*w)/(w*(d+w))),
		float64(l.Slice.Tube.BoreTol/(d+w)),
		lim.CutToleranceM.Value/float64(l.Cut),
		density.Tol/density.Value,
	))
}

// verdict sorts a fit into words.
func (l *Layer) verdict(lim *knowledge.Limits) Verdict {
	usable := Usable(l.Slice.Rubber, lim)
	switch {
	case l.Stretch <= 1 || l.Stretch <= lim.SlackStretch.Value:
		return Slack
	case l.Stretch < lim.LooseStretch.Value:
		return Loose
	case l.Stretch > usable, l.HandN > lim.MostHandN.Value:
		return Over
	case l.HandN > lim.EasyHandN.Value:
		return Hard
	}
	return Good
}

// Usable returns the largest stretch that leaves the rubber a margin to its
// stretch at break, never less than 1.
func Usable(rubber knowledge.Material, lim *knowledge.Limits) float64 {
	return max(1, rubber.StretchLimit.Value*lim.StretchShare.Value)
}

// ring is the section of a slice at the equator, once fitted.
type ring struct {
	inner, outer measure.Length // radii
	short        float64        // length once fitted over length cut
	grip         float64        // pressure inside over the shear modulus
}

// stretched opens a tube of bore d and wall w until its bore is under, and
// lets it shorten until no force is left along its axis.
//
// The rubber keeps its volume, so a point at radius R moves to
// r² = under²/4 + (R² − d²/4)/short. Across the wall σr' = (σθ − σr)/r with
// σr = 0 outside, so the pressure inside is ∫(σθ − σr)/r dr, and the force
// along the axis is π(∫(2σz − σr − σθ) r dr + under²/4 · pressure).
func stretched(d, w, under measure.Length) ring {
	a0, b0 := float64(d/2), float64(d/2+w)
	a := float64(under / 2)
	at := func(short float64) (grip, axial float64) {
		mid, half := (a0+b0)/2, (b0-a0)/2
		for _, g := range gauss() {
			R := mid + half*g.x
			dR := half * g.w
			rr := a*a + (R*R-a0*a0)/short
			round := math.Sqrt(rr) / R
			through := 1 / (round * short)
			rdr := R * dR / short
			grip += rubber.Difference(round, through, short) / rr * rdr
			axial += (rubber.Difference(short, through, round) + rubber.Difference(short, round, through)) * rdr
		}
		return grip, axial + a*a*grip
	}
	// The axial force rises with the length; two guesses that straddle a
	// free thin ring start a secant search.
	mean := (a + math.Sqrt(a*a+b0*b0-a0*a0)) / (a0 + b0)
	x0, x1 := 1/math.Sqrt(mean), 1/mean
	_, f0 := at(x0)
	grip, f1 := at(x1)
	for range 20 {
		if math.Abs(x1-x0) < 1e-12 || f1 == f0 {
			break
		}
		x := x1 - f1*(x1-x0)/(f1-f0)
		x0, f0 = x1, f1
		x1 = min(max(x, 0.05), 1)
		grip, f1 = at(x1)
	}
	return ring{
		inner: under / 2,
		outer: measure.Length(math.Sqrt(a*a + (b0*b0-a0*a0)/x1)),
		short: x1,
		grip:  grip,
	}
}

// gauss returns the points and weights of a six-point Gauss–Legendre rule on
// [−1, 1].
func gauss() [6]struct{ x, w float64 } {
	return [6]struct{ x, w float64 }{
		{-0.932469514203152, 0.171324492379170},
		{-0.661209386466265, 0.360761573048139},
		{-0.238619186083197, 0.467913934572691},
		{0.238619186083197, 0.467913934572691},
		{0.661209386466265, 0.360761573048139},
		{0.932469514203152, 0.171324492379170},
	}
}

// arc relates the cut length of a slice to the angle it reaches when it is
// laid round a ball. At an angle φ from the equator the ball is only
// under·cos φ thick, so the slice is less stretched and less shortened there:
// by a power of the stretch that is right at the equator and where the
// stretch ends.
type arc struct {
	under          float64
	stretch, power float64 // both zero for a slack slice
	end            float64 // angle at which the stretch ends
}

func arcOf(l *Layer) arc {
	a := arc{under: float64(l.Under), end: math.Pi / 2}
	if l.Stretch > 1 {
		a.end = math.Acos(1 / l.Stretch)
		a.stretch, a.power = l.Stretch, -math.Log(l.Shortening)/math.Log(l.Stretch)
	}
	return a
}

// cutPerArc is the unstretched length in a unit of fitted length at φ.
func (a arc) cutPerArc(phi float64) float64 {
	if a.power == 0 || phi >= a.end {
		return 1
	}
	return math.Exp(a.power * math.Log(a.stretch*math.Cos(phi)))
}

// length returns the cut that reaches from −phi to phi.
func (a arc) length(phi float64) measure.Length {
	fitted := min(phi, a.end)
	sum := 0.0
	for _, g := range gauss() {
		sum += g.w * a.cutPerArc(fitted*(1+g.x)/2)
	}
	return measure.Length(a.under * (sum*fitted/2 + phi - fitted))
}

// angle returns the angle that a cut reaches, at most π/2.
func (a arc) angle(cut measure.Length) float64 {
	phi := min(float64(cut)/(a.under*a.cutPerArc(0)), math.Pi/2)
	for range 20 { // Newton's steps, each squaring the error
		step := float64(cut-a.length(phi)) / (a.under * a.cutPerArc(phi))
		phi = min(max(phi+step, 0), math.Pi/2)
		if math.Abs(step) < 1e-6 {
			break
		}
	}
	return phi
}

// reachLimit is lim.CutReachDeg in radians; without one it is no limit.
func reachLimit(lim *knowledge.Limits) float64 {
	if lim.CutReachDeg.Value <= 0 {
		return math.Pi / 2
	}
	return lim.CutReachDeg.Value * math.Pi / 180
}

// recommend returns the cut to make: the longest that grips, rounded down, but
// shortened to an easy one if that still covers the zone, or else as far as
// the zone lets it. A slice that grips nowhere, or hardly, covers the zone, so
// that its mass still means something.
func recommend(longest, easy, zone, grid measure.Length) measure.Length {
	const hair = 1e-9 // a length that is on the grid but for rounding
	down := func(l measure.Length) measure.Length { return grid * measure.Length(math.Floor(float64(l/grid)+hair)) }
	up := func(l measure.Length) measure.Length { return grid * measure.Length(math.Ceil(float64(l/grid)-hair)) }
	if easy == 0 || down(longest) == 0 {
		return max(grid, up(zone))
	}
	return min(down(longest), max(down(easy), up(zone)))
}

// gridOf returns the steps in which tubing of a bore is cut.
func gridOf(bore measure.Length) measure.Length {
	if bore.IsMetric() || !bore.IsFraction() {
		return measure.Millimetre
	}
	return measure.Inch / 16
}

// rss is the root of the sum of squares: how independent tolerances add.
func rss[T ~float64](parts ...T) T {
	var sum T
	for _, p := range parts {
		sum += p * p
	}
	return T(math.Sqrt(float64(sum)))
}
