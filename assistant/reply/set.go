package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/rules/graded"
	"mallow/rules/propose"
)

// Set is a graded set, hardest first.
type Set struct {
	Assumptions
	Family string  `json:"family"`     // what the heads share, in words
	On     string  `json:"instrument"` // whose medium the notches count from
	Each   int     `json:"heads_each"` // heads of each grade
	Rungs  []Rung  `json:"rungs"`
	Order  Order   `json:"order"` // for the whole set, stock shared
	Points float64 `json:"points"`
	Exact  bool    `json:"exact"`      // proven the best of the heads considered
	Heads  int     `json:"considered"` // heads looked at
}

// Rung is one grade of a set.
type Rung struct {
	Made
	Softness   float64  `json:"softness"`
	Wanted     float64  `json:"want_softness"`
	MassG      float64  `json:"mass_g"`
	DiameterMM float64  `json:"diameter_mm"`
	Pair       Matching `json:"match"`
}

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

// NewSet gathers what is shown of a graded set of each heads of a grade.
func NewSet(w Writer, s graded.Set, each int) (Set, error) {
	v := Set{Family: s.Family, Each: each, Rungs: []Rung{}, Order: NewOrder(s.Order), Points: Round(s.Cost, 3), Exact: s.Exact, Heads: s.Items}
	if len(s.Rungs) > 0 {
		v.Assumptions = Assuming(w.cat, s.Rungs[0].Head.Pass)
	}
	for _, r := range s.Rungs {
		made, err := w.On(r.Head).Write(r.Head.Stack)
		if err != nil {
			return Set{}, err
		}
		v.On = made.Head.Instrument
		v.Rungs = append(v.Rungs, Rung{made, made.Head.Softness, Round(r.Want, 2), made.Head.MassG, made.Head.DiameterMM, NewMatching(r.Match)})
	}
	return v, nil
}

// NewMatching gathers what is shown of how alike a pair comes out.
func NewMatching(m propose.Matching) Matching {
	v := Matching{Round(m.MassG, 3), Round(m.PairedG, 3), []MatchPart{}}
	for _, p := range m.Weigh {
		v.Weigh = append(v.Weigh, MatchPart{p.Part, Round(p.TolG, 3), Round(p.DiffG, 3), Round(p.Paired, 3)})
	}
	return v
}

// Page is the set for people.
func (v Set) Page() page.Page {
	t := page.Table{
		Title: fmt.Sprintf("%d grades, hardest first, %d heads of each", len(v.Rungs), v.Each),
		Head:  []string{"", "made of", "grade", "notches", "asked", "g", "mm"},
		Right: []bool{true, false, false, true, true, true, true},
	}
	for i, r := range v.Rungs {
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(i + 1), r.Plain, r.Head.Grade, fmt.Sprintf("%+.1f", r.Softness), fmt.Sprintf("%+.1f", r.Wanted), fmt.Sprintf("%.1f", r.MassG), fmt.Sprintf("%.1f", r.DiameterMM),
		})
	}
	how := "No other choice among them is better: this was proven."
	if !v.Exact {
		how = "The search was cut short, so a better choice may exist."
	}
	p := append(v.Assumptions.Page(), t, page.Para(fmt.Sprintf("Chosen from %d heads. %s", v.Heads, how)))
	for i, r := range v.Rungs {
		p = append(p, page.Para(fmt.Sprintf("Pair %d: %s", i+1, r.Pair)))
	}
	return append(p, v.Order.Page()...)
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
