package toolbox

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/rules/change"
	"mallow/rules/gate"
)

// Aims turns relative wishes, such as "two notches softer", into what a change
// of a head is to reach, each with all that is to stay. The error names a wish
// that no change can aim at.
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
		case m.Path == "want.mass_g":
			way = "heavier"
		case m.Path == "want.diameter_mm" && m.By < 0:
			way = "smaller"
		case m.Path == "want.diameter_mm":
			way = "larger"
		case m.Path == "want.budget" && m.By < 0:
			way = "cheaper"
		case m.Path == "want.colour" && m.By < 0:
			way = "darker"
		case m.Path == "want.colour":
			way = "brighter"
		default:
			return nil, fmt.Errorf("%q is not a change this can aim at; %s are", m.Text, strings.Join(change.Ways()[:len(change.Ways())-1], ", "))
		}
		if m.Unit == "" || !counted(m.Text) {
			by = 0 // a little, whatever the word
		}
		aims = append(aims, w.keeping(change.Aim{Way: way, By: by}))
	}
	switch said := w.Request.Pass.Stated(); {
	case len(aims) > 0:
	case said.LatexOK == gate.No || said.RubberOK == gate.No:
		aims = append(aims, w.keeping(change.Aim{Way: "no latex"}))
	case len(w.Request.Pin.Without) > 0:
		aims = append(aims, w.keeping(change.Aim{Way: "without"}))
	}
	return aims, nil
}

// counted reports whether a wish has a number in it, in figures or as a word.
func counted(text string) bool {
	for _, w := range strings.Fields(strings.ToLower(text)) {
		if strings.ContainsAny(w, "0123456789½") || slices.Contains(strings.Fields("a one two three four five six seven eight nine ten half"), w) {
			return true
		}
	}
	return false
}

// keeping adds to an aim what is to stay and what it may come to.
func (w Wish) keeping(a change.Aim) change.Aim {
	a.Keep, a.Only, a.Limits = w.Keep, w.Only, w.Limits
	return a
}
