package toolbox

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/assistant/hand"
	"mallow/assistant/offer"
	"mallow/knowledge/fault"
	"mallow/rules/change"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// aims turns relative wishes, such as "two notches softer", into what a change
// of a head is to reach, with all that is to stay. The error names a wish
// that no change can aim at.
func (w Wish) aims() (change.Aim, error) {
	keep := slices.DeleteFunc(slices.Clone(w.Keep), func(path string) bool { return slices.Contains(w.Only, path) })
	aim, rest := offer.Aims(w.Moves, change.Aim{Keep: keep, Only: w.Only, Limits: w.Limits})
	if len(rest) > 0 {
		return aim, fault.Errorf("%q is not a change this can aim at; %s are", rest[0].Text, strings.Join(change.Ways()[:len(change.Ways())-1], ", "))
	}
	return aim, nil
}

// Aim is what a wish wants of a head that exists, what is to go from it with the rest, or
// what brings the head within what the wish bounds it by. A head that is described with its weight was
// put on a scale: the wish goes by that from then on, and the note says so. The error
// quotes the wish.
func (w *Wish) Aim(was propose.Candidate, wish, described string) (aim change.Aim, note string, err error) {
	if aim, err = w.aims(); err != nil {
		return aim, "", err
	}
	h := &was.Facts.Head
	said := w.Request.Pass.Stated()
	latex := said.LatexOK == gate.No || said.RubberOK == gate.No
	if latex && was.Stack.Core.Material == rubber && natural(described) { // no ball of the catalogue, and there is latex in it
		w.Request.Pin.Without = append(slices.Clone(w.Request.Pin.Without), rubber)
	}
	holds := change.Holds(was.Stack, &w.Request)
	if latex && (h.Latex || len(aim.Moves) == 0 && !holds) {
		aim.Moves = append(aim.Moves, change.Move{Way: change.NoLatex})
	}
	if len(w.Request.Pin.Without) > 0 && (len(aim.Moves) == 0 || holds) {
		aim.Moves = append(aim.Moves, change.Move{Way: change.Without})
		if !latex {
			aim.Named = w.Named
		}
	}
	w.young(aim.Moves)
	if within, off := change.Within(h, &w.Request); off && len(aim.Moves) == 0 {
		aim.Moves = append(aim.Moves, within)
	}
	if len(aim.Moves) == 0 {
		aim.Moves = w.toWord(h)
	}
	if len(aim.Moves) == 0 && h.Turns == 0 && was.Refused() != nil { // a bare ball that its bars don't bear is far too hard for them
		aim.Moves = append(aim.Moves, change.Move{Way: "softer", Times: 3})
	}
	if want := &w.Request.Facts.Want; len(aim.Moves) == 0 && want.LeastG+want.LeastMM > 0 {
		return aim, "", fault.Errorf("%q leaves nothing to change: the head comes to %.1f g and %.1f mm", wish, h.MassG, h.DiameterMM)
	}
	if len(aim.Moves) == 0 {
		return aim, "", fault.Errorf("%q asks for no change that is understood; say, for example, 'two notches softer' or 'smaller and lighter'", wish)
	}
	if said := cmp.Or(hand.Weighed(described).Grams(), w.OwnG); said > 0 {
		note = fmt.Sprintf("you say %.4g g; its parts come to %.1f g as computed, so that what comes of it will be %+.1f g off as well: limits of weight are kept to by your scale", said, h.MassG, said-h.MassG)
		aim, w.Request = change.Weighed(aim, w.Request, h.MassG, said)
	}
	return aim, note, nil
}

// rubber is the material of moulded balls.
const rubber = "rubber"

// natural reports whether a head is said to have a ball of natural rubber.
func natural(described string) bool {
	text := strings.ToLower(described)
	return strings.Contains(text, "natural rubber") || strings.Contains(text, "latex ball")
}

// young lets a head for small hands be smaller or lighter by twice as much, where nobody
// says by how much.
func (w *Wish) young(moves []change.Move) {
	if !w.Request.Facts.Player.Small {
		return
	}
	for i := range moves {
		if m := &moves[i]; (m.Way == "smaller" || m.Way == "lighter") && m.By == 0 && m.Share == 0 {
			m.Times = max(2, m.Times)
		}
	}
}

// toWord returns the move to a softness that was said by its word, where the head has
// another: make it medium hard.
func (w Wish) toWord(h *facts.Head) []change.Move {
	by := w.Request.Facts.Want.Softness - h.Softness
	if !w.Request.Known[facts.WantSoftness] || math.Abs(by) < heard {
		return nil
	}
	return []change.Move{{Way: map[bool]string{true: "softer", false: "harder"}[by > 0], By: math.Abs(by)}}
}

// heard is the difference of softness that most people hear, in notches.
const heard = 1
