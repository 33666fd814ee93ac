package reply

import (
	"fmt"
	"strings"

	"mallow/rules/propose"
)

// Matching says how alike the heads of a pair come out, and what to weigh so
// that they do.
type Matching struct {
	ApartG  float64     `json:"mass_difference_g"`   // to expect unmatched
	PairedG float64     `json:"paired_difference_g"` // to expect once the parts under Weigh are paired
	Weigh   []MatchPart `json:"weigh"`               // what matters most first
}

// MatchPart is a part to weigh and pair.
type MatchPart struct {
	Part    string  `json:"part"`
	TolG    float64 `json:"tol_g"`
	ApartG  float64 `json:"difference_g"`
	PairedG float64 `json:"paired_g"`
}

// NewMatching gathers what is shown of how alike a pair comes out.
func NewMatching(m propose.Matching) Matching {
	v := Matching{Round(m.MassG, 3), Round(m.PairedG, 3), []MatchPart{}}
	for _, p := range m.Weigh {
		v.Weigh = append(v.Weigh, MatchPart{p.Part, Round(p.TolG, 3), Round(p.DiffG, 3), Round(p.Paired, 3)})
	}
	return v
}

// String says what to weigh so that heads come out alike.
func (m Matching) String() string {
	var weigh []string
	for _, w := range m.Weigh {
		weigh = append(weigh, fmt.Sprintf("%s (± %.2f g)", w.Part, w.TolG))
	}
	s := fmt.Sprintf("unmatched heads differ by about %.1f g", m.ApartG)
	if len(weigh) > 0 {
		s += fmt.Sprintf("; weigh and pair %s, and they come within about %.1f g", strings.Join(weigh, ", "), m.PairedG)
	}
	return s + "."
}
