package identify

import (
	"maps"
	"math"
	"slices"
)

// NextMeasure is a measurement still to be made.
type NextMeasure struct {
	What string  `json:"what"`
	How  string  `json:"how"`
	Bits float64 `json:"bits"` // of what is open now that it is expected to settle
	Of   float64 `json:"of"`   // bits open now
}

// probe is a measurement that may still be made.
type probe struct {
	what, how string
	open      func(*Measured) bool
}

// probes lists the measurements, the cheapest first: of two that tell as much,
// the first is named.
func probes() []probe {
	return []probe{
		{"mass", "weigh the mallet and take off the shaft's mass, or a like shaft's",
			func(m *Measured) bool { return m.MassG == 0 && m.MalletG == 0 }},
		{"diameter", "measure across the head with a caliper, without squeezing the yarn",
			func(m *Measured) bool { return m.DiameterMM == 0 }},
		{"balance", "lay the mallet across an edge, and measure from the butt to where it balances",
			func(m *Measured) bool { return m.BalanceMM == 0 && m.MassG == 0 && m.MalletG == 0 }},
		{"layers", "part the yarn beside the shaft, and count the edges of the rubber",
			func(m *Measured) bool { return m.Layers == nil }},
		{"edge", "part the yarn beside the shaft, and see what the outermost edge of rubber is made of and how thick it is",
			func(m *Measured) bool { return m.Outermost == "" }},
		{"core", "look in beside the shaft: plastic, wood or rubber",
			func(m *Measured) bool { return m.Core == "" }},
		{"fibre", "hold the yarn against known samples: wool is springy and felts when rubbed damp, cotton is limp, plastics are slick",
			func(m *Measured) bool { return m.Fibre == "" }},
		{"durometer", "press a Shore A durometer on the side of the head, through the yarn, three times, and take the middle reading",
			func(m *Measured) bool { return m.DurometerA == 0 }},
		{"softness", "play it against a head whose softness is known, at a middling loudness, and listen which is brighter at the contact",
			func(m *Measured) bool { return !m.SoftnessKnown }},
		{"rubber", "push a pin through yarn and rubber at the side until it meets the core, and once until it meets the rubber",
			func(m *Measured) bool { return m.RubberMM == 0 }},
	}
}

// next finds the measurement that is expected to settle most.
func next(list []Likeness, m *Measured) *NextMeasure {
	total, open := 0.0, 0.0
	for _, x := range list {
		total += x.Share
	}
	shares := make([]float64, len(list))
	for i, x := range list {
		shares[i] = x.Share / total
		open += entropy(shares[i])
	}
	var best *NextMeasure
	for _, p := range probes() {
		if !p.open(m) {
			continue
		}
		bits, ok := tells(list, shares, p.what)
		if ok && bits > 0.05 && (best == nil || bits > best.Bits+0.02) {
			best = &NextMeasure{What: p.what, How: p.how, Bits: bits, Of: open}
		}
	}
	return best
}

func entropy(p float64) float64 {
	if p <= 0 {
		return 0
	}
	return -p * math.Log2(p)
}

// tells returns the mutual information, in bits, between which head it is and
// what a measurement reads. What is seen is taken as seen right; what is
// measured is spread normally about each head's own reading.
func tells(list []Likeness, shares []float64, what string) (float64, bool) {
	labels := map[string]float64{}
	lo, hi, least := math.Inf(1), math.Inf(-1), math.Inf(1)
	for i := range list {
		r, ok := list[i].readings[what]
		if !ok || math.IsNaN(r.at) {
			return 0, false
		}
		if r.sigma == 0 {
			labels[r.label] += shares[i]
			continue
		}
		lo, hi, least = min(lo, r.at-5*r.sigma), max(hi, r.at+5*r.sigma), min(least, r.sigma)
	}
	bits := 0.0
	if len(labels) > 0 {
		// The order of a map must not show in the answer.
		for _, label := range slices.Sorted(maps.Keys(labels)) {
			bits += entropy(labels[label])
		}
		return bits, true
	}
	// h(reading) − Σ share · h(reading | head), by the trapezium rule in
	// steps of a quarter of the narrowest spread.
	n := min(4000, int((hi-lo)/least*4)+1)
	dx := (hi - lo) / float64(n)
	for k := range n {
		x := lo + (float64(k)+0.5)*dx
		f := 0.0
		for i := range list {
			r := list[i].readings[what]
			f += shares[i] * math.Exp(normal(x-r.at, r.sigma))
		}
		bits += entropy(f) * dx
	}
	for i := range list {
		bits -= shares[i] * math.Log2(list[i].readings[what].sigma*math.Sqrt(2*math.Pi*math.E))
	}
	return max(0, bits), true
}
