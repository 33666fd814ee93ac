package toolbox

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/assistant/hand"
	"mallow/assistant/offer"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/fault"
	"mallow/rules/change"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// Aims turns relative wishes, such as "two notches softer", into what a change
// of a head is to reach, each with all that is to stay. The error names a wish
// that no change can aim at.
func (w Wish) Aims() ([]change.Aim, error) {
	aims, rest := offer.Aims(w.Moves, w.Keeping(change.Aim{}))
	rest = slices.DeleteFunc(rest, func(m reading.Move) bool {
		wound := m.Path == facts.HeadTurns
		if wound {
			way := map[bool]string{true: "quicker to wind", false: "fuller wound"}[m.By < 0]
			aims = append(aims, w.Keeping(change.Aim{Way: way, Times: math.Abs(m.By)}))
		}
		return wound
	})
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

// Aim is the one change that a wish wants of a head that exists, or what brings the
// head within what the wish bounds it by. A head that is described with its weight was
// put on a scale: the wish goes by that from then on, and the note says so. The error
// quotes the wish.
func (w *Wish) Aim(was propose.Candidate, wish, described string) (aim change.Aim, note string, err error) {
	aims, err := w.Aims()
	if err != nil {
		return aim, "", err
	}
	h := &was.Facts.Head
	if within, off := change.Within(h, &w.Request); off && len(aims) == 0 {
		aims = append(aims, w.Keeping(within))
	}
	if len(aims) == 0 {
		aims = w.toWord(h)
	}
	if len(aims) == 0 && h.Turns == 0 && was.Refused() != nil { // a bare ball that its bars don't bear is far too hard for them
		aims = append(aims, w.Keeping(change.Aim{Way: "softer", Times: 3}))
	}
	if want := &w.Request.Facts.Want; len(aims) == 0 && want.LeastG+want.LeastMM > 0 {
		return aim, "", fault.Errorf("%q leaves nothing to change: the head comes to %.1f g and %.1f mm", wish, h.MassG, h.DiameterMM)
	}
	if len(aims) != 1 {
		return aim, "", fault.Errorf("%q asks for %d changes; one at a time, such as 'two notches softer'", wish, len(aims))
	}
	aim = aims[0]
	if said := cmp.Or(hand.Weighed(described).Grams(), w.OwnG); said > 0 {
		note = fmt.Sprintf("you say %.4g g; its parts come to %.1f g as computed, so that what comes of it will be %+.1f g off as well: limits of weight are kept to by your scale", said, h.MassG, said-h.MassG)
		aim, w.Request = change.Weighed(aim, w.Request, h.MassG, said)
	}
	return aim, note, nil
}

// toWord returns the aim at a softness that was said by its word, where the head has
// another: make it medium hard.
func (w Wish) toWord(h *facts.Head) []change.Aim {
	by := w.Request.Facts.Want.Softness - h.Softness
	if !w.Request.Known[facts.WantSoftness] || math.Abs(by) < heard {
		return nil
	}
	return []change.Aim{w.Keeping(change.Aim{Way: map[bool]string{true: "softer", false: "harder"}[by > 0], By: math.Abs(by)})}
}

// heard is the difference of softness that most people hear, in notches.
const heard = 1

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
