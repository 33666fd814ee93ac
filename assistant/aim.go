package assistant

import (
	"fmt"
	"math"

	"mallow/rules/change"
	"mallow/rules/gate"
)

// Aims turns relative wishes, such as "two notches softer", into what a change
// of a head is to reach. The error names a wish that no change can aim at.
func (w Wish) Aims() ([]change.Aim, error) {
	var aims []change.Aim
	for _, m := range w.Moves {
		way, by := "", math.Abs(m.By)
		switch {
		case m.Path == "want.softness" && m.By > 0:
			way = "softer"
		case m.Path == "want.softness":
			way = "harder"
		case m.Path == "want.mass_g" && m.By < 0:
			way = "lighter"
		case m.Path == "want.diameter_mm" && m.By < 0:
			way = "smaller"
		case m.Path == "want.budget" && m.By < 0:
			way = "cheaper"
		default:
			return nil, fmt.Errorf("%q is not a change this can aim at; softer, harder, lighter, smaller, cheaper and no latex are", m.Text)
		}
		if m.Unit == "" {
			by = plainDegree(way, by)
		}
		aims = append(aims, change.Aim{Way: way, By: by, Keep: w.Keep})
	}
	if said := w.Request.Pass.Stated(); len(aims) == 0 && (said.LatexOK == gate.No || said.RubberOK == gate.No) {
		aims = append(aims, change.Aim{Way: "no latex"})
	}
	return aims, nil
}

// plainDegree is how far a wish without a number goes: degree 1 is a plain
// "softer", less is "a bit". Only softness has a plain size of its own; for
// the others zero leaves it to the search.
func plainDegree(way string, degree float64) float64 {
	if way == "softer" || way == "harder" {
		return degree
	}
	return 0
}
