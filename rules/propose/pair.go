package propose

import (
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/measure"
)

// Matching says how alike the heads of a pair come out, and what to weigh.
type Matching struct {
	// MassG is the difference in mass to expect between two heads built alike
	// but not matched, and PairedG when the parts under Weigh are weighed and
	// the nearest paired.
	MassG   float64     `json:"mass_difference_g"`
	PairedG float64     `json:"paired_difference_g"`
	Weigh   []MatchPart `json:"weigh"` // what matters most first
}

// MatchPart is a part to weigh and pair.
type MatchPart struct {
	Part   string  `json:"part"`
	TolG   float64 `json:"tol_g"`        // half-width of the spread of the part's mass
	DiffG  float64 `json:"difference_g"` // to expect between two drawn at random
	Paired float64 `json:"paired_g"`     // between the nearest of a pack
}

// Matching works out what the tolerances of the parts make of a pair.
//
// Tolerances are the half-width of a band that holds about 95 % of parts, so
// the spread is σ = tol/1.96, two parts drawn at random differ by 2σ/√π on
// average, and of n in a row by mass two neighbours differ by d₂(n)·σ/(n−1)
// on average, where d₂ is the mean range of n normal values.
func (c *Candidate) Matching() Matching {
	const z = 1.959964
	random := func(sigma float64) float64 { return 2 * sigma / math.Sqrt(math.Pi) }
	h := &c.Head
	var m Matching
	var all, left float64 // variances
	add := func(part string, tol measure.Mass, pack int) {
		s := tol.Grams() / z
		n := max(2, min(pack, 12))
		p := MatchPart{Part: part, TolG: tol.Grams(), DiffG: random(s), Paired: meanRange(n) * s / float64(n-1)}
		m.Weigh = append(m.Weigh, p)
		all += s * s
		left += s * s * (p.Paired / p.DiffG) * (p.Paired / p.DiffG)
	}
	if h.CoreMassTol > 0 {
		add("core", h.CoreMassTol, h.Stack.Core.Pack)
	}
	for i := range h.Layers {
		if h.Layers[i].MassTol > 0 {
			add(fmt.Sprintf("slice %d", i+1), h.Layers[i].MassTol, 6) // cut six, pair the nearest two
		}
	}
	if h.YarnMassTol > 0 {
		// Yarn of one skein is alike; what varies is the length wound, which
		// the scale settles while winding.
		s := h.YarnMassTol.Grams() / z
		all += s * s
		left += s * s / 16
	}
	m.MassG, m.PairedG = random(math.Sqrt(all)), random(math.Sqrt(left))
	slices.SortStableFunc(m.Weigh, func(a, b MatchPart) int {
		switch {
		case a.TolG > b.TolG:
			return -1
		case a.TolG < b.TolG:
			return 1
		}
		return 0
	})
	return m
}

// meanRange is the mean range of n standard normal values, by quadrature of
// 1 − Φⁿ − (1−Φ)ⁿ (Tippett 1925, Biometrika 17, 364; from memory).
func meanRange(n int) float64 {
	sum := 0.0
	const h = 0.01
	for x := -8.0; x <= 8; x += h {
		p := 0.5 * math.Erfc(-x/math.Sqrt2)
		sum += h * (1 - math.Pow(p, float64(n)) - math.Pow(1-p, float64(n)))
	}
	return sum
}
