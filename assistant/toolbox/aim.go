package toolbox

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/offer"
	"mallow/rules/change"
	"mallow/rules/gate"
)

// Aims turns relative wishes, such as "two notches softer", into what a change
// of a head is to reach, each with all that is to stay. The error names a wish
// that no change can aim at.
func (w Wish) Aims() ([]change.Aim, error) {
	aims, rest := offer.Aims(w.Moves, w.Keeping(change.Aim{}))
	if len(rest) > 0 {
		return nil, fmt.Errorf("%q is not a change this can aim at; %s are", rest[0].Text, strings.Join(change.Ways()[:len(change.Ways())-1], ", "))
	}
	aims = together(aims)
	switch said := w.Request.Pass.Stated(); {
	case len(aims) > 0:
	case said.LatexOK == gate.No || said.RubberOK == gate.No:
		aims = append(aims, w.Keeping(change.Aim{Way: "no latex"}))
	case len(w.Request.Pin.Without) > 0:
		aims = append(aims, w.Keeping(change.Aim{Way: "without"}))
	}
	return aims, nil
}

// Keeping adds to an aim what is to stay and what it may come to.
func (w Wish) Keeping(a change.Aim) change.Aim {
	a.Keep, a.Only, a.Limits = w.Keep, w.Only, w.Limits
	return a
}

// together leaves out of several aims what comes with another: who wants a head
// harder and brighter, or softer and darker, wants one change.
func together(aims []change.Aim) []change.Aim {
	with := map[string][]string{"harder": {"brighter", "clearer"}, "softer": {"darker", "more blended"}}
	var comes []string
	for _, a := range aims {
		comes = append(comes, with[a.Way]...)
	}
	return slices.DeleteFunc(aims, func(a change.Aim) bool { return slices.Contains(comes, a.Way) })
}
